package sheet

import (
	"fmt"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Margins all round: holes can be punched, and every printer reaches so far
// (common practice).
const margin units.Millimetres = 15

// look is the type of a page. Dyslexia guidance asks for 12 to 14 points for
// children; 10 points is usual for forms adults read (common practice).
type look struct {
	body, small, heading, title drawing.Style
	gap                         units.Millimetres // between blocks
	leading                     units.Millimetres // from line to line, in sizes
}

func lookOf(p *Page) look {
	if p.Young {
		return look{drawing.Words(14), drawing.Words(10), drawing.Words(16).InBold(), drawing.Words(22).InBold(), 3.5, 1.4}
	}
	return look{drawing.Words(10), drawing.Words(8.5), drawing.Words(13).InBold(), drawing.Words(18).InBold(), 3, 1.3}
}

// flow fills sheets of paper from top to bottom.
type flow struct {
	doc    *drawing.Drawing
	source *Page
	paper  drawing.Size
	look   look
	at     *drawing.Page
	y      units.Millimetres
}

// Paper lays a page out on as many sheets as it takes. Each has the title, whose
// it is, and its number at the foot.
func (p *Page) Paper(paper drawing.Size) *drawing.Drawing {
	f := &flow{doc: &drawing.Drawing{Title: p.Title, Description: p.Identity.line()}, source: p, paper: paper, look: lookOf(p)}
	f.sheet()
	_, lines := f.look.title.FitLines(p.Title, f.width(), 2, drawing.Points(11))
	style, _ := f.look.title.FitLines(p.Title, f.width(), 2, drawing.Points(11))
	for _, l := range lines {
		f.at.Text(drawing.Point{X: margin, Y: f.y}, l, style.WithLevel(drawing.Below))
		f.y += 1.25 * style.Size
	}
	f.y += 1
	f.at.Line(drawing.Point{X: margin, Y: f.y}, drawing.Point{X: paper.Width - margin, Y: f.y}, drawing.Outline.Wider(0.7))
	f.y += 3
	for i, b := range p.Blocks {
		f.block(b, p.Blocks[i+1:])
	}
	f.feet()
	return f.doc
}

func (id *Identity) line() string { return fmt.Sprintf("%s, drive %d", id.Name, id.Rank) }

func (f *flow) width() units.Millimetres  { return f.paper.Width - 2*margin }
func (f *flow) bottom() units.Millimetres { return f.paper.Height - margin - 8 }

// sheet begins a new one.
func (f *flow) sheet() {
	f.at = f.doc.Add(f.paper, f.source.Title)
	f.y = margin
}

// room makes sure that so much fits on the sheet.
func (f *flow) room(height units.Millimetres) {
	if f.y+height > f.bottom() && f.y > margin {
		f.sheet()
	}
}

// feet writes the foot of every sheet, now that their number is known.
func (f *flow) feet() {
	style := drawing.Words(8)
	for i, p := range f.doc.Pages {
		y := f.paper.Height - margin
		p.Line(drawing.Point{X: margin, Y: y - 6}, drawing.Point{X: f.paper.Width - margin, Y: y - 6}, drawing.Outline)
		number := fmt.Sprintf("%d of %d", i+1, len(f.doc.Pages))
		if len(f.doc.Pages) > 1 {
			p.Title = f.source.Title + ", sheet " + number
		}
		p.Text(drawing.Point{X: f.paper.Width - margin, Y: y}, number, style.WithAlign(drawing.End))
		room := f.width() - style.Width(number) - 5
		prints := ": " + f.source.Identity.Print
		s, name := style.Fit(f.source.Identity.line(), room-style.Width(prints), drawing.Points(6))
		p.Text(drawing.Point{X: margin, Y: y}, name+prints, s)
	}
}

// keep is the room that a heading wants under it: for a table or a few lines, and
// for all that leads up to a picture.
func (f *flow) keep(next []Block) units.Millimetres {
	lines := units.Millimetres(18)
	if f.source.Young { // a child's task is not torn apart
		lines = 52
	}
	var room units.Millimetres
	for _, b := range next {
		switch b := b.(type) {
		case Text:
			room += units.Millimetres(len(f.look.body.Wrap(b.Words, f.width())))*f.look.leading*f.look.body.Size + f.look.gap
			continue
		case Picture:
			return min(room+b.Size.Height, f.paper.Height/2)
		}
		return lines
	}
	return room
}

func (f *flow) block(b Block, next []Block) {
	switch b := b.(type) {
	case Heading:
		f.y += f.look.gap
		f.room(f.look.heading.LineHeight() + f.keep(next))
		f.words(string(b), f.look.heading, margin, f.width())
		f.y += 1
	case Text:
		style := f.look.body
		style.Bold = b.Bold
		f.words(b.Words, style, margin, f.width())
		f.y += f.look.gap
	case Steps:
		for i, step := range b.Items {
			f.step(&b, i, &step)
		}
		f.y += f.look.gap
	case Table:
		f.table(&b)
	case Boxes:
		f.boxes(&b)
	case Picture:
		f.room(b.Size.Height)
		group := f.at.Group(b.Title, b.Description)
		b.Draw(&group.Canvas, drawing.Rect{X0: margin, Y0: f.y, X1: margin + min(b.Size.Width, f.width()), Y1: f.y + b.Size.Height})
		f.y += b.Size.Height + f.look.gap
	}
}

// words writes a paragraph that may go on on the next sheet.
func (f *flow) words(words string, style drawing.Style, x, width units.Millimetres) {
	for _, line := range f.lines(words, style, width) {
		f.room(f.look.leading * style.Size)
		f.at.Text(drawing.Point{X: x, Y: f.y}, line, style.WithLevel(drawing.Below))
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

const (
	tickBox  units.Millimetres = 3.6
	adultTag                   = "ADULT"
)

// step is one step with its box, number, tag and check, kept together.
func (f *flow) step(s *Steps, i int, step *Step) {
	style := f.look.body
	x := margin
	if s.Ticks {
		x += tickBox + 2.4
	}
	number := "•"
	switch {
	case s.Numbered:
		number = fmt.Sprintf("%d", i+1)
	case s.Ticks:
		number = ""
	}
	bold := style.InBold()
	indent := x
	if number != "" {
		indent += max(bold.Width("00")+1.8, 5)
	}
	tagWidth := units.Millimetres(0)
	if step.Adult {
		tagWidth = bold.Width(adultTag) + 4
	}
	lines := hanging(step.Do, style, margin+f.width()-indent, tagWidth)
	var check []string
	if step.Check != "" {
		check = style.Wrap("Check: "+step.Check, margin+f.width()-indent-3)
	}
	lead := f.look.leading * style.Size
	f.room(lead * units.Millimetres(len(lines)+len(check)))
	if s.Ticks {
		f.at.Rectangle(drawing.Rect{X0: margin, Y0: f.y - 0.5, X1: margin + tickBox, Y1: f.y - 0.5 + tickBox}, drawing.Outline, drawing.NoFill)
	}
	f.at.Text(drawing.Point{X: x, Y: f.y}, number, bold.WithLevel(drawing.Below))
	for k, l := range lines {
		at := drawing.Point{X: indent, Y: f.y}
		if k == 0 && step.Adult {
			f.at.Text(at.Plus(1.2, 0), adultTag, bold.WithLevel(drawing.Below))
			f.at.Rectangle(drawing.Rect{X0: at.X, Y0: at.Y - 1, X1: at.X + bold.Width(adultTag) + 2.4, Y1: at.Y + bold.CapHeight() + 1}, drawing.Outline, drawing.NoFill)
			at.X += tagWidth
		}
		f.at.Text(at, l, style.WithLevel(drawing.Below))
		f.y += lead
	}
	for k, l := range check {
		f.at.Text(drawing.Point{X: indent + 3, Y: f.y}, l, style.WithLevel(drawing.Below))
		if k == 0 { // a mark at the side, so that checks are found at a glance
			f.at.Line(drawing.Point{X: indent + 1, Y: f.y - 0.3}, drawing.Point{X: indent + 1, Y: f.y + lead*units.Millimetres(len(check)) - 1.2}, drawing.Outline.Wider(0.9))
		}
		f.y += lead
	}
	f.y += 1
}

// hanging wraps words whose first line is shorter.
func hanging(words string, style drawing.Style, width, first units.Millimetres) []string {
	if first == 0 {
		return style.Wrap(words, width)
	}
	head := style.Wrap(words, width-first)
	if len(head) < 2 {
		return head
	}
	rest := strings.TrimSpace(strings.TrimPrefix(words, head[0]))
	return append(head[:1:1], style.Wrap(rest, width)...)
}

func (f *flow) boxes(b *Boxes) {
	f.room(b.Height)
	n := units.Millimetres(len(b.Labels))
	const between units.Millimetres = 3
	wide := (f.width() - between*(n-1)) / n
	style := f.look.body
	for i, l := range b.Labels {
		x := margin + units.Millimetres(i)*(wide+between)
		f.at.Rectangle(drawing.Rect{X0: x, Y0: f.y, X1: x + wide, Y1: f.y + b.Height}, drawing.Outline, drawing.NoFill)
		s, words := style.Fit(l, wide-4, drawing.Points(8))
		f.at.Text(drawing.Point{X: x + 2, Y: f.y + 2}, words, s.WithLevel(drawing.Below))
	}
	f.y += b.Height + f.look.gap
}
