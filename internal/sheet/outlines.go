package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// outline is a part seen flat on the paper: a disc, or a band lying as a long
// loop.
type outline struct {
	label, size    string
	diameter, bore float64 // of a disc, mm
	flat, width    float64 // of a band, mm
}

const (
	outlineRoom  = 184.0 // between the margins of the narrower of the two papers
	outlineGap   = 6.0
	bandHeight   = 11.0 // of a band with its words
	checkBar     = 50.0
	discLabel    = 6.5  // a line of words under a disc
	lettered     = 34.0 // smallest disc with its words inside
	breakBand    = outlineRoom - 2
	outlineTitle = "Parts in true size"
)

// outlinePictures lay discs in rows, larger first, and bands below them, parts
// alike once. Each row is a picture of its own, so that it can go on the next
// page.
func outlinePictures(parts []outline) []Block {
	var discs, bands []outline
	for _, p := range parts {
		list := &discs
		if p.diameter == 0 {
			list = &bands
		}
		at := slices.IndexFunc(*list, func(o outline) bool {
			return o.diameter == p.diameter && o.bore == p.bore && o.flat == p.flat && o.width == p.width
		})
		if at < 0 {
			*list = append(*list, p)
		} else {
			(*list)[at].label += ", " + p.label
		}
	}
	sortStable(discs, func(a, b outline) int { return cmp.Compare(b.diameter, a.diameter) })
	out := []Block{ruler()}
	facts := Table{Caption: "Pulleys in true size", Head: []string{"Letter", "Across the outside", "Hole for a rod of"}, Names: true}
	for _, o := range discs {
		facts.Rows = append(facts.Rows, []string{o.label, o.size, mm(o.bore) + " mm"})
	}
	for i, row := range discRows(discs) {
		p := discRow(row)
		if i == 0 { // the facts of all are with the first
			p.Facts = &facts
		}
		out = append(out, p)
	}
	bandFacts := Table{Caption: "Bands in true size", Head: []string{"Band", "Length, laid flat", "Width"}, Names: true}
	for _, b := range bands {
		bandFacts.Rows = append(bandFacts.Rows, []string{b.label, b.size, mm(b.width) + " mm"})
	}
	for i := 0; i < len(bands); {
		n, used := 1, bands[i].flat
		for i+n < len(bands) && used+outlineGap+bands[i+n].flat <= outlineRoom {
			used += outlineGap + bands[i+n].flat
			n++
		}
		p := bandRow(bands[i : i+n])
		if i == 0 {
			p.Facts = &bandFacts
		}
		out = append(out, p)
		i += n
	}
	return out
}

var (
	outlineStyle = drawing.Words(14).InBold()
	sizeStyle    = drawing.Words(12)
)

// slot is the room across that a disc and its words take.
func slot(o outline) float64 {
	return math.Max(o.diameter, float64(max(outlineStyle.Width(o.label), sizeStyle.Width(o.size)))+2)
}

// tall is the room down that a disc and its words take.
func tall(o outline) float64 {
	if o.diameter < lettered {
		return o.diameter + 2*discLabel - 1
	}
	return o.diameter
}

// discRows puts discs side by side, and small ones below one another as long as
// the row gets no higher for it.
func discRows(discs []outline) [][][]outline {
	var out [][][]outline
	for len(discs) > 0 {
		high, used, row := tall(discs[0]), 0.0, [][]outline(nil)
		for len(discs) > 0 && (row == nil || used+slot(discs[0]) <= outlineRoom) {
			n, down, wide := 0, 0.0, 0.0
			for n < len(discs) && (n == 0 || down+outlineGap+tall(discs[n]) <= high) {
				if n > 0 {
					down += outlineGap
				}
				down += tall(discs[n])
				wide = math.Max(wide, slot(discs[n]))
				n++
			}
			row = append(row, discs[:n])
			used += wide + outlineGap
			discs = discs[n:]
		}
		out = append(out, row)
	}
	return out
}

// discRow draws one row of stacks of discs.
func discRow(row [][]outline) Picture {
	high := 0.0
	var labels []string
	for _, stack := range row {
		down := outlineGap * float64(len(stack)-1)
		for _, o := range stack {
			down += tall(o)
			labels = append(labels, o.label+" "+o.size)
		}
		high = math.Max(high, down)
	}
	p := Picture{Title: outlineTitle, Size: drawing.Size{Width: outlineRoom, Height: units.Millimetres(high + 1)}}
	p.Description = "Outlines of pulleys in true size: " + and(labels) + " across. Lay each pulley on its outline."
	p.Draw = func(c *drawing.Canvas, room drawing.Rect) {
		x := room.X0
		for _, stack := range row {
			wide, down := 0.0, outlineGap*float64(len(stack)-1)
			for _, o := range stack {
				wide, down = math.Max(wide, slot(o)), down+tall(o)
			}
			y := room.Y0 + units.Millimetres(high-down)/2
			for _, o := range stack {
				disc(c, o, drawing.Point{X: x + units.Millimetres(wide)/2, Y: y + units.Millimetres(o.diameter)/2})
				y += units.Millimetres(tall(o) + outlineGap)
			}
			x += units.Millimetres(wide + outlineGap)
		}
	}
	return p
}

