package goals

import (
	"findrive/internal/design"
	"findrive/internal/units"
)

// heaviest is the heaviest mass that is lifted over a height within the time that
// counts, in whole tens of grams, from the mass of the brief (what hangs on the
// hook from the start) to 1 kg, which is as much as may hang over a table (common
// practice).
//
// Bound and brief are one: the brief with that mass.
//
// Nested: less mass asks less torque of the same drum. It also hangs less on the
// drum's axle. Where the weight had cancelled part of the band's pull, the friction
// may rise instead, by less than friction times the axle's radius for each newton,
// which is less than the drum's radius saves: an axle is thinner than its drum.
type heaviest struct{ *Challenge }

const (
	heaviestLift units.Grams = 1000
	weightStep   units.Grams = 10
)

func (h heaviest) last() int { return int((heaviestLift - h.Brief.Load.Mass) / weightStep) }

func (h heaviest) mass(step int) units.Grams { return heaviestLift - weightStep*units.Grams(step) }

func (h heaviest) asks(step int) asked {
	slowest := float64(h.Height) / 1000 / float64(h.Within)
	b := travelling(h.Challenge, units.Interval[units.MetresPerSecond]{Lo: units.MetresPerSecond(slowest), Hi: fastestThought})
	b.Load.Mass = h.mass(step)
	return asked{brief: b}
}

func (h heaviest) measure(p *design.Proposal, step int) (Score, int) {
	return Score{
		Lifts: h.mass(step), Asked: h.asks(step).brief,
		Takes:  units.Seconds(float64(h.Height) / 1000 / float64(p.Linear.Likely)),
		AtMost: step == 0,
	}, step
}

func (h heaviest) best(step int) Score { return Score{Lifts: h.mass(step)} }
