package design_test

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/recheck"
	"findrive/internal/units"
)

// How many new cases the campaign goes through, from which seed; from seed 0 it takes
// another one each time, after the cases that are always the same.
var (
	campaignCases = flag.Uint64("cases", 40, "new cases of the campaign")
	campaignSeed  = flag.Uint64("seed", 0, "the first seed of the campaign's new cases; 0 for another one each time")
)

const (
	baseCases = 360 // that are the same each time
	everyDeep = 5   // one case in so many has two stages
	everyTwo  = 40  // and one in so many is enumerated with its two stages, which takes a second
)

// TestCampaign draws cupboards and briefs for every kind of model and holds each
// search to what can be known of it apart from it: the certificate to the
// independent checker, the ranking to full enumeration, one thread to two and to
// eight, and what is said when it is stopped to what is said when it is not. First
// come cases that are always the same, then some new ones. One that fails is named by
// its seed, and put again by
//
//	go test ./internal/design -run TestCampaign -args -seed SEED -cases 1
func TestCampaign(t *testing.T) {
	t.Parallel()
	first := *campaignSeed
	if first == 0 {
		seen := campaign{models: map[brief.Model]int{}}
		for seed := range uint64(baseCases) {
			seen.put(t, seed)
		}
		t.Logf("the cases that are always the same: %+v", seen)
		require.Len(t, seen.models, 5, "drives were found for every kind of model")
		require.Greater(t, seen.enumerated, 200, "the cases must be worth testing")
		require.Greater(t, seen.stopped, 600)
		require.Greater(t, seen.stoppedWithDrives, 40)
		first = 1_000_000 + rand.Uint64N(1_000_000_000)
	}
	t.Logf("%d cases from seed %d", *campaignCases, first)
	seen := campaign{models: map[brief.Model]int{}}
	for i := range *campaignCases {
		seen.put(t, first+i)
	}
	t.Logf("the new ones: %+v", seen)
}

// campaign counts what the cases were worth.
type campaign struct {
	models                                 map[brief.Model]int // in which drives were found
	enumerated, stopped, stoppedWithDrives int
}

func (c *campaign) put(t *testing.T, seed uint64) {
	cup, b := campaignCase(seed)
	t.Run(fmt.Sprintf("%s, -seed %d", b.Model, seed), func(t *testing.T) {
		opt := design.Options{Keep: 5, Threads: 1}
		r := find(t, cup, b, opt)
		if len(r.Proposals) > 0 {
			c.models[b.Model]++
		}
		bytes := string(certificateOf(t, r))
		for _, threads := range []int{2, 8} {
			other, err := design.Find(context.Background(), cup, b, design.Options{Keep: 5, Threads: threads})
			require.NoError(t, err)
			require.Equal(t, bytes, string(certificateOf(t, other)), "on %d threads", threads)
		}
		draw := rand.New(rand.NewPCG(seed, 3))
		for _, most := range []int{4, 30, 100, 300} {
			c.add(requireStoppedAgrees(t, r, opt, draw.IntN(most)))
		}
		if b.MaxStages == 1 || seed%everyTwo == 0 {
			c.enumerated += requireOptimal(t, r, opt)
		}
	})
}

func (c *campaign) add(stopped, withDrives bool) {
	if stopped {
		c.stopped++
	}
	if withDrives {
		c.stoppedWithDrives++
	}
}

