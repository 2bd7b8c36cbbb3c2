package recheck

import (
	"fmt"
	"math"
	"slices"
)

// disc is what may not be touched at a shaft: a pulley's rim or the shaft
// itself.
type disc struct {
	name   string
	shaft  int
	radius float64
	lane   int // -1: in every lane
}

// places checks where the holes are: in the frame and its zones, on the grid,
// and with everything that turns kept apart.
func (r *report) places(c *certificate, p *proposal) {
	f, l := &c.Brief.Frame, &c.Brief.Limits
	n := len(p.Stages)
	at := p.place

	// Everything keeps its distance with every hole out of place as far as the drive is
	// said to bear, two of them towards one another.
	off := p.error()
	want := l.Clearance + 2*off - slackRule
	in := func(i int, z rect) bool {
		v := at(i)
		return v.x >= z.X0-slackRule && v.x <= z.X1+slackRule && v.y >= z.Y0-slackRule && v.y <= z.Y1+slackRule
	}
	frame := rect{0, 0, f.Length, f.Height}
	r.hold(in(0, frame) && in(0, f.MotorZone), "the motor is outside its zone")
	r.hold(in(n, f.OutputZone), "the output axle is outside its zone")
	for i := 1; i <= n; i++ {
		inset := 0.0
		if c.Brief.Making.DrillFrame {
			inset = (p.Axles[i-1].Diameter+l.RunningFit)/2 + l.HoleWall
		}
		up := inset
		if len(f.Rails) > 0 {
			up = 0
		}
		r.hold(in(i, rect{inset, up, f.Length - inset, f.Height - up}), "axle %d is too near the edge of the frame", i)
		r.hold(len(f.Rails) == 0 || 2*inset <= f.Strip+slackRule, "the hole of axle %d leaves too little of the strip", i)
		a := &p.Axles[i-1]
		r.hold(a.Length >= f.Depth+2*math.Max(f.Strip, f.Sheet)-slackRule && a.Length <= a.RodLength+slackRule,
			"axle %d is too short to span the frame, or longer than its rod", i)
		if hole := a.Hole; hole != nil {
			r.same(fmt.Sprintf("hole of axle %d", i), *hole, a.Diameter+l.RunningFit)
		}
	}

	var discs []disc
	for i := range p.Stages {
		s := &p.Stages[i]
		discs = append(discs,
			disc{fmt.Sprintf("driver %s of stage %d", s.Driver.Name, i+1), i, s.Driver.Outside / 2, p.Lanes.Stage[i]},
			disc{fmt.Sprintf("driven pulley %s of stage %d", s.Driven.Name, i+1), i + 1, s.Driven.Outside / 2, p.Lanes.Stage[i]})
	}
	pulleys := len(discs)
	discs = append(discs, p.rods()...)
	for i, a := range discs {
		for _, b := range discs[i+1:] {
			if a.shaft == b.shaft || (a.lane >= 0 && b.lane >= 0 && a.lane != b.lane) {
				continue
			}
			apart := distance(at(a.shaft), at(b.shaft)) - a.radius - b.radius
			r.hold(apart >= want, "%s and %s are %.2f mm apart, and %.2f mm is wanted with holes %.3g mm out of place", a.name, b.name, apart, l.Clearance, off)
		}
	}
	floor := f.Ground
	if floor == nil && p.Wheel != nil { // it is where the wheels stand
		under := at(n).y - p.Wheel.Diameter/2
		floor = &under
		r.hold(under <= -l.Clearance+slackRule, "the frame drags on the floor")
	}
	for _, d := range discs[:pulleys] {
		v := at(d.shaft)
		reach := d.radius + off - f.Overhang - slackRule
		r.hold(v.x >= reach && v.y >= reach && f.Length-v.x >= reach && f.Height-v.y >= reach, "%s reaches too far out of the frame", d.name)
		if floor != nil {
			// Where the wheels stand both the wheels' hole and this one may be out.
			apart := v.y - d.radius - *floor
			if f.Ground != nil {
				apart += off
			} else if d.shaft == n {
				apart += 2 * off // it moves with the wheels
			}
			r.hold(apart >= want, "%s reaches too near the floor", d.name)
		}
	}
	r.freeAxle(c, p)
	r.lanesClear(c, p)
	r.bandsClear(c, p)
	r.motorClear(c, p)
	r.shaftClear(c, p)
}

