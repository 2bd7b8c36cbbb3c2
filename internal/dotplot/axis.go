// Package dotplot draws the axis of a dot plot, with room above it for a dot for each
// group of a class.
package dotplot

import (
	"math"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Axis is a scale from Low to High with a figure at each Step, in a unit in words.
type Axis struct {
	Low, High, Step float64
	Unit            string
}

// Over is the axis with round figures that holds two values, 0 <= low <= high, and a little
// to either side; of 0 to 60 where both are 0.
func Over(low, high float64, unit string) Axis {
	if !(high > 0) {
		low, high = 0, 60
	}
	step := 1.0
	for step*12 < high-low {
		for _, times := range []float64{2, 2.5, 2} {
			if step *= times; step*12 >= high-low {
				break
			}
		}
	}
	for step > 0.05 && (high-low)/step < 4 {
		step /= 2
	}
	low = step * math.Floor((low-step/4)/step)
	return Axis{math.Max(0, low), step * math.Ceil((high+step/4)/step), step, unit}
}

// At is where a value lies on an axis drawn from left to right.
func (a Axis) At(v float64, left, right units.Millimetres) units.Millimetres {
	return left + (right-left)*units.Millimetres((v-a.Low)/(a.High-a.Low))
}

// Draw draws the axis at a height y, its figures and its unit below.
func (a Axis) Draw(c *drawing.Canvas, left, right, y units.Millimetres, style drawing.Style) {
	c.Line(drawing.Point{X: left, Y: y}, drawing.Point{X: right, Y: y}, drawing.Outline)
	for k := 0; a.Low+float64(k)*a.Step <= a.High+a.Step/100; k++ {
		v := a.Low + float64(k)*a.Step
		x := a.At(v, left, right)
		c.Line(drawing.Point{X: x, Y: y}, drawing.Point{X: x, Y: y + 1.8}, drawing.Outline)
		c.Text(drawing.Point{X: x, Y: y + 6.5}, units.Significant(v, 3), style.WithAlign(drawing.Middle))
	}
	c.Text(drawing.Point{X: (left + right) / 2, Y: y + 12}, a.Unit, style.WithAlign(drawing.Middle))
}
