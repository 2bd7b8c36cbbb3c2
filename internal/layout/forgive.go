package layout

import (
	"math"

	"findrive/internal/units"
)

// forgivenessStep is what a ruler can tell.
const forgivenessStep mm = 0.1

// Forgiveness is how far every hole may be off, each in any direction, before a
// rule breaks: the largest Slack, in whole tenths of a millimetre up to limit, at
// which the placement passes Check, whatever Slack the problem has. 0 if it
// forgives less than 0.1 mm or does not stand as drawn: Check tells which.
//
// No rule is easier with more Slack, so it is found by halving.
func Forgiveness(p Problem, at []Point, limit units.Millimetres) units.Millimetres {
	holds := func(steps int) bool {
		p.Slack = mm(steps) * forgivenessStep
		return len(Check(p, at)) == 0
	}
	lo, hi := 0, int(math.Floor(float64(max(0, limit)/forgivenessStep+noise)))+1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; holds(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return mm(lo) * forgivenessStep
}
