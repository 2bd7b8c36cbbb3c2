package design

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// bound is the least penalty any completion of n can have, or something above the
// ceiling if none that costs no more can meet the speed rule, start the motor and
// keep it running. The first so many stages are bounded by n.flow.
//
// It is admissible. The other stages are taken as lossless but for what turns with their axles
// and the pull of some band on the motor's shaft, and as creeping not at all or as much as the
// running-stretch rule allows, at any velocity ratio their pulleys can have as far as
// they are chosen. Penalties still to come are
// not negative.
func (p problem) bound(n *node, flowing int) search.Cost {
	h := &p.heads[n.head]
	before := units.Interval[float64]{} // ln of the velocity ratio of the other stages
	left := p.ahead(n, flowing)
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
		left.drag = (left.drag + p.ownDrag(n, stage)) / units.NewtonMillimetres(math.Exp(r.Hi))
	}
	if before.Empty() || math.IsInf(before.Lo, 0) {
		return search.Unlimited
	}
	return p.boundBefore(n, left, before)
}

// leastSpeedFactor is the least a stage can keep of its speed: the slack
// stretch is above 1 and the tight stretch at most the running limit.
func (t *task) leastSpeedFactor() float64 { return 1 / t.brief.Limits.RunningStretchMax }

// ahead is the stages of a node that are still to be worked out.
type ahead struct {
	stages int
	share  float64                 // of the speed that they leave, at least
	drag   units.NewtonMillimetres // that what turns with their axles asks of the motor, at least
}

// ahead is all but the first so many stages. They creep as much as the running-stretch
// rule allows, but for the first of them if its driven pulley is known: what that has to
// carry is known too.
func (p problem) ahead(n *node, flowing int) ahead {
	left := p.heads[n.head].stages - flowing
	a := ahead{stages: left, share: math.Pow(p.leastSpeedFactor(), float64(left))}
	if bands := &p.anyBand[n.head]; left > 0 && int(n.chosen) > 2*flowing && bands.weakest != nil {
		driven := int(n.pulleys[2*flowing])
		most := n.flow.mostOnAxle(loadedPulls(bands.pull, true), p.axleDrag[driven]) / units.NewtonMillimetres((p.pulleys[driven].Part.GrooveFloor+bands.driven.Lo)/2)
		a.share *= bands.leastShare(units.Newtons(most), p.leastSpeedFactor()) / p.leastSpeedFactor() * (1 - flowPad)
	}
	return a
}

// ownDrag is the friction torque, at least, on the axle of a stage's driven pulley from what turns
// with it.
func (p problem) ownDrag(n *node, stage int) units.NewtonMillimetres {
	if int(n.chosen) <= 2*stage {
		return p.leastOwnDrag
	}
	driven, sits := int(n.pulleys[2*stage]), p.heads[n.head].weighs
	if stage > 0 {
		sits = p.weightOn(int(n.pulleys[2*stage-1]))
	}
	return units.NewtonMillimetres(float64(p.axleDrag[driven].Lo) * float64(p.leastOwn[driven]+sits))
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
	torque := n.flow.least/units.NewtonMillimetres(math.Exp(before.Hi)) + left.drag
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
	least := slowest * units.RPM(turned)
	if h.demand.Swing == 0 {
		pulled := h.stall * units.NewtonMillimetres(1-float64(speed.Hi/h.free)/turned)
		torque.Lo = max(torque.Lo, pulled*(1-1e-9))
	} else {
		least = p.overTurn(h, x)
	}
	if least > speed.Hi {
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
	if kept := h.free * units.RPM(p.brief.Limits.KeptSpeedMin*(1-keptPad)); fastest < kept || speed.Hi*units.RPM(x.Ratio.Hi) < kept {
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

// overTurn is the least speed of the output over a turn in which the torque swings, at the limits of
// the rules about running and starting: at the heaviest moment bands creep more than at the mean.
func (p problem) overTurn(h *head, x *forecast.Extent) units.RPM {
	l := p.brief.Limits
	at := func(margin, creep float64) units.RPM {
		return h.free * units.RPM(max(0, 1-1/margin)*math.Exp(creep)/x.Ratio.Hi)
	}
	mean := at(l.RunMin, x.Creep.Lo)
	return drive.MeanOverTurn(mean, min(mean, at(l.StartMin, x.Heavy.Lo)))
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
	return units.Interval[units.RPM]{Lo: max(0, target*(1-tol)), Hi: target * (1 + tol)}
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
