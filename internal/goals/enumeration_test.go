package goals

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/drive"
)

// The best few of a goal are held to every design there is. Enumeration keeps the axles
// level, so that the search may find better ones, but those are held to the rules by
// enumeration's own test of them.
func TestBestIsOptimal(t *testing.T) {
	for _, x := range []struct {
		kind  Kind
		keep  int
		seeds []uint64
	}{
		{Heaviest, 3, []uint64{0, 1, 2, 3, 4, 5}}, {Turns, 3, []uint64{0, 1, 2, 3, 4, 5}},
		{Steepest, 3, []uint64{0, 1, 2, 3, 4, 5}}, {Slowest, 3, []uint64{0, 1, 2, 3, 4, 5}},
		{Forgiving, 1, []uint64{0, 1, 3, 4}}, {Fastest, 3, []uint64{0, 1, 2, 3}}, {ExactTime, 1, []uint64{0, 1, 2, 3, 4, 5}},
	} {
		for _, seed := range x.seeds {
			t.Run(fmt.Sprintf("%s %d", x.kind, seed), func(t *testing.T) {
				t.Parallel()
				cup, c := small(t, seed, x.kind)
				g := goalOf(c)
				of := map[string]int{} // the best step of each arrangement, or of all
				everyDrive(cup, c, func(d *drive.Drive) {
					key := ""
					if x.keep > 1 {
						key = arrangement(d)
					}
					best, known := of[key]
					if !known {
						best = g.last() + 1
					}
					if best > 0 && sound(d, g.asks(best-1)) {
						of[key] = onStep(d, g, best-1)
					}
				})
				best := slices.Sorted(maps.Values(of))
				require.GreaterOrEqual(t, len(best), x.keep, "the cases must be worth testing")

				r, err := Find(context.Background(), cup, c, Options{Keep: x.keep})
				require.NoError(t, err)
				require.Equal(t, design.ProvedBest, r.Status)
				require.Len(t, r.Entries, x.keep)
				last := 0
				byScore(r)
				for i := range r.Entries {
					found := onStep(r.Entries[i].Proposal.Drive, g, g.last()+1)
					require.LessOrEqual(t, found, g.last(), "what is found keeps every rule")
					require.LessOrEqual(t, last, found, "the best first")
					last = found
					if x.kind != Forgiving { // its cells are as large as the error it forgives
						require.LessOrEqual(t, found, best[i])
					}
					if x.kind == Turns { // with no weight to lie this way or that
						require.Equal(t, best[i], found)
					}
				}
			})
		}
	}
}

// onStep is the best step a drive is on, which is no worse than a given one.
func onStep(d *drive.Drive, g goal, worst int) int {
	return sort.Search(worst, func(step int) bool { return sound(d, g.asks(step)) })
}

// byScore puts the drives of an answer back in the order of their scores, which is what is
// proved.
func byScore(r *Result) {
	slices.SortFunc(r.Entries, func(x, y Entry) int { return x.ByScore - y.ByScore })
}
