package design

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/units"
)

// placeBudget bounds the work of one placement search, and tidyBudget that for the tidiest holes
// where any will do.
const (
	placeBudget = 1_000_000
	tidyBudget  = 1_000
)

// findPlacement looks for holes for a drive within the windows, any or the tidiest, lane plan by
// lane plan, with so much work for each. Impossible means that no plan has any.
func (s *settling) findPlacement(d *drive.Drive, w *windows, budget int, any bool) (*drive.Drive, layout.Outcome) {
	laidOut := s.layOut(d)
	at, plan, outcome := s.seek(laidOut, w, budget, any)
	if outcome != layout.Placed {
		return nil, outcome
	}
	placed := *d
	placed.Positions, placed.Lanes = at, s.plans[plan]
	if p := &laidOut[plan]; p.Mate != nil {
		mates := layout.Mates(p, at)
		placed.FreeAxle = &mates[0]
		for i := 1; i < len(mates) && s.extra.Stands(&placed) != nil; i++ {
			placed.FreeAxle = &mates[i]
		}
	}
	return &placed, layout.Placed
}

// seek looks for places within the windows, any or the tidiest, for a drive that is laid out
// for each plan of lanes, with so much work for each.
func (s *settling) seek(laidOut []layout.Problem, w *windows, budget int, any bool) (at []layout.Point, plan int, outcome layout.Outcome) {
	outcome = layout.Impossible
	if s.placer == nil {
		s.placer = new(layout.Placer)
	}
	for i, p := range laidOut {
		if pause.Err(s.ctx) != nil {
			return nil, 0, layout.GaveUp
		}
		s.asked.of(s, w, any)
		gaps := len(s.asked.gaps)
		s.asked.gaps = append(s.asked.gaps, p.Gaps...)
		s.asked.rises = append(s.asked.rises, p.Rises...)
		for k := range s.asked.gaps[:gaps] {
			// The windows already leave room for the hole error; the layout
			// takes it off again from every rule.
			g := &s.asked.gaps[k]
			g.Min, g.Max = g.Min-2*s.choice.bears, g.Max+2*s.choice.bears
		}
		p.Gaps, p.Rises, p.Turns, p.Steeps, p.Any = s.asked.gaps, s.asked.rises, s.asked.turns, s.asked.steeps, any
		found, got := s.placer.Place(p, budget)
		switch got {
		case layout.Placed:
			return found, i, layout.Placed
		case layout.GaveUp:
			outcome = layout.GaveUp
		}
	}
	return nil, 0, outcome
}

// asked is what windows ask of the shafts' places with the holes as drawn.
type asked struct {
	gaps   []layout.Gap
	rises  []layout.Rise
	turns  []layout.Turn
	steeps []layout.Steep
}

// of fills it in, with turns and steeps if any places will do.
func (a *asked) of(s *settling, w *windows, any bool) {
	a.gaps, a.rises = s.ask(w, a.gaps[:0], a.rises[:0])
	a.turns, a.steeps = a.turns[:0], a.steeps[:0]
	if any {
		a.bends(s, w)
	}
}

// hold tells whether places are as far apart and above one another as is asked, all else
// being as it should.
func (a *asked) hold(at []layout.Point) bool {
	const noise = 1e-9
	for _, g := range a.gaps {
		dx, dy := at[g.B].X-at[g.A].X, at[g.B].Y-at[g.A].Y
		if d := units.Millimetres(math.Sqrt(float64(dx*dx + dy*dy))); d < g.Min-noise || d > g.Max+noise {
			return false
		}
	}
	for _, rise := range a.rises {
		if y := at[rise.To].Y - at[rise.From].Y; y < rise.Min-noise || y > rise.Max+noise {
			return false
		}
	}
	for i := range a.turns {
		if !a.turns[i].Holds(at) {
			return false
		}
	}
	for i := range a.steeps {
		if !a.steeps[i].Holds(at) {
			return false
		}
	}
	return true
}