// disc draws a pulley's outline and the rod's hole, its words inside or below.
func disc(c *drawing.Canvas, o outline, at drawing.Point) {
	r := units.Millimetres(o.diameter) / 2
	c.Circle(at, r, drawing.Outline, drawing.NoFill)
	c.Circle(at, units.Millimetres(o.bore)/2, drawing.Outline, drawing.NoFill)
	if o.diameter >= lettered {
		c.Text(at.Plus(0, -r/2), o.label, outlineStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
		c.Text(at.Plus(0, r/2), o.size, sizeStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
		return
	}
	c.Text(at.Plus(0, r+2), o.label, outlineStyle.WithAlign(drawing.Middle).WithLevel(drawing.Below))
	c.Text(at.Plus(0, r+7.4), o.size, sizeStyle.WithAlign(drawing.Middle).WithLevel(drawing.Below))
}

// bandRow draws bands end to end.
func bandRow(bands []outline) Picture {
	var labels []string
	for _, b := range bands {
		labels = append(labels, b.label)
	}
	p := Picture{Title: outlineTitle, Size: drawing.Size{Width: outlineRoom, Height: bandHeight}}
	p.Description = fmt.Sprintf("True-size outlines, laid flat, of band %s. Lay each band on its outline without pulling it.", and(labels))
	p.Draw = func(c *drawing.Canvas, room drawing.Rect) {
		x := room.X0
		for _, b := range bands {
			long, words := b.flat, "Band "+b.label+": "+b.size
			cut := long > breakBand
			if strings.Contains(b.label, ",") {
				words = "Bands " + b.label + ": " + b.size
			}
			if cut {
				long, words = breakBand, words+", too long for this page"
			}
			style, words := sizeStyle.Fit(words, units.Millimetres(math.Max(long, 30)), drawing.Points(10))
			c.Text(drawing.Point{X: x, Y: room.Y0}, words, style.WithLevel(drawing.Below))
			loop(c, x, room.Y0+8, units.Millimetres(long), 2.4)
			if cut {
				broken(c, drawing.Point{X: x + units.Millimetres(long)/2, Y: room.Y0 + 8}, 2.4)
			}
			x += units.Millimetres(long + outlineGap)
		}
	}
	return p
}

// loop is a band laid flat: a long ring.
func loop(c *drawing.Canvas, x, y, long, half units.Millimetres) {
	a, b := drawing.Point{X: x + half, Y: y}, drawing.Point{X: x + long - half, Y: y}
	path := &drawing.Path{}
	path.MoveTo(a.Plus(0, half)).ArcAbout(a, half, -math.Pi/2, -math.Pi).LineTo(b.Plus(0, -half)).ArcAbout(b, half, math.Pi/2, -math.Pi).Close()
	c.Draw(path, drawing.Outline.Wider(0.7), drawing.NoFill)
}

// broken shows that a band is longer than it is drawn: a gap between two slanting lines.
func broken(c *drawing.Canvas, at drawing.Point, half units.Millimetres) {
	const gap, slant units.Millimetres = 1.6, 1
	half++
	side := func(x units.Millimetres) (up, down drawing.Point) {
		return at.Plus(x+slant, -half), at.Plus(x-slant, half)
	}
	a, b := side(-gap)
	d, e := side(gap)
	c.Draw(drawing.Polygon(a, d, e, b), drawing.NoPen, drawing.White)
	c.Line(a, b, drawing.Outline)
	c.Line(d, e, drawing.Outline)
}

// ruler shows whether the page was printed in true size.
func ruler() Picture { return rulerWith("This line is 50 mm long. Check it.") }

// narrowRuler is one with its words below the line.
func narrowRuler() Picture { return rulerWith("", "This line is 50 mm long.", "Check it.") }

// rulerWith has words beside its line, and lines of words below it.
func rulerWith(beside string, below ...string) Picture {
	line := sizeStyle.LineHeight()
	return Picture{
		Title: "Check bar", Description: "A bar of 50 mm. If it is not 50 mm long on your paper, print the page again at 100 per cent.",
		Size: drawing.Size{Width: outlineRoom, Height: 9 + line*units.Millimetres(len(below))},
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			a := drawing.Point{X: room.X0, Y: room.Y0 + 3}
			b := a.Plus(checkBar, 0)
			c.Line(a, b, drawing.Outline)
			for _, p := range []drawing.Point{a, b} {
				c.Line(p.Plus(0, -2), p.Plus(0, 2), drawing.Outline)
			}
			if beside != "" {
				c.Text(b.Plus(3, 0), beside, sizeStyle.WithLevel(drawing.Centred))
			}
			for i, words := range below {
				c.Text(a.Plus(0, 4+line*units.Millimetres(i)), words, sizeStyle.WithLevel(drawing.Below))
			}
		},
	}
}
