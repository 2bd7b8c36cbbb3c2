package proof

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/pause"
)

// placeBudget is the work that one search for holes may take.
const placeBudget = 1_000_000

// windows is what a design, or all of a box, asks of its holes.
type windows struct {
	cell [drive.MaxStages]gap
	far  [drive.MaxStages]mm // of several cells the least of their far ends
	lies
}

func (r *row) windowsOf(b *box) *windows {
	w := &windows{lies: b.lies}
	for i := range r.hd.stages {
		w.cell[i], w.far[i] = b.bunch[i].cell, b.bunch[i].far
	}
	return w
}

// within reports whether all that lies in some windows lies in others.
func (w *windows) within(o *windows, stages int) bool {
	if w.innerBest < o.innerBest || w.innerWorst > o.innerWorst || w.outputBest < o.outputBest || w.outputWorst > o.outputWorst {
		return false
	}
	for i := range stages {
		if w.cell[i].Lo < o.cell[i].Lo || w.cell[i].Hi > o.cell[i].Hi || w.far[i] < o.far[i] {
			return false
		}
	}
	return true
}

// holes looks for holes for the present choice, in every order of lanes.
func (r *row) holes(w *windows) (layout.Outcome, []layout.Point) {
	outcome := layout.Impossible
	d := r.assemble()
	for k := range r.plans {
		if pause.Err(r.ctx) != nil {
			return layout.GaveUp, nil
		}
		p := r.problem(d, &r.plans[k], w)
		switch at, got := layout.Place(p, placeBudget); got {
		case layout.Placed:
			return got, at
		case layout.GaveUp:
			outcome = got
		}
	}
	return outcome, nil
}

// roomKey is what the room for a row depends on, but for its windows.
type roomKey struct {
	axles, bands [drive.MaxStages]mm // diameters and thicknesses
	crossed      [drive.MaxStages]bool
}

// memory is what is known of the room: windows for which there is none, and holes that
// have been found.
type memory struct {
	none  []windows
	found [][]layout.Point
}

// thinnest chooses the thinnest bands of a box, which stand for all: they lie within the
// others. It gives what their room is kept under; false where some are crossed and some are
// not, so that none can stand for all.
func (r *row) thinnest(b *box) (roomKey, bool) {
	var key roomKey
	for i, c := range b.bunch[:r.hd.stages] {
		if c.mixed {
			return key, false
		}
		r.states[i] = c.thin
		key.axles[i], key.bands[i], key.crossed[i] = r.space.axles[r.rods[i].stock].Part.Diameter, r.thickness(c.thin), c.thin.crossed
	}
	return key, true
}

// roomFor reports whether the frame may have room for any design of a box. Where some of its
// bands are crossed and some are not, it is not looked at.
func (r *row) roomFor(b *box) (bool, error) {
	key, alike := r.thinnest(b)
	if !alike {
		return true, nil
	}
	m := r.rooms[key]
	if m == nil {
		m = &memory{}
		r.rooms[key] = m
	}
	w := r.windowsOf(b)
	for i := range m.none {
		if w.within(&m.none[i], r.hd.stages) {
			return false, nil
		}
	}
	gaps, rises := r.ask(w)
	for _, at := range m.found {
		if keeps(at, gaps, rises) {
			return true, nil
		}
	}
	if !r.spend(workOfHoles) {
		return true, nil
	}
	switch got, at := r.holes(w); got {
	case layout.Impossible:
		m.none = append(m.none, *w)
		return false, nil
	case layout.Placed:
		m.found = append(m.found, at)
	}
	return true, pause.Err(r.ctx)
}

// keeps reports whether holes lie within windows.
func keeps(at []layout.Point, gaps []layout.Gap, rises []layout.Rise) bool {
	for _, g := range gaps {
		if d := drive.Distance(at[g.A], at[g.B]); d < g.Min-noise || d > g.Max+noise {
			return false
		}
	}
	for _, rise := range rises {
		if y := at[rise.To].Y - at[rise.From].Y; y < rise.Min-noise || y > rise.Max+noise {
			return false
		}
	}
	return true
}

// ask says how far apart holes are to be as drawn, and how far above one another. Two
// shafts on either side of an axle stand as far apart at least as both spacings at the
// far end of their cells make it at the least angle of the lie, and at most as they make it
// where the next better one begins. On the output axle the band
// pulls towards the axle before, and that is to be against the weight: below that axle
// for one that hangs, above it where the floor pushes up.
func (r *row) ask(w *windows) ([]layout.Gap, []layout.Rise) {
	k := r.hd.stages
	var gaps []layout.Gap
	for i, c := range w.cell[:k] {
		gaps = append(gaps, layout.Gap{A: i, B: i + 1, Min: c.Lo, Max: c.Hi, Prefer: c.Clamp(r.states[i].ideal)})
	}
	for i := range k - 1 {
		a, b := w.cell[i], w.cell[i+1]
		gaps = append(gaps, layout.Gap{A: i, B: i + 2, Min: w.innerWorst.Nearest(w.far[i], w.far[i+1]), Max: w.innerBest.Furthest(a.Hi, b.Hi)})
	}
	weight := r.hd.demand.Weight
	if weight.Y == 0 || weight.X != 0 {
		return gaps, nil
	}
	least, most := mm(-w.outputWorst.CosApart()), mm(-w.outputBest.CosBelow())
	rise := layout.Rise{From: k - 1, To: k, Min: min(least*w.far[k-1], least*w.cell[k-1].Hi), Max: most * w.cell[k-1].Hi}
	if weight.Y < 0 {
		rise.Min, rise.Max = -rise.Max, -rise.Min
	}
	return gaps, []layout.Rise{rise}
}

