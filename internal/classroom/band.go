package classroom

import "math"

// The rubber: engineering stress in N/mm² at a stretch, and its fit.
const c1, c2 = 0.090, 0.125

func stress(s float64) float64 { return 2 * (s - 1/(s*s)) * (c1 + c2/s) }

// stretched is the stretch at a stress, by Newton's rule from above, where stress is
// nearly a straight line.
func stretched(p float64) float64 {
	s := 1 + p/(6*(c1+c2))
	for range 60 {
		slope := 2*(1+2/(s*s*s))*(c1+c2/s) - 2*(s-1/(s*s))*c2/(s*s)
		step := (p - stress(s)) / slope
		s = math.Max(1+1e-12, s+step)
		if math.Abs(step) < 1e-13 {
			break
		}
	}
	return s
}

// memory is the integral of P'/(P s) over the stretch, up to a constant.
func memory(s float64) float64 {
	return math.Log(s-1) - math.Log(s*s+s+1)/2 + math.Sqrt(3)*math.Atan((2*s+1)/math.Sqrt(3)) +
		c1/c2*math.Log(s/(c1*s+c2)) + 3/s
}

// band is one on its two pulleys, at rest.
type band struct {
	r1, r2, span, arc1, arc2 float64 // pitch radii; one free run; arcs of contact
	lean                     float64 // of a run from the line of centres, to the side of the larger driven pulley
	m1, m2                   float64 // effective friction
	rest, stretch, force     float64 // loop at rest; stretch on the pulleys; N for each N/mm²
	fits                     bool
}

// put puts a loop on two grooves at a centre distance c. What is thick when slack is
// thin when stretched.
func put(floor1, floor2, angle1, angle2, rest, thick, force, friction, c float64, crossed bool) band {
	b := band{rest: rest, force: force}
	lap := func(s float64) float64 {
		t := thick / math.Sqrt(s)
		b.r1, b.r2 = (floor1+t)/2, (floor2+t)/2
		across := b.r2 - b.r1
		if crossed {
			across = b.r2 + b.r1
		}
		a := math.Asin(math.Min(1, math.Abs(across)/c))
		b.span = c * math.Cos(a)
		b.lean = a
		switch {
		case crossed:
			b.arc1, b.arc2, b.lean = math.Pi+2*a, math.Pi+2*a, -a
		case across < 0:
			b.arc1, b.arc2, b.lean = math.Pi+2*a, math.Pi-2*a, -a
		default:
			b.arc1, b.arc2 = math.Pi-2*a, math.Pi+2*a
		}
		return 2*b.span + b.r1*b.arc1 + b.r2*b.arc2
	}
	s := 1.0
	for range 80 {
		s = lap(s) / rest
	}
	b.stretch = s
	wedge := func(floor, r, angle float64) float64 {
		m := friction * floor / 2 / r
		if angle > 0 {
			m /= math.Sin(angle / 2)
		}
		return m
	}
	b.m1, b.m2 = wedge(floor1, b.r1, angle1), wedge(floor2, b.r2, angle2)
	b.fits = s > 1 && c > b.r1+b.r2
	return b
}

// short is by how much rest length the path takes up less than there is of the band, its
// runs at the stresses p1 (tight) and p2.
func (b *band) short(p1, p2 float64) float64 {
	s1, s2 := stretched(p1), stretched(p2)
	slide := math.Log(p1 / p2)
	return b.rest - (b.span+b.r1*b.arc1-b.r1*slide/b.m1)/s1 - (b.span+b.r2*b.arc2-b.r2*slide/b.m2)/s2 -
		(b.r1/b.m1+b.r2/b.m2)*(memory(s1)-memory(s2))
}

// most is the effective pull at which the band slips: the ratio of its pulls is all that
// the weaker of the two pulleys holds.
func (b *band) most() float64 {
	share := math.Exp(-math.Min(b.m1*b.arc1, b.m2*b.arc2))
	p := between0(func(p float64) float64 { return b.short(p, p*share) }, 1e-9, 8*stress(b.stretch))
	return b.force * p * (1 - share)
}

// pulls are those of the tight and the slack run, and their stretches, at an effective
// pull that the band can carry.
func (b *band) pulls(effective float64) (tight, slack, s1, s2 float64) {
	drop := effective / b.force
	idle := stress(b.stretch)
	p2 := idle
	if drop > 1e-12*idle {
		least := drop / math.Expm1(math.Min(b.m1*b.arc1, b.m2*b.arc2))
		p2 = between0(func(p float64) float64 { return b.short(p+drop, p) }, least, 2*idle+least)
	}
	return b.force * (p2 + drop), b.force * p2, stretched(p2 + drop), stretched(p2)
}

// between0 is where a function that rises from below 0 at low to above 0 at high is 0, by
// halving; an end of the range if it is not between.
func between0(f func(float64) float64, low, high float64) float64 {
	for range 100 {
		mid := low + (high-low)/2
		if high-low <= 1e-12*math.Abs(high) {
			return mid
		}
		if f(mid) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low + (high-low)/2
}