// place is where a shaft is, the free axle behind the driven ones.
func (p *proposal) place(shaft int) vector {
	if shaft == len(p.Positions) {
		return p.FreeAxle.at.vector()
	}
	return p.Positions[shaft].vector()
}

// rods are the axles, that of a vehicle which is not driven last.
func (p *proposal) rods() []disc {
	var out []disc
	for i := range p.Axles {
		out = append(out, disc{fmt.Sprintf("axle %d", i+1), i + 1, p.Axles[i].Diameter / 2, -1})
	}
	if p.FreeAxle.at != nil {
		last := out[len(out)-1]
		out = append(out, disc{"the free axle", last.shaft + 1, last.radius, -1})
	}
	return out
}

// freeAxle checks where a vehicle's second axle is, beside what holds for every axle: on the grid,
// as high as the driven one, its wheels clear of the driven ones, enough material round its hole.
func (r *report) freeAxle(c *certificate, p *proposal) {
	if !p.FreeAxle.given {
		return
	}
	free, f := p.FreeAxle.at, &c.Brief.Frame
	r.hold((free != nil) == (p.Wheel != nil), "a vehicle has a second axle, and nothing else has")
	if free == nil || p.Wheel == nil {
		return
	}
	driven := p.Positions[len(p.Stages)]
	r.hold(math.Abs(free.Y-driven.Y) <= slackRule, "the free axle is not as high as the driven one")
	r.hold(math.Abs(math.Remainder(free.X, f.Pitch)) <= slackRule, "the free axle is off the grid of holes")
	apart := distance(free.vector(), driven.vector())
	r.hold(apart >= p.Wheel.Diameter+c.Brief.Limits.Clearance+2*p.error()-slackRule, "the wheels of the free axle and of the driven one, %.2f mm apart, are too near each other", apart)
	inset := 0.0
	if c.Brief.Making.DrillFrame {
		inset = (p.Axles[len(p.Axles)-1].Diameter+c.Brief.Limits.RunningFit)/2 + c.Brief.Limits.HoleWall
	}
	r.hold(math.Min(free.X, f.Length-free.X) >= inset-slackRule, "the free axle is too near the edge of the frame")
}

// lanesClear checks the places of the groove planes in the depth of the frame.
func (r *report) lanesClear(c *certificate, p *proposal) {
	l, depth := &c.Brief.Limits, c.Brief.Frame.Depth
	width := func(i int) float64 { return math.Max(p.Stages[i].Driver.Width, p.Stages[i].Driven.Width) }
	front, back, tip := p.Lanes.BodyFront, p.Lanes.BodyFront+p.Motor.BodyLength, p.tip()
	r.hold(front >= -slackRule && tip <= depth+slackRule, "the motor does not fit in the depth with its shaft")
	on, first := &p.Stages[0].Driver, p.Stages[0].Lane
	r.hold(back <= first-on.Width/2+slackRule, "the motor's body stands where the pulley on its shaft does")
	seat := math.Max(on.Width/2+math.Min(on.GrooveWidth, on.Width)/2, math.Min(1.5*p.Motor.Shaft, on.Width))
	r.hold(tip >= first-on.Width/2+seat-slackRule, "the motor's shaft, with its tip at %.2f mm, does not reach past the groove of its pulley", tip)
	r.hold(p.Lanes.Depth <= depth+slackRule, "the lanes take more than the depth")
	reached := []int{}
	for i := range p.Stages {
		at := p.Stages[i].Lane
		r.same(stageName(i)+"lane position", p.Lanes.Centre[i], at)
		r.hold(at-width(i)/2 >= -slackRule && at+width(i)/2 <= depth+slackRule, "%sthe pulleys stand out of the depth", stageName(i))
		for j := range i {
			if p.Lanes.Stage[i] == p.Lanes.Stage[j] {
				continue
			}
			apart := math.Abs(at-p.Stages[j].Lane) - (width(i)+width(j))/2
			r.hold(apart >= l.LaneGap-slackRule, "the lanes of stages %d and %d are %.2f mm apart", j+1, i+1, apart)
		}
		if at+width(i)/2 > front+slackRule && at-width(i)/2 < back-slackRule {
			r.hold(slices.Contains(p.Lanes.BodyLanes, p.Lanes.Stage[i]), "%sits lane runs beside the motor's body and is not counted so", stageName(i))
		}
		if lane := p.Lanes.Stage[i]; lane > p.Lanes.Stage[0] && at-width(i)/2 < tip+l.LaneGap/2-slackRule && !slices.Contains(reached, lane) {
			reached = append(reached, lane)
		}
	}
	slices.Sort(reached)
	r.hold(slices.Equal(reached, p.Lanes.ShaftLanes), "the motor's shaft reaches into %v besides its own lane, and not %v", reached, p.Lanes.ShaftLanes)
}

