package views

import (
	"fmt"
	"math"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

const balloon mm = 3.1 // radius of the circle round a letter (ISO 6433: part references in circles)

// references letters the pulleys.
func (v *sideView) references() {
	for i := range v.pulleys {
		p := &v.pulleys[i]
		at, r := v.shaftAt(p.shaft), v.mm(p.outside)
		rim := v.mm(v.shafts[p.shaft].rim)
		spots := around(at, []mm{r + 6.5, r + 8, r + 11, r + 15, rim + 6.5, rim + 11}, v.outwards(i))
		rimTowards := func(c drawing.Point) drawing.Point { return at.Towards(at.Direction(c), r) }
		if c, ok := v.settleAimed(2*balloon, 2*balloon, spots, rimTowards); ok {
			v.reference(c, at.Towards(at.Direction(c), r), p.letter)
		}
	}
}

func (v *sideView) bandNames() {
	for i := range v.bands {
		v.bandName(&v.bands[i])
	}
}

// names names what is neither pulley nor band.
func (v *sideView) names() {
	v.nameOf("motor", v.bodyRect())
	if o := v.output; o != nil {
		at, r := v.shaftAt(len(v.shafts)-1), v.mm(o.radius)
		w, h := v.room(o.kind, figures)
		var spots []spot
		for _, s := range around(at, []mm{r + 7, r + 10, r + 14}, -math.Pi/3) {
			s.at.X += mm(math.Cos(float64(at.Direction(s.at)))) * w / 2
			spots = append(spots, s)
		}
		if c, ok := v.settleAimed(w, h, spots, func(c drawing.Point) drawing.Point { return at.Towards(at.Direction(c), r) }); ok {
			v.leader(c, w, h, at.Towards(at.Direction(c), r))
			v.write(c, o.kind, figures)
		}
	}
	if v.freeAxle != nil {
		r := max(1, v.mm(v.freeAxle.radius))
		v.nameOf(v.freeAxle.name, centred(v.at(v.freeAxle.at), 2*r, 2*r))
	}
}

// leader draws a line from a label to a point on an outline.
func (s *sheet) leader(c drawing.Point, w, h mm, tip drawing.Point) {
	r := drawing.Rect{X0: c.X - w/2, Y0: c.Y - h/2, X1: c.X + w/2, Y1: c.Y + h/2}
	start := drawing.Point{X: max(r.X0, min(r.X1, tip.X)), Y: max(r.Y0, min(r.Y1, tip.Y))}
	if start.Distance(tip) < 1.2 {
		return
	}
	s.draw(drawing.Line(start, tip), drawing.Thin, drawing.NoFill)
	s.mark(drawing.Line(start, tip)) // no label should part it
	if start.Distance(tip) > headed {
		s.pointed(tip, tip.Direction(start))
	}
}

// headed is how long a leader must be to have an arrowhead that keeps off its label.
const headed mm = 2.8

// reference draws a letter in a circle with a leader to a point on an outline.
func (s *sheet) reference(c, tip drawing.Point, letter string) {
	dir := c.Direction(tip)
	if c.Distance(tip) > balloon+0.5 {
		s.draw(drawing.Line(c.Towards(dir, balloon), tip), drawing.Thin, drawing.NoFill)
		s.mark(drawing.Line(c.Towards(dir, balloon), tip))
		// A circle leaves more room at its corners than its label is said to take.
		if c.Distance(tip) > balloon*math.Sqrt2+headed {
			s.pointed(tip, dir+math.Pi)
		}
	}
	s.draw(drawing.Circle(c, balloon), drawing.Outline.Wider(drawing.Medium), drawing.White)
	s.Text(c, letter, letters.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
}

// outwards is the direction in which a pulley's letter would best lie: away from
// its band, driver and driven of one axle to either side.
func (v *sideView) outwards(k int) units.Radians {
	for i := range v.bands {
		switch b := &v.bands[i]; k {
		case b.from:
			return v.shaftAt(v.pulleys[b.to].shaft).Direction(v.shaftAt(v.pulleys[b.from].shaft)) - 0.9
		case b.to:
			return v.shaftAt(v.pulleys[b.from].shaft).Direction(v.shaftAt(v.pulleys[b.to].shaft)) + 0.9
		}
	}
	return math.Pi / 2
}

// blocked is the dislike of a leader that passes over a label.
func (s *sheet) blocked(a, b drawing.Point) int {
	n := 0
	steps := max(2, int(a.Distance(b)))
	for i := range steps + 1 {
		t := mm(i) / mm(steps)
		q := drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
		for _, r := range s.taken {
			if r.X0 < q.X && q.X < r.X1 && r.Y0 < q.Y && q.Y < r.Y1 {
				n += 10
			}
		}
	}
	return n
}

// hides is how much more a longer label may hide, in points of ink.
const hides = 30

// bandName puts a band's number between its runs, or close outside one, with a
// leader to the nearest.
func (v *sideView) bandName(b *band) {
	words := fmt.Sprintf("band %d", b.number)
	w, h := v.room(words, figures)
	s := v.strands(b)
	var spots []spot
	for _, t := range []mm{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		var mid [2]drawing.Point
		for i := range s {
			a, c := v.at(s[i][0]), v.at(s[i][1])
			u := t
			mid[i] = drawing.Point{X: a.X + (c.X-a.X)*u, Y: a.Y + (c.Y-a.Y)*u}
		}
		away := math.Abs(float64(t-0.5)) * 8
		spots = append(spots, spot{drawing.Point{X: (mid[0].X + mid[1].X) / 2, Y: (mid[0].Y + mid[1].Y) / 2}, away})
		for i := range mid {
			a, c := v.at(s[i][0]), v.at(s[i][1])
			across := a.Direction(c) + math.Pi/2
			reach := 3.5 + (mm(math.Abs(math.Cos(float64(across))))*w+mm(math.Abs(math.Sin(float64(across))))*h)/2
			for _, side := range []mm{1, -1} {
				spots = append(spots, spot{mid[i].Towards(across, side*reach), away + 1},
					spot{mid[i].Towards(across, side*(reach+1.5)), away + 3})
			}
		}
	}
	nearest := func(at drawing.Point) drawing.Point {
		tip := nearestOn(v.at(s[0][0]), v.at(s[0][1]), at)
		if other := nearestOn(v.at(s[1][0]), v.at(s[1][1]), at); other.Distance(at) < tip.Distance(at) {
			tip = other
		}
		return tip
	}
	v.aim = nearest
	defer func() { v.aim = nil }()
	if centres := v.untold[b.number]; centres != "" {
		// Only where it hides little; the table beside the drawing has it too.
		more := fmt.Sprintf("band %d: centres %s", b.number, centres)
		wide, _ := v.room(more, figures)
		_, plain := v.look(w, h, spots)
		if _, cost := v.look(wide, h, spots); cost < plain+hides {
			words, w = more, wide
		}
	}
	if at, ok := v.settle(w, h, spots); ok {
		v.leader(at, w, h, nearest(at))
		v.write(at, words, figures)
	}
}

// nearestOn is the point between a and b nearest to another.
func nearestOn(a, b, p drawing.Point) drawing.Point {
	l := a.Distance(b)
	t := ((p.X-a.X)*(b.X-a.X) + (p.Y-a.Y)*(b.Y-a.Y)) / (l * l)
	t = max(0, min(1, t))
	return drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
}

// nameOf writes a word beside or in a rectangle.
func (s *sheet) nameOf(words string, r drawing.Rect) {
	w, h := s.room(words, figures)
	c := r.Centre()
	spots := []spot{
		{drawing.Point{X: c.X, Y: r.Y1 + h/2 + 0.8}, 0}, {drawing.Point{X: c.X, Y: r.Y0 - h/2 - 0.8}, 0},
		{drawing.Point{X: r.X0 - w/2 - 1, Y: c.Y}, 0}, {drawing.Point{X: r.X1 + w/2 + 1, Y: c.Y}, 0},
		{drawing.Point{X: r.X0 + w/2, Y: r.Y1 + h/2 + 0.8}, 1}, {drawing.Point{X: r.X1 - w/2, Y: r.Y1 + h/2 + 0.8}, 1},
		{drawing.Point{X: r.X0 + w/2, Y: r.Y0 - h/2 - 0.8}, 1}, {drawing.Point{X: r.X1 - w/2, Y: r.Y0 - h/2 - 0.8}, 1},
		{drawing.Point{X: r.X0 - w/2 - 1, Y: r.Y0 - h/2}, 2}, {drawing.Point{X: r.X1 + w/2 + 1, Y: r.Y1 + h/2}, 2},
	}
	for _, more := range []mm{3, 6} {
		for _, dx := range []mm{0, -1, 1} {
			x := c.X + dx*(r.Width()+w)/2
			spots = append(spots, spot{drawing.Point{X: x, Y: r.Y1 + h/2 + more}, float64(more)}, spot{drawing.Point{X: x, Y: r.Y0 - h/2 - more}, float64(more)})
		}
	}
	if at, ok := s.settleAimed(w, h, spots, func(at drawing.Point) drawing.Point { return edge(r, at) }); ok {
		s.leader(at, w, h, drawing.Point{X: max(r.X0, min(r.X1, at.X)), Y: max(r.Y0, min(r.Y1, at.Y))})
		s.write(at, words, figures)
	}
}
