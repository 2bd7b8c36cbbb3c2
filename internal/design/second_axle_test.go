package design_test

import (
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// buggyOf is the buggy of the examples in a frame of that length, its shafts anywhere in it.
func buggyOf(t *testing.T, cup *parts.Cupboard, length int) *brief.Brief {
	text, err := os.ReadFile("../../testdata/briefs/buggy.toml")
	require.NoError(t, err)
	b, err := brief.ReadFor("buggy.toml", text, cup)
	require.NoError(t, err)
	b.Frame.Length = units.Millimetres(length)
	b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
	b.Frame.OutputZone = b.Frame.MotorZone
	return b
}

// A buggy's pulleys go into a frame that is a hole too short for its second axle; in one as long
// as that, both axles have their holes, and are as far apart as their wheels ask.
func TestTheSecondAxleDecides(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	find := func(length int, pins *design.Pins) *design.Result {
		r, err := design.Find(context.Background(), cup, buggyOf(t, cup, length), design.Options{Keep: 1, Threads: 1, Pins: pins})
		require.NoError(t, err)
		return r
	}
	d := find(120, nil).Proposals[0].Drive
	pins := &design.Pins{Motor: d.Motor.Name, Stages: len(d.Stages)}
	for i := range d.Stages {
		pins.Each = append(pins.Each, design.StagePins{Driver: d.Stages[i].Driver.Name, Driven: d.Stages[i].Driven.Name})
	}

	const enough = 67
	r := find(enough, pins)
	require.Equal(t, design.ProvedBest, r.Status)
	d = r.Proposals[0].Drive
	require.NotNil(t, d.FreeAxle)
	output := d.Positions[len(d.Stages)]
	require.Equal(t, output.Y, d.FreeAxle.Y)
	require.GreaterOrEqual(t, drive.Distance(output, *d.FreeAxle), d.Wheel.Diameter+2+2*r.Proposals[0].Bears)

	r = find(enough-1, pins)
	require.Equal(t, design.NonePossible, r.Status)
	said := ""
	for _, no := range r.Refused {
		if no.Rule == constraints.Room {
			said = no.Nearest
		}
	}
	require.Contains(t, said, "room for a second axle")

	// It is not for want of room for the pulleys.
	anywhere := *d
	anywhere.FreeAxle = nil
	for _, length := range []int{enough - 1, enough} {
		p := design.LayoutProblem(&anywhere, buggyOf(t, cup, length), d.Lanes, 0)
		for i := range d.Stages {
			c := d.Centre(i)
			p.Gaps = append(p.Gaps, layout.Gap{A: i, B: i + 1, Min: c - 1, Max: c + 1})
		}
		_, with := layout.Place(p, 100_000)
		p.Mate = nil
		_, without := layout.Place(p, 100_000)
		require.Equal(t, layout.Placed, without)
		require.Equal(t, map[int]layout.Outcome{enough - 1: layout.Impossible, enough: layout.Placed}[length], with, length)
	}
}

// Of the holes that are left for it the free axle has the furthest, and every other keeps clear too.
func TestTheSecondAxleStandsFarOff(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b := buggyOf(t, cup, 160)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 3, Threads: 1})
	require.NoError(t, err)
	for i := range r.Proposals {
		q := &r.Proposals[i]
		d, free := q.Drive, *q.Drive.FreeAxle
		apart := func(x units.Millimetres) units.Millimetres {
			return drive.Distance(d.Positions[len(d.Stages)], layout.Point{X: x, Y: free.Y})
		}
		for x := units.Millimetres(0); x <= b.Frame.Length; x += b.Frame.Pitch {
			other := *d
			other.FreeAxle = &layout.Point{X: x, Y: free.Y}
			if len(layout.Check(design.LayoutProblem(&other, b, d.Lanes, q.Bears), d.Positions)) == 0 {
				require.LessOrEqual(t, apart(x), apart(free.X))
			}
		}
		require.Empty(t, layout.Check(design.LayoutProblem(d, b, d.Lanes, q.Forgives), d.Positions))
	}
}
