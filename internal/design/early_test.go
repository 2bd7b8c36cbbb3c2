package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// The first drive is told while others are still looked for, once, and it is the first of the
// list that comes in the end.
func TestTheFirstDriveIsToldEarly(t *testing.T) {
	told := 0
	for seed := range uint64(40) {
		cup, b := smallCase(seed)
		var first []Proposal
		r, err := Find(context.Background(), cup, b, Options{Keep: 5, Threads: 2, First: func(p *Proposal) { first = append(first, *p) }})
		require.NoError(t, err)
		require.LessOrEqual(t, len(first), 1)
		if len(first) > 0 {
			told++
			require.Equal(t, first[0], r.Proposals[0], "seed %d", seed)
		}
		again, err := Find(context.Background(), cup, b, Options{Keep: 5, Threads: 2})
		require.NoError(t, err)
		require.Equal(t, again, r, "seed %d: telling it changes the answer", seed)
	}
	require.Greater(t, told, 5)
}
