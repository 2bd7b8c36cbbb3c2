package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// problem is the search for arrangements: which motor, cells and pulleys. What
// is left, bands, axles and holes, is settled by Finish for each arrangement.
//
// Choices are made from the output back to the motor, because that is the way
// the torque is known: the load is given, the motor's torque is a result.
//
// Symmetry: equal parts have been merged into classes, so no two nodes stand for
// the same dimensions. Dominance is left to the bounds: a larger pulley is not
// better or worse in general, since bands, room and stock all depend on it.
type problem struct {
	*task
	ceiling search.Cost // nothing dearer is asked for
	anyBand []promise   // for each head, what any band promises that can be afforded
	// glancing leaves the classrooms out of bounds, which take the longest.
	glancing bool
}

// upTo is the search for arrangements of at most some penalty.
func (t *task) upTo(ceiling search.Cost) problem {
	p := problem{task: t, ceiling: ceiling, anyBand: make([]promise, len(t.heads))}
	for i := range t.heads {
		var ok bool
		if p.anyBand[i], ok = t.anyBand(score.Points(ceiling) - t.heads[i].fixed); !ok {
			p.anyBand[i].pull.Lo = units.Newtons(math.Inf(1)) // more than any motor bears
		}
	}
	return p
}

var _ search.Problem[node, *candidate] = problem{}

func (p problem) Root() node { return node{head: -1} }

func (p problem) Bound(n node) search.Cost { return n.bound }

func (p problem) Whole(n node) bool { return n.whole(p.task) }

// Branch makes the next choice. Refusals that are final are made here, so that
// hopeless branches are never even counted.
func (p problem) Branch(n node) []node {
	if n.head < 0 {
		out := make([]node, len(p.heads))
		for i := range p.heads {
			d := p.heads[i].demand
			out[i] = node{head: int16(i), fixed: p.heads[i].fixed, flow: outputFlow(&d, p.heads[i].most, p.mostOwn)}
			out[i].bound = p.bound(&out[i], 0)
		}
		return out
	}
	h := &p.heads[n.head]
	var out []node
	try := func(pulley int, joint score.Points) {
		// What is left out when it is stopped counts as not looked at: see search.Best.
		if p.stopped() || !p.wantsPulley(&n, pulley) {
			return
		}
		no := p.enough(&n, pulley)
		if wheel, _ := p.outputParts(h.output); no == nil && n.chosen == 0 && wheel != nil {
			no = constraints.ClearOfFloor(p.brief, wheel, &p.pulleys[pulley].Part)
		}
		rigid := !seated(p.forgivingSeats.at(h, n.nextShaft(h), pulley))
		if no == nil && (rigid && p.mustForgive || !seated(p.seats.at(h, n.nextShaft(h), pulley))) {
			no = constraints.RoomInFrame(p.brief.Frame.Length, p.brief.Frame.Height)
		}
		if no != nil {
			p.tally.add(no)
			return
		}
		c := n
		c.pulleys[n.chosen] = int16(pulley)
		c.chosen++
		if ok, short := p.hang(&c); !ok {
			if short != nil {
				p.tally.add(short)
			}
			return
		}
		c.fixed += joint + score.Assumptions(p.brief.Weights, len(p.pulleys[pulley].Part.Assumed)) + p.toMake(&n, pulley)
		if rigid {
			c.flow.unforgiving = p.rigid()
		}
		if c.chosen%2 == 0 && p.idle(int(c.pulleys[c.chosen-1]), int(c.pulleys[c.chosen-2])) {
			c.fixed += score.Idle(p.brief.Weights, 1)
		}
		c.bound = p.bound(&c, int(c.chosen-1)/2) // a stage that has just been chosen is left to Closer
		if c.bound != search.Unlimited {
			out = append(out, c)
		}
	}
	if int(n.chosen) == 2*h.stages-1 {
		for pulley, joints := range p.onMotor[h.motor] {
			if joints != nil {
				try(pulley, score.Joint(p.brief.Weights, joints[0].Kind))
			}
		}
		return out
	}
	for i, pulley := range p.axlePulleys {
		if n.chosen%2 == 0 { // a driven pulley: see Tie
			pulley = p.axlePulleys[len(p.axlePulleys)-1-i]
		}
		try(pulley, p.axleCost[pulley])
	}
	return out
}

