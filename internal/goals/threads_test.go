package goals_test

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/goals"
	"findrive/internal/report"
)

// The answer has the same bytes for any number of threads, for every goal.
func TestThreadsDoNotChangeTheAnswer(t *testing.T) {
	for _, kind := range goals.Kinds {
		t.Run(string(kind), func(t *testing.T) {
			t.Parallel()
			cup, c := goals.Small(t, 0, kind)
			if kind == goals.Fastest {
				c.Brief.Cells = []int{2} // one cell takes long to prove
			}
			answer := func(threads int) string {
				r, err := goals.Find(context.Background(), cup, c, goals.Options{Keep: 1, Threads: threads})
				require.NoError(t, err)
				require.Equal(t, 1, r.Proved)
				var b bytes.Buffer
				require.NoError(t, report.ChallengeText(&b, r, report.ChallengeOptions{Width: 80, Asked: 1}))
				require.NoError(t, report.ChallengeJSON(&b, r))
				return b.String()
			}
			one := answer(1)
			for _, threads := range []int{2, 8} {
				require.Equal(t, one, answer(threads), "%d threads", threads)
			}
		})
	}
}
