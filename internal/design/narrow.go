package design

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/score"
	"findrive/internal/units"
)

// windows is what is known of the axles' places.
type windows struct {
	centre [drive.MaxStages]units.Interval[units.Millimetres] // of each stage
	// angle[i] is the angle at the axle between stages i and i+1: none if both
	// lines of centres leave it the same way, half a turn if they are in line.
	angle [drive.MaxStages]units.Interval[units.Radians]
	// rise is how far the output axle stands above the one before; it settles
	// the angle between the last band's pull and the weight.
	rise units.Interval[units.Millimetres]
}

const (
	// leastCell is the least size of a cell, for briefs that forgive nothing.
	leastCell units.Millimetres = 0.5
	// cellTurn is how far an axle may move round another within a cell, in cells.
	cellTurn = 4
	// placeBudget bounds the work of one placement search.
	placeBudget = 1_000_000
)

// witness is a placement that has been found within the windows, and what it
// comes to.
type witness struct {
	*drive.Drive
	tried bool // it has been worked out
	sound bool // and keeps every rule; not known of one that was too dear
}

// narrow finds the cheapest cell within the windows that beats the limit: bound
// what the windows allow and whether anything can be placed in them at all, work
// out the placement found, then halve the windows and look in both halves, the
// more promising first, down to cells. known is a placement within the wider
// windows, which may lie in these too.
//
// Which cells there are does not depend on the limit or on what has been found,
// only on the windows it began with; so neither does the answer.
func (s *settling) narrow(model *drive.Model, w windows, known *witness, first bool) {
	var x drive.Extent
	bound, env, no := s.boundDrawn(model, &w, &x)
	if known != nil && !s.holds(&w, known.Drive) {
		known = nil
	}
	if no == nil && bound <= s.limit && (known == nil || !known.sound) {
		if s.choice.forgive {
			no = s.boundOff(model, &w, &x, env.LeastTorque)
		} else {
			s.shorten(&w, &env, 0)
		}
	}
	if no != nil {
		s.tally.add(no)
		return
	}
	if bound > s.limit {
		return
	}
	if s.ctx.Err() != nil {
		s.open = min(s.open, bound)
		return
	}
	if known == nil {
		found, outcome := s.findPlacement(s.drive(), &w)
		switch outcome {
		case layout.Impossible:
			s.tally.add(constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height))
			return
		case layout.GaveUp:
			s.open = min(s.open, bound)
			return
		}
		known = &witness{Drive: found}
	}
	a, b, ok := s.split(model, &w)
	if whole := !ok || first; whole && !known.tried {
		s.try(known, model)
	}
	if ok && bound <= s.limit {
		s.narrow(model, a, known, false)
		s.narrow(model, b, known, false)
	}
}

// try works a placement out and keeps it if it is the best so far.
func (s *settling) try(found *witness, model *drive.Model) {
	cost, no := s.assess(found.Drive, model)
	if image := s.mirrored(found.Drive); image != nil {
		if c, against := s.assess(image, model); against == nil && (no != nil || c < cost) {
			found.Drive, cost, no = image, c, nil
		}
	}
	found.tried = true
	switch {
	case no != nil:
		s.tally.add(no)
	case cost <= s.limit:
		found.sound = true
		forgives := s.choice.forgive
		if !forgives && s.recheck(found.Drive, model, s.brief.Limits.HoleError) == nil {
			// By chance: another placement stood for its cell among those that must.
			forgives, cost = true, cost-score.Forgiveness(s.brief.Weights, false)
		}
		s.best = &candidate{drive: found.Drive, forgives: forgives, cost: cost}
		s.limit = cost - 1
	}
}

