package views

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Templates are pages in true size to drill through, for the front side and for
// the back, each to be stuck on the outside of its side and therefore seen from
// there: the back is the mirror image. What does not go on one page is cut into
// tiles with register marks where they overlap. foot is put at the foot of each
// page, for the name of the design.
func (d *Drive) Templates(paper drawing.Size, foot string) []*drawing.Page {
	var out []*drawing.Page
	for _, back := range []bool{false, true} {
		t := template{scene: &d.scene, back: back, foot: foot}
		out = append(out, t.pages(paper)...)
	}
	return out
}

// The parts of a template page. 10 mm from the paper's edge are left free, which
// most printers can reach (common practice).
const (
	pageEdge    mm = 10
	headRoom    mm = 31 // words at the head
	barRoom     mm = 10 // for each check bar
	checkLength mm = 100
	overlap     mm = 15 // of neighbouring tiles
	outlineRoom mm = 3  // outside the frame's outline
)

type template struct {
	*scene
	back bool
	foot string
}

// x is the place along the frame as seen from the template's side.
func (t *template) x(along mm) mm {
	if t.back {
		return t.frame.length - along
	}
	return along
}

func (t *template) sideName() string {
	names := [2]string{"front", "back"}
	if t.upright {
		names = [2]string{"upper", "lower"}
	}
	if t.back {
		return names[1]
	}
	return names[0]
}

func (t *template) corner() string {
	if t.back {
		return "lower right"
	}
	return "lower left"
}

// window is the part of a page that shows the frame.
func window(paper drawing.Size) drawing.Rect {
	return drawing.Rect{X0: pageEdge + barRoom, Y0: pageEdge + headRoom, X1: paper.Width - pageEdge, Y1: paper.Height - pageEdge - barRoom}
}

// tiles is how many windows are needed for a length.
func tiles(length, window mm) int {
	length += 2 * outlineRoom
	if length <= window {
		return 1
	}
	return 1 + int(math.Ceil(float64((length-window)/(window-overlap))-1e-9))
}

func (t *template) pages(paper drawing.Size) []*drawing.Page {
	upright := drawing.Size{Width: min(paper.Width, paper.Height), Height: max(paper.Width, paper.Height)}
	best, columns, rows := upright, 0, 0
	for _, p := range []drawing.Size{upright.Landscape(), upright} {
		w := window(p)
		c, r := tiles(t.frame.length, w.Width()), tiles(t.frame.height, w.Height())
		if columns == 0 || c*r < columns*rows {
			best, columns, rows = p, c, r
		}
	}
	var out []*drawing.Page
	for r := range rows {
		for c := range columns {
			out = append(out, t.page(best, c, r, columns, rows))
		}
	}
	return out
}

// view puts a tile's part of the frame in its window: one on the page is put in
// the middle, several follow each other from the upper left.
func (t *template) view(w drawing.Rect, column, row, columns, rows int) paper {
	x, y := w.X0+outlineRoom-mm(column)*(w.Width()-overlap), w.Y0+outlineRoom-mm(row)*(w.Height()-overlap)
	if columns == 1 {
		x = middle(w.X0, w.X1, t.frame.length)
	}
	if rows == 1 {
		y = middle(w.Y0, w.Y1, t.frame.height)
	}
	return paper{scale{1, 1}, drawing.Point{X: x, Y: y + t.frame.height}}
}

func (t *template) page(size drawing.Size, column, row, columns, rows int) *drawing.Page {
	side := t.sideName()
	title := fmt.Sprintf("Drilling template, %s side", side)
	if columns*rows > 1 {
		title += fmt.Sprintf(", sheet %s", tileName(column, row, columns))
	}
	p := drawing.NewPage(size, title)
	p.Description = t.describe()
	w := window(size)
	t.head(p, title, column, row, columns, rows)
	checkBars(p, w)
	v := &tile{template: t, paper: t.view(w, column, row, columns, rows), window: w}
	g := p.Group("The "+side+" side in true size", p.Description)
	g.Window = &w
	v.sheet = newSheet(&g.Canvas, w)
	v.outline()
	v.motor()
	v.holes()
	v.sheet.area = w.Inset(1)
	if columns*rows > 1 {
		v.registers(columns, rows)
	}
	v.names()
	return p
}

