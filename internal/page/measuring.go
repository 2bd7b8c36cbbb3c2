package page

import (
	"bytes"
	"fmt"

	"findrive/internal/drawing"
	"findrive/internal/drawing/pdf"
	"findrive/internal/units"
)

// measuringSheet is a page in true size to lay parts on: rings for pulleys and wheels,
// slots for dowel and shafts, a scale for bands laid flat with their trade numbers.
func measuringSheet(size drawing.Size) ([]byte, error) {
	d := &drawing.Drawing{Title: "Measuring sheet", Description: "Rings from 6 to 80 mm, slots from 2 to 6 mm, a scale of 160 mm, in true size."}
	p := d.Add(size, "Measuring sheet")
	p.Description = d.Description
	const edge units.Millimetres = 14
	width := size.Width - 2*edge
	text := func(at drawing.Point, words string, points float64, bold bool) {
		p.Text(at, words, drawing.Style{Size: drawing.Points(points), Bold: bold, Level: drawing.OnLine})
	}
	text(drawing.Point{X: edge, Y: 17}, "Measuring sheet", 16, true)
	p.Paragraph(drawing.Point{X: edge, Y: 20}, "Lay a part on the ring, slot or scale that it just covers, and read its size. Print at 100 %, not fitted to the page: this bar must be 100 mm long.", width, drawing.Style{Size: drawing.Points(10)})
	bar(&p.Canvas, edge, 34, 100)
	rings(&p.Canvas, drawing.Point{X: edge + 41, Y: 86}, []units.Millimetres{10, 20, 30, 40, 50, 60, 70, 80})
	rings(&p.Canvas, drawing.Point{X: edge + width - 41, Y: 86}, []units.Millimetres{15, 25, 35, 45, 55, 65, 75})
	text(drawing.Point{X: edge, Y: 140}, "Small pulleys, holes, beads: across, in mm", 10, true)
	x := edge
	for _, n := range []units.Millimetres{2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 18} {
		p.Circle(drawing.Point{X: x + n/2, Y: 154}, n/2, drawing.Thin, drawing.NoFill)
		p.Text(drawing.Point{X: x + n/2, Y: 168}, fmt.Sprint(float64(n)), drawing.Style{Size: drawing.Points(9), Align: drawing.Middle})
		x += n + 5
	}
	text(drawing.Point{X: edge, Y: 181}, "Dowel, rod, motor shafts: thick, in mm", 10, true)
	x = edge
	for n := units.Millimetres(2); n <= 6; n++ {
		p.Rectangle(drawing.Rect{X0: x, Y0: 186, X1: x + n, Y1: 208}, drawing.Thin, drawing.NoFill)
		p.Text(drawing.Point{X: x + n/2, Y: 213}, fmt.Sprint(float64(n)), drawing.Style{Size: drawing.Points(9), Align: drawing.Middle})
		x += n + 12
	}
	bandScale(&p.Canvas, text, edge, 236)
	var b bytes.Buffer
	err := pdf.Write(&b, d)
	return b.Bytes(), err
}

// bar is the bar that shows whether the print is in true size.
func bar(c *drawing.Canvas, x, y, long units.Millimetres) {
	c.Line(drawing.Point{X: x, Y: y}, drawing.Point{X: x + long, Y: y}, drawing.Outline)
	for _, at := range []units.Millimetres{x, x + long} {
		c.Line(drawing.Point{X: at, Y: y - 2}, drawing.Point{X: at, Y: y + 2}, drawing.Outline)
	}
	c.Text(drawing.Point{X: x + long + 3, Y: y + 1.2}, "100 mm", drawing.Style{Size: drawing.Points(9)})
}

// rings are circles round one middle, each with its size across at its lower edge, clear of all
// lines: a ring that is broken is no measure.
func rings(c *drawing.Canvas, at drawing.Point, sizes []units.Millimetres) {
	const arm = 1.2
	c.Line(drawing.Point{X: at.X - arm, Y: at.Y}, drawing.Point{X: at.X + arm, Y: at.Y}, drawing.Thin)
	c.Line(drawing.Point{X: at.X, Y: at.Y - arm}, drawing.Point{X: at.X, Y: at.Y + arm}, drawing.Thin)
	for _, n := range sizes {
		c.Circle(at, n/2, drawing.Thin, drawing.NoFill)
		c.Text(drawing.Point{X: at.X, Y: at.Y + n/2 - 1.1}, fmt.Sprint(float64(n)), drawing.Style{Size: drawing.Points(8), Align: drawing.Middle})
	}
}

// bandScale is a ruler with the trade numbers of bands at their lengths.
func bandScale(c *drawing.Canvas, text func(drawing.Point, string, float64, bool), x, y units.Millimetres) {
	text(drawing.Point{X: x, Y: y - 14}, "Rubber bands: lay one flat from the left end, not stretched; above are trade numbers", 10, true)
	const long = 160
	c.Line(drawing.Point{X: x, Y: y}, drawing.Point{X: x + long, Y: y}, drawing.Outline)
	for n := 0; n <= long; n++ {
		tick := units.Millimetres(2)
		switch {
		case n%10 == 0:
			tick = 5
			c.Text(drawing.Point{X: x + units.Millimetres(n), Y: y + 9}, fmt.Sprint(n), drawing.Style{Size: drawing.Points(8), Align: drawing.Middle})
		case n%5 == 0:
			tick = 3.5
		}
		c.Line(drawing.Point{X: x + units.Millimetres(n), Y: y}, drawing.Point{X: x + units.Millimetres(n), Y: y + tick}, drawing.Thin)
	}
	for _, b := range usual().Bands {
		if b.Width > 2 {
			continue // the wide ones are as long as thin ones of other numbers
		}
		at := x + b.FlatLength
		c.Line(drawing.Point{X: at, Y: y}, drawing.Point{X: at, Y: y - 4}, drawing.Thin)
		c.Text(drawing.Point{X: at, Y: y - 5}, b.Size, drawing.Style{Size: drawing.Points(8), Align: drawing.Middle})
	}
	c.Paragraph(drawing.Point{X: x, Y: y + 12}, "Bands 3 mm wide: no. 30 is as long as 14, 31 as 16, 32 as 18, 33 as 19. Makers differ by about 5 %: type the length that you read if it is off.", 180, drawing.Style{Size: drawing.Points(9)})
}
