package goals

import (
	"math"

	"findrive/internal/design"
	"findrive/internal/units"
)

// forgiving is how far every hole may be out of place, in the worst direction,
// before a rule is broken, in tenths of a millimetre up to 5 mm. The speed is the
// brief's.
//
// Bound and brief are one: the brief with that error, and forgiving it made a rule.
//
// Nested: moving holes further never mends a rule.
type forgiving struct{ *Challenge }

const holeStep units.Millimetres = 0.1

// holeMost is how many steps are tried.
const holeMost = 50

func (f forgiving) last() int { return holeMost }

func (f forgiving) asks(step int) asked {
	b := *f.Brief
	b.Limits.HoleError = units.Millimetres(holeMost-step) * holeStep
	return asked{brief: &b, mustForgive: true}
}

func (f forgiving) measure(p *design.Proposal, step int) (Score, int) {
	b := f.asks(step).brief
	at := holeMost - int(math.Floor(float64(p.Forgives/holeStep)+1e-6))
	return Score{Holes: min(p.Forgives, holeMost*holeStep), Asked: b, AtMost: p.Forgives >= holeMost*holeStep}, max(0, min(step, at))
}

func (f forgiving) best(step int) Score {
	return Score{Holes: units.Millimetres(holeMost-step) * holeStep}
}