// Closer takes the flow of a node through the stage that its last two pulleys make.
func (p problem) Closer(n node, limit search.Cost) (node, search.Cost) {
	if n.chosen == 0 || n.chosen%2 == 1 {
		return n, n.bound
	}
	p.ceiling = min(p.ceiling, limit)
	if !p.carry(&n) {
		return n, search.Unlimited
	}
	n.bound = p.bound(&n, int(n.chosen)/2)
	return n, n.bound
}

// idle tells whether a stage changes no speed.
func (t *task) idle(driver, driven int) bool {
	return t.pulleys[driver].Part.GrooveFloor == t.pulleys[driven].Part.GrooveFloor
}

// rigid is what a drive is charged at least that does not forgive holes out of place.
func (t *task) rigid() score.Points {
	if len(t.bearable) < 2 {
		return 0
	}
	return score.Forgiveness(t.brief.Weights, t.bearable[1], t.brief.Limits.HoleError)
}

// carry takes the flow of a node through the stage that its last two pulleys make;
// false if none of the ways to band it will do. What is quickly had is looked at
// first: their bands without creep. Of a whole arrangement there is no more to it once nodes
// are many: its bands are looked at closer when it is settled.
func (p problem) carry(n *node) bool {
	h, after := &p.heads[n.head], int(n.chosen)/2-1
	quick := p
	quick.glancing = true
	pays := func(f partFlow) bool {
		c := *n
		c.flow = f
		return quick.bound(&c, after+1) <= p.ceiling
	}
	atOnce := p.many && n.whole(p.task)
	stage := p.onStage(h.stages-1-after, h, int(n.pulleys[n.chosen-1]), int(n.pulleys[n.chosen-2]))
	flow, creep, no, ok := p.through(n.flow, stage, score.Points(p.ceiling)-n.fixed, atOnce, pays)
	if no != nil && !ok {
		p.tally.add(no)
	}
	if !ok {
		return false
	}
	if n.flow = flow; !atOnce {
		n.flow.share = creep.crept()
	}
	return true
}

// enough is the stock rule for one more pulley of a kind.
func (p problem) enough(n *node, pulley int) *constraints.Refusal {
	use := 1
	for _, q := range n.pulleys[:n.chosen] {
		if int(q) == pulley {
			use++
		}
	}
	if no := constraints.EnoughStock(p.pulleys[pulley].Part.Name, p.pulleys[pulley].Count, use, p.brief.Sets); no != nil {
		return no
	}
	return p.fewDiscs(n, pulley)
}

// leastSpeedFactor is the least a stage can keep of its speed: the slack
// stretch is above 1 and the tight stretch at most the running limit.
func (t *task) leastSpeedFactor() float64 { return 1 / t.brief.Limits.RunningStretchMax }

// bound is the least penalty any completion of n can have, or something above the
// ceiling if none that costs no more can meet the speed rule, start the motor and
// keep it running. The first so many stages are bounded by n.flow.
//
// It is admissible. The other stages are taken as lossless but for the pull of some
// band on the motor's shaft, and as creeping not at all or as much as the
// running-stretch rule allows, at any velocity ratio their pulleys can have as far as
// they are chosen. Penalties still to come are
// not negative.
func (p problem) bound(n *node, flowing int) search.Cost {
	h := &p.heads[n.head]
	before := units.Interval[float64]{} // ln of the velocity ratio of the other stages
	for stage := flowing; stage < h.stages; stage++ {
		r := p.stageReach
		if stage == h.stages-1 {
			r = p.motorReach[h.motor]
		}
		switch int(n.chosen) - 2*stage {
		case 1:
			r = p.reachOf(h, stage, int(n.pulleys[2*stage]), r)
		case 2:
			r = p.pairRatio(int(n.pulleys[2*stage+1]), int(n.pulleys[2*stage]))
		}
		before.Lo += r.Lo
		before.Hi += r.Hi
	}
	if before.Empty() || math.IsInf(before.Lo, 0) {
		return search.Unlimited
	}
	return p.boundBefore(n, p.ahead(n, flowing), before)
}

// ahead is the stages of a node that are still to be worked out.
type ahead struct {
	stages int
	share  float64 // of the speed that they leave, at least
}

