package built

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// InFrame is a built drive in its frame. Points are measured from the frame's lower
// left inside corner.
type InFrame struct {
	// Given is whether the file says where the motor is. If not, the drive was put
	// where it fits best.
	Given bool
	Holes []layout.Point  // motor shaft first
	Plan  layout.LanePlan // where along the axles each stage lies
	// Left, Right, Bottom and Top are the least room between the frame and anything
	// that moves or the motor's body, with its name; below 0 it is beyond the edge.
	Left, Right, Bottom, Top Edge
	Depth                    units.Millimetres // left over; below 0 it is too shallow by so much
	// Otherwise are holes at which it would fit with the same centre distances, where
	// it does not as it lies; nil if none were found, and OtherwiseProved says whether
	// that is because there are none.
	Otherwise       []layout.Point
	OtherwiseProved bool
}

// Edge is what comes nearest to an edge of the frame.
type Edge struct {
	Room units.Millimetres
	What string
}

// placeSteps is the work allowed to the search for other holes: enough for four stages in any frame a school
// has.
const placeSteps = 50_000

// frameIn judges the frame, and nil where the file has none. Only with search are other
// ways of laying the drive out looked for.
func (b *Build) frameIn(search bool) *InFrame {
	if !b.Framed {
		return nil
	}
	plans := b.lanePlans(b.Brief.Frame.Depth)
	in := &InFrame{Given: b.MotorAt != nil}
	if len(plans) == 0 {
		plans = b.lanePlans(units.Millimetres(math.Inf(1)))
	}
	best := math.Inf(1)
	for _, plan := range plans {
		p := b.inLanes(plan)
		for _, shift := range b.shifts(&p) {
			at := shifted(b.Drive.Positions, shift)
			short := 0.0
			for _, v := range b.fouls(&p, at) {
				short += 1 + float64(v.Short)
			}
			if short < best {
				best, in.Holes, in.Plan = short, at, plan
			}
		}
	}
	in.Depth = b.Brief.Frame.Depth - in.Plan.Depth
	b.measureEdges(in)
	if search && best > 0 && in.Depth >= 0 {
		b.otherwise(in)
	}
	return in
}

func (b *Build) lanePlans(depth units.Millimetres) []layout.LanePlan {
	var widths []units.Millimetres
	for i := range b.Drive.Stages {
		widths = append(widths, max(b.Drive.Stages[i].Driver.Width, b.Drive.Stages[i].Driven.Width))
	}
	return layout.LanePlans(len(widths), widths, constraints.MotorAlong(b.Drive.Motor, b.Drive.Stages[0].Driver), b.Brief.Limits.LaneGap, depth)
}

func (b *Build) inLanes(plan layout.LanePlan) layout.Problem {
	p := design.LayoutProblem(b.Drive, b.Brief, plan, 0)
	p.Mate = nil // nobody has said what holds up the other end of a model that stands
	return p
}

// railSlack is how far a hole that is there already may be off the middle of its rail
// and still be called on it: what a pencil and a drill are good to (judgement).
const railSlack = 0.5

// fouls are the rules of the layout that the places break. Holes that are there already
// are on no grid; on rails they must be on one.
func (b *Build) fouls(p *layout.Problem, at []layout.Point) []layout.Violation {
	rails := b.Brief.Frame.Rails
	return slices.DeleteFunc(layout.Check(*p, at), func(v layout.Violation) bool {
		if math.IsNaN(float64(v.Short)) {
			return true // bands round pulleys that cut each other: another rule says so
		}
		if v.Rule != layout.RuleGrid {
			return false
		}
		return offRails(rails, at[v.Shafts[0]].Y) <= railSlack
	})
}

// offRails is how far a height is from the nearest rail; 0 where there are none.
func offRails(rails []units.Millimetres, y units.Millimetres) units.Millimetres {
	if len(rails) == 0 {
		return 0
	}
	off := units.Millimetres(math.Inf(1))
	for _, r := range rails {
		off = min(off, units.Millimetres(math.Abs(float64(y-r))))
	}
	return off
}

// shifts are the places worth trying for the motor: the given one, or else the middle
// of where all would be inside, and each rail.
func (b *Build) shifts(p *layout.Problem) []layout.Point {
	if b.MotorAt != nil {
		return []layout.Point{*b.MotorAt}
	}
	x0, x1 := units.Millimetres(math.Inf(-1)), units.Millimetres(math.Inf(1))
	y0, y1 := x0, x1
	for i, c := range b.Drive.Positions {
		s := &p.Shafts[i]
		within := func(left, bottom, right, top units.Millimetres) {
			x0, y0, x1, y1 = max(x0, left-c.X), max(y0, bottom-c.Y), min(x1, right-c.X), min(y1, top-c.Y)
		}
		within(s.Zone.X0, s.Zone.Y0, s.Zone.X1, s.Zone.Y1)
		o := p.Outline
		for _, d := range s.Discs {
			r := d.Radius - p.Overhang
			within(o.X0+r, o.Y0+r, o.X1-r, o.Y1-r)
		}
		for _, body := range p.Bodies {
			if body.Shaft == i {
				within(o.X0+body.HalfWidth, o.Y0+body.HalfHeight, o.X1-body.HalfWidth, o.Y1-body.HalfHeight)
			}
		}
	}
	middle := layout.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}
	out := []layout.Point{middle}
	for _, rail := range b.Brief.Frame.Rails {
		out = append(out, layout.Point{X: middle.X, Y: rail})
	}
	if p.Ground != nil && b.Drive.Wheel != nil {
		last := b.Drive.Positions[len(b.Drive.Positions)-1]
		out = append(out, layout.Point{X: middle.X, Y: *p.Ground + b.Drive.Wheel.Diameter/2 - last.Y})
	}
	return out
}