// mirrored is a placement upside down, which lies within the same windows: the motor
// turning as before, other runs of the bands are tight, so that they pull on the axles
// otherwise. Nil if it has no room, if nothing changes, or if a weight tells up from
// down.
func (s *settling) mirrored(d *drive.Drive) *drive.Drive {
	if s.stages < 2 || d.Weighted(s.brief) {
		return nil
	}
	lowest, highest := d.Positions[0].Y, d.Positions[0].Y
	for _, at := range d.Positions {
		lowest, highest = min(lowest, at.Y), max(highest, at.Y)
	}
	if lowest == highest {
		return nil
	}
	image := *d
	image.Positions = slices.Clone(d.Positions)
	for i := range image.Positions {
		image.Positions[i].Y = lowest + highest - d.Positions[i].Y
	}
	p := LayoutProblem(&image, s.brief, image.Lanes, s.slack())
	s.pinHoles(&p)
	s.extra.Room(&image, &p)
	if len(layout.Check(p, image.Positions)) > 0 {
		return nil
	}
	return &image
}

// boundDrawn is the least cost within the windows, or the rule that refuses
// everything in them that could still be afforded, with the holes as drawn. It
// fills in the extent.
func (s *settling) boundDrawn(model *drive.Model, w *windows, x *drive.Extent) (score.Points, drive.Envelope, *constraints.Refusal) {
	target := s.head.demand.Target
	afford := s.speedAllowed(target).Meet(score.SpeedWindow(s.brief.Weights, s.limit-s.choice.cost, target))
	if !s.extent(model, w, 0, x) {
		return unsettled, drive.Envelope{}, constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height)
	}
	running, no := s.boundRules(model, x, afford, 0)
	if no == nil && s.extra != (noExtra{}) {
		no = s.extra.Within(s.drive(), model, x)
	}
	if no != nil {
		return unsettled, running, no
	}
	speed := running.Speed.Meet(afford)
	if speed.Empty() {
		return unsettled, running, nil // possible, but dearer than the limit
	}
	return s.choice.cost + s.motorLoad(s.head, running.LeastTorque) + score.SpeedBound(s.brief.Weights, speed, target), running, nil
}

// boundOff refuses windows in which no drive forgives: one that is to forgive must
// keep the rules with every centre distance off by twice the hole error too,
// either way. torque is the least with the holes as drawn.
func (s *settling) boundOff(model *drive.Model, w *windows, drawn *drive.Extent, torque units.NewtonMillimetres) *constraints.Refusal {
	speeds, off := s.speedAllowed(s.head.demand.Target), 2*s.brief.Limits.HoleError
	var tight, loose drive.Extent
	if !s.extent(model, w, off, &tight) || !s.extent(model, w, -off, &loose) {
		return constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height)
	}
	torque = model.Tightened(drawn, &tight, torque, model.Demand.Steady)
	if _, no := s.boundRules(model, &tight, speeds, torque); no != nil {
		return no
	}
	env, no := s.boundRules(model, &loose, speeds, 0)
	if no == nil {
		s.shorten(w, &env, -off)
	}
	return no
}

// shorten takes off each window the centre distances too short for the band to
// grip, since a longer one always grips more. off is how much longer the centre
// distances of the envelope are than the window's.
func (s *settling) shorten(w *windows, env *drive.Envelope, off units.Millimetres) {
	for i := range s.stages {
		o := s.choice.bands[i]
		need := env.LeastGreatest[i]
		if lo := w.centre[i].Lo + off; o.end(lo).Greatest < need {
			w.centre[i].Lo = max(w.centre[i].Lo, min(o.gripping(need, lo, w.centre[i].Hi+off)-off, w.centre[i].Hi))
		}
	}
}

// holds tells whether a placement lies within the windows, as findPlacement
// would have it.
func (s *settling) holds(w *windows, d *drive.Drive) bool {
	const noise = 1e-9
	at := d.Positions
	for i := range s.stages {
		if !w.centre[i].Grow(noise).Contains(drive.Distance(at[i], at[i+1])) {
			return false
		}
	}
	for i := range s.stages - 1 {
		if !opposite(w.centre[i], w.centre[i+1], w.angle[i]).Grow(noise).Contains(drive.Distance(at[i], at[i+2])) {
			return false
		}
	}
	return !d.Weighted(s.brief) || w.rise.Grow(noise).Contains(at[s.stages].Y-at[s.stages-1].Y)
}

