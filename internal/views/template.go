package views

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Templates are pages in true size to drill through, for the front side and for
// the back, each to be stuck on the outside of its side and therefore seen from
// there: the back is the mirror image. They show the datum corner and the holes and
// not the rest of the frame. What does not go on one page is cut into tiles with
// register marks on their seams; tiles with nothing on them are left out as far as
// the others still hang together. foot is put at the foot of each page, for the name
// of the design.
func (d *Drive) Templates(paper drawing.Size, foot string) []*drawing.Page {
	var out []*drawing.Page
	for _, back := range []bool{false, true} {
		s := d.scene
		s.shafts = d.everyShaft()
		t := template{scene: &s, back: back, foot: foot}
		out = append(out, t.pages(paper)...)
	}
	return out
}

// The parts of a template page. 10 mm from the paper's edge are left free, which
// most printers can reach (common practice).
const (
	pageEdge    mm = 10
	barRoom     mm = 10 // for each check bar
	checkLength mm = 100
	mapWide     mm = 46 // for the map of the tiles
	mapHigh     mm = 24
	overlap     mm = 15 // of neighbouring tiles, at least
	aside       mm = 4  // paper outside the datum and beyond the last hole
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

// region is the part of the front side that a template shows through such windows: from
// the side's own corner to the holes and the motor.
func (t *template) region(w drawing.Rect) drawing.Rect {
	far := place{}
	for i, sh := range t.shafts {
		rx, ry := sh.hole/2+beyond, sh.hole/2+beyond
		if i == 0 {
			rx, ry = t.body.width/2, t.body.height/2
		}
		far.x, far.y = max(far.x, sh.at.x+rx), max(far.y, sh.at.y+ry)
	}
	over := &t.frame.over
	// A little more shows where the frame ends, and spares words about it, where that
	// takes no more paper.
	for _, end := range []struct {
		far                        *mm
		before, length, over, room mm
	}{{&far.x, over.left, t.frame.length, over.right, w.Width()}, {&far.y, over.below, t.frame.height, over.above, w.Height()}} {
		whole := max(*end.far, end.length+end.over)
		if *end.far > end.length-2*beyond && windows(end.before+whole, end.room) == windows(end.before+*end.far, end.room) {
			*end.far = whole
		}
	}
	return drawing.Rect{X0: -over.left, Y0: -over.below, X1: far.x, Y1: far.y}
}

// beyond is how much is shown past a hole.
const beyond mm = 8

// instructions are what stands at the head, without what belongs to tiles.
func (t *template) instructions() []string {
	edges := "the lower and left edges of the side"
	if t.back {
		edges = "the lower and right edges of the side"
	}
	words := fmt.Sprintf("For the outside of the %s side; this is how it looks from there. Cut along the two thick datum lines. Lay them on %s, ", t.sideName(), edges)
	switch over := &t.frame.over; {
	case !t.frame.inset():
		words += fmt.Sprintf("which measures %s × %s mm. Does yours reach further? Then draw this size on the outside first.", number(t.frame.length), number(t.frame.height))
	case t.frame.strip > 0 && over.left == over.below:
		words += fmt.Sprintf("the outer ones of its strips: the datum, the inside corner, is then %s mm from both.", number(over.left))
	default:
		words += fmt.Sprintf("which measures %s × %s mm: the datum is then %s mm from the %s edge and %s mm from the lower one.",
			number(t.frame.length+over.left+over.right), number(t.frame.height+over.below+over.above), number(over.left), strings.TrimPrefix(t.corner(), "lower "), number(over.below))
	}
	sizes := "All sizes in mm; x and y from the datum."
	if number(t.forgives) != "0" {
		sizes += fmt.Sprintf(" Tolerance: a hole may be up to %s mm off.", number(t.forgives))
	}
	sizes += " Dashed: what is inside, the motor and joining strips."
	if t.frame.drilled {
		sizes += " Drilling is a job for an adult, the work clamped."
		if t.back {
			words = strings.Replace(words, " side;", " side, if it is drilled by itself;", 1)
		} else {
			sizes = strings.TrimSuffix(sizes, ".") + ", both sides together."
		}
	}
	return []string{words, sizes}
}

func (g *grid) instruction(name string) string {
	return fmt.Sprintf("Sheet %s of %d. Where it says “cut”, cut; lay that edge on the other sheet's line so that marks with the same number are whole again, and tape it.", name, g.count)
}

var (
	instructionStyle = drawing.Words(9)
	printWell        = "Print at 100 %, not “fit to page”. Measure both check bars before drilling: each must be 100 mm."
)

// window is the part of a page that shows the side.
func (t *template) window(page drawing.Size) drawing.Rect {
	wide := page.Width - 2*pageEdge - mapWide
	most := 0
	for _, back := range []bool{false, true} { // so that both take the same sheets
		side := *t
		side.back = back
		lines := len(instructionStyle.InBold().Wrap(printWell, wide))
		for _, words := range append(side.instructions(), (&grid{count: 88}).instruction("88")) {
			lines += len(instructionStyle.Wrap(words, wide))
		}
		most = max(most, lines)
	}
	head := max(mapHigh, 6.5+mm(most)*instructionStyle.LineHeight()+2)
	return drawing.Rect{X0: pageEdge + barRoom, Y0: pageEdge + head, X1: page.Width - pageEdge, Y1: page.Height - pageEdge - barRoom}
}

// pages takes the paper upright or on its side, whichever takes fewer sheets.
func (t *template) pages(paper drawing.Size) []*drawing.Page {
	upright := drawing.Size{Width: min(paper.Width, paper.Height), Height: max(paper.Width, paper.Height)}
	var best *grid
	for _, p := range []drawing.Size{upright.Landscape(), upright} {
		if g := t.grid(p); best == nil || g.count < best.count {
			best = g
		}
	}
	var out []*drawing.Page
	for r := range best.y.count {
		for c := range best.x.count {
			if best.kept[r][c] {
				out = append(out, t.page(best, c, r))
			}
		}
	}
	return out
}

func (t *template) page(g *grid, column, row int) *drawing.Page {
	side, name := t.sideName(), g.name(column, row)
	title := fmt.Sprintf("Drilling template, %s side", side)
	if g.count > 1 {
		title += fmt.Sprintf(", sheet %s of %d", name, g.count)
	}
	p := drawing.NewPage(g.size, title)
	p.Description = t.describe()
	t.heading(p, g, column, row, title)
	checkBars(p, g.window)
	v := &tile{template: t, paper: g.view(column, row), grid: g, column: column, row: row}
	group := p.Group("The "+side+" side in true size", p.Description)
	group.Window = &g.window
	v.sheet = newSheet(&group.Canvas, g.window)
	v.outline()
	v.motor()
	v.holes()
	v.sheet.area = g.window.Inset(1)
	v.axes()
	v.seams()
	v.names()
	return p
}

// describe is the template in words.
func (t *template) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "The holes of the %s side in true size, seen from outside. From the datum corner, %s:", t.sideName(), t.corner())
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

