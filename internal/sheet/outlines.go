package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
	outlineRoom  = 178.0 // between the margins of the narrower of the two papers
	outlineGap   = 6.0
	bandHeight   = 13.0 // of a band with its words
	checkBar     = 50.0
	discLabel    = 7.0  // a line of words under a disc
	lettered     = 34.0 // smallest disc with its words inside
	breakBand    = outlineRoom - 2
	outlineTitle = "Parts in true size"
)

// outlinePictures lay discs in rows, larger first, and bands below one another.
// Each row is a picture of its own, so that it can go on the next page.
func outlinePictures(parts []outline) []Block {
	var discs, bands []outline
	for _, p := range parts {
		switch {
		case p.diameter == 0:
			bands = append(bands, p)
		default:
			// Discs alike are drawn once.
			at := slices.IndexFunc(discs, func(o outline) bool { return o.diameter == p.diameter && o.bore == p.bore })
			if at < 0 {
				discs = append(discs, p)
			} else {
				discs[at].label += ", " + p.label
			}
		}
	}
	slices.SortStableFunc(discs, func(a, b outline) int { return cmp.Compare(b.diameter, a.diameter) })
	out := []Block{ruler()}
	facts := Table{Caption: "Pulleys in true size", Head: []string{"Letter", "Across the outside", "Hole for a rod of"}, Names: true}
	for _, o := range discs {
		facts.Rows = append(facts.Rows, []string{o.label, o.size, mm(o.bore) + " mm"})
	}
	for row := 0; len(discs) > 0; row++ {
		n, used := 0, 0.0
		for n < len(discs) && (n == 0 || used+slot(discs[n]) <= outlineRoom) {
			used += slot(discs[n]) + outlineGap
			n++
		}
		p := discRow(discs[:n])
		if row == 0 { // the facts of all are with the first
			p.Facts = &facts
		}
		out = append(out, p)
		discs = discs[n:]
	}
	for i := range bands {
		out = append(out, bandRow(bands, i))
	}
	return out
}

// slot is the room across that a disc and its words take.
func slot(o outline) float64 { return math.Max(o.diameter, 22) }

var (
	outlineStyle = drawing.Words(14).InBold()
	sizeStyle    = drawing.Words(11)
)

func discRow(discs []outline) Picture {
	high, tall := discs[0].diameter, 0.0
	for _, o := range discs {
		below := 0.0
		if o.diameter < lettered {
			below = 2*discLabel - 1
		}
		tall = math.Max(tall, (high+o.diameter)/2+below)
	}
	p := Picture{Title: outlineTitle, Size: drawing.Size{Width: outlineRoom, Height: units.Millimetres(math.Max(high, tall) + 3)}}
	var labels []string
	for _, o := range discs {
		labels = append(labels, o.label+" "+o.size)
	}
	p.Description = "Outlines of pulleys in true size: " + and(labels) + " across. Lay each pulley on its outline."
	p.Draw = func(c *drawing.Canvas, room drawing.Rect) {
		x := room.X0
		for _, o := range discs {
			wide := units.Millimetres(slot(o))
			at := drawing.Point{X: x + wide/2, Y: room.Y0 + units.Millimetres(high)/2 + 1}
			r := units.Millimetres(o.diameter) / 2
			c.Circle(at, r, drawing.Outline, drawing.NoFill)
			c.Circle(at, units.Millimetres(o.bore)/2, drawing.Outline, drawing.NoFill)
			words := drawing.Point{X: at.X, Y: at.Y + r + 2}
			if o.diameter >= lettered {
				c.Text(drawing.Point{X: at.X, Y: at.Y - r/2}, o.label, outlineStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
				c.Text(drawing.Point{X: at.X, Y: at.Y + r/2}, o.size, sizeStyle.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
			} else {
				c.Text(words, o.label, outlineStyle.WithAlign(drawing.Middle).WithLevel(drawing.Below))
				c.Text(words.Plus(0, 5.4), o.size, sizeStyle.WithAlign(drawing.Middle).WithLevel(drawing.Below))
			}
			x += wide + outlineGap
		}
	}
	return p
}

// bandRow is one band; the facts of all are with the first.
func bandRow(bands []outline, i int) Picture {
	o := bands[i]
	p := Picture{Title: outlineTitle, Size: drawing.Size{Width: outlineRoom, Height: bandHeight}}
	p.Description = fmt.Sprintf("The outline of %s in true size, laid flat. Lay the band on it without pulling it.", o.label)
	if i == 0 {
		facts := Table{Caption: "Bands in true size", Head: []string{"Band", "Length, laid flat", "Width"}, Names: true}
		for _, b := range bands {
			facts.Rows = append(facts.Rows, []string{b.label, b.size, mm(b.width) + " mm"})
		}
		p.Facts = &facts
	}
	p.Draw = func(c *drawing.Canvas, room drawing.Rect) {
		long, words := o.flat, o.label+": "+o.size
		if long > breakBand {
			long, words = breakBand, words+", too long for this page"
		}
		c.Text(drawing.Point{X: room.X0, Y: room.Y0}, words, sizeStyle.WithLevel(drawing.Below))
		loop(c, room.X0, room.Y0+8, units.Millimetres(long), 2.4)
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

// ruler shows whether the page was printed in true size.
func ruler() Picture {
	return Picture{
		Title: "Check bar", Description: "A bar of 50 mm. If it is not 50 mm long on your paper, print the page again at 100 per cent.",
		Size: drawing.Size{Width: outlineRoom, Height: 9},
		Draw: func(c *drawing.Canvas, room drawing.Rect) {
			a := drawing.Point{X: room.X0, Y: room.Y0 + 3}
			b := a.Plus(checkBar, 0)
			c.Line(a, b, drawing.Outline)
			for _, p := range []drawing.Point{a, b} {
				c.Line(p.Plus(0, -2), p.Plus(0, 2), drawing.Outline)
			}
			c.Text(b.Plus(3, 0), "This line is 50 mm long. Check it.", sizeStyle.WithLevel(drawing.Centred))
		},
	}
}
