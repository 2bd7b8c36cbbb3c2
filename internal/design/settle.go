package design

import (
	"context"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
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
	options [drive.MaxStages][]*bandOption
	axles   [drive.MaxStages][]axleOption
	plans   []layout.LanePlan
	reaches [][]layout.Reach // from shaft to shaft in the frame
	// axleFloor is what the node has already been charged for joints on axles,
	// the least on any stock.
	axleFloor score.Points
	// bandFloor is what the bands of the first so many stages cost at least.
	bandFloor [drive.MaxStages + 1]score.Points

	model  drive.Model // of the present choice of axles, bands from the output back
	choice choice
	flows  [drive.MaxStages + 1]partFlow // of the present choice, from each stage to the output
	// reversals is how many bands of the present choice are crossed; unplaced is
	// its drive, once asked for.
	reversals int
	unplaced  *drive.Drive
	laidOut   laidOut
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
	// reach is every centre distance of each band that could be afforded when it
	// was chosen.
	reach [drive.MaxStages]units.Interval[units.Millimetres]
	cost  score.Points // everything but the speed and the motor's load
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
	if t.mustForgive || !t.anyWillDo { // what forgives is among what need not
		s.settle(true)
	}
	if !t.mustForgive {
		s.settle(false)
	}
	open := search.Cost(s.open)
	if s.best == nil {
		return nil, 0, false, open
	}
	return s.best, search.Cost(s.best.cost), true, open
}

// settle looks for the cheapest drive, of those that forgive or of all.
func (s *settling) settle(forgive bool) {
	if forgive && s.flow.unforgiving > 0 || !s.roomy(forgive) {
		return
	}
	s.choice = choice{forgive: forgive, cost: s.fixed - s.axleFloor + score.Forgiveness(s.brief.Weights, forgive)}
	s.chooseAxles(0)
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
		s.options[i] = s.task.options(s.onStage(i, s.head, s.driver[i], s.driven[i]), budget)
		if len(s.options[i]) == 0 {
			return false
		}
		s.bandFloor[i+1] = s.bandFloor[i] + s.options[i][0].cost
	}
	for i, list := range s.options[:s.stages] {
		others := s.bandFloor[s.stages] - list[0].cost
		s.options[i] = slices.DeleteFunc(list, func(o *bandOption) bool { return o.cost+others > budget })
		if len(s.options[i]) == 0 {
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
	if s.reaches = s.reachesInFrame(); s.reaches == nil {
		s.tally.add(constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height))
		return false
	}
	return true
}

// axleOptions lists the ways to make the axle of stage i's driven pulley,
// cheapest first.
func (s *settling) axleOptions(i int) []axleOption {
	var out []axleOption
	w := s.brief.Weights
	for a := range s.task.axles {
		if !s.wantsAxle(i, a) {
			continue
		}
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
		o := s.options[i][k]
		if s.choice.cost = before + o.cost; s.choice.cost+s.bandFloor[i] > s.limit {
			break
		}
		reach := s.reachOf(o, s.limit-s.choice.cost-s.bandFloor[i])
		if reach.Empty() {
			continue
		}
		s.choice.bands[i], s.choice.reach[i] = o, reach
		if !s.flowsOn(i) {
			continue
		}
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
		s.choice.bands[i] = s.options[i][0]
	}
	var err error
	s.model, err = drive.Prepare(s.assemble(0), s.brief, drive.Conditions{})
	d := s.model.Demand
	s.flows[s.stages] = outputFlow(&d, d.Steady, s.mostOwn)
	return err == nil
}

// flowsOn carries the flow of the present choice through the band of stage i, and at the
// motor tells whether anything may come of it: most choices of bands ask too much of it
// at a glance. Where nothing is too dear that is not asked, for there every refusal is
// wanted for the tally.
func (s *settling) flowsOn(i int) bool {
	o, reach, f := s.choice.bands[i], s.choice.reach[i], &s.flows[i+1]
	near, far := o.end(reach.Lo), o.end(reach.Hi)
	if near == nil || far == nil {
		return false
	}
	drag := units.Millimetres(mechanics.BearingTorque(s.model.AxleMu[i], 1, s.model.AxleRadius[i]))
	own := loadedPulls(units.Interval[units.Newtons]{Lo: near.IdleHub(), Hi: far.IdleHub()})
	one := f.behind(own, units.Interval[float64]{Lo: min(near.Ratio, far.Ratio), Hi: max(near.Ratio, far.Ratio)}, units.Interval[units.Millimetres]{Lo: drag, Hi: drag})
	most := f.onAxle(own, units.Interval[units.Millimetres]{Lo: drag, Hi: drag}).Hi / units.NewtonMillimetres(min(near.DrivenPitch, far.DrivenPitch)/2)
	share := promise{weakest: &o.stage.Band, tightest: far.Stretch}
	s.flows[i] = f.before(one, share.leastShare(units.Newtons(most), s.leastSpeedFactor())*(1-flowPad))
	if i > 0 || s.limit >= unsettled-1 {
		return true
	}
	// With no stage ahead the bound does not ask what any band could do.
	p := problem{task: s.task, ceiling: search.Cost(s.limit)}
	all, none := node{head: s.node.head, fixed: s.choice.cost, flow: s.flows[0]}, units.Interval[float64]{}
	return p.boundBetween(&all, ahead{share: 1}, none) <= p.ceiling
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
		x.Near[j], x.Far[j] = o.end(s.choice.reach[j].Lo), o.end(s.choice.reach[j].Hi)
		if x.Near[j] == nil || x.Far[j] == nil {
			return constraints.TooShort(&s.bands[o.band].Part), false
		}
		x.Cos[j] = units.Interval[float64]{Lo: -1, Hi: 1}
		if j > i {
			x.Cos[j-1].Lo = s.leastCos(j-1, s.choice.reach[j-1], s.choice.reach[j])
		}
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
	return nil, s.choice.cost+s.bandFloor[i]+s.motorLoad(s.head, tail.LeastTorque/gain)+score.SpeedBound(s.brief.Weights, allowed, target) > s.limit
}

// reachOf is every centre distance of a band that can be afforded if there is so
// much to spare.
func (s *settling) reachOf(o *bandOption, spare score.Points) units.Interval[units.Millimetres] {
	window, _ := o.reach(span{0, len(o.rungs)}, o.cost+spare)
	return s.forgiving(o, window)
}

func (s *settling) forgiving(o *bandOption, window units.Interval[units.Millimetres]) units.Interval[units.Millimetres] {
	if !s.choice.forgive {
		return window
	}
	return window.Meet(s.forgivingCentres(o))
}

// forgivingCentres leave room for two holes out of place, which move the centre
// distance by twice the error.
func (t *task) forgivingCentres(o *bandOption) units.Interval[units.Millimetres] {
	return o.whole.Grow(-2 * t.brief.Limits.HoleError)
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
	s.reversals, s.unplaced = reversals, nil
	if s.extra != (noExtra{}) {
		if no := s.extra.Parts(s.drive()); no != nil {
			s.tally.add(no)
			return
		}
	}
	model := s.model
	model.Stages[0] = s.choice.bands[0].stage
	var spans [drive.MaxStages]span
	for i, o := range s.choice.bands[:s.stages] {
		spans[i] = span{0, len(o.rungs)}
	}
	s.climb(&model, spans, s.choice.cost)
}

// drive is the drive of the present choice, not yet placed. Most choices are ruled
// out before it is asked for.
func (s *settling) drive() *drive.Drive {
	if s.unplaced == nil {
		s.unplaced = s.assemble(s.reversals)
	}
	return s.unplaced
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
