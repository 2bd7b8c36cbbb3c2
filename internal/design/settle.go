package design

import (
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// candidate is an arrangement settled as cheaply as it can be.
type candidate struct {
	drive    *drive.Drive
	forgives bool // every rule holds with every hole off by Limits.HoleError
	cost     score.Points
}

// Settling an arrangement is a second, smaller branch and bound: choose whether
// to ask for forgiveness, an axle stock for each axle and a band for each stage,
// each in order of penalty; then the windows of centre distance are narrowed
// until the best placement is found.
//
// Invariant: best is the cheapest design found so far, the first in the order
// of choices among equals, and limit is what the next must cost at most to
// replace it.
type settling struct {
	*task
	*arrangement
	ctx     context.Context
	options [drive.MaxStages][]bandOption
	axles   [drive.MaxStages][]axleOption
	plans   []layout.LanePlan
	// axleFloor is what the node has already been charged for joints on axles,
	// the least on any stock.
	axleFloor score.Points

	model  drive.Model // of the present choice of axles, bands from the output back
	choice choice
	// cell and cellAngle are the size of a cell of the present choice. Placements
	// within one can hardly be told apart once drilled: every hole may be off by
	// the brief's hole error, and so every centre distance by twice that. One
	// placement, the tidiest, stands for all of a cell.
	cell      units.Millimetres
	cellAngle units.Radians
	best      *candidate
	limit     score.Points
	open      score.Points // least cost left unsettled
}

// choice is one pick of bands and axles.
type choice struct {
	forgive bool
	axles   [drive.MaxStages]*axleOption
	bands   [drive.MaxStages]*bandOption
	cost    score.Points // everything but the speed
}

// axleOption is one way to make one axle: the stock and the joints on it.
type axleOption struct {
	stock  int
	driven drive.Joint // the stage's driven pulley
	next   drive.Joint // the next stage's driver, or the output part
	cost   score.Points
}

const unsettled = score.Points(math.MaxInt64)

func (t *task) settleArrangement(ctx context.Context, n *node, limit search.Cost) (*candidate, search.Cost, bool, search.Cost) {
	s := settling{task: t, arrangement: t.arrange(n), ctx: ctx, limit: score.Points(limit), open: unsettled}
	if !s.prepare() {
		return nil, 0, false, search.Unlimited
	}
	for _, forgive := range []bool{true, false} {
		s.choice = choice{forgive: forgive, cost: n.fixed - s.axleFloor + score.Forgiveness(t.brief.Weights, forgive)}
		s.chooseAxles(0)
	}
	open := search.Cost(s.open)
	if s.best == nil {
		return nil, 0, false, open
	}
	return s.best, search.Cost(s.best.cost), true, open
}

// prepare lists the options of every stage and axle and refuses an arrangement
// that has none for one of them.
func (s *settling) prepare() bool {
	widths := make([]units.Millimetres, s.stages)
	budget := s.limit - s.fixed
	for i := range s.stages {
		driver, driven := &s.pulleys[s.driver[i]].Part, &s.pulleys[s.driven[i]].Part
		widths[i] = max(driver.Width, driven.Width)
		s.axleFloor += s.axleCost[s.driven[i]]
		if i > 0 {
			s.axleFloor += s.axleCost[s.driver[i]]
		}
		if s.options[i] = s.task.options(s.driver[i], s.driven[i], budget); len(s.options[i]) == 0 {
			return false
		}
	}
	motor := &s.motors[s.head.motor].Part
	s.plans = layout.LanePlans(s.stages, widths, motor.BodyLength, s.brief.Limits.LaneGap, s.brief.Frame.Depth)
	if no := constraints.LanesFit(s.brief.Frame.Depth, s.stages, len(s.plans)); no != nil {
		s.tally.add(no)
		return false
	}
	for i := range s.stages {
		if s.axles[i] = s.axleOptions(i); len(s.axles[i]) == 0 {
			return false
		}
	}
	return true
}

// axleOptions lists the ways to make the axle of stage i's driven pulley,
// cheapest first.
func (s *settling) axleOptions(i int) []axleOption {
	var out []axleOption
	w := s.brief.Weights
	for a := range s.task.axles {
		stock := &s.task.axles[a].Part
		next := s.onNext(i, stock)
		for _, driven := range s.onAxle[s.driven[i]][a] {
			for _, other := range next {
				out = append(out, axleOption{stock: a, driven: driven, next: other,
					cost: score.Joint(w, driven.Kind) + score.Joint(w, other.Kind) + score.Assumptions(w, len(stock.Assumed))})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b axleOption) int { return int(a.cost - b.cost) })
	return out
}

// onNext lists the joints of what else sits on the axle of stage i's driven
// pulley: the next driver, or at the output the wheel or drum. A model with
// neither has one joint that costs nothing.
func (s *settling) onNext(i int, stock *parts.AxleStock) []drive.Joint {
	var hub constraints.Hub
	wheel, drum := s.outputParts(s.head.output)
	switch {
	case i < s.stages-1:
		hub = constraints.PulleyHub(&s.pulleys[s.driver[i+1]].Part)
	case wheel != nil:
		hub = constraints.WheelHub(wheel)
	case drum != nil:
		hub = constraints.DrumHub(drum)
	default:
		return []drive.Joint{{}}
	}
	joints, no := constraints.Joints(hub, stock.Diameter, s.cup.Sleeves, s.brief.Making)
	if no != nil {
		s.tally.add(no)
	}
	return joints
}

// chooseAxles picks the axle of stage i's driven pulley, then the rest.
func (s *settling) chooseAxles(i int) {
	if i == s.stages {
		if no := s.enoughAxles(); no != nil {
			s.tally.add(no)
			return
		}
		if s.prepareModel() {
			s.chooseBands(s.stages - 1)
		}
		return
	}
	before := s.choice.cost
	for k := range s.axles[i] {
		o := &s.axles[i][k]
		if s.choice.cost = before + o.cost; s.choice.cost > s.limit {
			break // the rest cost no less
		}
		s.choice.axles[i] = o
		s.chooseAxles(i + 1)
	}
	s.choice.cost = before
}

// enoughAxles is the stock rule for axle rod and sleeves.
func (s *settling) enoughAxles() *constraints.Refusal {
	sets := s.brief.Sets
	var rods, sleeves []string
	joints := []*drive.Joint{s.motorJoint[s.head.motor][s.driver[0]]}
	for _, o := range s.choice.axles[:s.stages] {
		rods = append(rods, s.task.axles[o.stock].Part.Name)
		joints = append(joints, &o.driven, &o.next)
	}
	for _, j := range joints {
		if j.Sleeve != nil {
			sleeves = append(sleeves, j.Sleeve.Name)
		}
	}
	for _, o := range s.choice.axles[:s.stages] {
		stock := &s.task.axles[o.stock]
		if no := constraints.EnoughStock(stock.Part.Name, constraints.Pieces(stock.Part.Length, s.axleLength)*stock.Count, count(rods, stock.Part.Name), sets); no != nil {
			return no
		}
	}
	for i := range s.cup.Sleeves {
		sleeve := &s.cup.Sleeves[i]
		if no := constraints.EnoughStock(sleeve.Name, sleeve.Count, count(sleeves, sleeve.Name), sets); no != nil {
			return no
		}
	}
	return nil
}

func count(list []string, name string) int {
	n := 0
	for _, s := range list {
		if s == name {
			n++
		}
	}
	return n
}

// chooseBands picks the band of stage i, from the output back, then the rest.
func (s *settling) chooseBands(i int) {
	if i < 0 {
		s.place()
		return
	}
	before := s.choice.cost
	for k := range s.options[i] {
		o := &s.options[i][k]
		if s.choice.cost = before + o.cost; s.choice.cost > s.limit {
			break
		}
		if s.choice.forgive && !s.forgivable(o) {
			continue
		}
		s.choice.bands[i] = o
		if i > 0 {
			if no, dear := s.tailRefused(i); no != nil || dear {
				if no != nil {
					s.tally.add(no)
				}
				continue
			}
		}
		s.chooseBands(i - 1)
		if s.ctx.Err() != nil {
			s.open = min(s.open, before)
			break
		}
	}
	s.choice.cost = before
}

// prepareModel makes the model of the present axles, on which the bands are put
// one by one.
func (s *settling) prepareModel() bool {
	for i := range s.stages {
		s.choice.bands[i] = &s.options[i][0]
	}
	var err error
	s.model, err = drive.Prepare(s.assemble(0), s.brief, drive.Conditions{})
	return err == nil
}

// tailRefused bounds the drive when bands are chosen from stage i on to the
// output only. It gives the rule that refuses every way to go on, or says that
// every way is dearer than the limit.
//
// The stages before i are taken as lossless for torque, at any velocity ratio
// their pulleys can have; for speed they creep not at all, or as much as the
// running-stretch rule allows.
func (s *settling) tailRefused(i int) (*constraints.Refusal, bool) {
	var x drive.Extent
	for j := i; j < s.stages; j++ {
		o := s.choice.bands[j]
		s.model.Stages[j] = o.stage
		x.Near[j], x.Far[j] = o.end(o.window.Lo), o.end(o.window.Hi)
		if x.Near[j] == nil || x.Far[j] == nil {
			return constraints.TooShort(&s.bands[o.band].Part), false
		}
		x.Cos[j] = units.Interval[float64]{Lo: -1, Hi: 1}
	}
	var before units.Interval[float64] // ln velocity ratio
	for j := range i {
		r := s.pairRatio(s.driver[j], s.driven[j])
		before.Lo, before.Hi = before.Lo+r.Lo, before.Hi+r.Hi
	}
	gain := units.NewtonMillimetres(math.Exp(before.Hi))
	l, motor := s.brief.Limits, s.motors[s.head.motor].Part.Name
	tail := s.model.Tail(&x, i, s.model.Demand.Steady)
	if no := constraints.MotorRun(l, motor, s.head.stall, tail.LeastTorque/gain); no != nil {
		return no, false
	}
	start := tail
	if s.model.Demand.Start != s.model.Demand.Steady {
		start = s.model.Tail(&x, i, s.model.Demand.Start)
	}
	if no := constraints.MotorStart(l, motor, s.head.stall, start.LeastTorque/gain); no != nil {
		return no, false
	}
	o := s.choice.bands[i]
	band := &s.bands[o.band].Part
	for _, no := range []*constraints.Refusal{
		constraints.RunningTight(l, band, tail.LeastTight[i]),
		constraints.GripRunning(l, band, i, constraints.GripMargin(x.Far[i].Greatest, tail.LeastEffective[i])),
		constraints.GripStarting(l, band, i, constraints.GripMargin(x.Far[i].Greatest, start.LeastEffective[i])),
	} {
		if no != nil {
			return no, false
		}
	}
	fastest := s.head.motorModel.SpeedAt(s.head.supply, tail.LeastTorque/gain)
	target := s.head.demand.Target
	speed := units.Interval[units.RPM]{
		Lo: s.head.slowest * units.RPM(tail.Share.Lo*math.Pow(s.leastSpeedFactor(), float64(i))/math.Exp(before.Hi)),
		Hi: fastest * units.RPM(tail.Share.Hi/math.Exp(before.Lo)),
	}
	allowed := speed.Meet(s.speedAllowed(target))
	if allowed.Empty() {
		return constraints.SpeedWithin(speed.Clamp(target), target, s.brief.Tolerance), false
	}
	return nil, s.choice.cost+s.motorLoad(tail.LeastTorque/gain)+score.SpeedBound(s.brief.Weights, allowed, target) > s.limit
}

// forgivable reports whether a window leaves room for two holes out of place,
// which move the centre distance by twice the error.
func (s *settling) forgivable(o *bandOption) bool {
	return !s.forgivingWindow(o).Empty()
}

func (s *settling) forgivingWindow(o *bandOption) units.Interval[units.Millimetres] {
	return o.window.Meet(o.whole.Grow(-2 * s.brief.Limits.HoleError))
}

// place settles where the axles go for the present choice.
func (s *settling) place() {
	if no := s.enoughBands(); no != nil {
		s.tally.add(no)
		return
	}
	reversals := 0
	for _, o := range s.choice.bands[:s.stages] {
		if o.crossed {
			reversals++
		}
	}
	if no := constraints.TurnsRight(s.brief.Direction, reversals); no != nil {
		s.tally.add(no)
		return
	}
	d := s.assemble(reversals)
	model := s.model
	model.Stages[0] = s.choice.bands[0].stage
	s.cell = max(2*s.brief.Limits.HoleError, leastCell)
	shortest := units.Millimetres(math.Inf(1))
	w := windows{}
	for i := range s.stages {
		w.centre[i] = s.choice.bands[i].window
		if s.choice.forgive {
			w.centre[i] = s.forgivingWindow(s.choice.bands[i])
		}
		shortest = min(shortest, w.centre[i].Lo)
	}
	s.cellAngle = units.Radians(cellTurn * s.cell / shortest)
	for i := range s.stages - 1 {
		w.angle[i] = units.Interval[units.Radians]{Lo: 0, Hi: math.Pi}
	}
	far := w.centre[s.stages-1].Hi
	w.rise = units.Interval[units.Millimetres]{Lo: -far, Hi: far}
	s.narrow(d, &model, w)
}

// enoughBands is the stock rule over all stages' bands.
func (s *settling) enoughBands() *constraints.Refusal {
	for i, o := range s.choice.bands[:s.stages] {
		use := 0
		for _, other := range s.choice.bands[:s.stages] {
			if other.band == o.band {
				use += other.use.BandsTaken()
			}
		}
		if i == 0 || s.choice.bands[i-1].band != o.band {
			if no := constraints.EnoughStock(s.bands[o.band].Part.Name, s.bands[o.band].Count, use, s.brief.Sets); no != nil {
				return no
			}
		}
	}
	return nil
}

// assemble makes the drive of the present choice, not yet placed.
func (s *settling) assemble(reversals int) *drive.Drive {
	d := &drive.Drive{
		Motor: &s.motors[s.head.motor].Part, Holder: &s.holders[s.head.holder].Part,
		Stages: make([]drive.Stage, s.stages), Axles: make([]*parts.AxleStock, s.stages),
		MotorTurns: motorTurns(s.brief.Direction, reversals),
	}
	d.Wheel, d.Drum = s.outputParts(s.head.output)
	for i := range s.stages {
		o, axle := s.choice.bands[i], s.choice.axles[i]
		d.Stages[i] = drive.Stage{
			Driver: &s.pulleys[s.driver[i]].Part, Driven: &s.pulleys[s.driven[i]].Part,
			DrivenJoint: axle.driven, Band: &s.bands[o.band].Part, Use: o.use, Crossed: o.crossed,
		}
		if i == 0 {
			d.Stages[i].DriverJoint = *s.motorJoint[s.head.motor][s.driver[0]]
		} else {
			d.Stages[i].DriverJoint = s.choice.axles[i-1].next
		}
		d.Axles[i] = &s.task.axles[axle.stock].Part
	}
	if d.Wheel != nil || d.Drum != nil {
		d.OutputJoint = s.choice.axles[s.stages-1].next
	}
	return d
}

// motorTurns is the motor's way of turning that gives the wanted output: +1
// anticlockwise seen from the front. If the brief leaves both open the output
// turns clockwise.
func motorTurns(d brief.Direction, reversals int) int {
	want := Seen(d)
	if d.MotorTurns != brief.Either {
		return sign(Seen(brief.Direction{Sense: d.MotorTurns, SeenFrom: d.SeenFrom}) == brief.Anticlockwise)
	}
	turns := sign(want == brief.Anticlockwise)
	if reversals%2 == 1 {
		turns = -turns
	}
	return turns
}

// Seen is the wanted sense as seen from the front. From the back, or from below
// an upright ride, clockwise looks anticlockwise.
func Seen(d brief.Direction) brief.Sense {
	behind := d.SeenFrom == "back" || d.SeenFrom == "below"
	switch {
	case d.Sense == brief.Either || !behind:
		return d.Sense
	case d.Sense == brief.Clockwise:
		return brief.Anticlockwise
	}
	return brief.Clockwise
}

func sign(positive bool) int {
	if positive {
		return 1
	}
	return -1
}

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
	placeBudget = 100_000
)

// narrow finds the cheapest cell within the windows that beats the limit: bound
// what the windows allow and whether anything can be placed in them at all, then
// halve them and look in both halves, the more promising first, down to cells.
//
// Which cells there are does not depend on the limit or on what has been found,
// only on the windows it began with; so neither does the answer.
func (s *settling) narrow(d *drive.Drive, model *drive.Model, w windows) {
	bound, no := s.boundWindows(model, &w)
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
	found, outcome := s.findPlacement(d, &w)
	switch outcome {
	case layout.Impossible:
		s.tally.add(constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height))
		return
	case layout.GaveUp:
		s.open = min(s.open, bound)
		return
	}
	if a, b, ok := s.split(model, &w); ok {
		s.narrow(d, model, a)
		s.narrow(d, model, b)
		return
	}
	cost, no := s.assess(found, model)
	if no != nil {
		s.tally.add(no)
	} else if cost <= s.limit {
		s.best = &candidate{drive: found, forgives: s.choice.forgive, cost: cost}
		s.limit = cost - 1
	}
}

