package views

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/drawing"
)

// topView shows where along the axles everything sits. A drive with level axles
// is seen from above, its front side at the foot of the drawing. One with upright
// axles is seen from its near edge, the upper side (the front) at the head.
type topView struct {
	*scene
	scale
	*sheet
	across *fold
	sight  sight
	origin drawing.Point // of the datum corner at the inside of the front
}

// at is where on the page something is, so far along the frame and behind the
// inside of its front.
func (v *topView) at(x, depth mm) drawing.Point {
	x = v.origin.X + v.across.at(x)
	if v.upright {
		return drawing.Point{X: x, Y: v.origin.Y + v.mm(depth)}
	}
	return drawing.Point{X: x, Y: v.origin.Y - v.mm(depth)}
}

// rect is a rectangle about a line along an axle.
func (v *topView) rect(x, half, from, to mm) drawing.Rect {
	a, b := v.at(x-half, from), v.at(x+half, to)
	return drawing.Rect{X0: a.X, Y0: min(a.Y, b.Y), X1: b.X, Y1: max(a.Y, b.Y)}
}

// behind is how far from the eye something at a height is.
func (v *topView) behind(y mm) mm {
	if v.upright {
		return y
	}
	return -y
}

// usualEnd is how far an axle stands out of the frame that carries pulleys only
// (docs/certificate.md, length_mm).
const usualEnd mm = 5

// ends is where an axle begins and ends, behind the inside of the front. Wheels
// are on both ends; a drum or a ride is on the front end, which is then longer.
func (s *scene) ends(i int) (front, back mm) {
	over := s.shafts[i].length - s.frame.depth
	behind := over / 2
	if i == len(s.shafts)-1 && (s.output == nil || s.output.kind != wheelKind) {
		behind = min(behind, s.frame.side+usualEnd)
	}
	return behind - over, s.frame.depth + behind
}

// outputs are where along the last axle the wheels or the drum are: at its ends.
func (s *scene) outputs() [][2]mm {
	if s.output == nil {
		return nil
	}
	front, back := s.ends(len(s.shafts) - 1)
	out := [][2]mm{{front, front + s.output.width}}
	if s.output.kind == wheelKind {
		out = append(out, [2]mm{back - s.output.width, back})
	}
	return out
}

// reach is how far the view goes before and behind the inside of the front.
func (s *scene) reach() (front, back mm) {
	front, back = -s.frame.side, s.frame.depth+s.frame.side
	for i := 1; i < len(s.shafts); i++ {
		from, to := s.ends(i)
		front, back = min(front, from), max(back, to)
	}
	for _, at := range s.outputs() {
		front, back = min(front, at[0]), max(back, at[1])
	}
	return front, back
}

func (v *topView) draws() {
	words := "Seen from above, front at the foot"
	if v.upright {
		words = "Seen from the near edge, upper side at the head"
	}
	if v.unfolded {
		words = "Unfolded, axles side by side, front at the foot"
		if v.upright {
			words = "Unfolded, axles side by side, upper side at the head"
		}
	}
	v.caption(fmt.Sprintf("%s. Figures beside axles: spacers in mm. Scale %v", words, v.scale))
	v.sights()
	v.walls()
	v.motor()
	for i := range v.shafts {
		v.axle(i)
	}
	if v.freeAxle != nil {
		from, to := v.ends(len(v.shafts) - 1)
		v.rod(v.freeAxle, axleOwner+len(v.shafts), from, to)
	}
	for i := range v.pulleys {
		v.pulley(i)
	}
	for i := range v.bands {
		v.band(&v.bands[i])
	}
	v.wheelsOrDrum()
	v.lanes()
	v.letters()
}

// The owners of solids that are not pulleys.
const (
	axleOwner = 1000
	bodyOwner = 2000
)

func (v *topView) sights() {
	add := func(owner int, y, r mm, rect drawing.Rect) {
		near := v.behind(y) - r
		v.sight.solids = append(v.sight.solids, solid{owner: owner, near: near, holds: box(rect)})
	}
	for i := range v.pulleys {
		p := &v.pulleys[i]
		sh := &v.shafts[p.shaft]
		v.boxes = append(v.boxes, v.pulleyRect(p))
		add(i, sh.at.y, p.outside, v.pulleyRect(p))
	}
	for i := range v.shafts[1:] {
		sh := &v.shafts[i+1]
		front, back := v.ends(i + 1)
		v.boxes = append(v.boxes, v.rect(sh.at.x, sh.radius+spacerWall, front, back))
		add(axleOwner+i+1, sh.at.y, sh.radius, v.rect(sh.at.x, sh.radius, front, back))
	}
	if sh := v.freeAxle; sh != nil {
		front, back := v.ends(len(v.shafts) - 1)
		v.boxes = append(v.boxes, v.rect(sh.at.x, sh.radius, front, back))
		add(axleOwner+len(v.shafts), sh.at.y, sh.radius, v.rect(sh.at.x, sh.radius, front, back))
	}
	m := &v.shafts[0]
	add(bodyOwner, m.at.y, v.body.height/2, v.rect(m.at.x, v.body.width/2, v.body.front, v.body.front+v.body.length))
}

