package goals

import (
	"context"
	"fmt"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/drive"
)

// The best of a goal is held to every drive there is. Enumeration keeps the axles
// level, so that the search may find a better one, but that one is held to the rules
// by enumeration's own test of them.
func TestBestIsOptimal(t *testing.T) {
	for _, kind := range []Kind{Heaviest, Turns, Steepest, Slowest, Forgiving} {
		for seed := range uint64(2) {
			t.Run(fmt.Sprintf("%s %d", kind, seed), func(t *testing.T) {
				t.Parallel()
				cup, c := small(t, seed, kind)
				g := goalOf(c)
				best := g.last() + 1
				everyDrive(cup, c, func(d *drive.Drive) {
					if sound(d, g.asks(best-1)) {
						best = onStep(d, g, best-1)
					}
				})
				require.LessOrEqual(t, best, g.last(), "the cases must be worth testing")

				r, err := Find(context.Background(), cup, c, Options{Keep: 1})
				require.NoError(t, err)
				require.Equal(t, design.ProvedBest, r.Status)
				require.Len(t, r.Entries, 1)
				found := onStep(r.Entries[0].Proposal.Drive, g, g.last()+1)
				require.LessOrEqual(t, found, g.last(), "what is found keeps every rule")
				if kind != Forgiving { // its cells are as large as the error it forgives
					require.LessOrEqual(t, found, best)
				}
			})
		}
	}
}

// onStep is the best step a drive is on, which is no worse than a given one.
func onStep(d *drive.Drive, g goal, worst int) int {
	return sort.Search(worst, func(step int) bool { return sound(d, g.asks(step)) })
}