// boundWindows is the least cost within the windows, or the rule that refuses
// everything in them that could still be afforded. A drive that is to forgive
// must keep the rules with every centre distance off by twice the hole error
// too, either way.
func (s *settling) boundWindows(model *drive.Model, w *windows) (score.Points, *constraints.Refusal) {
	target := s.head.demand.Target
	afford := s.speedAllowed(target).Meet(score.SpeedWindow(s.brief.Weights, s.limit-s.choice.cost, target))
	drawn, ok := s.extent(model, w, 0)
	if !ok {
		return unsettled, constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height)
	}
	running, no := s.boundRules(model, &drawn, afford, 0)
	if no != nil {
		return unsettled, no
	}
	if s.choice.forgive {
		off := 2 * s.brief.Limits.HoleError
		tight, okTight := s.extent(model, w, off)
		loose, okLoose := s.extent(model, w, -off)
		if !okTight || !okLoose {
			return unsettled, constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height)
		}
		torque := model.Tightened(&drawn, &tight, running.LeastTorque, model.Demand.Steady)
		if _, no := s.boundRules(model, &tight, s.speedAllowed(target), torque); no != nil {
			return unsettled, no
		}
		if _, no := s.boundRules(model, &loose, s.speedAllowed(target), 0); no != nil {
			return unsettled, no
		}
	}
	speed := running.Speed.Meet(afford)
	if speed.Empty() {
		return unsettled, nil // possible, but dearer than the limit
	}
	return s.choice.cost + s.motorLoad(running.LeastTorque) + score.SpeedBound(s.brief.Weights, speed, target), nil
}

