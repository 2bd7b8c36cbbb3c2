package design_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// enlarged makes every length k times as long. A band at the same stretch then
// pulls k^2 times as hard, since that goes with its section, so torques grow with
// k^3, weights with k^2, and a motor of k^3 times the torque at the same speed and
// voltage has k^3 times the currents and a k^-3th of the resistances. Stretches,
// arcs, ratios, grip margins and speeds stay as they are.
//
// What does not scale are the fits of bores on shafts and what a saw takes away,
// which are lengths of the hand and not of the model; so all bores fit exactly.
func enlarged(cup *parts.Cupboard, b *brief.Brief, k float64) (*parts.Cupboard, *brief.Brief) {
	long := func(v ...*units.Millimetres) {
		for _, l := range v {
			*l *= units.Millimetres(k)
		}
	}
	c := *cup
	c.Sleeves = nil
	c.Pulleys, c.Bands, c.Motors = slices.Clone(c.Pulleys), slices.Clone(c.Bands), slices.Clone(c.Motors)
	c.Holders, c.Axles = slices.Clone(c.Holders), slices.Clone(c.Axles)
	for i := range c.Pulleys {
		p := &c.Pulleys[i]
		if p.Bore = 5; i == 0 {
			p.Bore = 2
		}
		long(&p.Outside, &p.GrooveFloor, &p.GrooveWidth, &p.Width, &p.Bore)
	}
	for i := range c.Bands {
		long(&c.Bands[i].FlatLength, &c.Bands[i].Width, &c.Bands[i].Thickness)
	}
	for i := range c.Motors {
		m := &c.Motors[i]
		m.FreeCurrent *= units.Amps(k * k * k)
		m.StallTorque *= units.NewtonMillimetres(k * k * k)
		long(&m.ShaftDiameter, &m.ShaftLength, &m.BodyLength, &m.BodyWidth, &m.BodyHeight)
	}
	for i := range c.Holders {
		c.Holders[i].CellResistance /= units.Ohms(k * k * k)
	}
	for i := range c.Axles {
		c.Axles[i].Count = 20 // more than enough at any size
		long(&c.Axles[i].Diameter, &c.Axles[i].Length)
	}
	n := *b
	rect := func(r *brief.Rect) { long(&r.X0, &r.Y0, &r.X1, &r.Y1) }
	rect(&n.Frame.MotorZone)
	rect(&n.Frame.OutputZone)
	long(&n.Frame.Length, &n.Frame.Height, &n.Frame.Depth, &n.Frame.Sheet, &n.Frame.Pitch, &n.Frame.Overhang,
		&n.Limits.Clearance, &n.Limits.LaneGap, &n.Limits.HoleWall, &n.Limits.RunningFit, &n.Limits.HoleError)
	// What turns weighs k^3 as much; so the axles stand, and bear none of it.
	n.Model = brief.UprightRide
	n.Load = brief.Load{Mass: units.Grams(100 * k * k), PivotRadius: units.Millimetres(2.5 * k), LoadRadius: units.Millimetres(60 * k), TackleParts: 1, TackleEfficiency: 1}
	return &c, &n
}

// TestScalingScalesTheLayout: the same drives at twice the size, with their holes
// twice as far apart.
func TestScalingScalesTheLayout(t *testing.T) {
	t.Parallel()
	found := 0
	check := func(t *testing.T, cup *parts.Cupboard, b *brief.Brief) {
		small, large := findAtSize(t, cup, b, 1), findAtSize(t, cup, b, 2)
		require.Len(t, large.Proposals, len(small.Proposals))
		for i := range small.Proposals {
			p, q := &small.Proposals[i], &large.Proposals[i]
			found++
			require.Equal(t, p.Total, q.Total)
			require.InEpsilon(t, float64(p.Speed.Likely), float64(q.Speed.Likely), 1e-6)
			for j := range p.Stages {
				require.Equal(t, p.Stages[j].Driver, q.Stages[j].Driver)
				require.Equal(t, p.Stages[j].Driven, q.Stages[j].Driven)
				require.Equal(t, p.Stages[j].Band.Name, q.Stages[j].Band.Name)
				require.InEpsilon(t, p.Stages[j].Fitted.Stretch, q.Stages[j].Fitted.Stretch, 1e-6)
				require.InEpsilon(t, 4*float64(p.Stages[j].Fitted.Pull), float64(q.Stages[j].Fitted.Pull), 1e-6)
				require.InEpsilon(t, p.Stages[j].GripStarting, q.Stages[j].GripStarting, 1e-6)
			}
			for j := range p.Drive.Positions {
				require.InDelta(t, 2*float64(p.Drive.Positions[j].X), float64(q.Drive.Positions[j].X), 1e-9)
				require.InDelta(t, 2*float64(p.Drive.Positions[j].Y), float64(q.Drive.Positions[j].Y), 1e-9)
			}
			for j := range p.Drive.Lanes.Centre {
				require.InDelta(t, 2*float64(p.Drive.Lanes.Centre[j]), float64(q.Drive.Lanes.Centre[j]), 1e-9)
			}
		}
	}
	for seed := range uint64(30) {
		cup, b := design.SmallCase(seed)
		t.Run(fmt.Sprint(seed), func(t *testing.T) { check(t, cup, b) })
	}
	for seed := range uint64(4) {
		cup, b := design.SmallerCase(seed)
		t.Run(fmt.Sprintf("two stages, %d", seed), func(t *testing.T) { check(t, cup, b) })
	}
	require.Greater(t, found, 15)
}

func findAtSize(t *testing.T, cup *parts.Cupboard, b *brief.Brief, k float64) *design.Result {
	t.Helper()
	// Cells of a size that is kept in proportion: see leastCell in settle.go.
	n := *b
	n.Limits.HoleError = 1
	big, briefOf := enlarged(cup, &n, k)
	return find(t, big, briefOf, design.Options{Keep: 4})
}