// tip is how far behind the front inside face the motor's shaft ends.
func (p *proposal) tip() float64 { return p.Lanes.BodyFront + p.Motor.BodyLength + p.Motor.ShaftLength }

// bandsClear checks that no axle stands in a band's way.
func (r *report) bandsClear(c *certificate, p *proposal) {
	for i := range p.Stages {
		s := &p.Stages[i]
		half := s.Band.Thickness / 2
		runs := strands(p.Positions[i].vector(), p.Positions[i+1].vector(), s.Driver.Floor/2+half, s.Driven.Floor/2+half, s.Crossed)
		for _, rod := range p.rods() {
			if rod.shaft == i || rod.shaft == i+1 {
				continue
			}
			for _, run := range runs {
				apart := run.clear(p.place(rod.shaft)) - half - rod.radius
				r.hold(apart >= c.Brief.Limits.Clearance+2*p.error()-slackRule, "the band of stage %d passes %s at %.2f mm", i+1, rod.name, apart)
			}
			r.hold(rod.shaft <= len(p.Stages) || !between(runs, p.place(rod.shaft)), "the band of stage %d goes round %s", i+1, rod.name)
		}
		if i > 0 && slices.Contains(p.Lanes.ShaftLanes, p.Lanes.Stage[i]) {
			for _, run := range runs {
				apart := run.clear(p.place(0)) - half - p.Motor.Shaft/2
				r.hold(apart >= c.Brief.Limits.Clearance+2*p.error()-slackRule, "the band of stage %d passes the motor's shaft at %.2f mm", i+1, apart)
			}
		}
	}
}

// shaftClear checks that the pulleys in whose lanes the motor's shaft ends clear it.
func (r *report) shaftClear(c *certificate, p *proposal) {
	clear := func(name string, stage, shaft int, outside float64) {
		if !slices.Contains(p.Lanes.ShaftLanes, p.Lanes.Stage[stage]) {
			return
		}
		apart := distance(p.place(shaft), p.place(0)) - outside/2 - p.Motor.Shaft/2
		r.hold(apart >= c.Brief.Limits.Clearance+2*p.error()-slackRule, "the motor's shaft reaches into the %s of stage %d", name, stage+1)
	}
	for i := 1; i < len(p.Stages); i++ {
		clear("driver", i, i, p.Stages[i].Driver.Outside)
		clear("driven pulley", i, i+1, p.Stages[i].Driven.Outside)
	}
}

// motorClear checks that axles and the pulleys in its lanes clear the motor's
// body.
func (r *report) motorClear(c *certificate, p *proposal) {
	centre := p.Positions[0].vector()
	apart := func(v vector) float64 {
		d := v.minus(centre)
		return math.Hypot(math.Max(0, math.Abs(d.x)-p.Motor.BodyWidth/2), math.Max(0, math.Abs(d.y)-p.Motor.BodyHeight/2))
	}
	beside := map[int]bool{}
	for _, lane := range p.Lanes.BodyLanes {
		beside[lane] = true
	}
	want := c.Brief.Limits.Clearance + 2*p.error() - slackRule
	for _, rod := range p.rods() {
		r.hold(apart(p.place(rod.shaft))-rod.radius >= want, "%s touches the motor", rod.name)
	}
	for i := range p.Axles {
		v := p.Positions[i+1].vector()
		if beside[p.Lanes.Stage[i]] {
			r.hold(apart(v)-p.Stages[i].Driven.Outside/2 >= want, "the driven pulley of stage %d touches the motor", i+1)
		}
		if i+1 < len(p.Stages) && beside[p.Lanes.Stage[i+1]] {
			r.hold(apart(v)-p.Stages[i+1].Driver.Outside/2 >= want, "the driver of stage %d touches the motor", i+2)
		}
	}
}
