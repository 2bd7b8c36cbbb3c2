package design

import (
	"math"

	"findrive/internal/units"
)

// rulerStep is how far apart the marks are for a loop of some rest length.
func rulerStep(rest units.Millimetres) units.Millimetres {
	return RulerStep * units.Millimetres(max(1, math.Round(float64(rest*RulerShare/RulerStep))))
}

// nearestMark is the number of the mark that a spacing is nearest to.
func nearestMark(spacing, step units.Millimetres) float64 {
	return math.Floor(float64(spacing/step) + 0.5)
}

// cellAt is where mark k stands, and its cell: what of a window is nearer to it than to any other.
func cellAt(k float64, step units.Millimetres, window units.Interval[units.Millimetres]) (at units.Millimetres, cell units.Interval[units.Millimetres]) {
	at = step * units.Millimetres(k)
	return at, window.Meet(units.Interval[units.Millimetres]{Lo: at - step/2, Hi: at + step/2})
}

// CellOf is the cell of the mark that a stage's spacing stands for: what of the spacings
// that its rules allow is nearer to that mark than to any other, once holes may be out
// of place by so much. It is how a design that is done is told; the search has its cells
// from marks.
func (r *StageReport) CellOf(rest, spacing, bears units.Millimetres) units.Interval[units.Millimetres] {
	step := rulerStep(rest)
	_, cell := cellAt(nearestMark(spacing, step), step, r.CentreAllowed.Grow(-2*bears))
	return cell
}
