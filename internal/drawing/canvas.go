package drawing

import "findrive/internal/units"

// Canvas is something to draw on: a page, or a group on one. What is drawn later
// lies on top.
type Canvas struct{ items []item }

// item is one thing on a canvas: exactly one of the three is set.
type item struct {
	stroke *stroke
	text   *Text
	group  *Group
}

type stroke struct {
	path *Path
	pen  Pen
	fill Fill
}

// Group is a part of a picture with a name of its own.
type Group struct {
	Title       string
	Description string // read out in place of the picture
	Role        Role   // of a part that Tagged made; it has neither title nor shift
	Shift       Point  // moves everything in the group
	Window      *Rect  // what of it is seen, before the shift; nil for all
	Canvas
}

// Text is words in one line.
type Text struct {
	At    Point
	Words string
	Style Style
}

// Draw adds a path.
func (c *Canvas) Draw(p *Path, pen Pen, fill Fill) {
	c.items = append(c.items, item{stroke: &stroke{p, pen, fill}})
}

// Line adds a straight line.
func (c *Canvas) Line(a, b Point, pen Pen) { c.Draw(Line(a, b), pen, NoFill) }

// Polyline adds straight lines through all points.
func (c *Canvas) Polyline(pen Pen, points ...Point) { c.Draw(Polyline(points...), pen, NoFill) }

// Rectangle adds a rectangle.
func (c *Canvas) Rectangle(r Rect, pen Pen, fill Fill) { c.Draw(Rectangle(r), pen, fill) }

// Circle adds a circle.
func (c *Canvas) Circle(centre Point, radius units.Millimetres, pen Pen, fill Fill) {
	c.Draw(Circle(centre, radius), pen, fill)
}

// Text adds words in one line. Characters that the font lacks are drawn as
// boxes; see Missing.
func (c *Canvas) Text(at Point, words string, style Style) {
	c.items = append(c.items, item{text: &Text{at, words, style}})
}

// Paragraph adds words below a point, wrapped to a width, a line every 1.3 sizes
// (1.2 to 1.5 is usual in typography, common practice), and returns where the
// next paragraph may begin. The point is the upper left corner, the upper middle
// or the upper right one, as the style is aligned.
func (c *Canvas) Paragraph(at Point, words string, width units.Millimetres, style Style) Point {
	style.Level = Below
	for _, line := range style.Wrap(words, width) {
		c.Text(at, line, style)
		at.Y += style.LineHeight()
	}
	return at
}

// Group adds a named part and returns it to be drawn on. The title and the
// description stand in for it where it cannot be seen.
func (c *Canvas) Group(title, description string) *Group {
	g := &Group{Title: title, Description: description}
	c.items = append(c.items, item{group: g})
	return g
}

// Painter puts a page on some medium. All measures are page millimetres.
type Painter interface {
	// Begin and End enclose a named part.
	Begin(title, description string)
	End()
	// Clip hides all outside a rectangle until Unclip.
	Clip(Rect)
	Unclip()
	// Fill fills a path, black or white, even-odd.
	Fill(p *Path, white bool)
	Stroke(p *Path, pen Pen)
	// Text draws words of which the font has all characters.
	Text(Text)
}

// Paint draws everything in order, in the painter's plain terms: hatching has
// become lines, groups are in place.
func (c *Canvas) Paint(to Painter) { c.paint(to, Point{}) }

func (c *Canvas) paint(to Painter, by Point) {
	for _, it := range c.items {
		switch {
		case it.stroke != nil:
			it.stroke.paint(to, by)
		case it.text != nil:
			t := *it.text
			t.At, t.Words = t.At.Plus(by.X, by.Y), t.Style.printable(t.Words)
			to.Text(t)
		case it.group.Role != "":
			it.group.paintTagged(to, by)
		default:
			g := it.group
			to.Begin(g.Title, g.Description)
			shift := by.Plus(g.Shift.X, g.Shift.Y)
			if g.Window != nil {
				to.Clip(g.Window.Shifted(shift.X, shift.Y))
			}
			g.paint(to, shift)
			if g.Window != nil {
				to.Unclip()
			}
			to.End()
		}
	}
}

func (s *stroke) paint(to Painter, by Point) {
	p := s.path.shifted(by)
	switch s.fill.Kind {
	case Paper:
		to.Fill(p, true)
	case Solid:
		to.Fill(p, false)
	case Hatch:
		to.Fill(p, true)
		if lines := hatching(s.path, s.fill); len(lines.Steps) > 0 {
			to.Stroke(lines.shifted(by), s.fill.Pen)
		}
	}
	if s.pen.Width > 0 {
		to.Stroke(p, s.pen)
	}
}
