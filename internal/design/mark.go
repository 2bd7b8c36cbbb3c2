package design

import (
	"math"

	"findrive/internal/units"
)

// rulerStep is how far apart the marks are for a loop of some rest length.
func rulerStep(rest units.Millimetres) units.Millimetres {
	return RulerStep * units.Millimetres(max(1, math.Round(float64(rest*RulerShare/RulerStep))))
}

// CellOf is the cell of the mark that a stage's spacing stands for: what of the spacings
// that its rules allow is nearer to that mark than to any other, once holes may be out
// of place by so much. It is how a design that is done is told; the search has its cells
// from marks.
func (r *StageReport) CellOf(rest, spacing, bears units.Millimetres) units.Interval[units.Millimetres] {
	step := rulerStep(rest)
	at := step * units.Millimetres(math.Floor(float64(spacing/step)+0.5))
	return r.CentreAllowed.Grow(-2 * bears).Meet(units.Interval[units.Millimetres]{Lo: at - step/2, Hi: at + step/2})
}
