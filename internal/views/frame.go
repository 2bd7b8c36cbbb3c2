package views

import (
	"math"

	"findrive/internal/drawing"
)

// broken shows where the frame is drawn shorter than it is.
func (v *sideView) broken() {
	r := v.outsideRect()
	if v.across != nil {
		for _, x := range v.across.breaks() {
			v.breakLine(drawing.Point{X: v.origin.X + x, Y: r.Y0 - 2}, drawing.Point{X: v.origin.X + x, Y: r.Y1 + 2})
		}
	}
	if v.up != nil {
		for _, y := range v.up.breaks() {
			v.breakLine(drawing.Point{X: r.X0 - 2, Y: v.origin.Y - y}, drawing.Point{X: r.X1 + 2, Y: v.origin.Y - y})
		}
	}
}

// breakLine is a pair of thin lines with a zigzag, upright or level, and nothing
// between them (ISO 128-2 line type 01.1 with zigzags).
func (s *sheet) breakLine(a, b drawing.Point) {
	const half, zig mm = 1, 1.2
	along, long := a.Direction(b), a.Distance(b)
	across := along + math.Pi/2
	s.Draw(drawing.Polygon(a.Towards(across, half), b.Towards(across, half), b.Towards(across, -half), a.Towards(across, -half)), drawing.NoPen, drawing.White)
	for _, side := range []mm{half, -half} {
		c := func(t, off mm) drawing.Point { return a.Towards(along, t).Towards(across, side+off) }
		m := long / 2
		s.draw(drawing.Polyline(c(0, 0), c(m-zig, 0), c(m-zig/2, zig), c(m+zig/2, -zig), c(m+zig, 0), c(long, 0)), drawing.Thin, drawing.NoFill)
	}
}

func (v *sideView) frameRect() drawing.Rect {
	low, high := v.at(place{0, 0}), v.at(place{v.frame.length, v.frame.height})
	return drawing.Rect{X0: low.X, Y0: high.Y, X1: high.X, Y1: low.Y}
}

// outsideRect is a whole side, which may reach beyond the inside.
func (v *sideView) outsideRect() drawing.Rect {
	f, over := &v.frame, &v.frame.over
	low, high := v.at(place{-over.left, -over.below}), v.at(place{f.length + over.right, f.height + over.above})
	return drawing.Rect{X0: low.X, Y0: high.Y, X1: high.X, Y1: low.Y}
}

func (v *sideView) frameLines() {
	r := v.frameRect()
	out := drawing.Rectangle(v.outsideRect())
	v.draw(out, drawing.Outline, drawing.NoFill)
	v.mark(out)          // words should not hide it
	if v.frame.inset() { // the inside, whose corner is the datum: an edge of strips, else none
		pen := drawing.Phantom
		if v.frame.strip > 0 {
			pen = drawing.Outline.Wider(drawing.Medium)
		}
		v.draw(drawing.Rectangle(r), pen, drawing.NoFill)
	}
	for _, y := range v.frame.rails {
		for _, edge := range []mm{y - v.frame.strip/2, y + v.frame.strip/2} {
			if edge > 0 && edge < v.frame.height {
				at := v.at(place{0, edge}).Y
				// The rails of the back side; what pulleys hide of them is left out.
				seen, _ := v.sight.split(drawing.Line(drawing.Point{X: r.X0, Y: at}, drawing.Point{X: r.X1, Y: at}), v.frame.depth)
				v.draw(seen, drawing.Thin, drawing.NoFill)
			}
		}
	}
	if g := v.frame.ground; g != nil {
		x0, _, x1, _ := v.extent()
		a, b := v.at(place{x0, *g}), v.at(place{x1, *g})
		v.draw(drawing.Line(a, b), drawing.Outline.Wider(drawing.Medium), drawing.NoFill)
		for x := a.X + 2; x < b.X; x += 3 {
			v.draw(drawing.Line(drawing.Point{X: x, Y: a.Y}, drawing.Point{X: x - 1.5, Y: a.Y + 1.5}), drawing.Thin, drawing.NoFill)
		}
	}
}

// joiners are the strips that hold the sides together, cut. They stand clear of all that
// turns, so nothing hides them.
func (v *sideView) joiners() {
	half := v.frame.joiner / 2
	for _, at := range v.frame.joiners {
		low, high := v.at(place{at.x - half, at.y - half}), v.at(place{at.x + half, at.y + half})
		if full := v.mm(v.frame.joiner) - 0.1; high.X-low.X < full || low.Y-high.Y < full {
			continue // where the frame is broken out
		}
		strip := drawing.Rect{X0: low.X, Y0: high.Y, X1: high.X, Y1: low.Y}
		v.draw(drawing.Rectangle(strip), drawing.Thin, drawing.Hatched)
		v.boxes = append(v.boxes, strip) // no words stand on it
	}
}

// stripsInside are the joining strips that stand within the frame.
func (s *scene) stripsInside() []place {
	var out []place
	for _, at := range s.frame.joiners {
		if at.x > 0 && at.y > 0 && at.x < s.frame.length && at.y < s.frame.height {
			out = append(out, at)
		}
	}
	return out
}