// campaignCase is a small case for any kind of model.
func campaignCase(seed uint64) (*parts.Cupboard, *brief.Brief) {
	small := design.SmallCase
	if seed%everyDeep == 0 {
		small = design.SmallerCase
	}
	cup, b := small(seed)
	draw := rand.New(rand.NewPCG(seed, 11))
	pick := func(v ...float64) float64 { return v[draw.IntN(len(v))] }
	b.Sets, b.Tolerance = 1+draw.IntN(4)/3, 0.8
	load := brief.Load{Mass: units.Grams(pick(60, 120, 200)), TackleParts: 1, TackleEfficiency: 1}
	switch models := []brief.Model{"", brief.UprightRide, brief.Vehicle, brief.Lift}; models[draw.IntN(len(models))] {
	case brief.UprightRide:
		b.Model, b.Load = brief.UprightRide, load
		b.Load.PivotRadius, b.Load.LoadRadius = units.Millimetres(pick(1, 2.5, 5)), 60
	case brief.Vehicle:
		b.Model, b.Load = brief.Vehicle, load
		b.Load.Surface, b.Load.Slope, b.Load.DrivenShare = []string{"table", "carpet"}[draw.IntN(2)], units.Radians(pick(0, 0, 0.05)), pick(0.5, 0.7, 1)
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(pick(0.3, 0.6, 1, 1.5))}
		for i, diameter := range []float64{pick(40, 50), pick(60, 75)} {
			cup.Wheels = append(cup.Wheels, parts.Wheel{Item: parts.Item{Name: fmt.Sprintf("w%d", i), Count: 2 + draw.IntN(3)},
				Diameter: units.Millimetres(diameter), Width: 8, Bore: units.Millimetres(pick(4.9, 5, 4)), Material: parts.Wood, CanDrill: true})
		}
	case brief.Lift:
		b.Model, b.Load = brief.Lift, load
		b.Load.Mass, b.Load.CordDiameter = units.Grams(pick(5, 15, 30)), units.Millimetres(pick(0, 1))
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(pick(0.05, 0.1, 0.2, 0.4))}
		all := [][]brief.Tackle{{{Parts: 1, Efficiency: 1}}, {{Parts: 2, Efficiency: 0.85}}, {{Parts: 1, Efficiency: 1}, {Parts: 2, Efficiency: 0.85}}}
		b.Load.Tackles = all[draw.IntN(len(all))]
		b.Load.TackleParts, b.Load.TackleEfficiency = b.Load.Tackles[0].Parts, b.Load.Tackles[0].Efficiency
		for i, diameter := range []float64{pick(6, 10), pick(16, 25)} {
			cup.Drums = append(cup.Drums, parts.Drum{Item: parts.Item{Name: fmt.Sprintf("d%d", i), Count: 1 + draw.IntN(2)},
				Diameter: units.Millimetres(diameter), Width: 12, Bore: units.Millimetres(pick(4.9, 5, 4)), Material: parts.Wood, CanDrill: true})
		}
	}
	return cup, b
}

// requireOptimal holds a finished search to full enumeration, to the point, and says how
// many drives there are.
func requireOptimal(t *testing.T, r *design.Result, opt design.Options) int {
	t.Helper()
	want := design.BruteCosts(r.Cupboard, r.Brief)
	require.Len(t, r.Proposals, min(opt.Keep, len(want)), "enumeration finds %v", want[:min(opt.Keep, len(want))])
	for i, p := range r.Proposals {
		require.Equal(t, want[i], p.Total, "place %d", i+1)
	}
	return len(want)
}

// patience is a context that ends after it has been asked so many times whether it
// has.
type patience struct {
	context.Context
	left *int
}

func (p patience) Err() error {
	if *p.left--; *p.left < 0 {
		return errors.New("stopped by the test")
	}
	return nil
}

// requireStoppedAgrees searches again, stops when the search has asked so many times
// whether it should, and compares what it then says with the finished search. It
// reports whether the search was stopped at all, and whether it had drives by then.
func requireStoppedAgrees(t *testing.T, finished *design.Result, opt design.Options, asked int) (stopped, withDrives bool) {
	t.Helper()
	opt.Threads = 1 // so that it stops at the same place each time
	left := asked
	r, err := design.Find(patience{context.Background(), &left}, finished.Cupboard, finished.Brief, opt)
	require.NoError(t, err)
	require.Empty(t, recheck.Recheck(certificateOf(t, r)))
	if r.Status != design.StoppedEarly {
		require.Equal(t, ranking(finished), ranking(r))
		return false, false
	}
	for i, p := range r.Proposals {
		require.Less(t, i, len(finished.Proposals))
		require.GreaterOrEqual(t, p.Total, finished.Proposals[i].Total, "stopped after %d: place %d is better than the best there is", asked, i+1)
	}
	// The bound covers whatever was not seen.
	seen := ranking(r)
	for i, p := range finished.Proposals {
		beaten := len(r.Proposals) == opt.Keep && r.Proposals[opt.Keep-1].Total <= p.Total
		if !slices.Contains(seen, ranking(finished)[i]) && !beaten {
			require.LessOrEqual(t, r.Open, p.Total, "stopped after %d: place %d costs less than was said to be possible", asked, i+1)
		}
	}
	return true, len(r.Proposals) > 0
}

// TestStoppedAfterADriveOfNoPoints has a drive that costs nothing, found in the first
// round: it was taken for one that an earlier round had found, and lost.
func TestStoppedAfterADriveOfNoPoints(t *testing.T) {
	t.Parallel()
	cup, b := campaignCase(77_000_139)
	opt := design.Options{Keep: 5}
	finished := find(t, cup, b, opt)
	require.Zero(t, finished.Proposals[0].Total)
	for asked := range 110 {
		requireStoppedAgrees(t, finished, opt, asked)
	}
}

// TestStoppedSearchIsNeverContradicted stops the example, which lasts longer than
// the cases of the campaign.
func TestStoppedSearchIsNeverContradicted(t *testing.T) {
	t.Parallel()
	opt := design.Options{Keep: 10}
	finished := find(t, exampleCupboard(t), exampleBriefs(t)["built-in"], opt)
	for _, asked := range []int{0, 10, 100, 1000, 5000, 20_000} {
		requireStoppedAgrees(t, finished, opt, asked)
	}
}
