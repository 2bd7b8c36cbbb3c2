// Package assemblydrawing draws how a drive is put together: a picture for each step,
// what is new in heavy lines and what is there already in light ones, and each axle in
// true size with all that is on it, to lay the rod on.
//
//	strip.go   axles in true size
//	upright.go longer ones, along the paper
//	labels.go  words in a row that do not cover one another
//	step.go    one picture a step, with its parts
//	explode.go what is threaded in it, apart
//	along.go   a view along the axles: one axle between the sides
//	side.go    the view in the plane of the pulleys
//	tackle.go  how a crane's cord runs
//	last.go    cord and wires
//	icons.go   the parts of a step in small
//	ground.go  what is drawn on remembered, so that letters keep off it
package assemblydrawing

import (
	"fmt"
	"math"
	"strconv"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

type mm = units.Millimetres

// The lines of what is new and of what is there already.
var (
	heavy = drawing.Outline.Wider(0.9)
	light = drawing.Pen{Width: drawing.Narrow}
	words = drawing.Words(12)
	bold  = drawing.Words(12).InBold()
)

// Strip is an axle in true size, with the room it takes on paper.
type Strip struct {
	b     *assembly.Build
	shaft int
	Name  string
	front string // of the two sides
	back  string
	from  mm  // along the axle, what is drawn
	rows  int // more than 1 for one too long for any paper
	row   mm  // length of axle in a row
	Size  drawing.Size
	// Upright is for an axle longer than the paper is wide: it lies along the paper, and
	// takes UprightWide across it. One longer even than that goes on in a row below, from a
	// joint that is marked on both.
	Upright bool
	// beside is for an axle so short that its name has room beside it, within for one
	// whose name has room in the row of words above it: it takes no line of its own.
	beside, within bool
}

const (
	stripRow  mm = 34 // height of a row with its labels
	stripName mm = 6  // of which for the name
	stripHalf mm = 7  // what is larger is cut off there
	stripEdge mm = 6  // at the right, for what stands out
	stripJoin mm = 6  // at the left of a row that goes on, for the mark
)

// StripOf makes an axle ready to be drawn in true size on paper so wide. sides are the
// names of the frame's two sides.
func StripOf(b *assembly.Build, shaft int, name string, sides [2]string, width mm) *Strip {
	sh := &b.Shafts[shaft]
	from, to := extent(b, sh)
	s := &Strip{b: b, shaft: shaft, Name: name, front: sides[0], back: sides[1], from: from, row: width - stripEdge}
	s.rows = 1
	s.Size = drawing.Size{Width: width, Height: stripRow}
	switch long := to - from; {
	case long <= s.row:
	case long <= mostUpright:
		s.Upright, s.Size = true, drawing.Size{Width: UprightWide, Height: long + uprightHead + 2}
	default:
		s.row -= stripJoin
		s.rows = int(math.Ceil(float64(long / s.row)))
		s.Size.Height *= mm(s.rows)
	}
	title := bold.Width(s.title(0))
	s.beside = to-from+10+title <= s.row
	if !s.beside && s.rows == 1 && !s.Upright {
		room := drawing.Rect{X1: width}
		above, _ := s.labels(0, func(x mm) mm { return 1 + x - from }, from, from+s.row)
		above.place(room)
		_, s.within = above.gap(room, title)
	}
	if s.beside || s.within {
		s.Size.Height -= stripName
	}
	return s
}

// Joined reports whether it is drawn in rows that go on in one another.
func (s *Strip) Joined() bool { return s.rows > 1 }

// extent is where a shaft with all that is on it begins and ends.
func extent(b *assembly.Build, sh *assembly.Shaft) (from, to mm) {
	from, to = min(sh.From, -b.Side), max(sh.To, b.Depth+b.Side)
	for _, k := range outer(sh) {
		from, to = min(from, b.Parts[k].From), max(to, b.Parts[k].To)
	}
	return from, to
}

func outer(sh *assembly.Shaft) []int { return append(append([]int(nil), sh.Front...), sh.Back...) }

// Describe says in words what can be seen, from the front.
func (s *Strip) Describe() string {
	sh := &s.b.Shafts[s.shaft]
	list := fmt.Sprintf("%s in true size, %s mm long", s.Name, number(sh.Length))
	if s.rows > 1 {
		list += fmt.Sprintf(", in %d parts", s.rows)
	}
	list += ". From its " + s.front + " end:"
	say := func(words string) { list += " " + words + "," }
	each := func(parts []int) {
		washers := 0
		for i, k := range parts {
			p := &s.b.Parts[k]
			if p.Kind == assembly.Washer {
				washers++
				if i+1 < len(parts) && s.b.Parts[parts[i+1]].Kind == assembly.Washer {
					continue
				}
				say(fmt.Sprintf("washers: %d", washers))
				washers = 0
				continue
			}
			say(s.partWords(k))
		}
	}
	reversed := append([]int(nil), sh.Front...)
	for i, j := 0, len(reversed)-1; i < j; i, j = i+1, j-1 {
		reversed[i], reversed[j] = reversed[j], reversed[i]
	}
	each(reversed)
	say("the " + s.front + " side")
	each(sh.Along)
	say("the " + s.back + " side")
	each(sh.Back)
	for _, i := range around(s.b, s.shaft) {
		say(fmt.Sprintf("band %d goes round it too", i+1))
	}
	return list[:len(list)-1] + "."
}

func (s *Strip) partWords(k int) string {
	p := &s.b.Parts[k]
	switch p.Kind {
	case assembly.Tube:
		return "a tube of " + number(p.Length) + " mm"
	case assembly.Pulley:
		words := "pulley " + p.Letter
		if i := bandOn(s.b, k); i >= 0 {
			words += fmt.Sprintf(" with band %d", i+1)
		}
		return words
	}
	return "a " + string(p.Kind)
}

// bandOn is the stage whose band runs on a pulley; -1 for none.
func bandOn(b *assembly.Build, part int) int {
	for i := range b.Bands {
		if b.Bands[i].Driver == part || b.Bands[i].Driven == part {
			return i
		}
	}
	return -1
}

// around are the stages whose bands go round a shaft that is not their own.
func around(b *assembly.Build, shaft int) []int {
	var out []int
	for i := range b.Bands {
		for _, in := range b.Bands[i].Inside {
			if in.Shaft == shaft {
				out = append(out, i)
			}
		}
	}
	return out
}

// passing is a band that goes round an axle, clear of it.
var passing = drawing.Pen{Width: drawing.Medium, Dash: []mm{1.2, 0.8}}

// Draw draws it, where it is too long for that in rows below one another.
func (s *Strip) Draw(c *drawing.Canvas, room drawing.Rect) {
	if s.Upright {
		s.drawUpright(c, room)
		return
	}
	for part := range s.rows {
		s.drawRow(c, drawing.Rect{X0: room.X0, Y0: room.Y0 + stripRow*mm(part), X1: room.X1, Y1: room.Y1}, part)
	}
}

// drawRow draws one of its rows, from 0.
func (s *Strip) drawRow(c *drawing.Canvas, room drawing.Rect, part int) {
	from := s.from + s.row*mm(part)
	left, right := room.X0, room.X0+s.Size.Width
	if part > 0 {
		left += stripJoin
	}
	at := func(x mm) mm { return left + 1 + x - from }
	g := c.Group("", "")
	g.Window = &drawing.Rect{X0: room.X0, Y0: room.Y0, X1: room.X1, Y1: room.Y0 + min(stripRow, s.Size.Height)}
	top := room.Y0
	switch {
	case s.within:
		top -= stripName
	case s.beside:
		top -= stripName
		c.Text(drawing.Point{X: right, Y: top + stripAxis}, s.title(part), bold.WithAlign(drawing.End).WithLevel(drawing.Centred))
	default:
		c.Text(drawing.Point{X: room.X0, Y: top + 1}, s.title(part), bold.WithLevel(drawing.Below))
	}
	if part > 0 {
		g.Window.X0 = at(from)
		join(c, drawing.Point{X: at(from), Y: top + stripAxis}, -1)
	}
	if part+1 < s.rows {
		g.Window.X1 = at(from + s.row)
		join(c, drawing.Point{X: at(from + s.row), Y: top + stripAxis}, 1)
	}
	s.parts(&g.Canvas, top, at)
	room.X1 = right
	above, below := s.labels(top, at, from, from+s.row)
	above.draw(c, room)
	below.draw(c, room)
	if s.within {
		left, _ := above.gap(room, bold.Width(s.title(part)))
		c.Text(drawing.Point{X: left, Y: top + stripAbove}, s.title(part), bold.WithLevel(drawing.Centred))
	}
}

// join marks where an axle goes on in another row: a line to cut or fold at, and on the
// far side of it an arrowhead that points on.
func join(c *drawing.Canvas, at drawing.Point, side mm) {
	c.Line(at.Plus(0, -stripHalf-1), at.Plus(0, stripHalf+1), drawing.Cut.Wider(drawing.Medium))
	tip := at.Plus(4.5, 0)
	if side < 0 {
		tip = at.Plus(-1.2, 0)
	}
	c.Draw(drawing.Polygon(tip, tip.Plus(-3.3, -2.2), tip.Plus(-3.3, 2.2)), drawing.NoPen, drawing.Black)
}

// title is the name of one of its rows.
func (s *Strip) title(part int) string {
	title := fmt.Sprintf("%s: %s mm long", s.Name, number(s.b.Shafts[s.shaft].Length))
	if s.rows > 1 {
		title += fmt.Sprintf(", part %d of %d", part+1, s.rows)
	}
	return title
}

// How far below its row's top the axle's middle is, and that of the labels above and below
// it.
const (
	stripAbove mm = 9
	stripAxis  mm = 21
	stripBelow mm = 30.5
)

// parts are drawn in their places along the axle.
func (s *Strip) parts(c *drawing.Canvas, top mm, at func(mm) mm) {
	sh := &s.b.Shafts[s.shaft]
	axis := top + stripAxis
	box := func(from, to, half mm) drawing.Rect {
		return drawing.Rect{X0: at(from), Y0: axis - half, X1: at(to), Y1: axis + half}
	}
	for _, side := range [][2]mm{{-s.b.Side, 0}, {s.b.Depth, s.b.Depth + s.b.Side}} {
		c.Rectangle(box(side[0], side[1], stripHalf), drawing.Outline, drawing.Hatched)
	}
	c.Rectangle(box(sh.From, sh.To, sh.Diameter/2), heavy, drawing.White)
	for _, i := range around(s.b, s.shaft) {
		x := at(s.b.Bands[i].Lane)
		c.Line(drawing.Point{X: x, Y: axis - stripHalf}, drawing.Point{X: x, Y: axis + stripHalf}, passing)
	}
	for _, k := range append(append([]int(nil), sh.Along...), outer(sh)...) {
		p := &s.b.Parts[k]
		switch p.Kind {
		case assembly.Pulley:
			groovedBox(c, box(p.From, p.To, min(p.Radius, stripHalf)), p.Radius > stripHalf, drawing.Outline)
			if bandOn(s.b, k) >= 0 {
				middle := at((p.From + p.To) / 2)
				c.Line(drawing.Point{X: middle, Y: axis - stripHalf - 1}, drawing.Point{X: middle, Y: axis + stripHalf + 1}, drawing.Outline.Wider(1.2))
			}
		case assembly.Tube:
			c.Rectangle(box(p.From, p.To, p.Radius), drawing.Outline, drawing.White)
		default:
			c.Rectangle(box(p.From, p.To, min(p.Radius, stripHalf)), drawing.Outline, drawing.White)
		}
	}
}

// groovedBox is a pulley from the side of its axle. What is cut off above and below
// has no edge there.
func groovedBox(c *drawing.Canvas, r drawing.Rect, cut bool, pen drawing.Pen) {
	if !cut {
		c.Rectangle(r, pen, drawing.White)
		return
	}
	c.Rectangle(r, drawing.NoPen, drawing.White)
	c.Line(drawing.Point{X: r.X0, Y: r.Y0}, drawing.Point{X: r.X0, Y: r.Y1}, pen)
	c.Line(drawing.Point{X: r.X1, Y: r.Y0}, drawing.Point{X: r.X1, Y: r.Y1}, pen)
}

// labels name pulleys and bands above, tubes, washers and sides below.
func (s *Strip) labels(top mm, at func(mm) mm, from, to mm) (above, below row) {
	sh := &s.b.Shafts[s.shaft]
	above, below = row{y: top + stripAbove, to: top + stripAxis - stripHalf - 1, style: bold}, row{y: top + stripBelow, to: top + stripAxis + 3, style: words}
	add := func(r *row, x, reach mm, words string) {
		if x >= from && x < to {
			r.add(at(x), reach, words)
		}
	}
	add(&below, -s.b.Side/2, stripHalf-3, s.front)
	add(&below, s.b.Depth+s.b.Side/2, stripHalf-3, s.back)
	for _, list := range [][]int{sh.Along, sh.Front, sh.Back} {
		for i := 0; i < len(list); i++ {
			p := &s.b.Parts[list[i]]
			middle := (p.From + p.To) / 2
			switch p.Kind {
			case assembly.Pulley:
				name := p.Letter
				if k := bandOn(s.b, list[i]); k >= 0 {
					name += fmt.Sprintf(", band %d", k+1)
				}
				add(&above, middle, 0, name)
			case assembly.Tube:
				add(&below, middle, p.Radius-3, number(p.Length))
			case assembly.Washer:
				n := 1
				for i+1 < len(list) && s.b.Parts[list[i+1]].Kind == assembly.Washer {
					i++
					n++
				}
				add(&below, (p.From+s.b.Parts[list[i]].To)/2, p.Radius-3, washers(n))
			default:
				add(&above, middle, 0, string(p.Kind))
			}
		}
	}
	for _, i := range around(s.b, s.shaft) {
		add(&above, s.b.Bands[i].Lane, 0, fmt.Sprintf("(band %d)", i+1))
	}
	return above, below
}

func washers(n int) string {
	if n == 1 {
		return "1 washer"
	}
	return fmt.Sprintf("%d washers", n)
}

// number is a length as it is written, to a tenth of a millimetre.
func number(x mm) string {
	return strconv.FormatFloat(math.Round(float64(x)*10)/10, 'f', -1, 64)
}
