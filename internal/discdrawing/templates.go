package discdrawing

import (
	"cmp"
	"fmt"
	"slices"

	"findrive/internal/drawing"
)

const (
	templatesTitle = "Discs of all sets, in true size"
	// mostTemplates is how many pages of templates are printed: more than these, a class
	// draws the rounds with compasses sooner than it cuts them out and sticks them on
	// (judgement).
	mostTemplates = 12
)

// template is one disc that is to be cut.
type template struct {
	disc         *Disc
	of           *Pulley
	large        bool
	letter, each string // of the pulley, and what the disc is in it
}

// onOneSheet are the templates for one kind of sheet, the larger first.
type onOneSheet struct {
	of        *Disc // one of them
	templates []template
}

// every lists the discs of all sets, by the kind of sheet they are cut from.
func (j *Job) every() []onOneSheet {
	var out []onOneSheet
	add := func(t template, n int) {
		at := slices.IndexFunc(out, func(s onOneSheet) bool { return s.of.Sheet == t.disc.Sheet })
		if at < 0 {
			at, out = len(out), append(out, onOneSheet{of: t.disc})
		}
		for range n {
			out[at].templates = append(out[at].templates, t)
		}
	}
	most := 0
	for i := range j.Pulleys {
		most = max(most, j.Pulleys[i].Sets)
	}
	for set := range most {
		for i := range j.Pulleys {
			p := &j.Pulleys[i]
			if set >= p.Sets {
				continue
			}
			for _, letter := range p.Letters {
				if p.Drive != "" {
					letter = p.Drive + "-" + letter
				}
				add(template{&p.Flange, p, true, letter, "large"}, 2)
				add(template{&p.Core, p, false, letter, "small"}, p.Layers)
			}
		}
	}
	for i := range out {
		slices.SortStableFunc(out[i].templates, func(a, b template) int { return cmp.Compare(b.disc.Diameter, a.disc.Diameter) })
	}
	return out
}

// templates are pages with every disc of all sets, a kind of sheet to a page, and what is
// said of them on the pages before. There are none if they would be too many, or where the
// sheets do not reach.
func (j *Job) templates(paper drawing.Size) ([]*drawing.Page, string) {
	if j.Short != "" {
		return nil, ""
	}
	var out []*drawing.Page
	discs := 0
	for _, s := range j.every() {
		var blocks []block
		for _, t := range s.templates {
			blocks = append(blocks, block{t.disc.Diameter, t.disc.Diameter, func(p *drawing.Page, at drawing.Point) { t.draw(p, at) }})
		}
		discs += len(blocks)
		title := fmt.Sprintf("For %s %s mm, %s", s.of.Kind, number(s.of.Thickness), s.of.Sheet)
		out = append(out, j.lay(paper, blocks, func() (*drawing.Page, mm) {
			return j.page(paper, templatesTitle, title+": every disc of all sets once for each time it is cut.", ring+6,
				title+". Print at 100 %. Measure the ring both ways: 40 mm.",
				"Cut each out roughly. Stick it on the sheet where the map at the end has it: that saves sheet. Cut on the line. Holes are drilled by an adult.")
		})...)
	}
	if n := len(out); n > mostTemplates {
		return nil, fmt.Sprintf("All %d discs would be %d pages: print these once more for each, or draw the rounds with compasses from the map at the end.", discs, n)
	}
	if len(out) == 1 {
		return out, fmt.Sprintf("The next page has all %d discs, to cut out and stick on.", discs)
	}
	return out, fmt.Sprintf("The next %d pages have all %d discs, to cut out and stick on.", len(out), discs)
}

// draw draws a template with its upper left corner at a point. Its words stand on either
// side of the hole, round which there is always so much of the disc.
func (t *template) draw(p *drawing.Page, at drawing.Point) {
	const (
		arm    mm = 1.5 // beyond the hole
		middle mm = 3.1 // of the words, from the hole
		reach  mm = 4.6 // of their far side
	)
	radius, bore := t.disc.Diameter/2, t.of.Bore/2
	c := at.Plus(radius, radius)
	g := p.Group(fmt.Sprintf("%s disc of %s", t.each, t.letter), number(t.disc.Diameter)+" mm across")
	g.Circle(c, radius, drawing.Outline, drawing.NoFill)
	inside := radius
	if t.large {
		inside = t.of.Core.Diameter / 2
		g.Circle(c, inside, drawing.Hidden, drawing.NoFill)
	}
	g.Circle(c, bore, drawing.Thin, drawing.NoFill)
	g.Line(c.Plus(-bore-arm, 0), c.Plus(bore+arm, 0), drawing.Thin)
	g.Line(c.Plus(0, -bore-arm), c.Plus(0, bore+arm), drawing.Thin)
	for i, words := range []string{t.letter + " " + t.each, number(t.disc.Diameter) + " mm"} {
		style, fitted := smallStyle.Fit(words, 2*chord(inside-0.4, bore+reach), leastType)
		y := bore + middle
		if i == 0 {
			y = -y
		}
		g.Text(c.Plus(0, y), fitted, style.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
}