// ahead is all but the first so many stages. They creep as little as the running-stretch
// rule allows, but for the first of them if its driven pulley is known: what that has to
// carry is known too.
func (p problem) ahead(n *node, flowing int) ahead {
	left := p.heads[n.head].stages - flowing
	a := ahead{left, math.Pow(p.leastSpeedFactor(), float64(left))}
	if bands := &p.anyBand[n.head]; left > 0 && int(n.chosen) > 2*flowing && bands.weakest != nil {
		driven := int(n.pulleys[2*flowing])
		most := n.flow.onAxle(loadedPulls(bands.pull, true), p.axleDrag[driven]).Hi / units.NewtonMillimetres((p.pulleys[driven].Part.GrooveFloor+bands.driven.Lo)/2)
		a.share *= bands.leastShare(units.Newtons(most), p.leastSpeedFactor()) / p.leastSpeedFactor() * (1 - flowPad)
	}
	return a
}

// narrowReach is the width of a range of ratios, in ln, below which what is lost by
// taking its ends for each thing apart is of little account. It is tried out
// (scripts/performance whole).
const narrowReach = 0.1

// boundBefore bounds the penalty of a node whose stages still to be worked out, so
// many, have a velocity ratio in the given range of ln. A wide range is halved, since
// its one end asks little torque and its other little speed, and no ratio may do both.
func (p problem) boundBefore(n *node, left ahead, before units.Interval[float64]) search.Cost {
	wide := before.Length() >= narrowReach
	look := byRules
	if !wide && !p.glancing {
		look = byRooms
		if p.many {
			look = bySteps
		}
	}
	bound := p.boundBetween(n, left, before, look)
	if bound > p.ceiling || !wide {
		return bound
	}
	lower, upper := before, before
	lower.Hi, upper.Lo = before.Mid(), before.Mid()
	first := p.boundBefore(n, left, upper)
	if first <= bound {
		return first
	}
	return min(first, p.boundBefore(n, left, lower))
}

func (p problem) boundBetween(n *node, left ahead, before units.Interval[float64], look effort) search.Cost {
	h := &p.heads[n.head]
	ratio := units.Interval[float64]{Lo: n.flow.ratio.Lo + before.Lo, Hi: n.flow.ratio.Hi + before.Hi}
	if ratio.Hi < h.leastRatio || math.IsInf(ratio.Lo, 0) {
		return search.Unlimited
	}
	slowest := h.slowest
	torque := n.flow.least / units.NewtonMillimetres(math.Exp(before.Hi))
	if left.stages == 0 {
		drag := p.shaftDrag(h, n.flow.pull)
		if torque += drag.Lo; h.demand.Swing == 0 {
			slowest = max(slowest, h.motorModel.SpeedAt(h.supply, n.flow.most+drag.Hi))
		}
	} else {
		torque += p.shaftDrag(h, loadedPulls(p.anyBand[n.head].pull, true)).Lo
	}
	if !p.reaches(h, torque, ratio, n.flow.share) {
		return search.Unlimited
	}
	most := h.stall / units.NewtonMillimetres(p.brief.Limits.RunMin)
	if left.stages == 0 {
		most = min(most, n.flow.most+p.shaftDrag(h, n.flow.pull).Hi)
	}
	x := forecast.Extent{
		Cut:   2 * float64(h.stages) * p.mostCut,
		Ratio: units.Interval[float64]{Lo: math.Exp(ratio.Lo), Hi: math.Exp(ratio.Hi)},
		Creep: units.Interval[float64]{Lo: math.Log(left.share) + n.flow.share.Lo, Hi: n.flow.share.Hi},
	}
	x.Heavy = units.Interval[float64]{Lo: math.Inf(-1), Hi: x.Creep.Hi}
	of := all(score.Points(p.ceiling))
	of.torque, of.creep = units.Interval[units.NewtonMillimetres]{Lo: torque, Hi: most}, x.Creep
	heaviest := torque + h.demand.Swing/units.NewtonMillimetres(x.Ratio.Hi)
	return search.Cost(p.atMotor(h, n.fixed+n.flow.bands+n.flow.unforgiving, slowest, heaviest, &x, &of, look))
}

// effort is how closely it is looked at what drives do.
type effort int

const (
	byRules effort = iota // the classrooms are left out
	byRooms               // each classroom by itself
	bySteps               // and all together, in the steps of their chart
)

