package recheck

import "math"

// vector is a force or a place in the plane of the drawing.
type vector struct{ x, y float64 }

func (a vector) plus(b vector) vector      { return vector{a.x + b.x, a.y + b.y} }
func (a vector) minus(b vector) vector     { return vector{a.x - b.x, a.y - b.y} }
func (a vector) by(k float64) vector       { return vector{a.x * k, a.y * k} }
func (a vector) size() float64             { return math.Hypot(a.x, a.y) }
func (a vector) along() vector             { return a.by(1 / a.size()) }
func (a vector) left() vector              { return vector{-a.y, a.x} }
func (a vector) dot(b vector) float64      { return a.x*b.x + a.y*b.y }
func (p point) vector() vector             { return vector{p.X, p.Y} }
func distance(a, b vector) float64         { return a.minus(b).size() }
func degrees(radians float64) float64      { return radians * 180 / math.Pi }
func radians(degrees float64) float64      { return degrees * math.Pi / 180 }
func radiansPerSecond(rpm float64) float64 { return rpm * math.Pi / 30 }

// strand is one free run of a band, from the driver's tangent point to the
// driven's.
type strand struct{ from, to vector }

// strands are the two free runs round circles of radii r1 about a and r2 about
// b. The first leaves a on the left of the line from a to b. A line that touches
// both circles has a common normal w, and w·(b-a) is r1-r2 when both circles lie
// on the same side of it, r1+r2 when the band is crossed.
func strands(a, b vector, r1, r2 float64, crossed bool) [2]strand {
	u := b.minus(a).along()
	across := r1 - r2
	far := r2
	if crossed {
		across, far = r1+r2, -r2
	}
	s := math.Max(-1, math.Min(1, across/distance(a, b)))
	c := math.Sqrt(1 - s*s)
	var out [2]strand
	for i, side := range []float64{1, -1} {
		w := u.by(s).plus(u.left().by(side * c))
		out[i] = strand{a.plus(w.by(r1)), b.plus(w.by(far))}
	}
	return out
}

// clear is the distance from a place to the strand.
func (s strand) clear(p vector) float64 {
	d := s.to.minus(s.from)
	t := math.Max(0, math.Min(1, p.minus(s.from).dot(d)/d.dot(d)))
	return distance(p, s.from.plus(d.by(t)))
}

// between reports whether a place is between the strands: whether a line to the right from it
// leaves the figure that they make with the lines across their ends an odd number of times.
func between(s [2]strand, p vector) bool {
	odd := false
	for _, side := range []strand{s[0], {s[0].to, s[1].to}, s[1], {s[1].from, s[0].from}} {
		a, b := side.from, side.to
		if (a.y > p.y) != (b.y > p.y) && p.x < a.x+(p.y-a.y)/(b.y-a.y)*(b.x-a.x) {
			odd = !odd
		}
	}
	return odd
}

// path measures a band round circles of radii r1 and r2 at a centre distance.
func path(c, r1, r2 float64, crossed bool) (length, span, arc1, arc2 float64) {
	if crossed {
		half := math.Acos(math.Max(-1, math.Min(1, (r1+r2)/c)))
		span = math.Sqrt(math.Max(0, c*c-(r1+r2)*(r1+r2)))
		arc1 = 2*math.Pi - 2*half
		return 2*span + arc1*(r1+r2), span, arc1, arc1
	}
	half := math.Acos(math.Max(-1, math.Min(1, (r1-r2)/c)))
	span = math.Sqrt(math.Max(0, c*c-(r1-r2)*(r1-r2)))
	arc1, arc2 = 2*math.Pi-2*half, 2*half
	return 2*span + arc1*r1 + arc2*r2, span, arc1, arc2
}

// belt is a stage's band as given, with the grip between band and groove.
type belt struct {
	rubber                 rubber
	floor1, floor2         float64
	angle1, angle2         float64 // of the V grooves, radians, 0 for none
	rest, thickness, force float64 // force: pull of one run for each MPa
	crossed                bool
	grip                   float64
}

