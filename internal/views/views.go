// Package views draws one proposal: the side view, the view along the axles, a
// sketch for children, and drilling templates in true size. It follows the habits of
// drawing offices: what is seen in wide lines, what is hidden dashed, centre lines in
// long and short dashes, what stands in front of the section in dashes with two dots,
// and places dimensioned from one datum corner. Bands are told apart by what is drawn
// between their edges, not by colour. The drive is drawn as large as there is room:
// what is empty of a long frame is broken out, and scales are tried downwards until
// every label has a place of its own.
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

// tries is how many scales are tried for the sake of labels.
const tries = 12

// tidiest draws at smaller and smaller scales until no label is without a place, and
// keeps the drawing with the fewest that are.
func tidiest(draw func(steps int) (parts []*drawing.Group, misses int)) []*drawing.Group {
	var best []*drawing.Group
	least := -1
	for steps := range tries {
		parts, misses := draw(steps)
		if least < 0 || misses < least {
			best, least = parts, misses
		}
		if misses == 0 {
			break
		}
	}
	return best
}

// put adds parts to a canvas.
func put(c *drawing.Canvas, parts []*drawing.Group) {
	for _, p := range parts {
		g := c.Group(p.Title, p.Description)
		g.Canvas = p.Canvas
	}
}

// Side draws the view in the plane of the pulleys into a box, as large as a usual scale
// allows. It goes beside a table of the bands with their centre distances: the drawing has
// those only where there is room.
func (d *Drive) Side(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	inner := s.sideInner(room)
	f := s.sideFit(inner)
	put(c, tidiest(func(steps int) ([]*drawing.Group, int) {
		try := f
		try.scale = f.smaller(steps)
		g, misses := s.side(room, s.sidePaper(try, inner), false)
		if misses > 0 { // rather without what the table has than smaller
			g, misses = s.side(room, s.sidePaper(try, inner), true)
		}
		return []*drawing.Group{g}, misses
	}))
}

func (s *scene) sideFit(inner drawing.Rect) fit {
	x, y := s.stretches()
	return fitting(func(f fit) mm { return x.fold(f.scale, f.across).long() }, func(f fit) mm { return y.fold(f.scale, f.up).long() }, inner)
}

// sidePaper puts the side view in the middle of its room.
func (s *scene) sidePaper(f fit, inner drawing.Rect) paper {
	x, y := s.stretches()
	across, up := x.fold(f.scale, f.across), y.fold(f.scale, f.up)
	return paper{f.scale, drawing.Point{
		X: middle(inner.X0, inner.X1, across.long()) - across.at(x.first),
		Y: middle(inner.Y0, inner.Y1, up.long()) + up.at(y.last),
	}, across, up}
}

// SideHeight is how high a box for Side has to be that is so wide and may be no
// higher than most: a higher one would only be emptier.
func (d *Drive) SideHeight(width, most mm) mm {
	s := &d.scene
	inner := s.sideInner(drawing.Rect{X1: width, Y1: most})
	f := s.sideFit(inner)
	_, y := s.stretches()
	return y.fold(f.scale, f.up).long() + most - inner.Height()
}

// BothHeight is the same for Both.
func (d *Drive) BothHeight(width, most mm) mm {
	s := &d.scene
	inner := s.bothInner(drawing.Rect{X1: width, Y1: most})
	return s.bothLong(s.bothFit(inner)) + most - inner.Height()
}

// sideInner is what is left for the drive itself.
func (s *scene) sideInner(room drawing.Rect) drawing.Rect {
	return drawing.Rect{X0: room.X0 + roomLeft, Y0: room.Y0 + s.roomAbove() + s.captionRoom(), X1: room.X1 - roomRight, Y1: room.Y1 - roomDown}
}

// middle is where something so long begins to lie in the middle.
func middle(from, to, long mm) mm { return from + (to-from-long)/2 }

// Top draws the view along the frame that shows where on its axle each part
// sits, as large as a usual scale allows.
func (d *Drive) Top(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	top := s.alongAxles()
	front, back := top.reach()
	inner := topInner(room)
	x, _ := top.stretches()
	f := fitting(func(f fit) mm { return x.fold(f.scale, f.across).long() }, func(f fit) mm { return f.mm(back - front) }, inner)
	put(c, tidiest(func(steps int) ([]*drawing.Group, int) {
		across := x.fold(f.smaller(steps), f.across)
		g, misses := top.top(room, inner, across, middle(inner.X0, inner.X1, across.long())-across.at(x.first))
		return []*drawing.Group{g}, misses
	}))
}

func topInner(room drawing.Rect) drawing.Rect {
	return drawing.Rect{X0: room.X0 + roomLeft, Y0: room.Y0 + topHead + captionHeight, X1: room.X1 - roomRight, Y1: room.Y1 - topFoot}
}

