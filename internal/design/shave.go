package design

import (
	"math"

	"findrive/internal/forecast"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// A box is looked at in the steps of the classrooms' chart: those of friction and creep in which
// no design is worth having are shaved off it, and the boxes that it is halved into need not
// be looked at where none is left.

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

// When the chart is looked at. Both are tried out (scripts/performance ordinary): nothing
// depends on them but time.
const (
	// chartFrom is after how many boxes of an arrangement, while few nodes have been looked at:
	// few are soon gone through without.
	chartFrom = 4
	// mostStrips is how many strips of the chart: a box that lies in more is halved as soon.
	mostStrips = 300
)

// shave is the least that any design costs whose extent is reckoned, with a torque at the
// motor within bounds and so many points besides; and it shaves off what costs more than the
// limit.
func (r *refining) shave(torque units.Interval[units.NewtonMillimetres], heaviest units.NewtonMillimetres, fixed score.Points, of *left) score.Points {
	x, h := &r.extent, r.head
	of.under = min(of.under, r.limit) // what costs more than that may be shaved off now
	of.torque, of.creep = torque.Meet(of.torque), x.Creep.Meet(of.creep)
	if of.torque.Empty() || of.creep.Empty() {
		return of.beyond
	}
	x.Creep = of.creep
	look := byRooms
	if r.looked > chartFrom || r.many {
		look = bySteps
	}
	p := problem{task: r.task, ceiling: search.Cost(r.limit)}
	return min(p.atMotor(h, fixed, h.motorModel.SpeedAt(h.supply, of.torque.Hi), heaviest, x, of, look), of.beyond)
}

// charted is the least that a design costs of what is left of several, of an extent, with so
// many points besides what it does at work, by the chart of the classrooms; and it shaves off
// what costs more than the ceiling.
func (p problem) charted(h *head, fixed score.Points, x *forecast.Extent, of *left) score.Points {
	w := p.brief.Weights
	part := h.class.PartOf(x, of.torque)
	if part.Strips() > mostStrips {
		return fixed + p.motorLoad(h, of.torque.Lo)
	}
	var weighed forecast.Part
	if h.weighed != nil {
		weighed = h.weighed.PartOf(x, of.torque)
	}
	frictions, creeps := forecast.NoSteps(), forecast.NoSteps()
	least, before, need := unsettled, score.Points(-1), 0
	var strip, other forecast.Strip
	for f := part.Frictions.First; f <= part.Frictions.Last; f++ {
		if !part.Strip(f, &strip) {
			continue
		}
		if h.weighed != nil && weighed.Strip(f, &other) {
			strip.Join(&other)
		}
		torque := max(of.torque.Lo, part.Friction(f).Lo+x.Demand/units.NewtonMillimetres(x.Ratio.Hi))
		working := fixed + score.MayStand(w, int(strip.Stands), forecast.Rooms) + p.motorLoad(h, torque)
		if working != before {
			before, need = working, p.roomsNeeded(working)
		}
		most := strip.Most(part.Creeps)
		if most < need {
			of.beyond = min(of.beyond, working+p.forRooms[most])
			continue
		}
		frictions = frictions.And(f)
		least = min(least, working+p.forRooms[most])
		fewer := -1 // rooms, of those that are not enough
		for c := part.Creeps.First; c <= part.Creeps.Last; c++ {
			if works := strip.Works(c); works >= need {
				creeps = creeps.And(c)
			} else {
				fewer = max(fewer, works)
			}
		}
		if fewer >= 0 {
			of.beyond = min(of.beyond, working+p.forRooms[fewer])
		}
	}
	if frictions.Empty() {
		return of.beyond
	}
	if frictions.First > part.Frictions.First {
		of.torque.Lo = max(of.torque.Lo, part.Friction(frictions.First).Lo+x.Demand/units.NewtonMillimetres(x.Ratio.Hi))
	}
	if frictions.Last < part.Frictions.Last {
		of.torque.Hi = min(of.torque.Hi, part.Friction(frictions.Last).Hi+x.Demand/units.NewtonMillimetres(x.Ratio.Lo))
	}
	of.creep = part.Creep(creeps.First).Join(part.Creep(creeps.Last))
	x.Friction, x.Creep = frictionOf(of.torque, x), of.creep
	return least
}

// frictionOf is what of a torque at the motor is friction.
func frictionOf(torque units.Interval[units.NewtonMillimetres], x *forecast.Extent) units.Interval[units.NewtonMillimetres] {
	return units.Interval[units.NewtonMillimetres]{
		Lo: max(0, torque.Lo-x.Demand/units.NewtonMillimetres(x.Ratio.Lo)),
		Hi: max(0, torque.Hi-x.Demand/units.NewtonMillimetres(x.Ratio.Hi)),
	}
}
