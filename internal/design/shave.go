package design

import (
	"math"

	"findrive/internal/forecast"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// A box is bounded as if one design of it had the least friction, creep and all else that any
// has, and in each classroom another. So it is looked at in parts of friction and creep, and
// the parts in which no design is worth having are shaved off: the boxes that it is halved
// into need not be looked at where none is left.

// left is what is left of a box: all of its designs that cost no more than under do so much
// at work, and all others cost at least beyond.
type left struct {
	under  score.Points
	torque units.Interval[units.NewtonMillimetres] // at the motor, running
	creep  units.Interval[float64]                 // ln of the speed that it leaves
	beyond score.Points
	told   forecast.Told // of those that are left, in the classrooms
}

// all is where nothing has been shaved off yet.
func all(under score.Points) left {
	none := math.Inf(1)
	return left{under: under, torque: units.Interval[units.NewtonMillimetres]{Lo: units.NewtonMillimetres(-none), Hi: units.NewtonMillimetres(none)}, creep: units.Interval[float64]{Lo: -none, Hi: none}, beyond: unsettled}
}

// shaveSpare is in how many more rooms than are needed some design of a box may work for it
// to pay to look for what can be shaved off: where more may, hardly anything can. It is tried
// out (scripts/performance ordinary): nothing depends on it but time.
const shaveSpare = 20

// shave is the least that any design costs whose extent is reckoned, with a torque at the
// motor within bounds and so many points besides; and it shaves off what costs more than the
// limit.
func (r *refining) shave(torque units.Interval[units.NewtonMillimetres], fixed score.Points, of *left) score.Points {
	x, h := &r.extent, r.head
	torque, x.Creep = torque.Meet(of.torque), x.Creep.Meet(of.creep)
	if torque.Empty() || x.Creep.Empty() {
		return of.beyond
	}
	p := problem{task: r.task, ceiling: search.Cost(r.limit)}
	least := score.Points(p.atMotor(h, fixed, torque, h.motorModel.SpeedAt(h.supply, torque.Hi), x, &of.told))
	if least > r.limit {
		return min(least, of.beyond)
	}
	need := p.roomsNeeded(fixed + r.motorLoad(h, torque.Lo))
	if x.Cut > 0 || h.weighed != nil || need <= 0 || of.told.Works() >= need+shaveSpare {
		return least
	}
	return r.apart(torque, fixed, of)
}

// apart is the same of the parts of friction and creep, some of which it shaves off.
func (r *refining) apart(torque units.Interval[units.NewtonMillimetres], fixed score.Points, of *left) score.Points {
	x, h, w := &r.extent, r.head, r.brief.Weights
	var torques [forecast.Parts]units.Interval[units.NewtonMillimetres]
	var g forecast.Grid
	for k := range forecast.Parts {
		torques[k], g.Creep[k] = part(torque, k), part(x.Creep, k)
		g.Friction[k] = frictionOf(torques[k], x)
	}
	h.class.Apart(x, &of.told, &g)
	standing := score.MayStand(w, of.told.Stands(), forecast.Rooms)
	least := unsettled
	first, last := forecast.Parts, -1
	creep := units.Interval[float64]{Lo: math.Inf(1), Hi: math.Inf(-1)}
	for k := range forecast.Parts {
		working := fixed + standing + r.motorLoad(h, torques[k].Lo)
		for j := range forecast.Parts {
			cost := working + score.Classrooms(w, g.Works[k][j], forecast.Rooms)
			if cost > r.limit {
				of.beyond = min(of.beyond, cost)
				continue
			}
			first, last, creep, least = min(first, k), k, creep.Join(g.Creep[j]), min(least, cost)
		}
	}
	if last < 0 {
		return of.beyond
	}
	of.torque, of.creep = units.Interval[units.NewtonMillimetres]{Lo: torques[first].Lo, Hi: torques[last].Hi}, creep
	return least
}

// part is one of the equal parts of an interval.
func part[T ~float64](of units.Interval[T], k int) units.Interval[T] {
	step := of.Length() / forecast.Parts
	out := units.Interval[T]{Lo: of.Lo + step*T(k), Hi: of.Lo + step*T(k+1)}
	if k == forecast.Parts-1 {
		out.Hi = of.Hi
	}
	return out
}

// frictionOf is what of a torque at the motor is friction.
func frictionOf(torque units.Interval[units.NewtonMillimetres], x *forecast.Extent) units.Interval[units.NewtonMillimetres] {
	return units.Interval[units.NewtonMillimetres]{
		Lo: max(0, torque.Lo-x.Demand/units.NewtonMillimetres(x.Ratio.Lo)),
		Hi: max(0, torque.Hi-x.Demand/units.NewtonMillimetres(x.Ratio.Hi)),
	}
}
