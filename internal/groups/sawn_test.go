package groups_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// sawnBox is a box in which rods are what is short: of two thicknesses, and of the one of
// two lengths.
func sawnBox(t *testing.T, rnd *rand.Rand) *parts.Cupboard {
	t.Helper()
	cup := box(t, 2+rnd.IntN(6), 1+rnd.IntN(5), 1+rnd.IntN(4), 1+rnd.IntN(4))
	thick := cup.Axles[0]
	thick.Length, thick.Count = units.Millimetres(200+rnd.IntN(130)), rnd.IntN(3)
	end, thin := thick, thick
	end.Name, end.Length, end.Count = "end", units.Millimetres(105+rnd.IntN(40)), rnd.IntN(3)
	thin.Name, thin.Diameter, thin.Length, thin.Count = "thin", 4.9, units.Millimetres(200+rnd.IntN(130)), rnd.IntN(3)
	cup.Axles = []parts.AxleStock{thick, end, thin}
	return cup.InStock()
}

// everySawn is how many groups all drives there are serve, at most so many different ones:
// every number of every drive is tried, and sawn.
func everySawn(t *testing.T, cup *parts.Cupboard, b *brief.Brief, different int) int {
	t.Helper()
	one := *b
	one.Sets = 1
	w := &one.Weights
	for _, p := range []*float64{&w.Classroom, &w.MayStand, &w.SpeedPerPercent, &w.Stage, &w.BandFit, &w.Sleeve, &w.DrillOut, &w.Glue, &w.Crossed,
		&w.DoubledBand, &w.Assumption, &w.IdleStage, &w.Unforgiving, &w.OnEdge, &w.Cell, &w.MotorLoad} {
		*p /= 10
	}
	// A search lists each choice of pulleys once, with the best axle that there is; so it is
	// made with each thickness by itself.
	var all []design.Proposal
	for _, thin := range []bool{false, true} {
		part := *cup
		part.Axles = slices.DeleteFunc(slices.Clone(cup.Axles), func(a parts.AxleStock) bool { return (a.Name == "thin") != thin })
		r, err := design.Find(context.Background(), &part, &one, design.Options{Keep: 1000})
		require.NoError(t, err)
		require.NotEqual(t, design.StoppedEarly, r.Status)
		all = append(all, r.Proposals...)
	}
	// Of drives that take the same and are sawn alike one is enough.
	type drive struct {
		takes []int // not of axles
		sawn  []design.Axle
	}
	var drives []drive
	seen := map[string]bool{}
	at := map[string]int{}
	var stock []int
	for _, d := range all {
		for _, u := range d.Uses {
			if _, met := at[u.Kind+u.Name]; !met && u.Kind != "axle" {
				at[u.Kind+u.Name] = len(stock)
				stock = append(stock, u.Have)
			}
		}
	}
	for _, d := range all {
		one := drive{make([]int, len(stock)), design.CutAxles(d.Drive, b)}
		for _, u := range d.Uses {
			if u.Kind != "axle" {
				one.takes[at[u.Kind+u.Name]] += u.Each
			}
		}
		if id := fmt.Sprint(one); !seen[id] {
			seen[id] = true
			drives = append(drives, one)
		}
	}
	best := 0
	counts := make([]int, len(drives))
	var try func(next, served, used int)
	try = func(next, served, used int) {
		best = max(best, served)
		if next == len(drives) || best == b.Sets || used == different {
			return
		}
		try(next+1, served, used)
		for n := 1; served+n <= b.Sets; n++ {
			counts[next] = n
			if !enough(cup, stock, counts, func(i int) ([]int, []design.Axle) { return drives[i].takes, drives[i].sawn }) {
				break
			}
			try(next+1, served+n, used+1)
		}
		counts[next] = 0
	}
	try(0, 0, 0)
	return best
}

func enough(cup *parts.Cupboard, stock, counts []int, of func(int) ([]int, []design.Axle)) bool {
	pieces := map[units.Millimetres][]cutting.Piece{} // by thickness
	used := make([]int, len(stock))
	for i, n := range counts {
		if n == 0 {
			continue
		}
		takes, sawn := of(i)
		for k, each := range takes {
			if used[k] += n * each; used[k] > stock[k] {
				return false
			}
		}
		for _, a := range sawn {
			for _, rod := range cup.Axles {
				if rod.Name == a.Stock {
					pieces[rod.Diameter] = append(pieces[rod.Diameter], cutting.Piece{Mark: "axle", Length: a.Length, Count: n * a.Count})
				}
			}
		}
	}
	for thick, list := range pieces {
		var rods []cutting.Stock
		for _, rod := range cup.Axles {
			if rod.Diameter == thick {
				rods = append(rods, cutting.Stock{Name: rod.Name, Length: rod.Length, Count: rod.Count})
			}
		}
		if _, err := cutting.Cuts(list, rods, cutting.Kerf); err != nil {
			return false
		}
	}
	return true
}

// Where rods are short as many groups are served as every drive there is lets be served,
// sawn from rods of two thicknesses and lengths; and more is never promised.
func TestServesAsManyAsCanBeSawn(t *testing.T) {
	t.Parallel()
	byRods, mixed := 0, 0
	for seed := range uint64(24) {
		rnd := rand.New(rand.NewPCG(seed, 77))
		cup, b := sawnBox(t, rnd), ride(t, 3+rnd.IntN(3), "")
		for different := range 3 {
			allowed := different
			if allowed == 0 {
				allowed = b.Sets
			}
			most := everySawn(t, cup, b, allowed)
			r, err := groups.Plan(context.Background(), cup, b, groups.Options{Different: different})
			require.NoError(t, err)
			require.Equal(t, most, r.Served, "seed %d, at most %d different", seed, different)
			assert.True(t, r.Proved(), "seed %d, at most %d different", seed, different)
			if different > 0 {
				continue
			}
			if len(r.Shares) > 1 {
				mixed++
			}
			for _, u := range r.Unlock {
				if u.Kind != "axle" {
					continue
				}
				byRods++
				more := *cup
				more.Axles = append([]parts.AxleStock{}, cup.Axles...)
				for i := range more.Axles {
					if more.Axles[i].Name == u.Name {
						more.Axles[i].Count += u.Pieces
					}
				}
				again, err := groups.Plan(context.Background(), &more, b, groups.Options{})
				require.NoError(t, err)
				assert.Greater(t, again.Served, r.Served, "seed %d: %d more of %s", seed, u.Pieces, u.Name)
			}
		}
	}
	assert.Greater(t, byRods, 2)
	assert.Greater(t, mixed, 2)
}
