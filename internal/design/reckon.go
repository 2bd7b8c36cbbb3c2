package design

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/units"
)

// load is what the output asks: to run, or to start.
type load int

const (
	running load = iota
	starting
	loads
)

// reckoned bounds what the stages from one on to the output do, in a box.
type reckoned struct {
	torque  units.Interval[units.NewtonMillimetres] // asked of the driver chosen last
	carries units.Interval[units.Newtons]           // effective pull of the band
	pull    units.Interval[units.Newtons]           // of the band on its axle
	ratio   units.Interval[float64]                 // velocity ratio so far
	creep   units.Interval[float64]                 // of that band, for each newton that it carries
	lost    units.Interval[float64]                 // share of the speed, to its creep
	keeps   units.Interval[float64]                 // share of the speed that creep leaves so far
}

// reckonAll reckons a box from the output back; false if no design of it will do.
func (r *refining) reckonAll(b *box) bool {
	for i := r.stages - 1; i >= 0; i-- {
		if !r.reckon(i, b.states[i], b.best.of(i, r.stages), b.worst.of(i, r.stages)) {
			return false
		}
	}
	return true
}

// reckonPad covers what a state between others may do beyond their bounds, rounding, and
// that load takes a little from the pull on the axles.
const reckonPad = 0.0005

// reckon takes what is reckoned from stage i+1 on back through stage i, a piece of its states after
// the other; false if a rule refuses them all.
func (r *refining) reckon(i int, c *cluster, best, worst drive.Lie) bool {
	x := &r.extent
	axle := carrying{stage: i, drag: mechanics.BearingTorque(r.model.AxleMu[i], 1, r.model.AxleRadius[i]), best: best.CosWorked(), worst: worst.CosWorked()}
	var about [loads]units.Interval[units.Newtons] // what they carry
	for of := running; of < loads; of++ {
		if of == running || r.swings {
			about[of] = r.carried(&axle, of, &c.bounds, c.atLoads.within(0, 1).hub)
		}
	}
	var refused *constraints.Refusal
	some := false
	for _, piece := range c.piece[:c.pieces] {
		var does [loads]reckoned
		margin, no := r.carry(&axle, piece, &about, &does)
		switch {
		case no != nil:
			refused = no
		case !some:
			some = true
			for of := range does {
				r.flow[of][i] = does[of]
			}
			x.Margin[i], x.Growth[i], x.Exponent[i] = margin, piece.growth, piece.exponent
		default:
			for of := range does {
				r.flow[of][i].join(&does[of])
			}
			x.Margin[i], x.Growth[i], x.Exponent[i] = max(x.Margin[i], margin), x.Growth[i].Join(piece.growth), x.Exponent[i].Join(piece.exponent)
		}
	}
	if !some {
		r.tally.add(refused)
		return false
	}
	for of := running; of < loads; of++ {
		if of == running || r.swings {
			f, out := &r.flow[of][i+1], &r.flow[of][i]
			out.keeps = units.Interval[float64]{Lo: f.keeps.Lo * (1 - out.lost.Hi), Hi: f.keeps.Hi * (1 - out.lost.Lo)}
		}
	}
	return true
}

// join takes in what else a stage may do.
func (f *reckoned) join(o *reckoned) {
	f.torque, f.carries, f.pull = f.torque.Join(o.torque), f.carries.Join(o.carries), f.pull.Join(o.pull)
	f.ratio, f.creep, f.lost = f.ratio.Join(o.ratio), f.creep.Join(o.creep), f.lost.Join(o.lost)
}

// carrying is an axle that bands pull on.
type carrying struct {
	stage       int
	drag        units.NewtonMillimetres // friction for each newton
	best, worst float64                 // cosines of the angles between the pulls
}

// carried is what the bands of some states carry that pull so on the axle.
func (r *refining) carried(axle *carrying, of load, c *bounds, hub units.Interval[units.Newtons]) units.Interval[units.Newtons] {
	f := &r.flow[of][axle.stage+1]
	least, most := hub.Lo, hub.Hi
	if f.pull.Hi > 0 {
		least, most = leastSum(hub, f.pull, axle.best), mostSum(hub, f.pull, axle.worst)
	}
	own := r.model.AxleWeight[axle.stage]
	return units.Interval[units.Newtons]{
		Lo: units.Newtons((f.torque.Lo + axle.drag*units.NewtonMillimetres(least+own)) / units.NewtonMillimetres(c.driven.Hi) * (1 - reckonPad)),
		Hi: units.Newtons((f.torque.Hi + axle.drag*units.NewtonMillimetres(most+own)) / units.NewtonMillimetres(c.driven.Lo) * (1 + reckonPad)),
	}
}

