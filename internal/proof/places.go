package proof

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
)

// plan says which lane each stage lies in, from the front, and which lanes stand
// beside the motor's body.
type plan struct{ lane, beside []int }

type planKey struct {
	stages int
	widths [drive.MaxStages]mm
	body   mm
}

func (p *plan) same(o *plan) bool {
	return slices.Equal(p.lane, o.lane) && slices.Equal(p.beside, o.beside)
}

// plansFor lists every plan for an arrangement that the frame is deep enough for.
// Stages are gathered into lanes in every way in which no neighbours share one, for
// they have a pulley each on one axle; and the lanes stand in every order, close up.
// The motor's body stands against the front of stage 1's lane, and what is in front
// of that lane is beside the body as far as the body reaches.
func (n *node) plansFor() []plan {
	k := n.hd.stages
	key := planKey{stages: k, body: n.space.motors[n.hd.motor].part.BodyLength}
	for i := range k {
		key.widths[i] = max(n.space.pulleys[n.driver(i)].part.Width, n.space.pulleys[n.driven(i)].part.Width)
	}
	if known, ok := n.plans[key]; ok {
		return known
	}
	out := []plan{}
	lane := make([]int, k)
	var choose func(stage int)
	choose = func(stage int) {
		if stage < k {
			for lane[stage] = range k {
				if stage == 0 || lane[stage] != lane[stage-1] {
					choose(stage + 1)
				}
			}
			return
		}
		if p, ok := n.layPlan(lane, &key); ok {
			out = append(out, p)
		}
	}
	choose(0)
	n.plans[key] = out
	return out
}

// layPlan lays lanes out in the depth; false if they do not fit or some number of
// lane is left out.
func (n *node) layPlan(lane []int, key *planKey) (plan, bool) {
	lanes := slices.Max(lane) + 1
	width := make([]mm, lanes)
	for i, l := range lane {
		width[l] = max(width[l], key.widths[i])
	}
	if slices.Contains(width, 0) {
		return plan{}, false
	}
	between, depth := n.brief.Limits.LaneGap, n.brief.Frame.Depth
	front := mm(0) // of the lanes before stage 1's, with their gaps
	for _, w := range width[:lane[0]] {
		front += w + between
	}
	start := max(0, key.body-front)
	bodyFront := start + front - key.body
	p := plan{lane: slices.Clone(lane)}
	at := start
	for l, w := range width {
		if l < lane[0] && key.body > 0 && at+w > bodyFront+1e-9 {
			p.beside = append(p.beside, l)
		}
		at += w + between
	}
	return p, at-between <= depth+1e-9
}

// easiest leaves out the plans in which no fewer stages share a lane, or stand
// beside the motor's body, than in another: what must keep clear in that other must
// keep clear in them too, so where it has no placement they have none.
func easiest(plans []plan) []plan {
	var out []plan
	for i := range plans {
		harder := false
		for j := range plans {
			if j != i && plans[j].noHarder(&plans[i]) && (j < i || !plans[i].noHarder(&plans[j])) {
				harder = true
			}
		}
		if !harder {
			out = append(out, plans[i])
		}
	}
	return out
}

// noHarder reports whether whatever meets in this plan meets in the other too.
func (p *plan) noHarder(o *plan) bool {
	for i := range p.lane {
		if slices.Contains(p.beside, p.lane[i]) && !slices.Contains(o.beside, o.lane[i]) {
			return false
		}
		for j := range i {
			if p.lane[i] == p.lane[j] && o.lane[i] != o.lane[j] {
				return false
			}
		}
	}
	return true
}