// atMotor bounds the penalty by what the motor has to do: to carry the torque that is left of
// several drives, at no less than its slowest, through a velocity ratio and with creep within
// those of an extent, whose demand and friction it fills in. Above the ceiling it may say
// anything that is. What is not worth having it may shave off.
//
// A motor that turns the output faster than the rule about the speed allows must be
// pulled down, which takes torque.
func (p problem) atMotor(h *head, fixed score.Points, slowest units.RPM, heaviest units.NewtonMillimetres, x *forecast.Extent, of *left, look effort) score.Points {
	turned := math.Exp(x.Creep.Lo) / x.Ratio.Hi // at least, for a turn of the motor
	speed := p.speedAllowed(h.demand.Target)
	torque := &of.torque
	if h.demand.Swing == 0 {
		pulled := h.stall * units.NewtonMillimetres(1-float64(speed.Hi/h.free)/turned)
		torque.Lo = max(torque.Lo, pulled*(1-1e-9))
	} else {
		slowest = p.overTurn(h)
	}
	if slowest*units.RPM(turned) > speed.Hi {
		return unsettled
	}
	if torque.Empty() || constraints.MotorRun(p.brief.Limits, "", h.stall, torque.Lo) != nil {
		return unsettled
	}
	fastest := h.turns(torque.Lo, math.Exp(x.Creep.Hi))
	if h.demand.Swing > 0 {
		if constraints.MotorStart(p.brief.Limits, "", h.stall, heaviest) != nil {
			return unsettled
		}
		fastest = drive.MeanOverTurn(fastest, min(fastest, h.turns(heaviest, math.Exp(x.Heavy.Hi))))
	}
	if fastest < speed.Lo*units.RPM(x.Ratio.Lo) {
		return unsettled
	}
	if least := h.free * units.RPM(p.brief.Limits.KeptSpeedMin*(1-keptPad)); fastest < least || speed.Hi*units.RPM(x.Ratio.Hi) < least {
		return unsettled // held back too much
	}
	working := fixed + p.motorLoad(h, torque.Lo)
	if search.Cost(working) > p.ceiling || look == byRules || p.brief.Weights.Classroom == 0 {
		return working
	}
	x.Demand, x.Swing = h.demand.Steady, h.demand.Swing // a free axle's friction counts as friction
	x.Friction = frictionOf(*torque, x)
	return p.inClassrooms(h, fixed, x, of, look)
}

// turns is how fast a motor turns that carries a torque, of which creep leaves a share.
func (h *head) turns(torque units.NewtonMillimetres, keeps float64) units.RPM {
	return max(0, h.motorModel.SpeedAt(h.supply, torque)) * units.RPM(keeps)
}

// keptPad covers rounding in the rule about what is held back.
const keptPad = 1e-6

// overTurn is the least speed of a motor over a turn in which its torque swings, at the
// limits of the rules about running and starting.
func (p problem) overTurn(h *head) units.RPM {
	mean := 1 - 1/p.brief.Limits.RunMin
	heavy := max(0, min(mean, 1-1/p.brief.Limits.StartMin))
	return h.free * units.RPM(math.Sqrt(heavy*(2*mean-heavy)))
}

// inClassrooms is the least that any of several drives costs, with so many points besides what
// it does at work, if it is charged for the classrooms too in which it does not do what it
// should.
func (p problem) inClassrooms(h *head, fixed score.Points, x *forecast.Extent, of *left, look effort) score.Points {
	w := p.brief.Weights
	working := fixed + p.motorLoad(h, of.torque.Lo)
	if most := p.forRooms[0] + score.MayStand(w, forecast.Rooms, forecast.Rooms); search.Cost(working+most) <= p.ceiling {
		return working // whatever they come to
	}
	least := working
	if look == bySteps && x.Cut == 0 {
		if least = p.charted(h, fixed, x, of); search.Cost(least) > p.ceiling {
			return least
		}
		working = fixed + p.motorLoad(h, of.torque.Lo)
	}
	need := p.roomsNeeded(working)
	works, stands := h.class.AtMost(x, need, &of.told)
	if h.weighed != nil {
		more, fewer := h.weighed.AtMost(x, need, &forecast.Told{})
		works, stands = max(works, more), min(stands, fewer)
	}
	return max(least, working+p.forRooms[works]+score.MayStand(w, stands, forecast.Rooms))
}

// roomsNeeded is in how many classrooms a drive of so many points besides has to work to cost
// no more than the ceiling.
func (p problem) roomsNeeded(working score.Points) int {
	need := 0
	for need < forecast.Rooms && search.Cost(working+p.forRooms[need]) > p.ceiling {
		need += forecast.Rooms / 10
	}
	return need - (forecast.Rooms/10 - 1)
}