// tileName numbers tiles along the rows.
func tileName(column, row, columns int) string { return fmt.Sprint(row*columns + column + 1) }

// describe is the template in words.
func (t *template) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "Outline of the inside of the frame, %s by %s mm, seen from outside. From the datum corner, %s:",
		number(t.frame.length), number(t.frame.height), t.corner())
	for i, sh := range t.shafts {
		if i > 0 {
			b.WriteString(";")
		}
		fmt.Fprintf(&b, " %s %s mm across, %s mm up", sh.name, number(sh.at.x), number(sh.at.y))
		if sh.hole > 0 {
			fmt.Fprintf(&b, ", drill %s mm", number(sh.hole))
		}
	}
	b.WriteString(".")
	return b.String()
}

func (t *template) head(p *drawing.Page, title string, column, row, columns, rows int) {
	at, width := drawing.Point{X: pageEdge, Y: pageEdge}, p.Size.Width-2*pageEdge
	name := drawing.Words(13).InBold().WithLevel(drawing.Below)
	style, words := name.Fit(title, width, drawing.Points(9))
	p.Text(at, words, style)
	text := drawing.Words(10)
	at = p.Paragraph(at.Plus(0, 6.5), "Print at 100 %, not “fit to page”. Measure both check bars before drilling: each must be 100 mm.", width, text.InBold())
	at = p.Paragraph(at.Plus(0, 0.3), fmt.Sprintf("Stick on the outside of the %s side; this is how it looks from there. The outline is the inside of the frame: lay its datum corner on the %s one. "+
		"Drilling is a job for an adult, the wood clamped.", t.sideName(), t.corner()), width, text)
	if columns*rows > 1 {
		p.Paragraph(at.Plus(0, 0.3), fmt.Sprintf("Sheet %s of %d. Lay the sheets over one another so that register marks with the same number meet, and tape them.",
			tileName(column, row, columns), columns*rows), width, text)
	}
	if t.foot != "" {
		style, words := drawing.Words(8).Fit(t.foot, width-checkLength-barRoom-4, drawing.Points(5))
		p.Text(drawing.Point{X: p.Size.Width - pageEdge, Y: p.Size.Height - pageEdge - 0.5}, words, style.WithAlign(drawing.End))
	}
}

// checkBars draws 100 mm along the foot and along the left edge of the page.
func checkBars(p *drawing.Page, w drawing.Rect) {
	left, foot := w.X0, p.Size.Height-pageEdge-4
	style := figures.WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	words := "check: 100 mm"
	half := style.Width(words)/2 + 1.5
	bar := func(at func(along, across mm) drawing.Point, turn units.Radians) {
		p.Line(at(0, 0), at(checkLength/2-half, 0), drawing.Thin)
		p.Line(at(checkLength/2+half, 0), at(checkLength, 0), drawing.Thin)
		for _, end := range []mm{0, checkLength} {
			p.Line(at(end, -3), at(end, 3), drawing.Thin)
		}
		for ten := mm(10); ten < checkLength; ten += 10 {
			if ten < checkLength/2-half || ten > checkLength/2+half {
				p.Line(at(ten, 0), at(ten, 1.5), drawing.Thin)
			}
		}
		p.Text(at(checkLength/2, 0), words, style.WithTurn(turn))
	}
	bar(func(along, across mm) drawing.Point { return drawing.Point{X: left + along, Y: foot - across} }, 0)
	x := pageEdge + 4
	bar(func(along, across mm) drawing.Point { return drawing.Point{X: x + across, Y: w.Y1 - along} }, math.Pi/2)
}

// tile is one page's part of a template.
type tile struct {
	*template
	paper
	*sheet
	window drawing.Rect
}

func (v *tile) shaftAt(i int) drawing.Point {
	sh := &v.shafts[i]
	return v.at(place{v.x(sh.at.x), sh.at.y})
}