// motorLoad is the motor-load penalty at a running torque.
func (s *settling) motorLoad(torque units.NewtonMillimetres) score.Points {
	return score.MotorLoad(s.brief.Limits, s.brief.Weights, float64(torque/s.head.stall))
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
	if env.LeastShare > 0 {
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
// centre distance longer by off.
func (s *settling) extent(model *drive.Model, w *windows, off units.Millimetres) (drive.Extent, bool) {
	var x drive.Extent
	for i := range s.stages {
		o := s.choice.bands[i]
		x.Near[i], x.Far[i] = o.end(w.centre[i].Lo+off), o.end(w.centre[i].Hi+off)
		if x.Near[i] == nil || x.Far[i] == nil {
			return x, false
		}
	}
	for i := range s.stages - 1 {
		x.Cos[i] = units.Interval[float64]{Lo: math.Cos(float64(w.angle[i].Hi)), Hi: math.Cos(float64(w.angle[i].Lo))}
	}
	last := s.stages - 1
	if model.Demand.Radial == 0 {
		return x, true // nothing else pulls on the output axle
	}
	// The band pulls the output axle towards the one before; the weight pulls
	// it down. The cosine between them is the rise over the centre distance.
	x.Cos[last] = units.Interval[float64]{
		Lo: max(-1, min(float64(w.rise.Lo/w.centre[last].Lo), float64(w.rise.Lo/w.centre[last].Hi))),
		Hi: min(1, max(float64(w.rise.Hi/w.centre[last].Lo), float64(w.rise.Hi/w.centre[last].Hi))),
	}
	return x, !x.Cos[last].Empty()
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
	if model.Demand.Radial > 0 {
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

// assess works a placed drive out exactly and applies every rule that depends on
// the places, at the holes as drawn and, if forgiveness is asked, with every
// hole as far off as Limits.HoleError in the worst direction.
func (s *settling) assess(d *drive.Drive, model *drive.Model) (score.Points, *constraints.Refusal) {
	speed, torque, no := checkPlaced(d, s.brief, model, 0)
	if no != nil {
		return 0, no
	}
	if s.choice.forgive {
		for _, off := range []units.Millimetres{-2 * s.brief.Limits.HoleError, 2 * s.brief.Limits.HoleError} {
			if _, _, no := checkPlaced(d, s.brief, model, off); no != nil {
				return 0, no
			}
		}
	}
	return s.choice.cost + s.motorLoad(torque) + score.Speed(s.brief.Weights, speed, model.Demand.Target), nil
}

// checkPlaced works a placed drive out with every centre distance longer by off
// and returns its likely speed and the motor's running torque, or the first rule
// it breaks.
func checkPlaced(d *drive.Drive, b *brief.Brief, model *drive.Model, off units.Millimetres) (units.RPM, units.NewtonMillimetres, *constraints.Refusal) {
	g, err := drive.GeometryOf(d, model, off)
	if err != nil {
		return 0, 0, constraints.TooShort(d.Stages[0].Band)
	}
	running := model.Carry(&g, model.Demand.Steady)
	starting := &running
	if model.Demand.Start != model.Demand.Steady {
		flow := model.Carry(&g, model.Demand.Start)
		starting = &flow
	}
	l := b.Limits
	for i := len(d.Stages) - 1; i >= 0; i-- { // from the output: what slips there stops the rest
		stage, f := &d.Stages[i], &g.Fits[i]
		if no := constraints.FittedStretch(l, stage.Band, f.Stretch); no != nil {
			return 0, 0, no
		}
		if no := constraints.ArcOfContact(l, f); no != nil {
			return 0, 0, no
		}
		if stage.Crossed {
			if no := constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre); no != nil {
				return 0, 0, no
			}
		}
		greatest, _ := model.Stages[i].Grip(*f)
		if no := constraints.GripRunning(l, stage.Band, i, gripOf(&running, i, greatest)); no != nil {
			return 0, 0, no
		}
		if no := constraints.GripStarting(l, stage.Band, i, gripOf(starting, i, greatest)); no != nil {
			return 0, 0, no
		}
		if no := constraints.RunningTight(l, stage.Band, running.Stages[i].Loaded.TightStretch); no != nil {
			return 0, 0, no
		}
	}
	stall := model.Motor.StallTorque(model.Supply)
	if no := constraints.MotorStart(l, d.Motor.Name, stall, starting.MotorTorque); no != nil {
		return 0, 0, no
	}
	if no := constraints.MotorRun(l, d.Motor.Name, stall, running.MotorTorque); no != nil {
		return 0, 0, no
	}
	speed := model.OutputSpeed(&g, &running)
	return speed, running.MotorTorque, constraints.SpeedWithin(speed, model.Demand.Target, b.Tolerance)
}

// gripOf is a stage's grip margin in a flow; 0 if it, or a stage nearer the
// output, slips.
func gripOf(flow *drive.Flow, i int, greatest units.Newtons) float64 {
	if flow.Slips >= i {
		return 0
	}
	return constraints.GripMargin(greatest, flow.Stages[i].Effective)
}
