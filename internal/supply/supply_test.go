package supply

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/money"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/purchase"
)

func pulley(name string, outside, floor, bore float64) string {
	return fmt.Sprintf("[pulley.%s]\noutside = \"%g mm\"\ngroove_floor = \"%g mm\"\ngroove_width = \"4 mm\"\nbore = \"%g mm\"\n", name, outside, floor, bore)
}

// box has so many motors, small, large and huge pulleys.
func box(t *testing.T, motors, small, large, huge int) *parts.Cupboard {
	t.Helper()
	have := func(n int) string { return fmt.Sprintf("count = %d\n", n) }
	cup, err := parts.Read("cupboard.toml", []byte(pulley("small", 9, 6, 2)+have(small)+pulley("large", 40, 36, 4.9)+have(large)+pulley("huge", 52, 48, 4.9)+have(huge)+
		"[band.short]\nflat_length = \"63 mm\"\nwidth = \"1.5 mm\"\ncount = 5\n[band.middling]\nflat_length = \"89 mm\"\nwidth = \"1.5 mm\"\ncount = 30\n"+
		"[motor.m]\nrated = \"3 V\"\nfree_speed = \"5200 rpm\"\nstall_torque = \"2.4 mN.m\"\n"+have(motors)+
		"[cells.one]\ncells = 1\ncount = 30\n[axle.dowel]\ndiameter = \"5 mm\"\nlength = \"300 mm\"\ncount = 2\n"))
	require.NoError(t, err)
	cup.Holders[0].Measured = true // to be 1.5 V
	return cup
}

// shop sells most things, at prices drawn from a seed.
func shop(t *testing.T, cup *parts.Cupboard, seed uint64) *prices.List {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 4))
	text := "currency = \"GBP\"\n[supplier.a]\ncarriage = \"1.00\"\nfree_from = \"9.00\"\n[supplier.b]\ncarriage = \"0.30\"\nminimum_order = \"2.00\"\n"
	for i, part := range []string{"pulley.small", "pulley.large", "pulley.huge", "pulley.new", "motor.m", "axle.dowel", "band.short", "pulley.large"} {
		text += fmt.Sprintf("[offer.%c]\npart = %q\nsupplier = %q\npack = %d\nprice = \"%d.%02d\"\nleast_packs = %d\n",
			'a'+i, part, []string{"a", "b"}[rnd.IntN(2)], 1+rnd.IntN(5), rnd.IntN(3), 5+rnd.IntN(90), 1+rnd.IntN(5)/4)
	}
	l, err := prices.Read("prices.toml", []byte(text+pulley("new", 46, 42, 4.9)), cup)
	require.NoError(t, err)
	return l
}

func ride(t *testing.T, sets int, speed string) *brief.Brief {
	t.Helper()
	b, err := brief.Read("brief.toml", fmt.Appendf(nil, "name = \"ride at %s\"\nmodel = \"ride on an upright axle\"\nspeed = %q\ntolerance = \"45 %%\"\nmax_stages = 1\nsets = %d\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n", speed, speed, sets))
	require.NoError(t, err)
	return b
}

// listed knows every drive there is within each of some tolerances: of one choice of parts
// only the cheapest design is listed, and a narrower tolerance may ask for another.
func listed(t *testing.T, q *Question, tolerances ...float64) *asker {
	t.Helper()
	a := newAsker(q, Options{})
	for _, j := range a.jobs {
		// A search lists each choice of pulleys once, with the best bands that there are;
		// so it is made with every choice of bands.
		short, middling := a.at[key{"band", "short"}], a.at[key{"band", "middling"}]
		for _, n := range []int{0, 1, plenty} {
			for _, m := range []int{0, 1, plenty} {
				caps := slices.Repeat([]int{plenty}, len(a.parts))
				caps[short], caps[middling] = n, m
				for _, tolerance := range tolerances {
					b := *j.brief
					b.Tolerance, b.Weights = math.Min(tolerance, b.Tolerance), tenths(b.Weights)
					r, err := design.Find(context.Background(), j.cupboard(caps, 1), &b, design.Options{Keep: 2000})
					require.NoError(t, err)
					require.NotEqual(t, design.StoppedEarly, r.Status)
					require.Less(t, len(r.Proposals), 2000)
					for i := range r.Proposals {
						j.add(&r.Proposals[i])
					}
				}
			}
		}
	}
	return a
}

// tenths are weights so small that no drive costs so much more than the best that a
// list leaves it out.
func tenths(w brief.Weights) brief.Weights {
	for _, p := range []*float64{&w.Classroom, &w.MayStand, &w.SpeedPerPercent, &w.Stage, &w.BandFit, &w.Sleeve, &w.DrillOut, &w.Glue, &w.Crossed,
		&w.DoubledBand, &w.Assumption, &w.IdleStage, &w.Unforgiving, &w.OnEdge, &w.Cell, &w.MotorLoad, &w.MadePulley} {
		*p /= 10
	}
	return w
}

// overAll is the least money over all drives there are.
func overAll(t *testing.T, a *asker, tolerance float64) purchase.Plan {
	t.Helper()
	within := make([]float64, len(a.jobs))
	for i, j := range a.jobs {
		within[i] = math.Min(tolerance, j.brief.Tolerance)
	}
	plan := purchase.Least(context.Background(), a.problem(a.known(within)), purchase.Options{})
	require.True(t, plan.Proved)
	return plan
}