func (t *template) heading(p *drawing.Page, g *grid, column, row int, title string) {
	at, width := drawing.Point{X: pageEdge, Y: pageEdge}, p.Size.Width-2*pageEdge-mapWide
	name := drawing.Words(13).InBold().WithLevel(drawing.Below)
	style, words := name.Fit(title, width, drawing.Points(9))
	p.Tagged(drawing.Title).Text(at, words, style)
	at = p.Tagged(drawing.Sentence).Paragraph(at.Plus(0, 6.5), printWell, width-2, instructionStyle.InBold())
	for _, words := range t.instructions() {
		at = p.Tagged(drawing.Sentence).Paragraph(at, words, width-2, instructionStyle)
	}
	if g.count > 1 {
		p.Tagged(drawing.Sentence).Paragraph(at, g.instruction(g.name(column, row)), width-2, instructionStyle)
	}
	t.tileMap(p, g, column, row)
	if t.foot != "" {
		// Beside the check bar there is room for all of it in two lines, on an upright page too.
		style, lines := drawing.Words(8).FitLines(t.foot, width+mapWide-checkLength-barRoom-4, 2, leastType)
		for i, words := range lines {
			up := style.LineHeight() * mm(len(lines)-1-i)
			p.Tagged(drawing.Furniture).Text(drawing.Point{X: p.Size.Width - pageEdge, Y: p.Size.Height - pageEdge - 0.5 - up}, words, style.WithAlign(drawing.End))
		}
	}
}

// tileMap shows at the head where on the side the sheets lie, this one black, with
// the holes.
func (t *template) tileMap(p *drawing.Page, g *grid, column, row int) {
	f := &t.frame
	left, right, below, above := f.over.left, f.over.right, f.over.below, f.over.above
	if t.back {
		left, right = right, left
	}
	room := drawing.Rect{X0: p.Size.Width - pageEdge - mapWide + 4, Y0: pageEdge, X1: p.Size.Width - pageEdge, Y1: pageEdge + mapHigh - 6}
	m := p.Group("Map of the sheets", fmt.Sprintf("Where this sheet lies on the %s side.", t.sideName()))
	long, high := f.length+left+right, f.height+below+above
	k := min(room.Width()/long, room.Height()/high)
	origin := drawing.Point{X: room.X1 - k*(f.length+right), Y: room.Y0 + k*(f.height+above)}
	at := func(x, y mm) drawing.Point { return origin.Plus(k*x, -k*y) }
	side := drawing.Rect{X0: at(-left, 0).X, Y0: at(0, f.height+above).Y, X1: at(f.length+right, 0).X, Y1: at(0, -below).Y}
	m.Rectangle(side, drawing.Outline, drawing.NoFill)
	for r := range g.y.count {
		for c := range g.x.count {
			if !g.kept[r][c] {
				continue
			}
			cell := g.cell(c, r)
			low, up := at(cell.X0, cell.Y0), at(cell.X1, cell.Y1)
			fill := drawing.White
			if c == column && r == row {
				fill = drawing.Black
			}
			m.Rectangle(drawing.Rect{X0: max(side.X0, low.X), Y0: max(side.Y0, up.Y), X1: min(side.X1, up.X), Y1: min(side.Y1, low.Y)}, drawing.Thin, fill)
		}
	}
	for _, sh := range t.shafts[1:] {
		m.Circle(at(t.x(sh.at.x), sh.at.y), 0.9, drawing.Thin, drawing.White)
	}
	p.Text(drawing.Point{X: p.Size.Width - pageEdge, Y: side.Y1 + 1.2}, "black: this sheet", drawing.Words(8).WithAlign(drawing.End).WithLevel(drawing.Below))
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
