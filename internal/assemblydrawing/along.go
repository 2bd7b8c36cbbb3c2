package assemblydrawing

import (
	"math"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
)

const (
	alongHalf mm = 8  // what is larger is drawn open there
	wallOver  mm = 1  // how much higher a side is
	arrowRoom mm = 12 // at the left, for the arrow that shows the push
	loopWide  mm = 2.6
)

// along shows one axle between the two sides, from the first side at the left to the
// second at the right, with all that is on it and what is new outside.
func (p *Picture) along(c *drawing.Canvas, room drawing.Rect, shaft int) {
	b := p.plan.Build
	sh := &b.Shafts[shaft]
	from, to := extent(b, sh)
	if p.step.Kind == assembly.UnderStep {
		to = max(to, b.Depth+b.Side+assembly.FootHigh)
	}
	scale := min(1, (room.Width()-arrowRoom-2)/(to-from))
	left := room.X0 + arrowRoom + (room.Width()-arrowRoom-2-scale*(to-from))/2
	at := func(x mm) mm { return left + scale*(x-from) }
	axis := room.Y0 + room.Height()/2
	over := wallOver + 0.6 // a side's name keeps off it, and off what is fixed to it
	half := min(alongHalf, room.Height()/2-over-words.Descent()-words.CapHeight())
	box := func(from, to, h mm) drawing.Rect {
		return drawing.Rect{X0: at(from), Y0: axis - h, X1: at(to), Y1: axis + h}
	}
	tall := func(radius mm) mm { return min(half, max(1.2, scale*radius)) }
	for i, wall := range [][2]mm{{-b.Side, 0}, {b.Depth, b.Depth + b.Side}} {
		r := box(wall[0], wall[1], half+wallOver)
		c.Rectangle(r, light, drawing.Hatched)
		name := p.Sides[i]
		wide := words.Width(name)
		x := max(room.X0, min(room.X1-wide, r.Centre().X-wide/2))
		c.Text(drawing.Point{X: x, Y: axis - half - over - words.Descent()}, name, words)
	}
	if rod := sh.Rod; rod >= 0 {
		c.Rectangle(box(sh.From, sh.To, max(0.7, scale*sh.Diameter/2)), p.pen(rod), drawing.White)
	}
	for _, k := range sh.Along {
		q := &b.Parts[k]
		groovedBox(c, box(q.From, q.To, tall(q.Radius)), q.Kind == assembly.Pulley && scale*q.Radius > half, p.pen(k))
	}
	for _, k := range outer(sh) {
		if p.isNew(k) || p.there(k) {
			p.outer(c, k, box, tall)
		}
	}
	p.pulleyLetters(c, room, sh, at, axis, half)
	switch p.step.Kind {
	case assembly.AxleStep:
		arrow(c, drawing.Point{X: max(room.X0, at(from)-11), Y: axis}, drawing.Point{X: at(from) - 1.2, Y: axis})
	case assembly.UnderStep:
		const foot mm = 1.6 // half its breadth; its edge is that of the side
		for _, y := range []mm{-1, 1} {
			r := box(b.Depth+b.Side, b.Depth+b.Side+assembly.FootHigh, foot)
			c.Rectangle(r.Shifted(0, y*(half+wallOver-foot)), heavy, drawing.White)
		}
	}
}

// capsule is a loop seen from the side: a box with round ends.
func capsule(c *drawing.Canvas, r drawing.Rect, pen drawing.Pen) {
	half := r.Width() / 2
	a, b := drawing.Point{X: r.X0 + half, Y: r.Y0 + half}, drawing.Point{X: r.X0 + half, Y: r.Y1 - half}
	path := &drawing.Path{}
	path.MoveTo(drawing.Point{X: r.X1, Y: a.Y}).ArcAbout(a, half, 0, math.Pi).ArcAbout(b, half, math.Pi, math.Pi).Close()
	c.Draw(path, pen, drawing.NoFill)
}

// outer draws what is outside the frame.
func (p *Picture) outer(c *drawing.Canvas, part int, box func(from, to, half mm) drawing.Rect, tall func(mm) mm) {
	q := &p.plan.Build.Parts[part]
	pen := p.pen(part)
	switch q.Kind {
	case assembly.Ride: // a plate on a hub
		c.Rectangle(box(q.From, q.To, tall(4)), pen, drawing.White)
		c.Rectangle(box(q.From, q.From+3, tall(1e3)), pen, drawing.White)
	case assembly.Drum: // a reel
		c.Rectangle(box(q.From, q.To, tall(q.Radius)), pen, drawing.White)
		c.Rectangle(box(q.From, q.From+2, tall(q.Radius+6)), pen, drawing.White)
		c.Rectangle(box(q.To-2, q.To, tall(q.Radius+6)), pen, drawing.White)
	default:
		c.Rectangle(box(q.From, q.To, tall(q.Radius)), pen, drawing.White)
	}
}

// pulleyLetters names the pulleys above the axle, with their bands.
func (p *Picture) pulleyLetters(c *drawing.Canvas, room drawing.Rect, sh *assembly.Shaft, at func(mm) mm, axis, half mm) {
	b := p.plan.Build
	inside := drawing.Rect{X0: at(0) + words.Width(p.Sides[0])/2 + 1, Y0: room.Y0, X1: at(b.Depth) - words.Width(p.Sides[1])/2 - 1, Y1: room.Y1}
	letters := row{y: axis - half - 3.4, to: axis - half + 0.4, style: bold}
	for _, k := range sh.Along {
		if q := &b.Parts[k]; q.Kind == assembly.Pulley {
			letters.add(at((q.From+q.To)/2), 0, q.Letter)
		}
	}
	letters.draw(c, inside)
}

// arrow points with a filled head.
func arrow(c *drawing.Canvas, from, to drawing.Point) {
	const head = 3.2
	way := from.Direction(to)
	neck := to.Towards(way+math.Pi, head)
	c.Line(from, neck, heavy)
	c.Draw(drawing.Polygon(to, neck.Towards(way+math.Pi/2, 1.5), neck.Towards(way-math.Pi/2, 1.5)), drawing.NoPen, drawing.Black)
}
