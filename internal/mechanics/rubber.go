package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Rubber is a Mooney-Rivlin rubber in simple tension. Stretch is length over
// rest length, from 1 up; stress is engineering stress, pull over the section
// at rest. Neither constant may be negative and one must be above 0.
//
//	P(s) = 2 (s - s^-2) (C1 + C2/s)
type Rubber struct{ C1, C2 units.Megapascals }

// DefaultRubber is vulcanised natural rubber for stretches from 1.05 to 2,
// fitted to L. R. G. Treloar, Trans. Faraday Soc. 40 (1944) 59-70: within 3 %
// of one transcription of his curve, 8 % of others. Constants published for the
// whole curve up to stretch 7 are of no use here: they overstate the pull of a
// band by up to 84 %.
func DefaultRubber() Rubber { return Rubber{C1: 0.090, C2: 0.125} }

// Slope is how fast the stress rises with stretch, dP/ds in MPa. At a stretch
// of 1 it is Young's modulus, 6 (C1 + C2). It falls as the stretch grows.
func (r Rubber) Slope(stretch float64) units.Megapascals {
	_, slope := r.tension(stretch - 1)
	return units.Megapascals(slope)
}

// tension is the stress and its slope at a strain (stretch less 1). The strain
// is used so that a nearly limp strand keeps all its figures.
func (r Rubber) tension(strain float64) (stress, slope float64) {
	c1, c2 := float64(r.C1), float64(r.C2)
	u := 1 / (1 + strain)
	stress = 2 * strain * (1 + u + u*u) * (c1 + c2*u)
	slope = 2 * (c1 + u*u*u*(2*c1+3*c2*u))
	return stress, slope
}

// StretchAt is the stretch at which the rubber has the given stress: the inverse
// of the stress for stretches of 1 and more. It is 1 for stresses of 0 and below,
// and infinite if C1 is 0 and the stress is more than such a rubber can reach.
func (r Rubber) StretchAt(stress units.Megapascals) float64 {
	return 1 + r.strainAt(float64(stress), 0)
}

// strainAt is the strain at a stress, sought from a guess. The stress is a
// concave, rising function of the strain, so Newton's method reaches the root
// from any start and, after the first step, from below.
func (r Rubber) strainAt(stress, guess float64) float64 {
	if !(stress > 0) {
		return 0
	}
	if r.C1 == 0 && stress >= 2*float64(r.C2) {
		return math.Inf(1)
	}
	least := stress / (6 * float64(r.C1+r.C2)) // the tangent at rest lies above the curve
	e := max(guess, least)
	for range 100 {
		p, slope := r.tension(e)
		step := (stress - p) / slope
		e = max(e+step, least)
		if math.Abs(step) <= 1e-8*e {
			break
		}
	}
	return e
}

// shareBetween is what k ln(1 + u/k), k = C1/C2, u = 1/stretch, changes by from u2 to u1,
// with its limits at k = 0 and k infinite.
func (r Rubber) shareBetween(u1, u2 float64) float64 {
	k := float64(r.C1 / r.C2)
	switch {
	case k < 1e-100:
		return 0
	case k > 1e15:
		return u1 - u2
	}
	return k * math.Log1p((u1-u2)/(k+u2))
}
