package layout

import "math"

// The strands of an open band are lines that touch both pitch circles. Their directions are known
// within an angle where that from shaft to shaft is, and whether they pass by a thing hangs little
// on how far along them it lies: so it can be told of large boxes that a thing stands in the way.

// strandClash reports whether one and the same strand of a run comes within need of a shaft's
// centre wherever in the boxes the steps lie, seen from either end of the run.
func (s *search) strandClash(b *boxes, run *Run, shaft int, need mm) bool {
	if run.Crossed || shaft == run.From || shaft == run.To {
		return false
	}
	return s.strandClashFrom(b, run.From, run.To, run.FromPitch, run.ToPitch, shaft, need) ||
		s.strandClashFrom(b, run.To, run.From, run.ToPitch, run.FromPitch, shaft, need)
}

// strandClashFrom is the same seen from one end, a shaft with a pitch circle of radius r; that of the
// shaft at the other end has radius o.
//
// A strand turns out from the line between the shafts by an angle of sine (o-r)/c, c being their
// distance. A point p from the end lies off the strand by the part of p square to it, less r, and so
// far along it as the part of p along it. For one direction of the strand either is greatest and
// least at corners of where p may be; for one p at the outermost directions, or where the strand is
// square to p or along it. If p is off by less than need at both extremes, and never before the
// strand begins or beyond where it ends, it is too near.
func (s *search) strandClashFrom(b *boxes, end, other int, r, o mm, shaft int, need mm) bool {
	things := s.areaFrom(b, end, shaft)
	if things.narrowest() >= 2*need {
		return false // it may pass the strand by on either side
	}
	to := s.areaFrom(b, end, other)
	right, left, ok := to.outermost()
	if !ok {
		return false
	}
	w := s.pairOf(end, other)
	nearest, furthest := to.distances()
	nearest, furthest = max(nearest, w.near-slop), min(furthest, w.far+slop)
	if nearest <= max(o-r, r-o) || furthest < nearest {
		return false
	}
	least, most := (o-r)/nearest, (o-r)/furthest // sines
	if least > most {
		least, most = most, least
	}
	length := mm(math.Sqrt(float64(nearest*nearest - (o-r)*(o-r))))
	at := things.corners()
	return inTheWay(&at, right.turned(least), left.turned(most), 1, r, length, need) || // the left strand
		inTheWay(&at, right.turned(-most), left.turned(-least), -1, r, length, need)
}

// inTheWay reports whether all that lies between some corners is too near to a strand on one side, 1
// for the left and -1 for the right, whose direction lies between two.
func inTheWay(corners *[4]Point, right, left Point, side, r, length, need mm) bool {
	for _, p := range corners {
		off, offLeft := side*right.cross(p), side*left.cross(p)
		along, alongLeft := right.dot(p), left.dot(p)
		if min(along, alongLeft) < 0 {
			return false
		}
		furthest := max(along, alongLeft)
		if off*offLeft < 0 {
			furthest = mm(math.Sqrt(float64(p.dot(p)))) // some direction leads to p
		}
		if furthest > length || max(off, offLeft)-r >= need || min(off, offLeft)-r <= -need {
			return false
		}
	}
	return true
}

// area is where one shaft may be from another.
type area struct{ x0, x1, y0, y1 mm }

// areaFrom is where shaft j may be from shaft i.
func (s *search) areaFrom(b *boxes, i, j int) area {
	w := s.pairOf(i, j)
	sum := b.sum(w)
	a := area{mm(sum.x0) * s.pitch, mm(sum.x1) * s.pitch, mm(sum.y0)*s.pitch + w.base, mm(sum.y1)*s.pitch + w.base}
	if i > j {
		return area{-a.x1, -a.x0, -a.y1, -a.y0}
	}
	return a
}

func (a *area) narrowest() mm { return min(a.x1-a.x0, a.y1-a.y0) }

func (a *area) corners() [4]Point {
	return [4]Point{{a.x0, a.y0}, {a.x1, a.y0}, {a.x1, a.y1}, {a.x0, a.y1}}
}

// outermost are the directions furthest to the right and to the left that lead into an area; false if
// they may be any.
func (a *area) outermost() (right, left Point, ok bool) {
	if a.x0 <= 0 && a.x1 >= 0 && a.y0 <= 0 && a.y1 >= 0 {
		return right, left, false
	}
	at := a.corners()
	right, left = at[0], at[0]
	for _, c := range at[1:] {
		if right.cross(c) < 0 {
			right = c
		}
		if left.cross(c) > 0 {
			left = c
		}
	}
	return right.unit(), left.unit(), true
}

// distances are the least and the greatest of an area from where it is seen.
func (a *area) distances() (least, most mm) {
	x := max(0, a.x0, -a.x1)
	y := max(0, a.y0, -a.y1)
	farX, farY := max(-a.x0, a.x1), max(-a.y0, a.y1)
	return mm(math.Sqrt(float64(x*x + y*y))), mm(math.Sqrt(float64(farX*farX + farY*farY)))
}

func (p Point) cross(o Point) mm { return p.X*o.Y - p.Y*o.X }

func (p Point) dot(o Point) mm { return p.X*o.X + p.Y*o.Y }

func (p Point) unit() Point {
	size := mm(math.Sqrt(float64(p.dot(p))))
	return Point{p.X / size, p.Y / size}
}

// turned is a direction turned to the left by the angle of a sine.
func (p Point) turned(sin mm) Point {
	cos := mm(math.Sqrt(float64(1 - sin*sin)))
	return Point{p.X*cos - p.Y*sin, p.Y*cos + p.X*sin}
}