// shaftDrag is the friction torque in the bearings of a motor on whose shaft a band
// pulls.
func (t *task) shaftDrag(h *head, pull units.Interval[units.Newtons]) units.Interval[units.NewtonMillimetres] {
	mu, radius := mechanics.MotorBearing().Likely, t.motors[h.motor].Part.ShaftDiameter/2
	return units.Interval[units.NewtonMillimetres]{Lo: mechanics.BearingTorque(mu, pull.Lo, radius), Hi: mechanics.BearingTorque(mu, pull.Hi, radius)}
}

// speedAllowed is the window of the speed rule.
func (t *task) speedAllowed(target units.RPM) units.Interval[units.RPM] {
	tol := units.RPM(t.brief.Tolerance)
	return units.Interval[units.RPM]{Lo: target * (1 - tol), Hi: target * (1 + tol)}
}

// reachOf narrows a stage's reach once its driven pulley is known.
func (t *task) reachOf(h *head, stage, driven int, r units.Interval[float64]) units.Interval[float64] {
	drivers := t.axleDriverEnds
	if stage == h.stages-1 {
		drivers = t.motorDriverEnds[h.motor]
	}
	small, large := t.pairRatio(drivers[0], driven), t.pairRatio(drivers[1], driven)
	return r.Meet(units.Interval[float64]{Lo: large.Lo, Hi: small.Hi})
}

// Tie is the tie rule: heads in order (fewer stages, fewer cells, the stronger
// motor), then pulleys from the output back, the larger driven pulley and the
// smaller driver first, then names. A large pulley towards the output needs the
// least grip; and with what reduces most looked at first, the search soon comes to
// drives that will do, instead of trying all those that are a little too fast.
func (p problem) Tie(n, w node) int {
	if c := cmp.Compare(n.head, w.head); c != 0 {
		return c
	}
	for i := range n.chosen {
		if c := cmp.Compare(n.pulleys[i], w.pulleys[i]); c != 0 {
			if i%2 == 0 {
				return -c
			}
			return c
		}
	}
	if n.chosen < w.chosen {
		return -1
	}
	return 0
}

// Same tells whether two arrangements are one drive: the same parts in the same pairs, in
// whatever order the stages come.
func (p problem) Same(n, w node) bool {
	a, b := &p.heads[n.head], &p.heads[w.head]
	if a.stages != b.stages || a.motor != b.motor || a.holder != b.holder || a.output != b.output {
		return false
	}
	var pairs [drive.MaxStages][2]int16
	for i := range a.stages {
		pairs[i] = [2]int16{w.pulleys[2*i], w.pulleys[2*i+1]}
	}
	left := pairs[:a.stages]
	for i := range a.stages {
		k := slices.Index(left, [2]int16{n.pulleys[2*i], n.pulleys[2*i+1]})
		if k < 0 {
			return false
		}
		left = slices.Delete(left, k, k+1)
	}
	return true
}

// Finish settles a bit more of a whole arrangement as far as its designs cost no more than limit:
// see row.go.
func (p problem) Finish(ctx context.Context, n node, limit search.Cost) search.Finished[*candidate] {
	return p.rowOf(&n).upTo(ctx, score.Points(limit))
}

// ends finds the smallest and largest groove floor among the pulleys.
func (t *task) ends(pulleys []int) [2]int {
	var out [2]int
	for i, p := range pulleys {
		if i == 0 {
			out = [2]int{p, p}
		}
		if t.pulleys[p].Part.GrooveFloor < t.pulleys[out[0]].Part.GrooveFloor {
			out[0] = p
		}
		if t.pulleys[p].Part.GrooveFloor > t.pulleys[out[1]].Part.GrooveFloor {
			out[1] = p
		}
	}
	return out
}

// arrangement is a whole node with its parts looked up, motor stage first.
type arrangement struct {
	*node
	head           *head
	stages         int
	driver, driven [drive.MaxStages]int
}

func (t *task) arrange(n *node) *arrangement {
	h := &t.heads[n.head]
	a := &arrangement{node: n, head: h, stages: h.stages}
	for i := range h.stages {
		back := 2 * (h.stages - 1 - i)
		a.driven[i], a.driver[i] = int(n.pulleys[back]), int(n.pulleys[back+1])
	}
	return a
}