// TestLeastOverAllDrives holds what is proved to the listing of every drive: for one
// brief and for two, at the same time and in turn.
func TestLeastOverAllDrives(t *testing.T) {
	t.Parallel()
	bought := 0
	for seed := range uint64(10) {
		rnd := rand.New(rand.NewPCG(seed, 9))
		cup := box(t, 1+rnd.IntN(6), 1+rnd.IntN(6), 1+rnd.IntN(3), 1+rnd.IntN(3))
		q := &Question{Cupboard: cup, List: shop(t, cup, seed), Briefs: []*brief.Brief{ride(t, 2+rnd.IntN(5), "220 rpm")}, Mix: seed%2 == 0, InTurn: seed%3 == 0}
		if seed%4 > 1 {
			q.Briefs = append(q.Briefs, ride(t, 1+rnd.IntN(5), "260 rpm"))
		}
		r, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		all := overAll(t, listed(t, q, 1), 1)
		require.Equal(t, all.Found, r.Plan != nil, "seed %d", seed)
		require.Equal(t, !all.Found, r.None, "seed %d", seed)
		if r.Plan == nil {
			continue
		}
		assert.True(t, r.Plan.Proved, "seed %d", seed)
		assert.Equal(t, all.Money, r.Plan.Money, "seed %d", seed)
		var sum money.Amount
		for _, b := range r.Plan.Bought {
			sum += b.Sum
			assert.GreaterOrEqual(t, b.Left, 0)
		}
		for _, c := range r.Plan.Carriage {
			sum += c.Paid
		}
		assert.Equal(t, r.Plan.Money, sum, "packs and carriage are the money")
		if sum > 0 {
			bought++
		}
	}
	assert.Greater(t, bought, 4)
}

// TestLineOverAllDrives holds the trade-off line to the listing of every drive, percent
// by percent.
func TestLineOverAllDrives(t *testing.T) {
	t.Parallel()
	cup := box(t, 3, 6, 2, 1)
	q := &Question{Cupboard: cup, List: shop(t, cup, 5), Briefs: []*brief.Brief{ride(t, 5, "200 rpm")}, Mix: true}
	r, err := Find(context.Background(), q, Options{Line: true, Packs: true})
	require.NoError(t, err)
	require.True(t, r.LineWhole)
	require.NotEmpty(t, r.Line)
	var tolerances []float64
	for percent := 1; percent <= 45; percent++ {
		tolerances = append(tolerances, float64(percent)/100)
	}
	every, at := listed(t, q, tolerances...), 0
	for percent := 45; percent >= 1; percent-- {
		all := overAll(t, every, float64(percent)/100)
		for at < len(r.Line) && r.Line[at].Percent > percent {
			at++
		}
		if !all.Found {
			assert.Equal(t, len(r.Line), at, "nothing comes within %d %%", percent)
			break
		}
		require.Less(t, at, len(r.Line), "%d %%", percent)
		assert.Equal(t, all.Money, r.Line[at].Plan.Money, "%d %%", percent)
		assert.True(t, r.Line[at].Proved)
	}
	for i := 1; i < len(r.Line); i++ {
		assert.Greater(t, r.Line[i].Plan.Money, r.Line[i-1].Plan.Money)
		assert.Less(t, r.Line[i].Percent, r.Line[i-1].Percent)
	}
	require.Len(t, r.Packs, len(q.List.Offers))
	for _, o := range r.Packs {
		assert.GreaterOrEqual(t, o.Gained(), 0)
	}
}

// TestTurns: what comes back is bought once, what is used up for each brief.
func TestTurns(t *testing.T) {
	cup := box(t, 4, 4, 4, 4)
	l, err := prices.Read("p.toml", []byte("currency = \"GBP\"\n[supplier.a]\n[offer.m]\npart = \"motor.m\"\npack = 1\nprice = \"1.00\"\n[offer.d]\npart = \"axle.dowel\"\npack = 1\nprice = \"0.10\"\n[offer.s]\npart = \"pulley.small\"\npack = 1\nprice = \"0.20\"\n[offer.l]\npart = \"pulley.large\"\npack = 1\nprice = \"0.20\"\n[offer.b]\npart = \"band.short\"\npack = 1\nprice = \"0.01\"\n"), cup)
	require.NoError(t, err)
	q := &Question{Cupboard: cup, List: l, Briefs: []*brief.Brief{ride(t, 4, "220 rpm"), ride(t, 4, "230 rpm")}}
	together, err := Find(context.Background(), q, Options{})
	require.NoError(t, err)
	q.InTurn = true
	inTurn, err := Find(context.Background(), q, Options{})
	require.NoError(t, err)
	require.NotNil(t, together.Plan)
	require.NotNil(t, inTurn.Plan)
	assert.GreaterOrEqual(t, together.Plan.Money, money.Amount(400), "four motors more")
	assert.Less(t, inTurn.Plan.Money, money.Amount(100), "the motors come back; dowel and bands do not")
	assert.Positive(t, inTurn.Plan.Money)
	assert.Greater(t, together.Worth.Kept, inTurn.Worth.Kept)
	assert.Positive(t, inTurn.Worth.Consumed)
	assert.NotEmpty(t, inTurn.Worth.Unpriced, "cells have no price")
}

func TestStopped(t *testing.T) {
	cup := box(t, 1, 1, 1, 1)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	r, err := Find(ctx, &Question{Cupboard: cup, List: shop(t, cup, 1), Briefs: []*brief.Brief{ride(t, 4, "220 rpm")}, Mix: true}, Options{Line: true, Packs: true})
	require.NoError(t, err)
	assert.True(t, r.Stopped)
	assert.False(t, r.None)
	if r.Plan != nil {
		assert.False(t, r.Plan.Proved && r.Plan.Money > 0)
	}
}