func shifted(at []layout.Point, by layout.Point) []layout.Point {
	out := make([]layout.Point, len(at))
	for i, c := range at {
		out[i] = layout.Point{X: c.X + by.X, Y: c.Y + by.Y}
	}
	return out
}

// measureEdges finds what comes nearest to each edge.
func (b *Build) measureEdges(in *InFrame) {
	f := b.Brief.Frame
	far := units.Millimetres(math.Inf(1))
	in.Left, in.Right, in.Bottom, in.Top = Edge{Room: far}, Edge{Room: far}, Edge{Room: far}, Edge{Room: far}
	nearer := func(e *Edge, room units.Millimetres, what string) {
		if room < e.Room {
			*e = Edge{room, what}
		}
	}
	add := func(c layout.Point, halfWidth, halfHeight units.Millimetres, what string) {
		nearer(&in.Left, c.X-halfWidth, what)
		nearer(&in.Right, f.Length-c.X-halfWidth, what)
		nearer(&in.Bottom, c.Y-halfHeight, what)
		nearer(&in.Top, f.Height-c.Y-halfHeight, what)
	}
	for i := range b.Drive.Stages {
		s := &b.Drive.Stages[i]
		add(in.Holes[i], s.Driver.Outside/2, s.Driver.Outside/2, s.Driver.Name)
		add(in.Holes[i+1], s.Driven.Outside/2, s.Driven.Outside/2, s.Driven.Name)
	}
	m := b.Drive.Motor
	add(in.Holes[0], m.BodyWidth/2, m.BodyHeight/2, "the motor's body")
}

// centreSlack is how far off the built centre distance another layout may be: half of
// what the hole grid can tell at its usual 1 mm.
const centreSlack = 0.75

// otherwise looks for other holes with the same centre distances.
func (b *Build) otherwise(in *InFrame) {
	in.OtherwiseProved = true
	slack := units.Millimetres(centreSlack) * max(1, b.Brief.Frame.Pitch)
	for _, plan := range b.lanePlans(b.Brief.Frame.Depth) {
		p := b.inLanes(plan)
		for i, c := range centres(b.Drive) {
			p.Gaps = append(p.Gaps, layout.Gap{A: i, B: i + 1, Min: c - slack, Max: c + slack, Prefer: c})
		}
		holes, how := layout.Place(p, placeSteps)
		switch how {
		case layout.Placed:
			in.Otherwise, in.OtherwiseProved = holes, false
			return
		case layout.GaveUp:
			in.OtherwiseProved = false
		}
	}
}

// framed are the rules about the frame.
func (b *Build) framed(l *ledger) {
	in := b.frameIn(false)
	if in == nil {
		return
	}
	f := b.Brief.Frame
	l.add(constraints.Depth, 0, missing(constraints.Depth, -in.Depth, f.Depth, func() string {
		return fmt.Sprintf("the frame is %s too shallow for the motor and the pulleys one behind the other: they take %s", millimetres(-in.Depth), millimetres(in.Plan.Depth))
	}), "motor and pulleys go one behind the other with %s of depth to spare", millimetres(in.Depth))
	for i, axle := range b.Drive.Axles {
		l.add(constraints.HoleWall, i+1, constraints.HoleInStrip(b.Brief, axle), "the hole for axle %s leaves enough wood", axle.Name)
	}
	p := b.inLanes(in.Plan)
	said := 0
	add := func(rule constraints.Rule, short units.Millimetres, say func() string) {
		said++
		l.add(rule, 0, missing(rule, short, f.Length, say), "")
	}
	fouls := b.fouls(&p, in.Holes)
	beyond := b.beyondEdges(fouls, in)
	for _, name := range edgeNames {
		if e, ok := beyond[name]; ok {
			add(constraints.Room, -e.Room, func() string {
				return fmt.Sprintf("%s fouls the %s edge of the frame by %s", e.What, name, millimetres(-e.Room))
			})
		}
	}
	for _, v := range fouls {
		i, j := v.Shafts[0], v.Shafts[1]
		switch v.Rule {
		case layout.RuleOutline, layout.RuleBodyFrame, layout.RuleBandRuns:
			continue // told by edges, or by the rule of clear pulleys
		case layout.RuleZone:
			if len(beyond) > 0 {
				continue
			}
		case layout.RuleApart:
			if max(i, j)-min(i, j) == 1 && b.ownRims(min(i, j)) {
				continue // the rule of clear pulleys says so already
			}
		}
		rule := constraints.Room
		if v.Rule == layout.RuleGround || v.Rule == layout.RuleRise {
			rule = constraints.Floor
		}
		add(rule, v.Short, func() string { return b.foulWords(v) })
	}
	if said == 0 {
		l.add(constraints.Room, 0, nil, "everything is inside the frame, and nothing touches")
	}
}

