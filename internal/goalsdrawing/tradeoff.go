// Package goalsdrawing draws what package goals finds: speed against climb.
package goalsdrawing

import (
	"fmt"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/goals"
	"findrive/internal/units"
)

type mm = units.Millimetres

// The picture, in millimetres: it fits across an A4 page.
var size = drawing.Size{Width: 170, Height: 120}

// The field of the plot within it.
const (
	left, right mm = 22, 150
	top, bottom mm = 20, 95
)

var (
	titleStyle = drawing.Words(12).InBold()
	textStyle  = drawing.Words(9)
	smallStyle = drawing.Words(8)
)

// lines tell the drives apart without colour: each has its own pen and its letter at
// the end.
var lines = []drawing.Pen{drawing.Hidden, drawing.Centre, drawing.Cut, drawing.Phantom, drawing.Thin}

// TradeOff is the plot of speed against climb: how steep along, how fast up. The
// wide line with dots is the fastest drive known up each slope, the others are the drives
// of the list.
func TradeOff(t *goals.TradeOff, name string) *drawing.Drawing {
	d := &drawing.Drawing{Title: name + ": speed against climb",
		Description: "The steady speed of each drive on slopes from level up: more climb is bought with speed."}
	p := d.Add(size, d.Title)
	p.Description = d.Description
	p.Text(drawing.Point{X: left, Y: 10}, d.Title, titleStyle)
	if len(t.Slopes) == 0 {
		return d
	}
	var most units.MetresPerSecond
	for _, u := range t.Fastest {
		most = max(most, u.Speed)
	}
	step := niceStep(float64(most) * 100 / 5)
	ceiling := step * float64(int(float64(most)*100/step)+1) // cm/s
	steepest := max(t.Slopes[len(t.Slopes)-1], units.Degrees(2))
	at := func(u goals.Uphill) drawing.Point {
		return drawing.Point{
			X: left + (right-left)*mm(u.Slope/steepest),
			Y: bottom - (bottom-top)*mm(float64(u.Speed)*100/ceiling),
		}
	}
	axes(p, t, step, ceiling, at)
	for i, us := range t.Entries {
		curve(p, us, lines[i%len(lines)], at)
	}
	letters(p, t.Entries, at)
	curve(p, t.Fastest, drawing.Outline, at)
	for _, u := range t.Fastest {
		p.Circle(at(u), 0.9, drawing.Outline, drawing.Black)
	}
	note := "Dots: the fastest drive known that keeps every rule up each slope."
	if t.Proved {
		note += " With axles at the marks of a ruler none is a tenth faster, which is proved."
	}
	switch n := len(t.Entries); {
	case n == 1:
		note += " A: drive 1 of the list, as far as it keeps them with its holes as drawn."
	case n > 1:
		note += fmt.Sprintf(" A to %c: drives 1 to %d of the list, as far as they keep them with their holes as drawn.", rune('A'+n-1), n)
	}
	p.Paragraph(drawing.Point{X: left, Y: 107}, note, right-left, smallStyle)
	return d
}

// axes draws the frame of the plot with its figures.
func axes(p *drawing.Page, t *goals.TradeOff, step, ceiling float64, at func(goals.Uphill) drawing.Point) {
	p.Polyline(drawing.Outline, drawing.Point{X: left, Y: top - 3}, drawing.Point{X: left, Y: bottom}, drawing.Point{X: right + 3, Y: bottom})
	for v := 0.0; v <= ceiling+step/2; v += step {
		y := at(goals.Uphill{Speed: units.MetresPerSecond(v / 100)}).Y
		p.Line(drawing.Point{X: left - 1.5, Y: y}, drawing.Point{X: left, Y: y}, drawing.Thin)
		p.Text(drawing.Point{X: left - 2.5, Y: y}, units.Significant(v, 3), textStyle.WithAlign(drawing.End).WithLevel(drawing.Centred))
	}
	for _, s := range t.Slopes {
		x := at(goals.Uphill{Slope: s}).X
		p.Line(drawing.Point{X: x, Y: bottom}, drawing.Point{X: x, Y: bottom + 1.5}, drawing.Thin)
		p.Text(drawing.Point{X: x, Y: bottom + 5.5}, units.Decimals(s.Degrees(), 0), textStyle.WithAlign(drawing.Middle))
	}
	p.Text(drawing.Point{X: left + 2, Y: top - 2}, "cm a second", textStyle)
	p.Text(drawing.Point{X: right + 3, Y: bottom + 10}, "slope, degrees", textStyle.WithAlign(drawing.End))
}

// curve draws one drive through the slopes that it climbs.
func curve(p *drawing.Page, us []goals.Uphill, pen drawing.Pen, at func(goals.Uphill) drawing.Point) {
	var points []drawing.Point
	for _, u := range us {
		points = append(points, at(u))
	}
	if len(points) > 1 {
		p.Polyline(pen, points...)
	}
}

// letters writes each drive's letter at the end of its line; drives that end
// together share a place, or one letter would hide another.
func letters(p *drawing.Page, entries [][]goals.Uphill, at func(goals.Uphill) drawing.Point) {
	type label struct {
		end   drawing.Point
		words string
	}
	var labels []label
	for i, us := range entries {
		if len(us) == 0 {
			continue
		}
		end, name := at(us[len(us)-1]), string(rune('A'+i%26))
		k := slices.IndexFunc(labels, func(l label) bool { return l.end.Distance(end) < letterRoom })
		if k < 0 {
			labels = append(labels, label{end, name})
			continue
		}
		labels[k].words += ", " + name
	}
	for _, l := range labels {
		p.Text(drawing.Point{X: l.end.X + 1.5, Y: l.end.Y}, l.words, textStyle.WithLevel(drawing.Centred))
	}
}

// letterRoom is what a letter needs about it to be read.
const letterRoom mm = 4

// niceStep is 1, 2 or 5 times a power of ten, about v.
func niceStep(v float64) float64 {
	step := 1.0
	for step > v && step > 0.01 {
		step /= 10
	}
	for {
		for _, times := range []float64{1, 2, 5} {
			if step*times >= v {
				return step * times
			}
		}
		step *= 10
	}
}
