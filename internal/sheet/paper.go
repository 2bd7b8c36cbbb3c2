package sheet

import (
	"fmt"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Margins all round: holes can be punched, and every printer reaches so far
// (common practice).
const margin units.Millimetres = 13

// look is the type of a page and the air in it. Dyslexia guidance asks for 12 to 14
// points for children; 9 points is what adults read with ease, and 8 the least
// that anything is printed in (common practice).
type look struct {
	body, table, small, heading, title drawing.Style
	gap                                units.Millimetres // between blocks
	leading                            units.Millimetres // from line to line, in sizes
	// How high boxes to write in and pictures that may be smaller are, as a share
	// of what they would like.
	boxes, pictures units.Millimetres
	// From line to line in a table, in sizes, and the air in a row.
	rows, rowAir units.Millimetres
}

// looks are those of adults' pages and those of children's, the roomiest first: a
// page that must go on so many sides of paper takes the first with which it does.
var (
	adultLooks = []look{
		// body, table, small, heading, title; gap, leading; boxes, pictures; rows, rowAir
		{drawing.Words(9), drawing.Words(9), drawing.Words(9), drawing.Words(11.5).InBold(), drawing.Words(15).InBold(), 1.9, 1.25, 1, 1, 1.22, 1.2},
		{drawing.Words(9), drawing.Words(9), drawing.Words(9), drawing.Words(11).InBold(), drawing.Words(14).InBold(), 1.4, 1.2, 0.9, 1, 1.2, 1.1},
		{drawing.Words(8.5), drawing.Words(8.5), drawing.Words(8.5), drawing.Words(10.5).InBold(), drawing.Words(13).InBold(), 1.2, 1.2, 0.9, 1, 1.2, 1},
		{drawing.Words(8), drawing.Words(8), drawing.Words(8), drawing.Words(10).InBold(), drawing.Words(12).InBold(), 1.1, 1.18, 0.8, 1, 1.18, 0.9},
		{drawing.Words(8), drawing.Words(8), drawing.Words(8), drawing.Words(9).InBold(), drawing.Words(11).InBold(), 0.8, 1.12, 0.7, 1, 1.12, 0.7},
		{drawing.Words(8), drawing.Words(8), drawing.Words(8), drawing.Words(9).InBold(), drawing.Words(11).InBold(), 0.8, 1.12, 0.7, 0.85, 1.12, 0.7},
		{drawing.Words(8), drawing.Words(8), drawing.Words(8), drawing.Words(9).InBold(), drawing.Words(11).InBold(), 0.8, 1.12, 0.7, 0.5, 1.12, 0.7},
	}
	youngLooks = []look{
		{drawing.Words(12.5), drawing.Words(12), drawing.Words(12), drawing.Words(14.5).InBold(), drawing.Words(20).InBold(), 2.6, 1.35, 1, 1, 1.22, 1.2},
		{drawing.Words(12), drawing.Words(12), drawing.Words(12), drawing.Words(14).InBold(), drawing.Words(17).InBold(), 2, 1.25, 0.85, 0.85, 1.22, 1.2},
		{drawing.Words(12), drawing.Words(12), drawing.Words(12), drawing.Words(13).InBold(), drawing.Words(15).InBold(), 1.4, 1.2, 0.7, 0.7, 1.2, 1},
	}
)

// LeastType is the smallest type on any page.
var LeastType = drawing.Points(8)

// flow fills sheets of paper from top to bottom.
type flow struct {
	doc       *drawing.Drawing
	source    *Page
	paper     drawing.Size
	look      look
	at        *drawing.Page
	y, top    units.Millimetres // where the next thing comes, and the first came
	heading   string            // the last one
	measuring bool              // only how high it is
	// The column that is being filled.
	left, wide units.Millimetres
	// The list or the table that is being filled.
	list, grid *tagged
}

// tagged is a part with a role on the sheet where it was begun.
type tagged struct {
	sheet *drawing.Page
	*drawing.Canvas
}

// on is a part to draw on, begun again on every sheet.
func (f *flow) on(role drawing.Role, part *tagged) *drawing.Canvas {
	if part.sheet != f.at {
		*part = tagged{f.at, f.at.Tagged(role)}
	}
	return part.Canvas
}

// Paper lays a page out on as many sides of paper as it takes, or on so many as it
// may take if there is a look in which it goes on them; see Page.Sides. A last side for
// little more than a few lines is spared if some look does without. Each side has the
// page's name, whose it is, and its number.
func (p *Page) Paper(paper drawing.Size) *drawing.Drawing {
	looks := adultLooks
	if p.Young {
		looks = youngLooks
	}
	var best *drawing.Drawing
	var last units.Millimetres // what its last side takes
	for _, l := range looks {
		d, used := p.laidOut(paper, l)
		if best == nil || len(d.Pages) < len(best.Pages) {
			best, last = d, used
		}
		if (p.Sides == 0 || len(best.Pages) <= p.Sides) && (len(best.Pages) == 1 || last > fewLines) {
			break
		}
	}
	return best
}

// fewLines is how much on a side is not worth a sheet of paper.
const fewLines units.Millimetres = 75

// laidOut is the page in some look, and how much of its last side is taken.
func (p *Page) laidOut(paper drawing.Size, l look) (d *drawing.Drawing, used units.Millimetres) {
	f := &flow{list: &tagged{}, grid: &tagged{}, doc: &drawing.Drawing{Title: p.Title, Description: p.Identity.Line()}, source: p, paper: paper, look: l, left: margin, wide: paper.Width - 2*margin}
	f.sheet()
	style, lines := f.look.title.FitLines(p.Title, f.wide, 2, drawing.Points(11))
	title := f.at.Tagged(drawing.Title)
	for _, l := range lines {
		title.Text(drawing.Point{X: margin, Y: f.y}, l, style.WithLevel(drawing.Below))
		f.y += 1.25 * style.Size
	}
	f.y += 1
	f.at.Line(drawing.Point{X: margin, Y: f.y}, drawing.Point{X: paper.Width - margin, Y: f.y}, drawing.Outline.Wider(0.7))
	f.y += 3
	f.blocks(p.Blocks)
	f.feet()
	f.doc.TwoSided = len(f.doc.Pages) > 1
	return f.doc, f.y - f.top
}

func (f *flow) bottom() units.Millimetres { return f.paper.Height - margin - 8 }

func (f *flow) blocks(list []Block) {
	for i, b := range list {
		f.block(b, list[i+1:])
	}
}

// running is the room that the page's name takes at the head of a further side.
const running units.Millimetres = 6

// sheet begins a new one. All but the first, which has the title, begin with the
// page's name, so that a sheet that got loose finds its place again.
func (f *flow) sheet() {
	f.at = f.doc.Add(f.paper, f.source.Title)
	f.y = margin
	if len(f.doc.Pages) > 1 {
		style, words := drawing.Words(9).InBold().WithAlign(drawing.End).Fit(f.source.Title, f.paper.Width-2*margin, LeastType)
		f.at.Tagged(drawing.Furniture).Text(drawing.Point{X: f.paper.Width - margin, Y: f.y}, words, style.WithLevel(drawing.Below))
		f.y += running
	}
	f.top = f.y
}

// room makes sure that so much fits on the sheet.
func (f *flow) room(height units.Millimetres) {
	if f.y+height > f.bottom() && f.y > f.top {
		f.sheet()
	}
}

// whole is the height of a further side.
func (f *flow) whole() units.Millimetres { return f.bottom() - margin - running }

// pictureHeight is how high a picture is drawn.
func (f *flow) pictureHeight(p *Picture) units.Millimetres {
	if p.Least == 0 {
		return p.Size.Height
	}
	return min(p.Size.Height, max(p.Least, p.Size.Height*f.look.pictures))
}

// feet writes the foot of every sheet, now that their number is known.
func (f *flow) feet() {
	style := drawing.Words(9)
	for i, p := range f.doc.Pages {
		y := f.paper.Height - margin
		p.Line(drawing.Point{X: margin, Y: y - 6}, drawing.Point{X: f.paper.Width - margin, Y: y - 6}, drawing.Outline)
		number := fmt.Sprintf("%d of %d", i+1, len(f.doc.Pages))
		if len(f.doc.Pages) > 1 {
			p.Title = f.source.Title + ", sheet " + number
		}
		foot := p.Tagged(drawing.Furniture)
		foot.Text(drawing.Point{X: f.paper.Width - margin, Y: y}, number, style.WithAlign(drawing.End))
		room := f.wide - style.Width(number) - 5
		prints := ""
		if f.source.Identity.Print != "" {
			prints = ": " + f.source.Identity.Print
		}
		s, name := style.Fit(f.source.Identity.Line(), room-style.Width(prints), LeastType)
		foot.Text(drawing.Point{X: margin, Y: y}, name+prints, s)
	}
}

// keep is the room that a heading wants under it: for a table or a few lines, and
// for all that leads up to a picture.
func (f *flow) keep(next []Block) units.Millimetres {
	lines := units.Millimetres(18)
	if f.source.Young { // a child's task is not torn apart
		lines = 40
	}
	var room units.Millimetres
	for _, b := range next {
		switch b := b.(type) {
		case Text:
			room += units.Millimetres(len(f.look.body.Wrap(b.Words, f.wide)))*f.look.leading*f.look.body.Size + f.look.gap
			continue
		case Picture:
			return min(room+f.pictureHeight(&b), f.paper.Height/2)
		case Columns:
			if _, _, high := f.sideBySide(&b); high > 0 { // they stand on one sheet
				return min(room+high, f.paper.Height/2)
			}
			return room + lines
		case Panel: // on one sheet too
			return min(room+f.height([]Block{b}, f.wide), f.paper.Height/2)
		}
		return lines
	}
	return room
}

func (f *flow) block(b Block, next []Block) {
	switch b := b.(type) {
	case Heading:
		if f.y > f.top {
			f.y += f.look.gap / 2
		}
		f.room(f.look.heading.LineHeight() + f.keep(next))
		f.words(drawing.Section, string(b), f.look.heading, f.left, f.wide)
		f.heading = string(b)
		f.y += 1
	case Text:
		style := f.look.body
		style.Bold = b.Bold
		f.words(drawing.Sentence, b.Words, style, f.left, f.wide)
		f.y += f.look.gap
	case Steps:
		f.steps(&b)
		f.y += f.look.gap
	case Table:
		f.table(&b)
	case Boxes:
		f.boxes(&b)
	case Picture:
		high := f.pictureHeight(&b)
		f.room(high)
		if !f.measuring { // its labels look for room, which takes long
			group := f.at.Group(b.Title, b.Description)
			b.Draw(&group.Canvas, drawing.Rect{X0: f.left, Y0: f.y, X1: f.left + min(b.Size.Width, f.wide), Y1: f.y + high})
		}
		f.y += high + f.look.gap
	case Columns:
		f.columns(&b)
	case Panel:
		f.panel(b)
	}
}

// words writes a paragraph that may go on on the next sheet.
func (f *flow) words(role drawing.Role, words string, style drawing.Style, x, width units.Millimetres) {
	var part tagged
	for _, line := range f.lines(words, style, width) {
		f.room(f.look.leading * style.Size)
		f.on(role, &part).Text(drawing.Point{X: x, Y: f.y}, line, style.WithLevel(drawing.Below))
		f.y += f.look.leading * style.Size
	}
}

// lines wraps words, keeping wider gaps in them where letters are spaced out to
// be ringed.
func (f *flow) lines(words string, style drawing.Style, width units.Millimetres) []string {
	if strings.Contains(words, "   ") && style.Width(words) <= width {
		return []string{words}
	}
	return style.Wrap(words, width)
}
