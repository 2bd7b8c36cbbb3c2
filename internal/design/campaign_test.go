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
	"findrive/internal/score"
)

// How many cases the campaign goes through, and from which seed.
var (
	campaignCases = flag.Uint64("cases", 100, "cases of the campaign")
	campaignSeed  = flag.Uint64("seed", 0, "the first seed of the campaign's cases")
)

// TestCampaign draws cupboards and briefs for every kind of model and holds each search,
// at the settings that ship, to what can be known of it apart from it: the list to that of
// every design tried one by one, holes and bands and order of equals included; one thread
// to two and to eight; and what is said when it is stopped to what is said when it is not.
// The cases are the same each time; others are put by
//
//	go test ./internal/design -run TestCampaign -args -seed SEED -cases N
func TestCampaign(t *testing.T) {
	t.Parallel()
	seen := campaign{found: map[brief.Model]int{}}
	for i := range *campaignCases {
		seen.put(t, *campaignSeed+i)
	}
	t.Logf("%d cases from seed %d: %+v", *campaignCases, *campaignSeed, seen)
	if *campaignSeed == 0 && *campaignCases >= 100 {
		require.Len(t, seen.found, 5, "drives were found for every kind of model")
		require.Greater(t, seen.drives, 80, "the cases must be worth testing")
		require.Greater(t, seen.deep, 4)
		require.Greater(t, seen.stopped, 100)
		require.Greater(t, seen.stoppedWithDrives, 20)
	}
}

// campaign counts what the cases were worth.
type campaign struct {
	found                      map[brief.Model]int // cases with drives
	drives                     int                 // listed in all
	deep                       int                 // of two stages
	stopped, stoppedWithDrives int
}

func (c *campaign) put(t *testing.T, seed uint64) {
	cup, b := campaignCase(seed)
	t.Run(fmt.Sprintf("%s, -seed %d", b.Model, seed), func(t *testing.T) {
		opt := design.Options{Keep: 1 + int(seed%12), Threads: 1}
		every := design.EveryDrive(cup, b)
		r, err := design.Find(context.Background(), cup, b, opt)
		require.NoError(t, err)
		want := []string{}
		for _, e := range every[:min(opt.Keep, len(every))] {
			want = append(want, e.Line)
			if len(e.Drive.Stages) == 2 {
				c.deep++
			}
		}
		require.Equal(t, want, design.Lines(worthBuilding(r)))
		status := design.ProvedBest
		if len(every) == 0 {
			status = design.NonePossible
		} else {
			c.found[b.Model]++
		}
		require.Equal(t, status, r.Status)
		c.drives += len(want)
		requireSame(t, r, opt, 2, 8)
		draw := rand.New(rand.NewPCG(seed, 3))
		for _, most := range []int{4, 30, 100, 300} {
			stopped, withDrives := requireStoppedAgrees(t, r, opt, draw.IntN(most))
			if stopped {
				c.stopped++
			}
			if withDrives {
				c.stoppedWithDrives++
			}
		}
	})
}

// worthBuilding leaves out of the list for several tackles what costs too much more than
// the first, which was looked at tackle by tackle only.
func worthBuilding(r *design.Result) *design.Result {
	if len(r.Brief.Load.Tackles) < 2 {
		return r
	}
	out := *r
	out.Proposals = slices.DeleteFunc(slices.Clone(r.Proposals), func(p design.Proposal) bool { return p.Total > r.Proposals[0].Total+score.Worth })
	return &out
}

// requireSame holds the same search on other numbers of threads to the same bytes.
func requireSame(t *testing.T, r *design.Result, opt design.Options, threads ...int) {
	t.Helper()
	want := string(certificateOf(t, r))
	for _, opt.Threads = range threads {
		other, err := design.Find(context.Background(), r.Cupboard, r.Brief, opt)
		require.NoError(t, err)
		require.Equal(t, want, string(certificateOf(t, other)), "on %d threads", opt.Threads)
	}
}

// patience is a context that ends after it has been asked so many times whether it has.
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
// whether it should, and compares what it then says with the finished search. It reports
// whether the search was stopped at all, and whether it had drives by then.
func requireStoppedAgrees(t *testing.T, finished *design.Result, opt design.Options, asked int) (stopped, withDrives bool) {
	t.Helper()
	opt.Threads = 1 // so that it stops at the same place each time
	left := asked
	r, err := design.Find(patience{context.Background(), &left}, finished.Cupboard, finished.Brief, opt)
	require.NoError(t, err)
	if r.Status != design.StoppedEarly {
		require.Equal(t, design.Lines(finished), design.Lines(r))
		return false, false
	}
	for i, p := range r.Proposals {
		if i >= len(finished.Proposals) {
			// Before the best is known the list may go on to what is not worth listing.
			require.Greater(t, p.Total, finished.Proposals[0].Total, "stopped after %d: place %d", asked, i+1)
			continue
		}
		require.GreaterOrEqual(t, p.Total, finished.Proposals[i].Total, "stopped after %d: place %d is better than the best there is", asked, i+1)
	}
	// What was said to be the least that is open covers all that was not seen.
	for i := range finished.Proposals {
		p := &finished.Proposals[i]
		beaten := len(r.Proposals) == opt.Keep && r.Proposals[opt.Keep-1].Total <= p.Total
		seen := slices.ContainsFunc(r.Proposals, func(o design.Proposal) bool { return o.Total == p.Total && oneDrive(&o, p) })
		if !seen && !beaten {
			require.LessOrEqual(t, r.Open, p.Total, "stopped after %d: place %d costs less than was said to be possible", asked, i+1)
		}
	}
	return true, len(r.Proposals) > 0
}

// oneDrive tells whether two proposals are one drive: the same motor, cells, wheel or
// drum and tackle, and the same pairs of pulleys in whatever order.
func oneDrive(a, b *design.Proposal) bool { return driveKey(a) == driveKey(b) }

func driveKey(p *design.Proposal) string {
	d := p.Drive
	var pairs []string
	for i := range d.Stages {
		pairs = append(pairs, d.Stages[i].Driver.Name+">"+d.Stages[i].Driven.Name)
	}
	slices.Sort(pairs)
	key := fmt.Sprint(d.Motor.Name, " ", d.Holder.Name, " ", pairs)
	if d.Wheel != nil {
		key += " " + d.Wheel.Name
	}
	if d.Drum != nil {
		key += " " + d.Drum.Name
	}
	if p.Tackle != nil {
		key += fmt.Sprint(" ", p.Tackle.Parts)
	}
	return key
}
