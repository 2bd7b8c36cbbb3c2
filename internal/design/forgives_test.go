package design

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a drive is designed to bear it forgives, though it is no whole number of the steps in which
// that is looked for: it is charged nothing, so no note asks for better holes.
func TestADriveForgivesWhatItIsDesignedFor(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range uint64(30) {
		cup, b := smallCase(seed)
		r, err := Find(context.Background(), cup, b, Options{Keep: 1, Threads: 2})
		require.NoError(t, err)
		for i := range r.Proposals {
			finer := *b
			finer.Limits.HoleError = r.Proposals[i].Forgives + 0.03
			again, err := Find(context.Background(), cup, &finer, Options{Keep: 3, Threads: 2})
			require.NoError(t, err)
			for i := range again.Proposals {
				p := &again.Proposals[i]
				require.GreaterOrEqual(t, p.Forgives, p.Bears, "seed %d", seed)
				if p.Bears < finer.Limits.HoleError {
					continue
				}
				tried++
				require.NotContains(t, strings.Join(p.Notes, "\n"), "holes must be", "seed %d, holes %g mm out of place", seed, float64(p.Bears))
			}
		}
	}
	require.Greater(t, tried, 5)
}
