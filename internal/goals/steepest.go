package goals

import (
	"findrive/internal/design"
	"findrive/internal/units"
)

// steepest is the steepest slope that is climbed from rest over the length of the
// board within the time that counts, in whole degrees.
//
// Bound and brief are one: the brief with that slope. The torque at the wheels rises
// with the slope, what the floor holds falls, and the search's own bounds take both
// from there; a slope that the wheels cannot hold is refused before anything is
// chosen.
//
// Nested: up to the steepest that is looked for, less slope asks less torque of the
// same wheels (sin + Crr cos rises with the slope), so every rule about grip, motor
// and traction is easier, and the same drive is faster.
type steepest struct{ *Challenge }

// steepestThought is the steepest that is looked for; hard wheels on a board hold
// to about 22 degrees, soft ones to 40.
const steepestThought = 60

func (s steepest) last() int { return steepestThought }

func (s steepest) degrees(step int) int { return steepestThought - step }

func (s steepest) asks(step int) asked {
	slowest := float64(s.Distance) / 1000 / float64(s.Within)
	b := travelling(s.Challenge, units.Interval[units.MetresPerSecond]{Lo: units.MetresPerSecond(slowest), Hi: fastestThought})
	b.Load.Slope = units.Degrees(float64(s.degrees(step)))
	return asked{brief: b}
}

func (s steepest) measure(p *design.Proposal, step int) (Score, int) {
	return Score{
		Climbs: units.Degrees(float64(s.degrees(step))), Asked: s.asks(step).brief,
		Takes:  units.Seconds(float64(s.Distance) / 1000 / float64(p.Linear.Likely)),
		AtMost: step == 0,
	}, step
}

func (s steepest) best(step int) Score { return Score{Climbs: units.Degrees(float64(s.degrees(step)))} }
