// Package views draws one proposal: the side view, the view along the axles, and
// drilling templates in true size. It follows the habits of drawing offices:
// what is seen in wide lines, what is hidden dashed, centre lines in long and
// short dashes, what stands in front of the section in dashes with two dots, and
// places dimensioned from one datum corner. Bands are told apart by what is drawn
// between their edges, not by colour.
package views

import (
	"findrive/internal/drawing"
)

// Room about the top view, on the page: for the ends of centre lines, and for the
// names of the axles below.
const (
	topHead mm = 4
	topFoot mm = 9
)

// Side draws the view in the plane of the pulleys into a box, as large as a
// usual scale allows.
func (d *Drive) Side(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	x0, y0, x1, y1 := s.extent()
	inner := s.sideInner(room)
	sc := fitting(x1-x0, y1-y0, inner)
	s.side(c, room, paper{sc, drawing.Point{
		X: middle(inner.X0, inner.X1, sc.mm(x1-x0)) - sc.mm(x0),
		Y: middle(inner.Y0, inner.Y1, sc.mm(y1-y0)) + sc.mm(y1),
	}})
}

// SideHeight is how high a box for Side has to be that is so wide and may be no
// higher than most: a higher one would only be emptier.
func (d *Drive) SideHeight(width, most mm) mm {
	s := &d.scene
	x0, y0, x1, y1 := s.extent()
	inner := s.sideInner(drawing.Rect{X1: width, Y1: most})
	return fitting(x1-x0, y1-y0, inner).mm(y1-y0) + most - inner.Height()
}

// BothHeight is the same for Both.
func (d *Drive) BothHeight(width, most mm) mm {
	s := &d.scene
	x0, y0, x1, y1 := s.extent()
	front, back := s.reach()
	inner := s.bothInner(drawing.Rect{X1: width, Y1: most})
	return fitting(x1-x0, y1-y0+back-front, inner).mm(y1-y0+back-front) + most - inner.Height()
}

// sideInner is what is left for the drive itself.
func (s *scene) sideInner(room drawing.Rect) drawing.Rect {
	return drawing.Rect{X0: room.X0 + roomLeft, Y0: room.Y0 + s.roomAbove() + captionHeight, X1: room.X1 - roomRight, Y1: room.Y1 - roomDown}
}

// middle is where something so long begins to lie in the middle.
func middle(from, to, long mm) mm { return from + (to-from-long)/2 }

// Top draws the view along the frame that shows where on its axle each part
// sits, as large as a usual scale allows.
func (d *Drive) Top(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	x0, _, x1, _ := s.extent()
	front, back := s.reach()
	inner := topInner(room)
	sc := fitting(x1-x0, back-front, inner)
	s.top(c, room, inner, sc, middle(inner.X0, inner.X1, sc.mm(x1-x0))-sc.mm(x0))
}

func topInner(room drawing.Rect) drawing.Rect {
	return drawing.Rect{X0: room.X0 + roomLeft, Y0: room.Y0 + topHead + captionHeight, X1: room.X1 - roomRight, Y1: room.Y1 - topFoot}
}

// top draws the top view at a scale, the left inside of the frame at x.
func (s *scene) top(c *drawing.Canvas, room, inner drawing.Rect, sc scale, x mm) {
	front, back := s.reach()
	head := middle(inner.Y0, inner.Y1, sc.mm(back-front))
	y := head + sc.mm(back)
	if s.upright {
		y = head - sc.mm(front)
	}
	g := c.Group("Top view", s.describeTop())
	v := topView{scene: s, scale: sc, sheet: newSheet(&g.Canvas, room), origin: drawing.Point{X: x, Y: y}}
	v.draws()
}

// Both draws the side view and, under it in projection, the top view, at one
// scale.
func (d *Drive) Both(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	x0, y0, x1, y1 := s.extent()
	front, back := s.reach()
	inner := s.bothInner(room)
	sc := fitting(x1-x0, y1-y0+back-front, inner)
	spare := inner.Y1 - sc.mm(y1-y0+back-front)
	cut := room.Y0 + captionHeight + s.roomAbove() + sc.mm(y1-y0) + roomDown + spare/2
	upper, lower := room, room
	upper.Y1, lower.Y0 = cut, cut
	x := middle(inner.X0, inner.X1, sc.mm(x1-x0)) - sc.mm(x0)
	high := s.sideInner(upper)
	s.side(c, upper, paper{sc, drawing.Point{X: x, Y: middle(high.Y0, high.Y1, sc.mm(y1-y0)) + sc.mm(y1)}})
	s.top(c, lower, topInner(lower), sc, x)
}

// bothInner is what is left for both views themselves; only its size counts.
func (s *scene) bothInner(room drawing.Rect) drawing.Rect {
	tall := s.roomAbove() + roomDown + 2*captionHeight + topHead + topFoot
	return drawing.Rect{X0: room.X0 + roomLeft, X1: room.X1 - roomRight, Y1: room.Height() - tall}
}