// top draws the top view, the left inside of the frame at x.
func (s *scene) top(room, inner drawing.Rect, across *fold, x mm) (*drawing.Group, int) {
	front, back := s.reach()
	sc := across.scale
	head := middle(inner.Y0, inner.Y1, sc.mm(back-front))
	y := head + sc.mm(back)
	if s.upright {
		y = head - sc.mm(front)
	}
	g := &drawing.Group{Title: "Top view", Description: s.describeTop()}
	v := topView{scene: s, scale: sc, sheet: newSheet(&g.Canvas, room), across: across, origin: drawing.Point{X: x, Y: y}}
	v.draws()
	return g, v.misses
}

// Both draws the side view and, under it in projection, the top view, at one scale.
// A top view that is unfolded, or so deep that the side view would be small for it,
// may be smaller, and then stands by itself.
func (d *Drive) Both(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	inner := s.bothInner(room)
	f := s.bothFit(inner)
	put(c, tidiest(func(steps int) ([]*drawing.Group, int) {
		try := f.smaller(steps)
		spare := inner.Height() - s.bothLong(try)
		_, y := s.stretches()
		cut := room.Y0 + s.captionRoom() + s.roomAbove() + y.fold(try.scale, try.up).long() + roomDown + spare/2
		upper, lower := room, room
		upper.Y1, lower.Y0 = cut, cut
		p := s.sidePaper(try.fit, s.sideInner(upper))
		side, missed := s.side(upper, p, false)
		top := s.alongAxles()
		across, left := p.across, p.origin.X
		if top != s || try.top != try.scale {
			x, _ := top.stretches()
			across = x.fold(try.top, try.across && top == s)
			left = middle(inner.X0, inner.X1, across.long()) - across.at(x.first)
		}
		along, more := top.top(lower, topInner(lower), across, left)
		return []*drawing.Group{side, along}, missed + more
	}))
}

// bothFit is the fit of the side view with the scale of the top view under it.
type bothFit struct {
	fit
	top scale
}

func (b bothFit) smaller(steps int) bothFit {
	apart := b.top != b.scale
	b.scale = b.scale.smaller(steps)
	if !apart || b.top.mm(1) > b.scale.mm(1) {
		b.top = b.scale
	}
	return b
}

// least is how much smaller a top view may be, and much how much larger the side view
// must become by it.
const (
	least = 2.6
	much  = 1.4
)

func (s *scene) bothFit(inner drawing.Rect) bothFit {
	x, _ := s.stretches()
	top := s.alongAxles()
	along, _ := top.stretches()
	fitTop := func(k scale, f fit) bool { return along.fold(k, f.across && top == s).long() <= inner.Width() }
	width := func(f fit) mm { return x.fold(f.scale, f.across).long() }
	under := func(f fit) scale { // of an unfolded view, which is wider
		for _, k := range scales {
			if k.mm(1) <= f.mm(1) && (top == s || fitTop(k, f)) {
				return k
			}
		}
		return scales[len(scales)-1]
	}
	one := fitting(width, func(f fit) mm { return s.bothLong(bothFit{f, under(f)}) }, inner)
	for _, k := range scales {
		if k.mm(1) < one.mm(1)*much {
			break
		}
		for _, f := range []fit{{k, false, false}, {k, true, false}, {k, false, true}, {k, true, true}} {
			if width(f) > inner.Width() {
				continue
			}
			for _, small := range scales {
				if small.mm(1) < k.mm(1) && small.mm(1) >= k.mm(1)/least && fitTop(small, f) && s.bothLong(bothFit{f, small}) <= inner.Height() {
					return bothFit{f, small}
				}
			}
		}
	}
	return bothFit{one, under(one)}
}

// bothLong is the height of both views on the page, without what stands about them. The
// top view is given no less than the figures of its lanes need, or they would run off the page.
func (s *scene) bothLong(f bothFit) mm {
	_, y := s.stretches()
	front, back := s.reach()
	return y.fold(f.scale, f.up).long() + max(f.top.mm(back-front), s.laneFigures()-topHead-topFoot)
}

// bothInner is what is left for both views themselves.
func (s *scene) bothInner(room drawing.Rect) drawing.Rect {
	tall := s.roomAbove() + roomDown + s.captionRoom() + captionHeight + topHead + topFoot
	return drawing.Rect{X0: room.X0 + roomLeft, X1: room.X1 - roomRight, Y1: room.Height() - tall}
}

// stretches are what is drawn across and up.
func (s *scene) stretches() (x, y stretch) {
	x0, y0, x1, y1 := s.extent()
	from, down, to, up := s.drawn()
	edge := mm(0)
	if len(s.stripsInside()) > 0 {
		edge = s.frame.joiner
	}
	return stretch{x0, x1, from - besides, to + besides, s.frame.length, edge}, stretch{y0, y1, down - besides, up + besides, s.frame.height, edge}
}

// besides is how much of the frame is drawn to scale beside the drive.
const besides mm = 3
