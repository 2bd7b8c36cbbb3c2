package assemblydrawing

import (
	"math"

	"findrive/internal/drawing"
)

// cord shows the drum from its end with the cord that comes down from it and a hook.
func (p *Picture) cord(c *drawing.Canvas, room drawing.Rect) {
	b := p.plan.Build
	if b.Guide != "" {
		p.guidedCord(c, room)
		return
	}
	s := &b.Shafts[b.Stages]
	drum := &b.Parts[s.Front[len(s.Front)-1]]
	at := drawing.Point{X: room.Centre().X, Y: room.Y0 + 8}
	r := min(6, max(3, drum.Radius/2))
	c.Circle(at, r+2, light, drawing.NoFill)
	c.Circle(at, r, light, drawing.NoFill)
	c.Circle(at, 0.8, drawing.NoPen, drawing.Black)
	c.Circle(at, r+0.7, heavy, drawing.NoFill)
	hook := drawing.Point{X: at.X + r + 0.7, Y: room.Y1 - 5}
	c.Line(drawing.Point{X: at.X + r + 0.7, Y: at.Y}, hook, heavy)
	c.Draw(drawing.Arc(hook.Plus(0, 2), 2, math.Pi/2, -1.4*math.Pi), heavy, drawing.NoFill)
	c.Text(at.Plus(-r-4, 0), "drum", words.WithAlign(drawing.End).WithLevel(drawing.Centred))
}

// guidedCord shows the drum with a cord that goes over a guide before it hangs down.
func (p *Picture) guidedCord(c *drawing.Canvas, room drawing.Rect) {
	side := mm(1)
	if p.plan.Build.Guide == "left" {
		side = -1
	}
	guide := drawing.Point{X: room.Centre().X + side*guided(p.plan.Build.Guide)/2, Y: room.Y0 + 2 + drumRadius}
	drum := overGuide(c, guide, room.Y1-2-drumRadius, side, p.plan.Build.Guide)
	c.Circle(drum, drumRadius+1.3, light, drawing.NoFill)
	c.Circle(drum, drumRadius, heavy, drawing.White)
	c.Circle(drum, 0.8, drawing.NoPen, drawing.Black)
	hook := drawing.Point{X: guide.X + side*drumRadius, Y: room.Y1 - 5}
	c.Line(drawing.Point{X: hook.X, Y: guide.Y}, hook, heavy)
	c.Draw(drawing.Arc(hook.Plus(0, 2), 2, math.Pi/2, -1.4*math.Pi), heavy, drawing.NoFill)
	label := words.WithAlign(drawing.End)
	if side < 0 {
		label = words
	}
	c.Text(drum.Plus(-side*(drumRadius+3), 0), "drum", label.WithLevel(drawing.Centred))
}

// circuit is motor, cells and switch in one loop, with the symbols of circuit diagrams
// (IEC 60617).
func (p *Picture) circuit(c *drawing.Canvas, room drawing.Rect) {
	in := drawing.Rect{X0: room.Centre().X - 24, Y0: room.Y0 + 5, X1: room.Centre().X + 24, Y1: room.Y1 - 6}
	line := func(points ...drawing.Point) { c.Polyline(heavy, points...) }
	top, bottom, middle := in.Y0, in.Y1, in.Centre().X
	// Cells above, each a long thin and a short thick stroke.
	line(drawing.Point{X: in.X0, Y: top}, drawing.Point{X: middle - 2, Y: top})
	c.Line(drawing.Point{X: middle - 2, Y: top - 4}, drawing.Point{X: middle - 2, Y: top + 4}, drawing.Outline)
	c.Line(drawing.Point{X: middle, Y: top - 2}, drawing.Point{X: middle, Y: top + 2}, heavy.Wider(1.3))
	line(drawing.Point{X: middle, Y: top}, drawing.Point{X: in.X1, Y: top}, drawing.Point{X: in.X1, Y: bottom}, drawing.Point{X: middle + 3.4, Y: bottom})
	c.Circle(drawing.Point{X: middle, Y: bottom}, 3.4, light, drawing.White)
	c.Text(drawing.Point{X: middle, Y: bottom}, "M", words.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	line(drawing.Point{X: middle - 3.4, Y: bottom}, drawing.Point{X: in.X0, Y: bottom}, drawing.Point{X: in.X0, Y: in.Centre().Y + 3})
	// The switch at the left, open.
	line(drawing.Point{X: in.X0, Y: in.Centre().Y + 3}, drawing.Point{X: in.X0 - 4, Y: in.Centre().Y - 2.5})
	line(drawing.Point{X: in.X0, Y: in.Centre().Y - 3}, drawing.Point{X: in.X0, Y: top})
	for _, y := range []mm{-3, 3} {
		c.Circle(drawing.Point{X: in.X0, Y: in.Centre().Y + y}, 0.7, drawing.NoPen, drawing.Black)
	}
	c.Text(drawing.Point{X: in.X0 + 2.5, Y: in.Centre().Y}, "switch", words.WithLevel(drawing.Centred))
	c.Text(drawing.Point{X: middle + 4, Y: top + 3}, "cells", words.WithLevel(drawing.Below))
}