func (v *topView) pulleyRect(p *pulley) drawing.Rect {
	return v.rect(v.shafts[p.shaft].at.x, p.outside, p.lane-p.width/2, p.lane+p.width/2)
}

// line draws an outline, dashed where it is hidden.
func (v *topView) line(p *drawing.Path, depth mm, pen drawing.Pen, own ...int) {
	seen, hidden := v.sight.split(p, depth, own...)
	v.draw(hidden, drawing.Hidden.Wider(min(pen.Width, drawing.Medium)), drawing.NoFill)
	v.draw(seen, pen, drawing.NoFill)
}

// walls are the two sides, cut along the axles.
func (v *topView) walls() {
	f := v.frame
	long, _ := f.outside()
	half, middle := long/2, long/2-f.over.left
	v.draw(drawing.Rectangle(v.rect(middle, half, -f.side, 0)), drawing.Outline, drawing.Hatched)
	v.draw(drawing.Rectangle(v.rect(middle, half, f.depth, f.depth+f.side)), drawing.Outline, drawing.Hatched)
	low, high := v.at(0, -f.side-2/v.mm(1)).Y, v.at(0, f.depth+f.side+2/v.mm(1)).Y
	for _, x := range []mm{0, f.length} {
		if v.unfolded {
			v.breakLine(drawing.Point{X: v.at(x, 0).X, Y: min(low, high)}, drawing.Point{X: v.at(x, 0).X, Y: max(low, high)})
			continue
		}
		v.draw(drawing.Line(v.at(x, 0), v.at(x, f.depth)), drawing.Phantom, drawing.NoFill)
	}
	for _, x := range v.across.breaks() {
		v.breakLine(drawing.Point{X: v.origin.X + x, Y: min(low, high)}, drawing.Point{X: v.origin.X + x, Y: max(low, high)})
	}
}

// alongAxles is the drive as the top view shows it: as it is, or, where shafts stand
// above one another, so that one would hide another's pulleys, unfolded.
func (s *scene) alongAxles() *scene {
	half := func(i int) mm {
		if i == 0 {
			return max(s.shafts[0].rim, s.body.width/2)
		}
		return s.shafts[i].rim
	}
	hidden := false
	for i := range s.shafts {
		for j := range i {
			away := mm(math.Abs(float64(s.shafts[i].at.x - s.shafts[j].at.x)))
			hidden = hidden || away < max(half(i), half(j))+max(s.shafts[i].radius, s.shafts[j].radius)
		}
	}
	if !hidden {
		return s
	}
	out := *s
	out.unfolded, out.frame.ground, out.frame.joiners, out.frame.over, out.freeAxle = true, nil, nil, overhang{}, nil
	out.shafts = slices.Clone(s.shafts)
	at := half(0) + unfoldedEnd
	for i := range out.shafts {
		if i > 0 {
			at += s.bands[i-1].centres
		}
		out.shafts[i].at = place{at, 0}
	}
	end := half(len(s.shafts) - 1)
	if s.output != nil {
		end = max(end, s.output.radius)
	}
	out.frame.length = at + end + unfoldedEnd
	return &out
}

// unfoldedEnd is how much of the sides is shown beyond the drive.
const unfoldedEnd mm = 8

func (v *topView) motor() {
	m, b := &v.shafts[0], v.body
	depth := v.behind(m.at.y)
	v.line(drawing.Rectangle(v.rect(m.at.x, b.width/2, b.front, b.front+b.length)), depth, drawing.Outline, bodyOwner)
	v.line(drawing.Rectangle(v.rect(m.at.x, m.radius, b.front+b.length, b.front+b.length+m.length)), depth, drawing.Outline.Wider(drawing.Medium), bodyOwner)
}

// spacerWall is how thick a spacer is drawn.
const spacerWall mm = 1.5

// spacer is what keeps parts apart on an axle: a tube, or washers on one another.
type spacer struct{ from, to mm }

func (v *topView) axle(i int) {
	sh := &v.shafts[i]
	if i > 0 {
		front, back := v.ends(i)
		v.rod(sh, axleOwner+i, front, back)
		return
	}
	v.centreLine(sh, v.body.front, v.body.front+v.body.length+sh.length)
}

