package assemblydrawing

import (
	"math"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// ground is a canvas that remembers what is drawn on it, so that letters can keep off it.
type ground struct {
	*drawing.Canvas
	ink   []blot
	discs []blot         // pulleys: no letter lies within one
	taken []drawing.Rect // by letters
}

// blot is a point of a line with half the line's width, or a disc.
type blot struct {
	at     drawing.Point
	radius mm
}

func newGround(c *drawing.Canvas) *ground { return &ground{Canvas: c} }

// blots is how far apart the points of a line are that are remembered.
const blots mm = 0.6

func (g *ground) straight(a, b drawing.Point, width mm) {
	n := max(1, int(math.Ceil(float64(a.Distance(b)/blots))))
	for i := range n + 1 {
		t := mm(i) / mm(n)
		g.ink = append(g.ink, blot{drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}, width / 2})
	}
}

// Line draws a line and remembers it.
func (g *ground) Line(a, b drawing.Point, pen drawing.Pen) {
	g.Canvas.Line(a, b, pen)
	g.straight(a, b, pen.Width)
}

// Rectangle draws a rectangle; letters keep out of it.
func (g *ground) Rectangle(r drawing.Rect, pen drawing.Pen, fill drawing.Fill) {
	g.Canvas.Rectangle(r, pen, fill)
	g.taken = append(g.taken, r)
}

// Draw draws a path and remembers it.
func (g *ground) Draw(p *drawing.Path, pen drawing.Pen, fill drawing.Fill) {
	g.Canvas.Draw(p, pen, fill)
	var at drawing.Point
	for _, s := range p.Steps {
		switch s.Kind {
		case drawing.Draw:
			g.straight(at, s.To, pen.Width)
		case drawing.Turn:
			n := max(1, int(math.Ceil(math.Abs(float64(s.Sweep))*float64(s.Radius/blots))))
			for i := range n + 1 {
				g.ink = append(g.ink, blot{s.Centre.Towards(s.From+s.Sweep*units.Radians(i)/units.Radians(n), s.Radius), pen.Width / 2})
			}
		}
		at = s.To
	}
}

// disc draws a pulley; no letter lies on it.
func (g *ground) disc(at drawing.Point, radius mm, pen drawing.Pen) {
	g.Canvas.Circle(at, radius, pen, drawing.NoFill)
	g.discs = append(g.discs, blot{at, radius + pen.Width/2})
}

// hidden is how much a letter would hide there, or lie on: points of lines, pulleys and
// other letters.
func (g *ground) hidden(r drawing.Rect) int {
	n := 0
	lies := func(b blot) bool { return edge(r, b.at).Distance(b.at) < b.radius+0.2 }
	for _, b := range g.ink {
		if lies(b) {
			n++
		}
	}
	for _, b := range g.discs {
		if lies(b) {
			n += 10
		}
	}
	for _, o := range g.taken {
		if r.Overlaps(o) {
			n += 20
		}
	}
	return n
}

// crossed is how many points of lines are near a line.
func (g *ground) crossed(a, b drawing.Point) int {
	n, long := 0, a.Distance(b)
	for _, o := range g.ink {
		along := ((o.at.X-a.X)*(b.X-a.X) + (o.at.Y-a.Y)*(b.Y-a.Y)) / long
		if along < 1 || along > long {
			continue
		}
		t := along / long
		if o.at.Distance(drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}) < o.radius+0.3 {
			n++
		}
	}
	return n
}
