// Package hoistdrawing draws what package hoist finds: how the cord is rove, and
// the true-size template of home-made blocks.
package hoistdrawing

import (
	"fmt"

	"findrive/internal/drawing"
	"findrive/internal/hoist"
	"findrive/internal/units"
)

type mm = units.Millimetres

// The page: margins that every printer leaves and a hole punch needs, and type that
// is read on a table.
const margin mm = 15

var (
	titleStyle = drawing.Words(15).InBold()
	headStyle  = drawing.Words(11).InBold()
	textStyle  = drawing.Words(10)
	smallStyle = drawing.Words(8.5)
)

// Draw is the drawing of a result: the reeving of the hoist with the number which,
// from 1, if there is one, and a template of each home-made block it needs. Blocks
// of the lesson follow if there is no such hoist. At the foot of each page stand the
// brief's name, the hoist's number, print, which tells what it was drawn from, and the
// page's number.
func Draw(r *hoist.Result, which int, paper drawing.Size, print string) *drawing.Drawing {
	d := draw(r, which, paper)
	name := r.Brief.Name
	if which >= 1 && which <= len(r.Hoists) {
		name = fmt.Sprintf("%s, hoist %d", name, which)
	}
	for i, p := range d.Pages {
		foot(p, name, print, fmt.Sprintf("%d of %d", i+1, len(d.Pages)))
	}
	return d
}

// footHigh is the room of the foot.
const footHigh mm = 7

func foot(p *drawing.Page, name, print, number string) {
	y := p.Size.Height - margin
	p.Line(drawing.Point{X: margin, Y: y - 5}, drawing.Point{X: p.Size.Width - margin, Y: y - 5}, drawing.Thin)
	f := p.Tagged(drawing.Furniture)
	f.Text(drawing.Point{X: p.Size.Width - margin, Y: y}, number, smallStyle.WithAlign(drawing.End))
	if print != "" {
		print = ": " + print
	}
	room := p.Size.Width - 2*margin - smallStyle.Width(number) - smallStyle.Width(print) - 5
	style, words := smallStyle.Fit(name, room, drawing.Points(8))
	f.Text(drawing.Point{X: margin, Y: y}, words+print, style)
}

func draw(r *hoist.Result, which int, paper drawing.Size) *drawing.Drawing {
	d := &drawing.Drawing{Title: r.Brief.Name, Description: "How to thread the cord of a hoist, and how to cut its blocks."}
	if which >= 1 && which <= len(r.Hoists) {
		h := &r.Hoists[which-1]
		d.Pages = append(d.Pages, Reeving(h, r.Brief, paper))
		for _, m := range hoist.Makings(&h.Reeving) {
			d.Pages = append(d.Pages, Template(&m, r.Brief.Sets*h.Uses(m.Block.Name), paper))
		}
		return d
	}
	for i := range r.Lesson {
		for _, m := range hoist.Makings(&r.Lesson[i].Reeving) {
			if !has(d, templateTitle(&m)) {
				d.Pages = append(d.Pages, Template(&m, 1, paper))
			}
		}
	}
	return d
}

func has(d *drawing.Drawing, title string) bool {
	for _, p := range d.Pages {
		if p.Title == title {
			return true
		}
	}
	return false
}

// head writes the title and what follows it, and returns where the page goes on.
func head(p *drawing.Page, title, under string) mm {
	width := p.Size.Width - 2*margin
	style, words := titleStyle.Fit(title, width, drawing.Points(11))
	p.Tagged(drawing.Title).Text(drawing.Point{X: margin, Y: margin}, words, style.WithLevel(drawing.Below))
	at := p.Tagged(drawing.Sentence).Paragraph(drawing.Point{X: margin, Y: margin + 8}, under, width, textStyle)
	return at.Y + 2
}

func newtons(f units.Newtons) string {
	switch {
	case f < 0.995:
		return fmt.Sprintf("%.2f N", float64(f))
	case f < 9.95:
		return fmt.Sprintf("%.1f N", float64(f))
	}
	return fmt.Sprintf("%.0f N", float64(f))
}

func size(l mm) string { return fmt.Sprintf("%.4g", float64(l)) }