func (v *tile) outline() {
	f := v.frame
	a, b := v.at(place{0, f.height}), v.at(place{f.length, 0})
	v.draw(drawing.Rectangle(drawing.Rect{X0: a.X, Y0: a.Y, X1: b.X, Y1: b.Y}), drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
	for _, y := range f.rails {
		for _, edge := range []mm{y - f.strip/2, y + f.strip/2} {
			if edge > 0 && edge < f.height {
				v.draw(drawing.Line(v.at(place{0, edge}), v.at(place{f.length, edge})), drawing.Thin, drawing.NoFill)
			}
		}
	}
	// The datum corner: a black quarter just outside it.
	c := v.at(place{v.x(0), 0})
	out := mm(-1)
	if v.back {
		out = 1
	}
	v.draw(drawing.Polygon(c, c.Plus(out*outlineRoom*0.8, 0), c.Plus(0, outlineRoom*0.8)), drawing.Thin, drawing.Black)
}

// motor shows where the motor is held.
func (v *tile) motor() {
	at, w, h := v.shaftAt(0), v.body.width/2, v.body.height/2
	v.draw(drawing.Rectangle(drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}), drawing.Hidden, drawing.NoFill)
	v.cross(at, 5)
}

func (v *tile) cross(at drawing.Point, reach mm) {
	v.draw(drawing.Line(at.Plus(-reach, 0), at.Plus(reach, 0)), drawing.Thin, drawing.NoFill)
	v.draw(drawing.Line(at.Plus(0, -reach), at.Plus(0, reach)), drawing.Thin, drawing.NoFill)
}