// carry is what some states of a stage do that carry about so much, running and starting, and the
// most that their bands hold over what starting asks; or the rule that refuses them all.
func (r *refining) carry(axle *carrying, c *bounds, about *[loads]units.Interval[units.Newtons], does *[loads]reckoned) (margin float64, no *constraints.Refusal) {
	i := axle.stage
	for of := running; of < loads; of++ {
		if of == starting && !r.swings {
			break
		}
		f, out := &r.flow[of][i+1], &does[of]
		at := c.within(shareOf(about[of].Lo, c.greatest.Hi), shareOf(about[of].Hi, c.greatest.Lo))
		out.carries = r.carried(axle, of, c, at.hub)
		if c.only != nil {
			at = c.within(shareOf(out.carries.Lo, c.greatest.Hi), shareOf(out.carries.Hi, c.greatest.Lo))
			out.carries = r.carried(axle, of, c, at.hub)
		}
		if out.carries.Hi > c.greatest.Hi {
			out.carries.Hi = max(c.greatest.Hi, out.carries.Lo) // it slips, as the rules will say
		}
		margin = constraints.GripMargin(c.greatest.Hi, out.carries.Lo)
		band := &r.bands[c.band].Part
		no := constraints.GripStarting(r.brief.Limits, band, i, margin)
		if of == running {
			no = orElseRefusal(no, constraints.GripRunning(r.brief.Limits, band, i, margin))
		}
		if no != nil {
			return margin, no
		}
		out.pull, out.creep = at.hub, at.creep
		out.torque.Lo = units.NewtonMillimetres(out.carries.Lo) * units.NewtonMillimetres(c.driver.Lo)
		out.torque.Hi = units.NewtonMillimetres(out.carries.Hi) * units.NewtonMillimetres(c.driver.Hi)
		out.ratio = units.Interval[float64]{Lo: f.ratio.Lo * c.ratio.Lo, Hi: f.ratio.Hi * c.ratio.Hi}
		out.lost = units.Interval[float64]{Lo: at.creep.Lo * float64(out.carries.Lo), Hi: at.creep.Hi * float64(out.carries.Hi)}
		if c.only != nil && c.greatest.Lo > 0 {
			least, most := shareOf(out.carries.Lo, c.greatest.Lo), shareOf(out.carries.Hi, c.greatest.Lo)
			out.lost.Lo, out.lost.Hi = c.only.lostAt(least)*(1-lostPad(most)), c.only.lostAt(most)*(1+lostPad(most))
		}
		if most := 1 - r.leastSpeedFactor(); out.lost.Hi > most {
			out.lost.Lo, out.lost.Hi = min(out.lost.Lo, most), most
		}
	}
	return margin, nil
}

// shareOf is what share of the greatest pull an effective pull is, at most 1.
func shareOf(pull, greatest units.Newtons) float64 {
	if pull >= greatest {
		return 1
	}
	return float64(pull / greatest)
}

func orElseRefusal(a, b *constraints.Refusal) *constraints.Refusal {
	if a != nil {
		return a
	}
	return b
}

// atMotor is the least that what is reckoned can cost, with so much more to come.
func (r *refining) atMotor(more score.Points, of *left) score.Points {
	h, f := r.head, &r.flow[running][0]
	drag := mechanics.BearingTorque(r.model.MotorMu, 1, r.model.ShaftRad)
	at := func(f *reckoned) units.Interval[units.NewtonMillimetres] {
		return units.Interval[units.NewtonMillimetres]{
			Lo: (f.torque.Lo + drag*units.NewtonMillimetres(f.pull.Lo)) * (1 - reckonPad), Hi: (f.torque.Hi + drag*units.NewtonMillimetres(f.pull.Hi)) * (1 + reckonPad),
		}
	}
	torque, start := at(f), f
	if r.swings {
		start = &r.flow[starting][0]
		r.extent.Heavy = logs(start.keeps)
	}
	if no := constraints.MotorStart(r.brief.Limits, r.motors[h.motor].Part.Name, h.stall, at(start).Lo); no != nil {
		r.tally.add(no)
		return unsettled
	}
	if r.swings && r.tooFast(torque, at(start)) {
		return unsettled
	}
	r.extent.Ratio, r.extent.Creep, r.extent.Count, r.extent.Cut = f.ratio, logs(f.keeps), r.stages, r.model.RatioUncertainty
	return r.shave(torque, at(start).Lo, r.choice.cost+more, of)
}

func logs(of units.Interval[float64]) units.Interval[float64] {
	return units.Interval[float64]{Lo: math.Log(of.Lo), Hi: math.Log(of.Hi)}
}

// tooFast tells whether the likely speed over a turn in which the torque swings is above the
// tolerance in every case.
func (r *refining) tooFast(mean, heaviest units.Interval[units.NewtonMillimetres]) bool {
	f, g, h := &r.flow[running][0], &r.flow[starting][0], r.head
	slow := h.turns(mean.Hi, f.keeps.Lo) / units.RPM(f.ratio.Hi)
	least := drive.MeanOverTurn(slow, min(slow, h.turns(heaviest.Hi, g.keeps.Lo)/units.RPM(g.ratio.Hi)))
	return least > (problem{task: r.task}).speedAllowed(h.demand.Target).Hi*(1+1e-9)
}

// mostSum is the greatest size of two forces together at an angle of that cosine: it is
// convex in either, and so greatest at an end of both.
func mostSum(a, b units.Interval[units.Newtons], cos float64) units.Newtons {
	most := square(a.Hi, b.Hi, cos)
	if cos < 0 {
		if other := square(a.Lo, b.Hi, cos); other > most {
			most = other
		}
		if other := square(a.Hi, b.Lo, cos); other > most {
			most = other
		}
	}
	return root(most)
}

// leastSum is the least: with one of them at its least, and the other as near as may be
// to what cancels most of it.
func leastSum(a, b units.Interval[units.Newtons], cos float64) units.Newtons {
	if cos >= 0 {
		return root(square(a.Lo, b.Lo, cos))
	}
	least := square(a.Lo, b.Clamp(-a.Lo*units.Newtons(cos)), cos)
	if other := square(a.Clamp(-b.Lo*units.Newtons(cos)), b.Lo, cos); other < least {
		least = other
	}
	return root(least)
}

// square is that of the size of two forces together.
func square(a, b units.Newtons, cos float64) float64 { return float64(a*a+b*b) + 2*float64(a*b)*cos }

func root(square float64) units.Newtons {
	if square <= 0 { // rounding
		return 0
	}
	return units.Newtons(math.Sqrt(square))
}