// motorLoad is the motor-load penalty at a running torque.
func (t *task) motorLoad(h *head, torque units.NewtonMillimetres) score.Points {
	return score.MotorLoad(t.brief.Limits, t.brief.Weights, float64(torque/h.stall))
}

// boundRules bounds what placements within an extent do whose speed is within
// the given range, or gives the rule that refuses them all. The motor's torque is
// known to be at least torque; what is asked of the speed may raise that, since
// to turn as slowly as asked the motor must be pulled down so far.
func (s *settling) boundRules(model *drive.Model, x *drive.Extent, speeds units.Interval[units.RPM], torque units.NewtonMillimetres) (drive.Envelope, *constraints.Refusal) {
	l, motor, stall := s.brief.Limits, s.motors[s.head.motor].Part.Name, s.head.stall
	env := model.Bound(x, model.Demand.Steady)
	starting := env
	if model.Demand.Start != model.Demand.Steady {
		starting = model.Bound(x, model.Demand.Start)
	}
	if model.Demand.Swing > 0 {
		// The mean over a turn grows with the speed at the mean torque and at the
		// heaviest moment. It says nothing of the torque.
		env.Speed.Lo = drive.MeanOverTurn(env.Speed.Lo, min(env.Speed.Lo, starting.Speed.Lo))
		env.Speed.Hi = drive.MeanOverTurn(env.Speed.Hi, min(env.Speed.Hi, starting.Speed.Hi))
	} else {
		slow := float64(speeds.Hi) / env.LeastShare / float64(s.head.free)
		torque = max(torque, stall*units.NewtonMillimetres(1-slow))
	}
	env.LeastTorque = max(env.LeastTorque, torque)
	starting.LeastTorque = max(starting.LeastTorque, env.LeastTorque)
	if no := constraints.MotorRun(l, motor, stall, env.LeastTorque); no != nil {
		return env, no
	}
	if no := constraints.MotorStart(l, motor, stall, starting.LeastTorque); no != nil {
		return env, no
	}
	for i := range s.stages {
		o := s.choice.bands[i]
		b := &s.bands[o.band].Part
		greatest := x.Far[i].Greatest
		env.LeastGreatest[i] = max(units.Newtons(l.GripMin)*env.LeastEffective[i], units.Newtons(l.GripStartMin)*starting.LeastEffective[i])
		for _, no := range []*constraints.Refusal{
			constraints.RunningTight(l, b, env.LeastTight[i]),
			constraints.GripRunning(l, b, i, constraints.GripMargin(greatest, env.LeastEffective[i])),
			constraints.GripStarting(l, b, i, constraints.GripMargin(greatest, starting.LeastEffective[i])),
		} {
			if no != nil {
				return env, no
			}
		}
	}
	target := s.head.demand.Target
	return env, constraints.SpeedWithin(env.Speed.Clamp(target), target, s.brief.Tolerance)
}

