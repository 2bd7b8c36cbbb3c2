package design

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// TestPenaltyByHand holds each term of two drives to points and words worked out by
// hand from docs/score.md.
func TestPenaltyByHand(t *testing.T) {
	band := func(name string) *parts.Band { return &parts.Band{Item: parts.Item{Name: name}} }
	floor := units.Millimetres(0)
	pulley := func(assumed ...string) *parts.Pulley {
		floor += 10 // every stage changes the speed
		return &parts.Pulley{Item: parts.Item{Name: "p", Assumed: assumed}, GrooveFloor: floor}
	}
	fits := func(stretch ...float64) *drive.Geometry {
		g := &drive.Geometry{}
		for i, s := range stretch {
			g.Fits[i] = mechanics.Fitted{Stretch: s}
		}
		return g
	}
	plain := &drive.Drive{
		Motor: &parts.Motor{}, Holder: &parts.CellHolder{Cells: 1}, Axles: []*parts.AxleStock{{}},
		Stages: []drive.Stage{{Driver: pulley(), Driven: pulley(), Band: band("no-16")}},
	}
	fussy := &drive.Drive{
		Motor: &parts.Motor{}, Holder: &parts.CellHolder{Cells: 2}, Axles: []*parts.AxleStock{{}, {}},
		Stages: []drive.Stage{
			{Driver: pulley("groove width taken as 3 mm"), Driven: pulley(), Band: band("no-16"), Crossed: true, Use: drive.Paired,
				DriverJoint: drive.Joint{Kind: drive.Glued}, DrivenJoint: drive.Joint{Kind: drive.Glued}},
			{Driver: pulley(), Driven: pulley("groove width taken as 3 mm"), Band: band("no-24"), Use: drive.LoopedTwice,
				DriverJoint: drive.Joint{Kind: drive.Sleeved}, DrivenJoint: drive.Joint{Kind: drive.DrilledOut}},
		},
	}
	type want struct {
		points float64
		why    string
	}
	asked := Proposal{Speed: SpeedRange{Low: 15, Likely: 20, High: 26}, Target: 20, Works: 100, Bears: 2}
	with := func(change func(*Proposal)) Proposal {
		p := asked
		change(&p)
		return p
	}
	for _, c := range []struct {
		name     string
		drive    *drive.Drive
		geometry *drive.Geometry
		share    float64
		is       Proposal
		terms    map[string]want
		total    float64
	}{
		{"plain", plain, fits(1.2), 0.2, asked, map[string]want{
			"classrooms": {0, "it turns as asked in 100 of 100 classrooms"}, "may stand": {0, "it turns in every one"},
			"speed": {0, "the speed wanted is within the range"}, "stages": {0, "1 stage"}, "cells": {0, "1 cell"},
			"band fit": {0, "every band is comfortably stretched"}, "joints": {0, "everything is a push fit"},
			"bands": {0, "every band is single and open"}, "assumptions": {0, "nothing is assumed"}, "idle stages": {0, "every stage changes the speed"},
			"motor load": {0, "the motor runs at 20 % of stall"}, "forgiveness": {0, "a hole may be 2 mm out of place"},
		}, 0},
		{"fussy", fussy, fits(1.08, 1.42), 0.31, with(func(p *Proposal) { p.Works, p.Stands, p.Bears = 71, 6, 1 }), map[string]want{
			"classrooms": {4, "it turns as asked in 71 of 100 classrooms"}, // two whole tenths in which it does not
			"may stand":  {10, "it does not turn in 6 of 100"},
			"stages":     {4, "2 stages"}, "cells": {0.5, "2 cells"},
			"band fit":    {3, "band no-16 is a little slack, band no-24 is rather tight"},                  // one step below, two above
			"joints":      {4, "2 drops of glue, 1 sleeve, 1 bore to drill out"},                            // 0.5 + 0.5 + 1 + 2
			"bands":       {3, "band no-16 is crossed, two no-16 side by side, band no-24 is looped twice"}, // 2 + 0.5 + 0.5
			"assumptions": {0.5, "2 facts nobody measured"},
			"motor load":  {2, "the motor runs at 31 % of stall"}, // two steps begun above 25 %
			"forgiveness": {5, "a hole 2 mm out of place could stop it, one of 1 mm could not"},
		}, 36},
		{"slow", plain, fits(1.2), 0.2, with(func(p *Proposal) { p.Speed.High, p.Works, p.Bears = 17, 0, 0.4 }), map[string]want{
			"classrooms":  {20, "it turns as asked in 0 of 100 classrooms"},
			"speed":       {16, "even the fastest of ten turns slower than wanted"}, // 100 ln(20/17) = 16.25
			"forgiveness": {15, "on the edge: a hole 1 mm out of place could stop it"},
		}, 51},
	} {
		tk := &task{brief: &brief.Brief{Limits: brief.DefaultLimits(), Weights: brief.DefaultWeights()}}
		terms, total := tk.penalty(c.drive, &designed{geometry: *c.geometry, share: c.share}, &c.is)
		seen := 0
		var sum score.Points
		for _, term := range terms {
			sum += term.Points
			if w, ok := c.terms[term.Name]; ok {
				seen++
				require.InDelta(t, w.points, term.Points.Float(), 1e-12, "%s: %s", c.name, term.Name)
				require.Equal(t, w.why, term.Why, "%s: %s", c.name, term.Name)
			}
		}
		require.Equal(t, len(c.terms), seen)
		require.Equal(t, sum, total)
		require.InDelta(t, c.total, total.Float(), 1e-12, c.name)
	}
}