// problem is a drive as a problem of placement in given lanes.
func (r *row) problem(d *drive.Drive, lanes *layout.LanePlan, w *windows) layout.Problem {
	b, f := r.brief, &r.brief.Frame
	p := layout.Problem{
		Outline: layout.Rect{X1: f.Length, Y1: f.Height}, Overhang: f.Overhang,
		Grid: layout.Grid{Pitch: f.Pitch, Heights: f.Rails}, Clearance: b.Limits.Clearance, Slack: r.level,
	}
	if f.HasGround {
		ground := f.Ground
		p.Ground = &ground
	}
	// An axle passes through every lane, and past the motor's body, which counts as
	// a lane of its own in front of all.
	body := slices.Max(lanes.Lane) + 1
	bodies := []int{body}
	for _, l := range lanes.BodyLanes {
		if l != lanes.Lane[0] {
			bodies = append(bodies, l)
		}
	}
	// Of a body that stands in the first stage's lane the pulleys there but its own keep clear
	// as if they ran past it.
	past := func(shaft *layout.Shaft, lane int) {
		if n := len(shaft.Discs); lane == lanes.Lane[0] && slices.Contains(lanes.BodyLanes, lane) {
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: shaft.Discs[n-1].Radius, Lane: body})
		}
	}
	var every []int
	for l := range body + 1 {
		every = append(every, l)
	}
	k := len(d.Stages)
	for j := range k + 1 {
		var shaft layout.Shaft
		if j == 0 {
			shaft = layout.Shaft{Radius: d.Motor.ShaftDiameter / 2, Zone: meet(p.Outline, layout.Rect(f.MotorZone)), Lanes: append([]int{lanes.Lane[0]}, lanes.ShaftLanes...)}
		} else {
			shaft = layout.Shaft{Radius: d.Axles[j-1].Diameter / 2, Zone: r.holeZone(d.Axles[j-1].Diameter), Lanes: every}
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: d.Stages[j-1].Driven.Outside / 2, Lane: lanes.Lane[j-1]})
			past(&shaft, lanes.Lane[j-1])
		}
		if j < k {
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: d.Stages[j].Driver.Outside / 2, Lane: lanes.Lane[j]})
			if j > 0 {
				past(&shaft, lanes.Lane[j])
			}
		} else {
			shaft.Zone = meet(shaft.Zone, layout.Rect(f.OutputZone))
		}
		p.Shafts = append(p.Shafts, shaft)
	}
	for i := range k {
		s := &d.Stages[i]
		half := s.Band.Thickness / 2
		p.Runs = append(p.Runs, layout.Run{From: i, To: i + 1, Crossed: s.Crossed, Lane: lanes.Lane[i], HalfBand: half,
			FromPitch: s.Driver.GrooveFloor/2 + half, ToPitch: s.Driven.GrooveFloor/2 + half})
	}
	p.Bodies = []layout.Box{{HalfWidth: d.Motor.BodyWidth / 2, HalfHeight: d.Motor.BodyHeight / 2, Lanes: bodies}}
	if d.Wheel != nil {
		standing(&p, d.Wheel.Diameter/2, f)
		// The two wheels of a side are in one plane.
		rod := d.Axles[k-1].Diameter
		p.Mate = &layout.Mate{Radius: rod / 2, Apart: d.Wheel.Diameter + b.Limits.Clearance, Zone: r.holeZone(rod)}
	}
	gaps, rises := r.ask(w)
	for _, g := range gaps {
		// A cell has room for the hole error already, which the rules of a problem take
		// off once more.
		g.Min, g.Max = g.Min-2*r.level, g.Max+2*r.level
		p.Gaps = append(p.Gaps, g)
	}
	p.Rises = append(p.Rises, rises...)
	return p
}

// holeZone is where an axle's hole may be so that enough is left round it. On rails
// the height is the rail's, and the wall is the strip's business.
func (r *row) holeZone(axle mm) layout.Rect {
	f := &r.brief.Frame
	in := constraints.HoleInset(r.brief.Limits, r.brief.Making, axle)
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
		*zone = meet(*zone, layout.Rect{X1: f.Length, Y0: y - f.Pitch/2, Y1: y + f.Pitch/2})
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

func meet(a, b layout.Rect) layout.Rect {
	return layout.Rect{X0: max(a.X0, b.X0), Y0: max(a.Y0, b.Y0), X1: min(a.X1, b.X1), Y1: min(a.Y1, b.Y1)}
}