// extent turns windows into what the mechanics needs to bound them, with every
// centre distance longer by off; false if nothing can be there.
func (s *settling) extent(model *drive.Model, w *windows, off units.Millimetres, x *drive.Extent) bool {
	for i := range s.stages {
		o := s.choice.bands[i]
		x.Near[i], x.Far[i] = o.end(w.centre[i].Lo+off), o.end(w.centre[i].Hi+off)
		if x.Near[i] == nil || x.Far[i] == nil {
			return false
		}
	}
	for i := range s.stages - 1 {
		x.Cos[i] = units.Interval[float64]{Lo: math.Cos(float64(w.angle[i].Hi)), Hi: math.Cos(float64(w.angle[i].Lo))}
		if x.Cos[i].Lo = max(x.Cos[i].Lo, s.leastCos(i, w.centre[i], w.centre[i+1])); x.Cos[i].Empty() {
			return false
		}
	}
	last := s.stages - 1
	weight := model.Demand.Weight
	if weight.Size() == 0 {
		return true // nothing else pulls on the output axle
	}
	// The band pulls the output axle towards the one before. Where the weight pulls
	// it down, the cosine between them is the rise over the centre distance.
	rise := w.rise.Meet(units.Interval[units.Millimetres]{Lo: s.reaches[last][last+1].RiseLeast, Hi: s.reaches[last][last+1].RiseMost}.Grow(reachPad))
	if rise.Empty() {
		return false
	}
	x.Cos[last] = units.Interval[float64]{
		Lo: max(-1, min(float64(rise.Lo/w.centre[last].Lo), float64(rise.Lo/w.centre[last].Hi))),
		Hi: min(1, max(float64(rise.Hi/w.centre[last].Lo), float64(rise.Hi/w.centre[last].Hi))),
	}
	switch {
	case weight.X != 0:
		x.Cos[last] = units.Interval[float64]{Lo: -1, Hi: 1}
	case weight.Y > 0:
		x.Cos[last] = units.Interval[float64]{Lo: -x.Cos[last].Hi, Hi: -x.Cos[last].Lo}
	}
	return !x.Cos[last].Empty()
}

// opposite bounds the third side of a triangle with sides a and b and the given
// angle between them, by the law of cosines. The square of the side is convex in
// the two sides, so it is greatest at a corner of their ranges; it is least where
// one of them is shortest and the other as near as may be to the foot of the
// perpendicular.
func opposite(a, b units.Interval[units.Millimetres], angle units.Interval[units.Radians]) units.Interval[units.Millimetres] {
	side := func(a, b units.Millimetres, cos float64) units.Millimetres {
		return units.Millimetres(math.Sqrt(max(0, float64(a*a+b*b)-2*float64(a*b)*cos)))
	}
	narrow, wide := math.Cos(float64(angle.Lo)), math.Cos(float64(angle.Hi))
	return units.Interval[units.Millimetres]{
		Lo: min(side(a.Lo, b.Clamp(a.Lo*units.Millimetres(narrow)), narrow), side(a.Clamp(b.Lo*units.Millimetres(narrow)), b.Lo, narrow)),
		Hi: max(side(a.Hi, b.Hi, wide), side(a.Hi, b.Lo, wide), side(a.Lo, b.Hi, wide)),
	}
}

// split halves the window that is widest for its cell, the half to look in first
// coming first: nearer the ideal stretch, and axles more in line. False if the
// windows are a cell.
func (s *settling) split(model *drive.Model, w *windows) (first, second windows, ok bool) {
	widest := 1.0
	first, second = *w, *w
	var halve func()
	for i := range s.stages {
		if times := float64(w.centre[i].Length() / s.cell); times > widest {
			widest = times
			halve = func() {
				first.centre[i], second.centre[i] = halves(w.centre[i], s.choice.bands[i].ideal > w.centre[i].Mid())
			}
		}
	}
	for i := range s.stages - 1 {
		if times := float64(w.angle[i].Length() / s.cellAngle); times > widest {
			widest = times
			halve = func() { first.angle[i], second.angle[i] = halves(w.angle[i], true) }
		}
	}
	if s.brief.Model != brief.UprightRide { // weight tells up from down
		if times := float64(w.rise.Length() / (cellTurn * s.cell)); times > widest {
			halve = func() { first.rise, second.rise = halves(w.rise, w.rise.Mid() < 0) }
		}
	}
	if halve == nil {
		return first, second, false
	}
	halve()
	return first, second, true
}

// halves cuts an interval in two, the upper half first if asked.
func halves[T ~float64](iv units.Interval[T], upperFirst bool) (first, second units.Interval[T]) {
	lower, upper := iv, iv
	lower.Hi, upper.Lo = iv.Mid(), iv.Mid()
	if upperFirst {
		return upper, lower
	}
	return lower, upper
}