// holes shows each axle's hole, or the axle itself where nothing is drilled.
func (v *tile) holes() {
	for i, sh := range v.shafts[1:] {
		at, r := v.shaftAt(i+1), sh.hole/2
		if r == 0 {
			r = sh.radius
		}
		v.draw(drawing.Circle(at, r), drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
		v.cross(at, r+5)
	}
}

// registers marks places that neighbouring tiles share, in the middle of their
// overlap, with the same number on both.
func (v *tile) registers(columns, rows int) {
	w := v.window
	number := 0
	mark := func(at place) {
		number++
		c := v.at(at)
		if !w.Inset(4).Holds(drawing.Rect{X0: c.X, Y0: c.Y, X1: c.X, Y1: c.Y}) {
			return
		}
		v.draw(drawing.Circle(c, 2.2), drawing.Thin, drawing.NoFill)
		v.cross(c, 4)
		v.take(c, 8, 8)
		words := strconv.Itoa(number)
		width, height := v.room(words, letters)
		var spots []spot
		for _, dx := range []mm{1, -1} {
			for _, dy := range []mm{-1, 1} {
				spots = append(spots, spot{c.Plus(dx*(4.8+width/2), dy*(1+height/2)), 0})
			}
		}
		if at, ok := v.settle(width, height, spots); ok {
			v.write(at, words, letters)
		}
	}
	stepX, stepY := w.Width()-overlap, w.Height()-overlap
	if columns == 1 {
		stepX = 0
	}
	if rows == 1 {
		stepY = 0
	}
	f := v.frame
	// The seam's middle, from the upper left of the outline.
	seam := func(k int, step mm) mm { return mm(k)*step + overlap/2 - outlineRoom }
	for k := 1; k < columns; k++ {
		for row := range rows {
			top := f.height - mm(row)*stepY
			foot := max(0, top-w.Height()+2*outlineRoom)
			for _, share := range []mm{0.25, 0.75} {
				mark(place{seam(k, stepX), foot + (top-foot)*share})
			}
		}
	}
	for k := 1; k < rows; k++ {
		for column := range columns {
			left := mm(column) * stepX
			right := min(f.length, left+w.Width()-2*outlineRoom)
			for _, share := range []mm{0.3, 0.7} {
				mark(place{left + (right-left)*share, f.height - seam(k, stepY)})
			}
		}
	}
}

// take keeps labels out of a rectangle about a point.
func (s *sheet) take(c drawing.Point, w, h mm) {
	s.taken = append(s.taken, drawing.Rect{X0: c.X - w/2, Y0: c.Y - h/2, X1: c.X + w/2, Y1: c.Y + h/2})
}

// names writes what each mark is, near it. Holes whose centre is on the sheet
// keep their cross-hairs clear of words.
func (v *tile) names() {
	type label struct {
		at    drawing.Point
		reach mm // from the centre to where a leader ends
		lines []string
	}
	var labels []label
	f := v.frame
	for i, sh := range v.shafts {
		at := v.shaftAt(i)
		if !v.window.Holds(drawing.Rect{X0: at.X, Y0: at.Y, X1: at.X, Y1: at.Y}) {
			continue
		}
		r := sh.hole / 2
		l := label{at: at, lines: []string{sh.name + " (" + v.lettersOn(&sh) + ")"}}
		switch {
		case i == 0:
			l.lines = []string{"motor shaft: no hole", fmt.Sprintf("body %s × %s", number(v.body.width), number(v.body.height))}
		case r > 0:
			l.lines = append(l.lines, "drill Ø"+number(sh.hole))
		default:
			r = sh.radius
			l.lines = append(l.lines, "no hole: clip for Ø"+number(2*sh.radius))
		}
		l.reach = r
		labels = append(labels, l)
		v.take(at, 2*r+8, 2*r+8)
	}
	datum := v.at(place{v.x(0), 0})
	if v.window.Holds(drawing.Rect{X0: datum.X, Y0: datum.Y, X1: datum.X, Y1: datum.Y}) {
		to := mm(1)
		if v.back {
			to = -1
		}
		words := "datum corner"
		w, h := v.room(words, figures)
		if at, ok := v.settle(w, h, []spot{{datum.Plus(to*(w/2+2), -h/2-1.5), 0}, {datum.Plus(to*(w/2+2), h/2+1), 1}, {datum.Plus(to*(w/2+2), -h-6), 2}}); ok {
			v.write(at, words, figures)
		}
	}
	for _, l := range labels {
		v.label(l.at, l.reach, l.lines)
	}
	words := fmt.Sprintf("inside of the frame: %s × %s", number(f.length), number(f.height))
	style, words := figures.Fit(words, f.length-4, drawing.Points(7))
	w, h := v.room(words, style)
	c := v.at(place{f.length / 2, f.height})
	if at, ok := v.settleHere(w, h, []spot{{c.Plus(0, h/2+1), 0}, {c.Plus(f.length/4, h/2+1), 1}, {c.Plus(-f.length/4, h/2+1), 1}}); ok {
		v.write(at, words, style)
	}
}

// lettersOn lists the pulleys on a shaft, from the front.
func (s *scene) lettersOn(sh *shaft) string {
	var out []string
	for _, k := range sh.pulleys {
		out = append(out, s.pulleys[k].letter)
	}
	return strings.Join(out, ", ")
}

// label writes lines near a point with a leader to its circle.
func (v *tile) label(at drawing.Point, reach mm, lines []string) {
	w, h := mm(0), mm(0)
	line := figures.CapHeight() + 1.6
	for _, words := range lines {
		width, _ := v.room(words, figures)
		w = max(w, width)
	}
	h = line*mm(len(lines)-1) + figures.CapHeight() + 2*figures.Descent()
	var spots []spot
	for _, s := range around(at, []mm{reach + 6, reach + 9, reach + 13, reach + 18}, math.Pi/4) {
		d := at.Direction(s.at)
		s.at.X += mm(math.Cos(float64(d))) * w / 2
		s.at.Y -= mm(math.Sin(float64(d))) * h / 2
		// A leader along a cross-hair would hide it.
		if math.Min(math.Abs(math.Sin(float64(d))), math.Abs(math.Cos(float64(d)))) < 0.4 {
			s.dislike += 12
		}
		s.dislike += float64(v.blocked(at.Towards(at.Direction(s.at), reach+5), s.at))
		spots = append(spots, s)
	}
	c, ok := v.settle(w, h, spots)
	if !ok {
		return
	}
	v.leader(c, w, h, at.Towards(at.Direction(c), max(reach, 0.8)))
	for i, words := range lines {
		y := c.Y + (mm(i)-mm(len(lines)-1)/2)*line
		v.write(drawing.Point{X: c.X, Y: y}, words, figures)
	}
}