// fitted is the band at rest at a centre distance.
type fitted struct {
	centre, stretch    float64
	r1, r2             float64 // pitch radii
	length, span       float64
	arc1, arc2, m1, m2 float64
}

func (b *belt) at(c, stretch float64) fitted {
	t := b.thickness / math.Sqrt(stretch)
	f := fitted{centre: c, stretch: stretch, r1: (b.floor1 + t) / 2, r2: (b.floor2 + t) / 2}
	f.length, f.span, f.arc1, f.arc2 = path(c, f.r1, f.r2, b.crossed)
	f.m1, f.m2 = b.grip*b.floor1/(2*f.r1), b.grip*b.floor2/(2*f.r2)
	if b.angle1 > 0 {
		f.m1 /= math.Sin(b.angle1 / 2)
	}
	if b.angle2 > 0 {
		f.m2 /= math.Sin(b.angle2 / 2)
	}
	return f
}

// fit finds the stretch at which the band fills its path.
func (b *belt) fit(c float64) (fitted, bool) {
	over := func(s float64) float64 { return b.at(c, s).length - s*b.rest }
	if !(b.rest > 0) || !(c > 0) || !(over(0.05) > 0) || !(over(20) < 0) {
		return fitted{}, false
	}
	f := b.at(c, root(over, 0.05, 20))
	return f, f.stretch > 1 && c >= f.r1+f.r2
}

// surplus is the rest length that the path takes up with the runs at stretches
// s1 and s2, less the band's own: 0 for a running band. Each pulley holds the
// stretch at which the band runs on, up to the sliding arc before it runs off.
func (b *belt) surplus(f *fitted, s1, s2 float64) float64 {
	slide := math.Log(b.rubber.stress(s1) / b.rubber.stress(s2))
	arcs := f.r1/f.m1 + f.r2/f.m2
	held1 := f.span + f.r1*(f.arc1-slide/f.m1)
	held2 := f.span + f.r2*(f.arc2-slide/f.m2)
	return held1/s1 + held2/s2 + arcs*b.rubber.restOnSlidingArc(s2, s1) - b.rest
}

// exponent is the logarithm of the greatest ratio of the two pulls.
func (f *fitted) exponent() float64 { return math.Min(f.m1*f.arc1, f.m2*f.arc2) }

// carry finds the stretches of the two runs when the band carries an effective
// pull; false if it slips.
func (b *belt) carry(f *fitted, effective float64) (s1, s2 float64, ok bool) {
	if effective == 0 {
		return f.stretch, f.stretch, true
	}
	drop := effective / b.force
	if !(drop > 0) {
		return 0, 0, false
	}
	over := func(slack float64) float64 {
		return b.surplus(f, b.rubber.stretchAt(slack+drop), b.rubber.stretchAt(slack))
	}
	least := drop / math.Expm1(f.exponent())
	if !(over(least) >= 0) {
		return 0, 0, false
	}
	most := math.Max(2*least, b.rubber.stress(f.stretch))
	for range 60 {
		if over(most) <= 0 {
			break
		}
		most *= 2
	}
	slack := root(over, least, most)
	return b.rubber.stretchAt(slack + drop), b.rubber.stretchAt(slack), true
}

// growth is how much more the band at rest pulls, as a share, with its pulleys a mm further
// apart: each of its two runs gets longer by the cosine of its lean.
func (b *belt) growth(f *fitted) float64 {
	return 2 * f.span / f.centre / b.rest * b.rubber.slope(f.stretch) / b.rubber.stress(f.stretch)
}

// greatest is the effective pull at which the band begins to slip.
func (b *belt) greatest(f *fitted) float64 {
	share := math.Exp(-f.exponent())
	over := func(tight float64) float64 {
		return b.surplus(f, b.rubber.stretchAt(tight), b.rubber.stretchAt(tight*share))
	}
	idle := b.rubber.stress(f.stretch)
	lo, hi := idle/4, idle
	for range 60 {
		if over(lo) > 0 {
			break
		}
		lo /= 2
	}
	for range 60 {
		if over(hi) <= 0 {
			break
		}
		hi *= 2
	}
	return b.force * root(over, lo, hi) * (1 - share)
}