// edgeNames are the edges of a frame seen from the front, in the order in which they are
// told.
var edgeNames = []string{"left", "right", "lower", "upper"}

// beyondEdges are, for each edge of the frame that something reaches beyond, what does so
// furthest.
func (b *Build) beyondEdges(fouls []layout.Violation, in *InFrame) map[string]Edge {
	f, out := b.Brief.Frame, map[string]Edge{}
	for _, v := range fouls {
		c := in.Holes[v.Shafts[0]]
		what, halfWidth, halfHeight, over := b.largest(v.Shafts[0]), b.radius(v.Shafts[0]), b.radius(v.Shafts[0]), f.Overhang
		switch v.Rule {
		case layout.RuleOutline:
		case layout.RuleBodyFrame:
			what, halfWidth, halfHeight, over = "the motor's body", b.Drive.Motor.BodyWidth/2, b.Drive.Motor.BodyHeight/2, 0
		default:
			continue
		}
		for k, room := range []units.Millimetres{c.X - halfWidth, f.Length - c.X - halfWidth, c.Y - halfHeight, f.Height - c.Y - halfHeight} {
			if e, known := out[edgeNames[k]]; room < -over && (!known || room < e.Room) {
				out[edgeNames[k]] = Edge{room, what}
			}
		}
	}
	return out
}

// ownRims reports whether the rims of stage i's own pulleys are too near each other.
func (b *Build) ownRims(i int) bool {
	s := &b.Drive.Stages[i]
	return b.Drive.Centre(i)-(s.Driver.Outside+s.Driven.Outside)/2 < b.Brief.Limits.Clearance
}

func missing(rule constraints.Rule, short, of units.Millimetres, say func() string) *constraints.Refusal {
	if short <= 0 {
		return nil
	}
	return &constraints.Refusal{Rule: rule, Miss: float64(short / of), Say: say}
}

// foulWords say what fouls what.
func (b *Build) foulWords(v layout.Violation) string {
	i, j := v.Shafts[0], v.Shafts[1]
	by := units.Decimals(math.Ceil(10*float64(v.Short))/10, 1) + " mm"
	switch v.Rule {
	case layout.RuleGrid:
		return fmt.Sprintf("%s is %s off the middle of the nearest rail", b.shaftName(i), by)
	case layout.RuleZone:
		return fmt.Sprintf("the hole of %s is %s too near the edge or outside where it may be", b.shaftName(i), by)
	case layout.RuleGround:
		return fmt.Sprintf("%s is %s too near the floor", b.largest(i), by)
	case layout.RuleRise:
		return fmt.Sprintf("the frame or %s is %s too low: it would drag on the floor", b.largest(i), by)
	case layout.RuleBody:
		return fmt.Sprintf("%s is %s too near the motor's body", b.shaftName(i), by)
	case layout.RuleBandShaft:
		return fmt.Sprintf("the band of stage %d is %s too near %s", i+1, by, b.shaftName(j))
	case layout.RuleBandBody:
		return fmt.Sprintf("the band of stage %d is %s too near the motor's body", i+1, by)
	case layout.RuleBandBand:
		return fmt.Sprintf("the bands of stages %d and %d are %s too near each other", i+1, j+1, by)
	}
	return fmt.Sprintf("%s and %s are %s too near each other", b.shaftName(i), b.shaftName(j), by)
}

// shaftName names a shaft by what sits on it.
func (b *Build) shaftName(i int) string {
	switch {
	case i == 0:
		return "the motor's shaft with " + b.Drive.Stages[0].Driver.Name
	case i < len(b.Drive.Stages):
		return fmt.Sprintf("the axle of %s and %s", b.Drive.Stages[i-1].Driven.Name, b.Drive.Stages[i].Driver.Name)
	}
	return "the axle of " + b.Drive.Stages[i-1].Driven.Name
}

// largest is the largest pulley on a shaft.
func (b *Build) largest(i int) string {
	switch {
	case i == 0:
		return b.Drive.Stages[0].Driver.Name
	case i < len(b.Drive.Stages) && b.Drive.Stages[i].Driver.Outside > b.Drive.Stages[i-1].Driven.Outside:
		return b.Drive.Stages[i].Driver.Name
	}
	return b.Drive.Stages[i-1].Driven.Name
}

func (b *Build) radius(i int) units.Millimetres {
	r := units.Millimetres(0)
	if i > 0 {
		r = b.Drive.Stages[i-1].Driven.Outside / 2
	}
	if i < len(b.Drive.Stages) {
		r = max(r, b.Drive.Stages[i].Driver.Outside/2)
	}
	return r
}