// problem is a drive as a problem of placement in given lanes, with holes off by up
// to off: what must stay in the frame and clear of what.
func (c *choice) problem(lanes plan, off mm) layout.Problem {
	d, b := c.made, c.n.brief
	f := &b.Frame
	p := layout.Problem{
		Outline: layout.Rect{X1: f.Length, Y1: f.Height}, Overhang: f.Overhang,
		Grid: layout.Grid{Pitch: f.Pitch, Heights: f.Rails}, Clearance: b.Limits.Clearance, Slack: off,
	}
	if f.HasGround {
		ground := f.Ground
		p.Ground = &ground
	}
	// An axle passes through every lane, and past the motor's body, which counts as
	// a lane of its own in front of all.
	body := slices.Max(lanes.lane) + 1
	var every []int
	for l := range body + 1 {
		every = append(every, l)
	}
	k := len(d.Stages)
	for j := range k + 1 {
		var shaft layout.Shaft
		if j == 0 {
			shaft = layout.Shaft{Radius: d.Motor.ShaftDiameter / 2, Zone: within(p.Outline, f.MotorZone), Lanes: []int{lanes.lane[0]}}
		} else {
			shaft = layout.Shaft{Radius: d.Axles[j-1].Diameter / 2, Zone: c.holeZone(d.Axles[j-1].Diameter), Lanes: every}
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: d.Stages[j-1].Driven.Outside / 2, Lane: lanes.lane[j-1]})
		}
		if j < k {
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: d.Stages[j].Driver.Outside / 2, Lane: lanes.lane[j]})
		} else {
			shaft.Zone = within(shaft.Zone, f.OutputZone)
		}
		p.Shafts = append(p.Shafts, shaft)
	}
	for i := range k {
		s := &d.Stages[i]
		half := s.Band.Thickness / 2
		p.Runs = append(p.Runs, layout.Run{From: i, To: i + 1, Crossed: s.Crossed, Lane: lanes.lane[i], HalfBand: half,
			FromPitch: s.Driver.GrooveFloor/2 + half, ToPitch: s.Driven.GrooveFloor/2 + half})
	}
	p.Bodies = []layout.Box{{HalfWidth: d.Motor.BodyWidth / 2, HalfHeight: d.Motor.BodyHeight / 2, Lanes: append(slices.Clone(lanes.beside), body)}}
	if d.Wheel != nil {
		standing(&p, d.Wheel.Diameter/2, f)
	}
	return p
}

// holeZone is where an axle's hole may be so that enough is left round it. On rails
// the height is the rail's, and the wall is the strip's business.
func (c *choice) holeZone(axle mm) layout.Rect {
	f := &c.n.brief.Frame
	in := constraints.HoleInset(c.n.brief.Limits, c.n.brief.Making, axle)
	z := layout.Rect{X0: in, Y0: in, X1: f.Length - in, Y1: f.Height - in}
	if len(f.Rails) > 0 {
		z.Y0, z.Y1 = 0, f.Height
	}
	return z
}

// standing adds what the floor asks of a vehicle, whose wheels of that radius are on
// the last axle: where the brief says how high the floor is, the axle is at the
// height of the wheels, give or take half a hole; where it does not, the floor is
// where the wheels stand, and frame and pulleys stay clear of it.
func standing(p *layout.Problem, wheel mm, f *brief.Frame) {
	last := len(p.Shafts) - 1
	zone := &p.Shafts[last].Zone
	if f.HasGround {
		y := f.Ground + wheel
		*zone = within(*zone, brief.Rect{X1: f.Length, Y0: y - f.Pitch/2, Y1: y + f.Pitch/2})
		return
	}
	zone.Y1 = min(zone.Y1, wheel-p.Clearance)
	for j := range p.Shafts {
		for _, disc := range p.Shafts[j].Discs {
			above := wheel - p.Clearance - disc.Radius // the disc's axle may be so far below the output
			switch {
			case j < last:
				p.Rises = append(p.Rises, layout.Rise{From: j, To: last, Min: mm(math.Inf(-1)), Max: above - 2*p.Slack})
			case above < 0:
				zone.Y1 = zone.Y0 - p.Grid.Pitch
			}
		}
	}
}

func within(a layout.Rect, b brief.Rect) layout.Rect {
	return layout.Rect{X0: max(a.X0, b.X0), Y0: max(a.Y0, b.Y0), X1: min(a.X1, b.X1), Y1: min(a.Y1, b.Y1)}
}

// off is how far every hole of the choice may be out of place.
func (c *choice) off() mm {
	if c.forgive {
		return c.n.brief.Limits.HoleError
	}
	return 0
}