// rod is an axle with its spacers, through both sides.
func (v *topView) rod(sh *shaft, own int, front, back mm) {
	depth := v.behind(sh.at.y)
	for _, wall := range [][2]mm{{-v.frame.side, 0}, {v.frame.depth, v.frame.depth + v.frame.side}} {
		v.Draw(drawing.Rectangle(v.rect(sh.at.x, sh.radius, wall[0], wall[1])), drawing.NoPen, drawing.White)
	}
	v.line(drawing.Rectangle(v.rect(sh.at.x, sh.radius, front, back)), depth, drawing.Outline.Wider(drawing.Medium), own)
	for _, s := range sh.spacers {
		v.line(drawing.Rectangle(v.rect(sh.at.x, sh.radius+spacerWall, s.from, s.to)), depth, drawing.Thin, own)
	}
	front, back = v.reach()
	v.centreLine(sh, front, back)
}

func (v *topView) centreLine(sh *shaft, front, back mm) {
	over := 3 / v.mm(1) // on the page
	v.draw(drawing.Line(v.at(sh.at.x, front-over), v.at(sh.at.x, back+over)), drawing.Centre, drawing.NoFill)
}

// pulley is drawn with the groove in its rim.
func (v *topView) pulley(k int) {
	p := &v.pulleys[k]
	sh := &v.shafts[p.shaft]
	g := min(p.groove, p.width*0.9) / 2
	profile := func(side mm) []drawing.Point {
		x := sh.at.x
		return []drawing.Point{
			v.at(x+side*p.outside, p.lane-p.width/2), v.at(x+side*p.outside, p.lane-g), v.at(x+side*p.floor, p.lane-g),
			v.at(x+side*p.floor, p.lane+g), v.at(x+side*p.outside, p.lane+g), v.at(x+side*p.outside, p.lane+p.width/2),
		}
	}
	right, left := profile(1), profile(-1)
	for i := len(left) - 1; i >= 0; i-- {
		right = append(right, left[i])
	}
	v.line(drawing.Polygon(right...), v.behind(sh.at.y), drawing.Outline, k, axleOwner+p.shaft)
}

// band is a strip in its lane, from the outer side of one pulley to that of the
// other.
func (v *topView) band(b *band) {
	from, to := &v.shafts[v.pulleys[b.from].shaft], &v.shafts[v.pulleys[b.to].shaft]
	x0 := min(from.at.x-b.fromPitch, to.at.x-b.toPitch)
	x1 := max(from.at.x+b.fromPitch, to.at.x+b.toPitch)
	top := min(v.behind(from.at.y)-b.fromPitch, v.behind(to.at.y)-b.toPitch)
	seen, hidden := v.sight.split(drawing.Line(v.at(x0, b.lane), v.at(x1, b.lane)), top, b.from, b.to)
	wide := max(1.3, v.mm(b.width))
	v.bandLines(seen, hidden, b, wide)
}

// bandLines draws a band by its middle line: its edges, and between them what
// tells it from the others.
func (s *sheet) bandLines(seen, hidden *drawing.Path, b *band, wide mm) {
	inner, solid := core(b)
	if len(hidden.Steps) > 0 {
		s.draw(hidden, drawing.Hidden.Wider(wide), drawing.NoFill)
		s.Draw(hidden, drawing.Rubber(wide-0.6), drawing.NoFill)
	}
	s.draw(seen, drawing.Pen{Width: wide}, drawing.NoFill)
	s.mark(seen) // words must not hide a band: it counts double
	if !solid && len(seen.Steps) > 0 {
		s.Draw(seen, inner.Wider(wide-0.6), drawing.NoFill)
	}
}

// wheelsOrDrum are drawn as what stands outside the section.
func (v *topView) wheelsOrDrum() {
	for _, at := range v.outputs() {
		on := []*shaft{&v.shafts[len(v.shafts)-1]}
		if v.freeAxle != nil {
			on = append(on, v.freeAxle)
		}
		for _, sh := range on {
			r := v.rect(sh.at.x, v.output.radius, at[0], at[1])
			v.draw(drawing.Rectangle(r), drawing.Phantom.Wider(drawing.Medium), drawing.NoFill)
		}
	}
}

