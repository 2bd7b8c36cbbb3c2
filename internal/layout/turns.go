package layout

import (
	"math"

	"findrive/internal/units"
)

// Turn asks that the way from shaft A by B to C bends by no more than an angle, at most a right
// one.
type Turn struct {
	A, B, C int
	Cos     float64 // of that angle, from 0 to 1
}

// Steep asks that shaft To stands above From by at least so much of their distance.
type Steep struct {
	From, To int
	Sin      float64 // from 0 to 1
}

// turnNoise, in mm², and steepNoise cover rounding: windows may say the same of the same
// shafts, and say it otherwise.
const (
	turnNoise     = 1e-4
	steepNoise mm = 1e-6
)

// Holds tells whether places turn by no more than is asked.
func (t *Turn) Holds(at []Point) bool {
	u, v := at[t.B].from(at[t.A]), at[t.C].from(at[t.B])
	return float64(u.X*v.X+u.Y*v.Y) >= t.Cos*math.Sqrt(float64((u.X*u.X+u.Y*u.Y)*(v.X*v.X+v.Y*v.Y)))-turnNoise
}

// Holds tells whether one place is as far above the other as is asked.
func (t *Steep) Holds(at []Point) bool {
	return at[t.To].Y-at[t.From].Y >= mm(t.Sin)*distance(at[t.From], at[t.To])-steepNoise
}

func (p Point) from(o Point) Point { return Point{p.X - o.X, p.Y - o.Y} }

// apartByTurns draws from turns how far the shafts at the ends of a way are apart at least.
func (s *search) apartByTurns() {
	for k := range s.p.Turns {
		t := &s.p.Turns[k]
		a, b := s.reach(t.A, t.B), s.reach(t.B, t.C)
		s.atLeast(t.A, t.C, a.Lo*a.Lo+b.Lo*b.Lo+2*a.Lo*b.Lo*t.Cos)
		for j := range s.p.Turns {
			if next := &s.p.Turns[j]; next.A == t.B && next.B == t.C {
				s.apartByTwo(t, next)
			}
		}
	}
}

// apartByTwo is the same of a way A B C D with two turns, which are most if both lead the
// same way. With the lengths a, b and c of its steps and v and w of the turns
//
//	|AD|² = a² + b² + c² + 2ab cos v + 2bc cos w + 2ac cos(v+w) = |AC|² + |BD|² - b² + 2ac cos(v+w)
//
// where v+w is half a turn at most.
func (s *search) apartByTwo(t, next *Turn) {
	a, b, c := s.reach(t.A, t.B), s.reach(t.B, t.C), s.reach(t.C, next.C)
	first, last := s.reach(t.A, t.C).Lo, s.reach(t.B, next.C).Lo
	both := t.Cos*next.Cos - math.Sqrt((1-t.Cos*t.Cos)*(1-next.Cos*next.Cos))
	ends := 2 * both * a.Lo * c.Lo
	if both < 0 {
		ends = 2 * both * a.Hi * c.Hi
	}
	bySteps := a.Lo*a.Lo + b.Lo*b.Lo + c.Lo*c.Lo + 2*a.Lo*b.Lo*t.Cos + 2*b.Lo*c.Lo*next.Cos
	s.atLeast(t.A, next.C, ends+max(bySteps, first*first+last*last-b.Hi*b.Hi))
}

// reach is how far two shafts may be apart, in mm.
func (s *search) reach(i, j int) units.Interval[float64] {
	w := s.pairOf(i, j)
	return units.Interval[float64]{Lo: float64(max(0, w.near)), Hi: float64(w.far)}
}

// atLeast takes in that two shafts are apart by at least the root of so much.
func (s *search) atLeast(i, j int, squared float64) {
	if squared > 0 {
		w := s.pairOf(i, j)
		w.near = max(w.near, mm(math.Sqrt(squared))-slop)
	}
}

// keepTurns takes from the boxes what would turn too far or not be steep enough; false if
// nothing is left.
func (s *search) keepTurns(b *boxes) bool {
	for k := range s.p.Turns {
		t := &s.p.Turns[k]
		if s.parent[t.B] == t.A && s.parent[t.C] == t.B && (!b[t.C].turnFrom(b[t.B], t.Cos) || !b[t.B].turnFrom(b[t.C], t.Cos)) {
			return false
		}
	}
	for k := range s.p.Steeps {
		t := &s.p.Steeps[k]
		cos := math.Sqrt(1 - t.Sin*t.Sin)
		up := cos
		of, from := t.To, t.From
		if from > of {
			of, from, up = from, of, -cos
		}
		if s.parent[of] == from && (!b[of].keepSide(t.Sin, up) || !b[of].keepSide(-t.Sin, up)) {
			return false
		}
	}
	return true
}

// turnFrom takes from a box of steps what is turned too far from every step of another; false
// if nothing is left.
func (b *span) turnFrom(o span, cos float64) bool {
	if o.x0 <= 0 && o.x1 >= 0 && o.y0 <= 0 && o.y1 >= 0 {
		return true // they lead anywhere
	}
	type step struct{ x, y float64 }
	cross := func(a, b step) float64 { return a.x*b.y - a.y*b.x }
	x0, x1, y0, y1 := float64(o.x0), float64(o.x1), float64(o.y0), float64(o.y1)
	right, left := step{x0, y0}, step{x0, y0} // the outermost directions
	for _, c := range [...]step{{x1, y0}, {x1, y1}, {x0, y1}} {
		if cross(right, c) < 0 {
			right = c
		}
		if cross(left, c) > 0 {
			left = c
		}
	}
	sin := math.Sqrt(1 - cos*cos)
	right = step{right.x*cos + right.y*sin, right.y*cos - right.x*sin}
	left = step{left.x*cos - left.y*sin, left.y*cos + left.x*sin}
	if cross(right, left) <= 0 {
		return true // half a turn or more between them
	}
	return b.keepSide(-right.y, right.x) && b.keepSide(left.y, -left.x)
}

// keepSide takes from a box what lies wholly where x times one number and y times another are
// below 0 together; false if nothing is left.
func (b *span) keepSide(x, y float64) bool {
	spare := float64(slop) * (math.Abs(x) + math.Abs(y))
	mostX, mostY := max(x*float64(b.x0), x*float64(b.x1)), max(y*float64(b.y0), y*float64(b.y1))
	if mostX+mostY < -spare {
		return false
	}
	keep := func(lo, hi *int, by, others float64) {
		switch at := -(others + spare) / by; {
		case by > 0 && at > float64(*lo):
			*lo = int(math.Ceil(at))
		case by < 0 && at < float64(*hi):
			*hi = int(math.Floor(at))
		}
	}
	keep(&b.x0, &b.x1, x, mostY)
	keep(&b.y0, &b.y1, y, mostX)
	return !b.empty()
}
