// Package classdrawing draws the speeds that a class counted as dots over the range that
// was foretold; and the same without dots, for the class to fill in.
package classdrawing

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/dotplot"
	"findrive/internal/drawing"
	"findrive/internal/explain"
	"findrive/internal/measure"
	"findrive/internal/units"
)

type mm = units.Millimetres

// The picture, in millimetres: it fits across an A4 page and an American one.
var size = drawing.Size{Width: 170, Height: 110}

// The field of the plot within it.
const (
	left, right mm = 12, 160
	top, axisAt mm = 34, 84
	dot         mm = 2.2
)

var (
	titleStyle = drawing.Words(12).InBold()
	textStyle  = drawing.Words(10)
	smallStyle = drawing.Words(8.5)
)

// Plot is the dot plot of a class. Without groups it is the empty one to fill in: no
// forecast is on it, so that nobody counts towards it.
func Plot(c *measure.Class) *drawing.Drawing {
	unit, per := c.Scale()
	axis := Axis(c)
	d := &drawing.Drawing{Title: "Our class: " + c.Build.Name, Description: describe(c, axis, unit, per)}
	p := d.Add(size, d.Title)
	p.Description = d.Description
	style, words := titleStyle.Fit(d.Title, right-left, 3)
	p.Text(drawing.Point{X: left, Y: 10}, words, style)
	at := func(v float64) mm { return axis.At(v, left, right) }
	if len(c.Groups) > 0 && c.Due.Likely > 0 {
		forecast(p, at(c.Due.Low()*per), at(c.Due.High()*per))
	}
	axis.Draw(&p.Canvas, left, right, axisAt, textStyle)
	if len(c.Groups) == 0 {
		p.Paragraph(drawing.Point{X: left, Y: 17}, "One dot for each group: above the number that you wrote down. Two the same? Put one dot on top of the other.", right-left, textStyle)
		p.Paragraph(drawing.Point{X: left, Y: 101}, "Which group is far from the others? What is different about its model?", right-left, textStyle)
		return d
	}
	dots(p, c, per, at)
	note := "Each dot is a group. Hatched: where the dots were due."
	if c.Enough {
		note += fmt.Sprintf(" The middle of the class: %s.", units.Significant(float64(c.Middle)*per, 3))
	}
	p.Paragraph(drawing.Point{X: left, Y: 101}, note, right-left, smallStyle)
	return d
}

// Axis is the plot's, in the class's unit; without groups in what is counted.
func Axis(c *measure.Class) dotplot.Axis {
	if len(c.Groups) == 0 {
		return explain.ClassAxis(c.Build.Brief.Model, explain.Range{Low: c.Due.Low(), Likely: c.Due.Likely, High: c.Due.High()}, travel(c))
	}
	unit, per := c.Scale()
	lo, hi := math.Inf(1), 0.0
	add := func(v float64) { lo, hi = math.Min(lo, v), math.Max(hi, v) }
	if c.Due.Likely > 0 {
		add(c.Due.Low() * per)
		add(c.Due.High() * per)
	}
	for i := range c.Groups {
		add(float64(c.Groups[i].Turns) * per)
	}
	return dotplot.Over(lo, hi, unit)
}

// travel is what is due as travel, in metres a second; nothing of a model that does not.
func travel(c *measure.Class) explain.Range {
	unit, per := measure.Scale(c.Build, true)
	switch unit {
	case "m a second":
	case "mm a second":
		per /= 1000
	default:
		return explain.Range{}
	}
	return explain.Range{Low: c.Due.Low() * per, Likely: c.Due.Likely * per, High: c.Due.High() * per}
}

func forecast(p *drawing.Page, from, to mm) {
	p.Rectangle(drawing.Rect{X0: from, Y0: top, X1: to, Y1: axisAt}, drawing.Thin, drawing.Hatched)
}

// mostNamed is for how many names there is room over a heap of dots.
const mostNamed = 4

// dots draws a dot for each group, from the slowest on; those that would lie on others lie
// above them, nearer to each other where there are many, and those that stand apart have
// a ring, and their name over the heap.
func dots(p *drawing.Page, c *measure.Class, per float64, at func(float64) mm) {
	slowest := c.Slowest()
	var columns []mm
	in, height := make([]int, len(slowest)), make([]int, len(slowest))
	tall := make([]int, len(slowest))
	for i, g := range slowest {
		x, k := at(float64(g.Turns)*per), len(columns)-1
		if k < 0 || x-columns[k] >= 2*dot+0.3 {
			columns, k = append(columns, x), k+1
		}
		in[i], height[i] = k, tall[k]
		tall[k]++
	}
	rise := 2*dot + 0.5
	if tallest := slices.Max(tall); tallest > 1 {
		rise = min(rise, (axisAt-top+dot)/mm(tallest))
	}
	centre := func(i, height int) drawing.Point {
		return drawing.Point{X: columns[in[i]], Y: axisAt - dot - 0.8 - mm(height)*rise}
	}
	for i := range slowest {
		p.Circle(centre(i, height[i]), dot+0.3, drawing.Rubber(0.6), drawing.White)
		p.Circle(centre(i, height[i]), dot-0.2, drawing.Outline, drawing.Black)
	}
	named := make([]int, len(columns))
	for i, g := range slowest { // over all dots, so that none hides a name
		if g.Apart == 0 {
			continue
		}
		p.Circle(centre(i, height[i]), dot+1.2, drawing.Outline, drawing.NoFill)
		if named[in[i]]++; named[in[i]] > mostNamed {
			continue
		}
		highest := centre(i, tall[in[i]]-1)
		style, words := smallStyle.Fit(g.Name, 30, 2)
		half := style.Width(words) / 2
		p.Text(drawing.Point{X: min(max(highest.X, left+half), right-half), Y: highest.Y - dot - 2.5 - 3.5*mm(named[in[i]]-1)}, words, style.WithAlign(drawing.Middle))
	}
}

func describe(c *measure.Class, axis dotplot.Axis, unit string, per float64) string {
	if len(c.Groups) == 0 {
		return "An empty plot of " + axis.Unit + " for a class to put a dot for each group on."
	}
	s := fmt.Sprintf("%d groups, in %s:", len(c.Groups), unit)
	for _, g := range c.Slowest() {
		s += fmt.Sprintf(" %s %s;", g.Name, units.Significant(float64(g.Turns)*per, 3))
	}
	if c.Due.Likely > 0 {
		s += fmt.Sprintf(" due were %s to %s.", units.Significant(c.Due.Low()*per, 2), units.Significant(c.Due.High()*per, 2))
	}
	return s
}
