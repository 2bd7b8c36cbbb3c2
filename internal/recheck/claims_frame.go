package recheck

import (
	"math"
	"slices"
)

// frame checks what a drive has of its frame: holes on the grid, wheels on the floor, axles
// cut to fit, lanes counted from the front.
func (r *report) frame(c *certificate, p *proposal) {
	f, l, last := &c.Brief.Frame, &c.Brief.Limits, len(p.Axles)-1
	off := func(v float64) bool { return !(math.Abs(math.Remainder(v, f.Pitch)) <= slackRule) }
	for i, at := range p.Positions {
		on := !off(at.Y)
		if len(f.Rails) > 0 {
			on = slices.ContainsFunc(f.Rails, func(rail float64) bool { return near(rail, at.Y) })
		}
		r.hold(on && !off(at.X), "the hole of shaft %d is off the grid", i+1)
	}
	cut := f.Depth + 2*math.Max(f.Strip, f.Sheet) + 2*axleEnd
	for i := range p.Axles {
		if i == last {
			switch {
			case p.Wheel != nil:
				cut += 2 * (l.Clearance + p.Wheel.Width)
				height := p.Positions[i+1].Y - p.Wheel.Diameter/2
				r.hold(f.Ground == nil || math.Abs(height-*f.Ground) <= f.Pitch/2+slackRule, "the wheels do not stand on the floor")
			case p.Drum != nil:
				cut += l.Clearance + p.Drum.Width
			case c.Brief.Model != "plain shaft":
				cut += rideEnd
			}
		}
		a := &p.Axles[i]
		r.same("length of an axle", a.Length, math.Ceil(cut-slackRule))
		r.hold((a.Hole != nil) == c.Brief.Making.DrillFrame, "a hole is given and none is drilled, or the other way about")
	}
	depth := p.tip()
	for i := range p.Stages {
		s := &p.Stages[i]
		depth = math.Max(depth, s.Lane+math.Max(s.Driver.Width, s.Driven.Width)/2)
		for j := range i {
			o := &p.Stages[j]
			r.hold((p.Lanes.Stage[i] < p.Lanes.Stage[j]) == (s.Lane < o.Lane-slackRule) && (p.Lanes.Stage[i] > p.Lanes.Stage[j]) == (s.Lane > o.Lane+slackRule),
				"the lanes of stages %d and %d are not counted from the front", j+1, i+1)
		}
	}
	r.same("depth of the lanes", p.Lanes.Depth, depth)
}

// How much longer an axle is than the frame is wide, at each end, and where a ride is pushed
// onto it, in mm.
const (
	axleEnd = 5
	rideEnd = 15
)

// given checks that a proposal has what a drive of its model has, and no more.
func (r *report) given(c *certificate, p *proposal) {
	vehicle, lift := c.Brief.Model == "vehicle", c.Brief.Model == "lift"
	for _, k := range []struct {
		is, due bool
		what    string
	}{
		{p.Wheel != nil, vehicle, "the wheel"},
		{p.Traction != nil, vehicle, "traction"},
		{p.Drum != nil, lift, "the drum"},
		{p.Tackle != nil, lift, "the tackle"},
		{p.OutputJoint != nil, vehicle || lift, "the output joint"},
		{p.Travel != nil, vehicle || lift, "the speed of travel"},
		{p.Fewer != nil, p.Cells.Cells > 1, "one cell less"},
		{p.Motor.Minutes != nil, p.Cells.Capacity > 0, "the time of the cells"},
	} {
		r.hold(k.is == k.due, "%s is left out, or given where there is none", k.what)
	}
	asked := map[string]string{"vehicle": c.Brief.Load.Wheel, "lift": c.Brief.Load.Drum}[c.Brief.Model]
	r.hold(asked == "" || slices.ContainsFunc(p.Uses, func(u use) bool {
		return (u.Kind == "wheel" || u.Kind == "drum") && (u.Name == asked || slices.Contains(u.Also, asked))
	}), "%s is asked for and not taken", asked)
}
