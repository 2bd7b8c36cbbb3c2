package hoistdrawing

import (
	"fmt"
	"math"

	"findrive/internal/drawing"
	"findrive/internal/hoist"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// checkBar is the length of the bar that shows whether a page was printed at full
// size.
const checkBar mm = 100

// larger are the papers for blocks too large for the one asked for (ISO 216).
var larger = []drawing.Size{{Width: 297, Height: 420}, {Width: 420, Height: 594}}

func templateTitle(m *hoist.Making) string { return "Block " + m.Block.Name + ", full size" }

// Template is the page to cut a block's parts from, at full size, with a bar of
// 100 mm to check it by and the list of parts; needed is how many such blocks are
// to be made. A block too large for the paper gets
// a larger page.
func Template(m *hoist.Making, needed int, paper drawing.Size) *drawing.Page {
	var p *drawing.Page
	for _, size := range append([]drawing.Size{paper}, larger...) {
		for _, cheeks := range []int{2, 1} {
			var fits bool
			if p, fits = template(m, needed, size, cheeks); fits {
				return p
			}
		}
	}
	return p
}

// template draws the page with one or both of the cheeks.
func template(m *hoist.Making, needed int, paper drawing.Size, cheeks int) (page *drawing.Page, fits bool) {
	p := drawing.NewPage(paper, templateTitle(m))
	p.Description = fmt.Sprintf("Cutting template of a block with %s: cheeks of %s by %s mm, axle hole %s mm below the top, tie hole %s mm below the top.",
		hoist.Count(m.Block.Sheaves, "sheave"), size(m.Width), size(m.Height), size(m.AxleAt), size(m.TieAt))
	y := head(p, templateTitle(m), "Print at 100 %, no fit-to-page. Check the bar with a ruler before cutting.")
	y = bar(p, y+2)
	f := &flow{page: p, x: margin, y: y + 8, bottom: y + 8, fits: true}
	cheek := func(at drawing.Point) { drawCheek(p, m, at) }
	f.place(m.Width, m.Height, "cheek: cut 2", cheek)
	if cheeks == 2 {
		f.place(m.Width, m.Height, "the other cheek", cheek)
	}
	f.place(m.AxleLength, m.Height, "put together, from the edge", func(at drawing.Point) { drawEdge(p, m, at) })
	columns, rows := spacerGrid(m)
	f.place(mm(columns)*(m.SpacerOutside+3), mm(rows)*(m.SpacerOutside+3), hoist.Count(m.Spacers, "spacer"), func(at drawing.Point) { drawSpacers(p, m, at) })
	end := list(p, m, needed, f.bottom+4)
	return p, f.fits && end <= paper.Height-margin-footHigh
}

// bar draws the check bar, ends marked, and returns what is below it.
func bar(p *drawing.Page, y mm) mm {
	a, b := drawing.Point{X: margin, Y: y + 4}, drawing.Point{X: margin + checkBar, Y: y + 4}
	g := p.Group("check bar", "a bar of exactly 100 mm")
	g.Line(a, b, drawing.Outline)
	for _, end := range []drawing.Point{a, b} {
		g.Line(end.Plus(0, -3), end.Plus(0, 3), drawing.Outline)
	}
	for i := 1; i < 10; i++ {
		g.Line(a.Plus(mm(i)*10, -1.5), a.Plus(mm(i)*10, 1.5), drawing.Thin)
	}
	g.Text(b.Plus(3, 0), "100 mm", textStyle.WithLevel(drawing.Centred))
	return y + 8
}

// flow puts things beside one another and starts a new row when one is full.
type flow struct {
	page         *drawing.Page
	x, y, bottom mm
	fits         bool // nothing is wider than the page
}

const between mm = 14

// place draws a thing of a size with a label above it.
func (f *flow) place(width, height mm, label string, draw func(drawing.Point)) {
	need := max(width, smallStyle.Width(label))
	if f.x > margin && f.x+need > f.page.Size.Width-margin {
		f.x, f.y = margin, f.bottom+10
	}
	f.page.Text(drawing.Point{X: f.x, Y: f.y}, label, smallStyle)
	top := f.y + 3
	draw(drawing.Point{X: f.x, Y: top})
	f.bottom = max(f.bottom, top+height)
	f.fits = f.fits && f.x+need <= f.page.Size.Width-margin+1e-9
	f.x += need + between
}

// cheekPath is the outline of a cheek with its upper left corner at a point.
func cheekPath(m *hoist.Making, at drawing.Point) *drawing.Path {
	r := min(m.Corner, m.Width/2)
	w, h := m.Width, m.Height
	p := &drawing.Path{}
	p.MoveTo(at.Plus(r, 0))
	p.ArcAbout(at.Plus(w-r, r), r, math.Pi/2, -math.Pi/2)
	p.ArcAbout(at.Plus(w-r, h-r), r, 0, -math.Pi/2)
	p.ArcAbout(at.Plus(r, h-r), r, -math.Pi/2, -math.Pi/2)
	p.ArcAbout(at.Plus(r, r), r, math.Pi, -math.Pi/2)
	return p.Close()
}

func drawCheek(p *drawing.Page, m *hoist.Making, at drawing.Point) {
	g := p.Group("cheek", fmt.Sprintf("cheek of %s by %s mm", size(m.Width), size(m.Height)))
	c := at.X + m.Width/2
	g.Draw(cheekPath(m, at), drawing.Outline, drawing.NoFill)
	// The sheave behind it, so that one sees how it goes together.
	g.Circle(drawing.Point{X: c, Y: at.Y + m.AxleAt}, m.Block.Outside/2, drawing.Hidden, drawing.NoFill)
	g.Line(drawing.Point{X: c, Y: at.Y - 2}, drawing.Point{X: c, Y: at.Y + m.Height + 2}, drawing.Centre)
	opening := drawing.Rect{X0: c - m.OpeningWidth/2, Y0: at.Y + m.Above, X1: c + m.OpeningWidth/2, Y1: at.Y + m.Above + m.OpeningHeight}
	g.Rectangle(opening, drawing.Outline, drawing.White)
	g.Text(drawing.Point{X: c + 1.5, Y: at.Y + m.Above - 1.5}, size(m.Above)+" mm", smallStyle)
	for _, hole := range []struct{ y, d mm }{{m.AxleAt, m.AxleHole}, {m.TieAt, m.TieHole}} {
		centre := drawing.Point{X: c, Y: at.Y + hole.y}
		g.Line(centre.Plus(-hole.d/2-2.5, 0), centre.Plus(hole.d/2+2.5, 0), drawing.Thin)
		g.Circle(centre, hole.d/2, drawing.Outline, drawing.NoFill)
		g.Text(centre.Plus(hole.d/2+3, -1), "ø"+size(hole.d), smallStyle)
	}
	if m.Block.SheetKind.Fluted() {
		flutes(g, drawing.Point{X: at.X + 4.5, Y: at.Y + m.Height - 4})
	}
}

// flutes is a double arrow along the flutes: up and down, across the line of the
// axle.
func flutes(g *drawing.Group, at drawing.Point) {
	const long mm = 12
	top, bottom := at.Plus(0, -long), at
	g.Line(top, bottom, drawing.Thin)
	for _, end := range []struct {
		at  drawing.Point
		way units.Radians
	}{{top, math.Pi / 2}, {bottom, -math.Pi / 2}} {
		for _, side := range []units.Radians{0.5, -0.5} {
			g.Line(end.at, end.at.Towards(end.way+math.Pi+side, 2.2), drawing.Thin)
		}
	}
	g.Text(at.Plus(2.8, -long/2), "flutes", smallStyle.WithAlign(drawing.Middle).WithTurn(math.Pi/2))
}

// drawEdge is the block put together, seen from the edge of its cheeks: its upper
// left corner is where the axle would begin at the top.
func drawEdge(p *drawing.Page, m *hoist.Making, at drawing.Point) {
	b := m.Block
	g := p.Group("block from the edge", "cheeks outside, spacers and sheaves between them on one axle")
	left := at.X + (m.AxleLength-m.Inside-2*b.Sheet)/2
	axle := at.Y + m.AxleAt
	rect := func(x, y, w, h mm) drawing.Rect { return drawing.Rect{X0: x, Y0: y, X1: x + w, Y1: y + h} }
	rod := func(y, d mm) { g.Rectangle(rect(at.X, y-d/2, m.AxleLength, d), drawing.Outline, drawing.White) }
	rod(axle, b.Axle)
	rod(at.Y+m.TieAt, b.Axle)
	for _, x := range []mm{left, left + b.Sheet + m.Inside} {
		g.Rectangle(rect(x, at.Y, b.Sheet, m.Height), drawing.Outline, drawing.Hatched)
	}
	// Half of the play on each side.
	x := left + b.Sheet + (m.Inside-mm(b.Sheaves)*b.Width-mm(b.Sheaves+1)*b.Spacer)/2
	for i := range m.Spacers {
		g.Rectangle(rect(x, axle-m.SpacerOutside/2, b.Spacer, m.SpacerOutside), drawing.Thin, drawing.Black)
		x += b.Spacer
		if i == b.Sheaves {
			break
		}
		g.Rectangle(rect(x, axle-b.Outside/2, b.Width, b.Outside), drawing.Outline, drawing.White)
		g.Line(drawing.Point{X: x, Y: axle - b.GrooveFloor/2}, drawing.Point{X: x + b.Width, Y: axle - b.GrooveFloor/2}, drawing.Hidden)
		g.Line(drawing.Point{X: x, Y: axle + b.GrooveFloor/2}, drawing.Point{X: x + b.Width, Y: axle + b.GrooveFloor/2}, drawing.Hidden)
		x += b.Width
	}
	g.Line(drawing.Point{X: at.X - 2, Y: axle}, drawing.Point{X: at.X + m.AxleLength + 2, Y: axle}, drawing.Centre)
}

func spacerGrid(m *hoist.Making) (columns, rows int) {
	columns = min(m.Spacers, 3)
	return columns, (m.Spacers + columns - 1) / columns
}

func drawSpacers(p *drawing.Page, m *hoist.Making, at drawing.Point) {
	columns, _ := spacerGrid(m)
	step := m.SpacerOutside + 3
	for i := range m.Spacers {
		c := at.Plus(m.SpacerOutside/2+mm(i%columns)*step, m.SpacerOutside/2+mm(i/columns)*step)
		p.Circle(c, m.SpacerOutside/2, drawing.Outline, drawing.NoFill)
		p.Circle(c, m.SpacerHole/2, drawing.Outline, drawing.NoFill)
	}
}

// list writes the parts and the warnings, and returns what is below them.
func list(p *drawing.Page, m *hoist.Making, needed int, y mm) mm {
	b := m.Block
	material := "dowel"
	if b.AxleMaterial != parts.Wood {
		material = string(b.AxleMaterial) + " rod"
	}
	lines := []string{
		fmt.Sprintf("2 cheeks, %s x %s mm, from %s mm %s; holes %s and %s mm below the top", size(m.Width), size(m.Height), size(b.Sheet), b.SheetKind, size(m.AxleAt), size(m.TieAt)),
		fmt.Sprintf("%s, %s mm across, %s mm wide, bore %s mm", hoist.Count(b.Sheaves, "sheave"), size(b.Outside), size(b.Width), size(b.Bore)),
		fmt.Sprintf("%s, %s mm across, %s mm thick, hole %s mm: %s", hoist.Count(m.Spacers, "spacer"), size(m.SpacerOutside), size(b.Spacer), size(m.SpacerHole), m.SpacersGo()),
		fmt.Sprintf("1 axle and 1 tie bar, each %s mm of %s mm %s, with %s (beads, tape or bands) on their ends", size(m.AxleLength), size(b.Axle), material, hoist.Count(m.Stops, "stop")),
	}
	notes := []string{
		fmt.Sprintf("At least 10 mm of sheet stays above the opening; here it is %s mm, so a slip of the knife does no harm. Hang the block by a loop through both openings.", size(m.Above)),
	}
	if b.SheetKind.Fluted() {
		notes = append(notes, "Flutes run up and down, across the line of the axle.")
	}
	if m.SheavesTurn {
		notes = append(notes, fmt.Sprintf("The sheaves run loose on the axle (%s mm of room); the cheeks hold the axle.", size(m.LooseFit)))
	}
	notes = append(notes, m.Warnings...)
	notes = append(notes, "Cutting and drilling: an adult, or closely supervised, on a cutting mat or clamped to scrap wood.")
	at := drawing.Point{X: margin, Y: y}
	width := p.Size.Width - 2*margin
	title := "For one block"
	if needed > 1 {
		title = fmt.Sprintf("For one block, of which %d are needed", needed)
	}
	p.Tagged(drawing.Section).Text(at, title, headStyle.WithLevel(drawing.Below))
	at.Y += 7
	ticks := p.Tagged(drawing.List)
	for _, line := range lines {
		item := ticks.Tagged(drawing.ListItem)
		box := drawing.Rect{X0: at.X, Y0: at.Y, X1: at.X + 3, Y1: at.Y + 3}
		item.Rectangle(box, drawing.Thin, drawing.NoFill)
		at = item.Paragraph(at.Plus(5, 0), line, width-5, textStyle).Plus(-5, 0.8)
	}
	at.Y += 2
	for _, note := range notes {
		at = p.Tagged(drawing.Sentence).Paragraph(at, note, width, textStyle).Plus(0, 0.8)
	}
	return at.Y
}