// lanes dimensions the grooves from the inside of the front.
func (v *topView) lanes() {
	left, _, _, _ := v.extent()
	x := v.at(left, 0).X - 5
	start := v.at(-v.frame.over.left, 0).X - 1
	marks := []mark{{0, v.at(0, 0).Y, start}, {v.frame.depth, v.at(0, v.frame.depth).Y, start}}
	for _, b := range v.bands {
		// From the band's own end, as a lane line.
		p := v.shafts[v.pulleys[b.from].shaft].at.x - v.pulleys[b.from].outside
		q := v.shafts[v.pulleys[b.to].shaft].at.x - v.pulleys[b.to].outside
		y := v.at(0, b.lane).Y
		v.draw(drawing.Line(drawing.Point{X: v.at(min(p, q), 0).X - 1, Y: y}, drawing.Point{X: start, Y: y}), drawing.Centre, drawing.NoFill)
		marks = append(marks, mark{b.lane, y, start})
	}
	v.beside(x, v.area.Y1-laneFoot, marks)
	v.area.X0 = x + 1
}

// laneFoot is how far above the foot of the room the middle of the lowest figure is.
const laneFoot mm = 3

// laneFigures is how high a room lanes needs for its figures, below the caption. It is the
// same at every scale: at a small one the figures take more than the view.
func (s *scene) laneFigures() mm {
	marks := []mark{{}, {value: s.frame.depth, at: s.frame.depth}}
	for _, b := range s.bands {
		marks = append(marks, mark{value: b.lane, at: b.lane})
	}
	n := len(sortedMarks(marks, func(a, _ mm) mm { return a })) // stages may share a lane
	high := lineHeight(figures)
	return high/2 + mm(n-1)*(high+figureGap) + laneFoot
}

// letters names everything.
func (v *topView) letters() {
	for i := range v.pulleys {
		p := &v.pulleys[i]
		r := v.pulleyRect(p)
		c := r.Centre()
		var spots []spot
		for _, s := range around(c, []mm{6, 9, 12, 16}, math.Pi/2) {
			// Rings about the rectangle rather than its centre.
			d := c.Direction(s.at)
			s.at.X += mm(math.Cos(float64(d))) * r.Width() / 2
			spots = append(spots, s)
		}
		if at, ok := v.settleAimed(2*balloon, 2*balloon, spots, func(at drawing.Point) drawing.Point { return edge(r, at) }); ok {
			v.reference(at, edge(r, at), p.letter)
		}
	}
	m := &v.shafts[0]
	v.nameOf("motor", v.rect(m.at.x, v.body.width/2, v.body.front, v.body.front+v.body.length))
	named := v.everyShaft()[1:]
	for i := range named {
		sh := &named[i]
		front, back := v.reach()
		r := v.rect(sh.at.x, sh.radius, front, back)
		w, h := v.room(sh.name, figures)
		var spots []spot
		for _, y := range []mm{r.Y1 + h/2 + 4.2, r.Y0 - h/2 - 4.2} {
			for _, dx := range []mm{0, w/2 + 1, -w/2 - 1, w + 2, -w - 2} {
				spots = append(spots, spot{drawing.Point{X: r.Centre().X + dx, Y: y}, math.Abs(float64(dx)) / 4})
			}
		}
		if at, ok := v.settle(w, h, spots); ok {
			v.write(at, sh.name, figures)
		}
		for _, s := range sh.spacers {
			words := number(s.to - s.from)
			w, h := v.room(words, figures)
			c, own := v.at(sh.at.x, (s.from+s.to)/2), v.rect(sh.at.x, sh.radius+spacerWall, s.from, s.to)
			var spots []spot
			for _, dx := range []mm{1, 3, 6, 10} {
				for _, dy := range []mm{0, 2, -2, 4, -4, 7, -7, 10, -10} {
					for _, side := range []mm{1, -1} {
						at := c.Plus(side*(v.mm(sh.radius+spacerWall)+w/2+dx), dy)
						spots = append(spots, spot{at, float64(dx) + math.Abs(float64(dy))})
					}
				}
			}
			if at, ok := v.settleAimed(w, h, spots, func(at drawing.Point) drawing.Point { return edge(own, at) }); ok {
				// A figure that is not just beside its spacer gets a leader to it.
				if beside := at.Y > own.Y0-h/2 && at.Y < own.Y1+h/2; !beside || edge(own, at).Distance(at) > w/2+4 {
					v.leader(at, w, h, edge(own, at))
				}
				v.write(at, words, figures)
			}
		}
	}
	for i, at := range v.outputs() {
		if i == 0 {
			v.nameOf(v.output.kind, v.rect(v.shafts[len(v.shafts)-1].at.x, v.output.radius, at[0], at[1]))
		}
	}
}

// edge is the point of a rectangle nearest to another.
func edge(r drawing.Rect, p drawing.Point) drawing.Point {
	return drawing.Point{X: max(r.X0, min(r.X1, p.X)), Y: max(r.Y0, min(r.Y1, p.Y))}
}