// ask says how far apart shafts are to stand, and how far above one another, to lie
// within windows with the holes as drawn. The shafts either side of an axle stand at
// least as far apart as its lie has them with both spacings at the far end, and no further
// than the next better lie would, and the last axle as far below or above the one before.
func (s *settling) ask(w *windows, gaps []layout.Gap, rises []layout.Rise) ([]layout.Gap, []layout.Rise) {
	for i := range s.stages {
		c := w.centre[i]
		gaps = append(gaps, layout.Gap{A: i, B: i + 1, Min: c.Lo, Max: c.Hi, Prefer: c.Clamp(w.prefer[i])})
	}
	for i := range s.stages - 1 {
		g := layout.Gap{A: i, B: i + 2, Min: w.worst.inner.Nearest(w.far[i], w.far[i+1]), Max: w.centre[i].Hi + w.centre[i+1].Hi}
		switch at := w.worst.inner.Apart() + w.opened; {
		case w.best.inner == drive.InLine: // a level row is the tidiest
		case w.opened > 0 && at < w.best.inner.Below():
			g.Max = drive.ShaftsApart(w.centre[i].Lo, w.centre[i+1].Lo, math.Cos(float64(at)))
		case w.opened > 0:
			g.Max = w.best.inner.Furthest(w.centre[i].Lo, w.centre[i+1].Lo)
		default:
			g.Max = w.best.inner.Furthest(w.centre[i].Hi, w.centre[i+1].Hi)
		}
		gaps = append(gaps, g)
	}
	weight := s.head.demand.Weight
	if weight.Y == 0 || weight.X != 0 {
		return gaps, rises // a cord sideways: holes are not asked to mind it
	}
	// The band pulls the output axle towards the one before, and that is to be against
	// the weight: above it for one that hangs down.
	last := s.stages - 1
	beyond, far := units.Millimetres(-w.worst.output.CosApart()), units.Millimetres(-w.best.output.CosBelow())
	rise := layout.Rise{From: last, To: last + 1, Min: beyond * w.far[last], Max: far * w.centre[last].Hi}
	if at := w.worst.output.Apart() + w.opened; w.opened > 0 && w.best.output > drive.InLine && at < w.best.output.Below() {
		rise.Max = units.Millimetres(-math.Cos(float64(at))) * w.centre[last].Lo
	}
	if beyond < 0 {
		rise.Min = beyond * w.centre[last].Hi
	}
	if weight.Y < 0 {
		rise.Min, rise.Max = -rise.Max, -rise.Min
	}
	return gaps, append(rises, rise)
}

// bends adds what the lies ask whatever the spacings are: of designs whose cells end at several
// places it is more than what is asked as if all ended at the nearest.
func (a *asked) bends(s *settling, w *windows) {
	if cos := -w.worst.inner.CosApart(); cos >= 0 {
		for i := range s.stages - 1 {
			a.turns = append(a.turns, layout.Turn{A: i, B: i + 1, C: i + 2, Cos: cos})
		}
	}
	weight, steep := s.head.demand.Weight, layout.Steep{From: s.stages - 1, To: s.stages, Sin: -w.worst.output.CosApart()}
	if weight.Y == 0 || weight.X != 0 || steep.Sin <= 0 {
		return
	}
	if weight.Y < 0 {
		steep.From, steep.To = steep.To, steep.From
	}
	a.steeps = append(a.steeps, steep)
}

// layOut makes a drive a placement problem for each plan of lanes, without the windows.
func (s *settling) layOut(d *drive.Drive) []layout.Problem {
	out := make([]layout.Problem, len(s.plans))
	for i, plan := range s.plans {
		out[i] = LayoutProblem(d, s.brief, plan, s.choice.bears)
		s.pinHoles(&out[i])
		s.extra.Room(d, &out[i])
	}
	return out
}

