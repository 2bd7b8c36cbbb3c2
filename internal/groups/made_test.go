package groups_test

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// madeBox is a box in which the large pulleys are few, and more can be made of card of which
// there is little.
func madeBox(t *testing.T, rnd *rand.Rand) *parts.Cupboard {
	t.Helper()
	cup := box(t, 3+rnd.IntN(4), 4+rnd.IntN(3), rnd.IntN(3), rnd.IntN(2))
	cup.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 1 + rnd.IntN(3)}, Kind: parts.PlainCard, Thickness: 2,
		Length: units.Millimetres(110 + rnd.IntN(120)), Width: units.Millimetres(80 + rnd.IntN(30))}}
	cup.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 20, Largest: units.Millimetres(60 + rnd.IntN(20)), Step: units.Millimetres(7 + rnd.IntN(4))}}
	cup.Discs = &parts.Discs{Bores: []units.Millimetres{5}, Most: 4 + 4*rnd.IntN(2)}
	return cup.InStock()
}

// everyMade is how many groups all drives there are serve, at most so many different ones:
// every number of every drive is tried, and its discs laid with those of the others.
func everyMade(t *testing.T, cup *parts.Cupboard, b *brief.Brief, different int) int {
	t.Helper()
	one := *b
	one.Sets = 1
	w := &one.Weights
	for _, p := range []*float64{&w.Classroom, &w.MayStand, &w.SpeedPerPercent, &w.Stage, &w.BandFit, &w.Sleeve, &w.DrillOut, &w.Glue, &w.Crossed,
		&w.DoubledBand, &w.Assumption, &w.IdleStage, &w.Unforgiving, &w.OnEdge, &w.Cell, &w.MotorLoad, &w.MadePulley} {
		*p /= 10
	}
	with := *cup
	with.Pulleys = slices.Concat(cup.Pulleys, making.Shared(cup, []*brief.Brief{b}))
	if len(with.Pulleys) == len(cup.Pulleys) {
		with.Discs = nil
	}
	r, err := design.Find(context.Background(), &with, &one, design.Options{Keep: 1000})
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, r.Status)
	var drives []*design.Proposal
	for i := range r.Proposals {
		p := &r.Proposals[i]
		if !slices.ContainsFunc(drives, func(d *design.Proposal) bool {
			return slices.EqualFunc(d.Uses, p.Uses, func(a, b design.Use) bool { return a.Kind == b.Kind && a.Name == b.Name && a.Each == b.Each })
		}) {
			drives = append(drives, p)
		}
	}
	counts := make([]int, len(drives))
	enough := func() bool {
		type key struct{ kind, name string }
		used, have := map[key]int{}, map[key]int{}
		var discs []making.Several
		for i, n := range counts {
			if n == 0 {
				continue
			}
			for _, u := range drives[i].Uses {
				used[key{u.Kind, u.Name}] += n * u.Each
				have[key{u.Kind, u.Name}] = u.Have
			}
			for _, p := range drives[i].Drive.Pulleys() {
				if p.Made != nil {
					delete(have, key{"pulley", p.Name})
					discs = append(discs, making.Several{Pulley: p, Count: n})
				}
			}
		}
		for k, n := range have {
			if used[k] > n {
				return false
			}
		}
		_, err := making.Nest(cup.Sheets, discs)
		return err == nil
	}
	best := 0
	var try func(next, served, used int)
	try = func(next, served, used int) {
		best = max(best, served)
		if next == len(drives) || best == b.Sets || used == different {
			return
		}
		try(next+1, served, used)
		for n := 1; served+n <= b.Sets; n++ {
			counts[next] = n
			if !enough() {
				break
			}
			try(next+1, served+n, used+1)
		}
		counts[next] = 0
	}
	try(0, 0, 0)
	return best
}

// Pulleys made of discs are shared out with the others: as many groups are served as by any
// mix of all drives there are, the sheets being what is short.
func TestServesAsManyAsAnyMixWithDiscs(t *testing.T) {
	t.Parallel()
	mixed, short, sheets := 0, 0, 0
	for seed := range uint64(40) {
		cup := madeBox(t, rand.New(rand.NewPCG(seed, 71)))
		b := ride(t, 5, "[making]\ndiscs = true")
		served := everyMade(t, cup, b, b.Sets)
		r, err := groups.Plan(context.Background(), cup, b, groups.Options{})
		require.NoError(t, err)
		t.Logf("seed %d: %d served, %d drives weighed, %d different", seed, r.Served, r.Drives, len(r.Shares))
		require.Equal(t, served, r.Served, "seed %d", seed)
		require.True(t, r.Proved(), "seed %d: at most %d", seed, r.Most)
		if served == 0 {
			continue
		}
		require.Equal(t, everyMade(t, cup, b, 1), r.Single.Sets, "one drive for all, seed %d", seed)
		if n := len(r.Shares); n > 1 {
			mixed++
			require.Less(t, everyMade(t, cup, b, n-1), served, "no fewer different drives will do, seed %d", seed)
		}
		if served < b.Sets {
			short++
		}
		for _, g := range r.Gone {
			if g.Kind == "sheet" {
				sheets++
			}
		}
	}
	t.Logf("%d mixed, %d short, %d of sheets", mixed, short, sheets)
	require.Greater(t, mixed, 3)
	require.Greater(t, short, 3)
	require.Greater(t, sheets, 3)
}