// LayoutProblem says where the shafts, pulleys, bands and motor body of a drive
// may go in the brief's frame under one lane plan, and that a vehicle needs room for
// its free axle, all but the windows of centre distance, which depend on the bands'
// stretch.
func LayoutProblem(d *drive.Drive, b *brief.Brief, plan layout.LanePlan, slack units.Millimetres) layout.Problem {
	f, l := b.Frame, b.Limits
	p := layout.Problem{
		Outline:  layout.Rect{X1: f.Length, Y1: f.Height},
		Overhang: f.Overhang,
		Grid:     layout.Grid{Pitch: f.Pitch, Heights: f.Rails},
		// Slack moves holes; the rules' own clearance is kept besides.
		Clearance: l.Clearance, Slack: slack,
	}
	if f.HasGround {
		ground := f.Ground
		p.Ground = &ground
	}
	k := len(d.Stages)
	lanes := 0
	for _, lane := range plan.Lane {
		lanes = max(lanes, lane+1)
	}
	// The motor's body stands in front of the first stage's lane. Axles run
	// past it even where no lane lies beside it, so it has a lane of its own. Where it
	// reaches into the first stage's, what turns there stands in its own too, but for the
	// pulley on its shaft.
	bodyLane := lanes
	put := func(shaft *layout.Shaft, pulley *parts.Pulley, stage int) {
		shaft.Discs = append(shaft.Discs, layout.Disc{Radius: pulley.Outside / 2, Lane: plan.Lane[stage]})
		if plan.Lane[stage] == plan.Lane[0] && slices.Contains(plan.BodyLanes, plan.Lane[0]) {
			shaft.Discs = append(shaft.Discs, layout.Disc{Radius: pulley.Outside / 2, Lane: bodyLane})
		}
	}
	every := make([]int, lanes+1)
	for i := range every {
		every[i] = i
	}
	inside := layout.Rect{X1: f.Length, Y1: f.Height}
	p.Shafts = append(p.Shafts, layout.Shaft{
		Radius: d.Motor.ShaftDiameter / 2, Zone: meet(inside, layout.Rect(f.MotorZone)),
		Discs: []layout.Disc{{Radius: d.Stages[0].Driver.Outside / 2, Lane: plan.Lane[0]}},
		Lanes: append([]int{plan.Lane[0]}, plan.ShaftLanes...),
	})
	for i := range k {
		zone := holes(b, d.Axles[i].Diameter)
		if i == k-1 {
			zone = meet(zone, layout.Rect(f.OutputZone))
			if d.Wheel != nil && f.HasGround {
				// The wheels stand on the ground.
				y := f.Ground + d.Wheel.Diameter/2
				zone = meet(zone, layout.Rect{X1: f.Length, Y0: y - f.Pitch/2, Y1: y + f.Pitch/2})
			}
		}
		shaft := layout.Shaft{Radius: d.Axles[i].Diameter / 2, Zone: zone, Lanes: every}
		put(&shaft, d.Stages[i].Driven, i)
		if i+1 < k {
			put(&shaft, d.Stages[i+1].Driver, i+1)
		}
		p.Shafts = append(p.Shafts, shaft)
	}
	for i := range k {
		s := &d.Stages[i]
		half := s.Band.Thickness / 2
		p.Runs = append(p.Runs, layout.Run{
			From: i, To: i + 1, Crossed: s.Crossed, Lane: plan.Lane[i], HalfBand: half,
			FromPitch: s.Driver.GrooveFloor/2 + half, ToPitch: s.Driven.GrooveFloor/2 + half,
		})
	}
	p.Bodies = []layout.Box{{Shaft: 0, HalfWidth: d.Motor.BodyWidth / 2, HalfHeight: d.Motor.BodyHeight / 2,
		Lanes: append(slices.DeleteFunc(slices.Clone(plan.BodyLanes), func(lane int) bool { return lane == plan.Lane[0] }), bodyLane)}}
	if d.Wheel == nil {
		return p
	}
	if !f.HasGround {
		standOnWheels(&p, d.Wheel.Diameter/2)
	}
	axle := d.Axles[k-1].Diameter
	p.Mate = &layout.Mate{Radius: axle / 2, Apart: d.Wheel.Diameter + l.Clearance, Zone: holes(b, axle)}
	if d.FreeAxle != nil {
		p.Mate.Zone = meet(p.Mate.Zone, justAt(d.FreeAxle))
	}
	return p
}

// justAt is a zone of one hole, with room for the rounding of a place read from a file.
func justAt(at *layout.Point) layout.Rect {
	const noise units.Millimetres = 1e-6
	return layout.Rect{X0: at.X - noise, Y0: at.Y - noise, X1: at.X + noise, Y1: at.Y + noise}
}

// standOnWheels adds the rules about the floor for a vehicle whose brief does
// not say how high the frame rides: the floor is then where the wheels on the
// last shaft stand, and neither the frame nor a disc may come nearer to it than
// the clearance.
func standOnWheels(p *layout.Problem, radius units.Millimetres) {
	last := len(p.Shafts) - 1
	output := &p.Shafts[last]
	output.Zone.Y1 = min(output.Zone.Y1, radius-p.Clearance)
	for i := range p.Shafts {
		for _, disc := range p.Shafts[i].Discs {
			spare := radius - p.Clearance - disc.Radius
			switch {
			case i < last:
				p.Rises = append(p.Rises, layout.Rise{From: i, To: last, Min: units.Millimetres(math.Inf(-1)), Max: spare - 2*p.Slack})
			case spare < 0: // however high the axle is
				output.Zone.Y1 = output.Zone.Y0 - p.Grid.Pitch
			}
		}
	}
}

// holes is where an axle's centre may be so that enough material stays round its
// hole; anywhere inside if the frame is not drilled.
func holes(b *brief.Brief, axle units.Millimetres) layout.Rect {
	f := b.Frame
	in := constraints.HoleInset(b.Limits, b.Making, axle)
	if len(f.Rails) > 0 {
		// The rails' own height settles y; the wall above and below the hole is
		// the strip's business: see constraints.HoleInStrip.
		return layout.Rect{X0: in, X1: f.Length - in, Y0: 0, Y1: f.Height}
	}
	return layout.Rect{X0: in, Y0: in, X1: f.Length - in, Y1: f.Height - in}
}

func meet(a layout.Rect, b layout.Rect) layout.Rect {
	return layout.Rect{X0: max(a.X0, b.X0), Y0: max(a.Y0, b.Y0), X1: min(a.X1, b.X1), Y1: min(a.Y1, b.Y1)}
}
