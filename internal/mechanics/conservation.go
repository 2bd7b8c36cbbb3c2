package mechanics

import "math"

// conservation is the equation of Load in bare numbers: mm, MPa and radians.
type conservation struct {
	rest         float64
	held1, held2 float64 // path that holds the stretch of either run while nothing slides
	q1, q2       float64 // r/m: sliding arc for each unit of ln(pull)
	exponent     float64 // ln R, the most that the logarithm of the pulls' ratio can be
	idle         float64 // stress at rest
	rubber       Rubber
	soft         float64 // strain for each unit of stress at a stretch of 1
}

// mostExponent keeps exp(exponent) within what a float64 holds. Nothing real
// comes near: the sharpest V and the best grip give about 30.
const mostExponent = 600

func (s *Stage) conservation(f *Fitted) conservation {
	r1, r2 := float64(f.DriverPitch)/2, float64(f.DrivenPitch)/2
	arc1, arc2 := float64(f.DriverArc), float64(f.DrivenArc)
	m1, m2 := s.wedged(*f)
	return conservation{
		rest:  float64(s.Band.Rest),
		held1: float64(f.Span) + r1*arc1, held2: float64(f.Span) + r2*arc2,
		q1: r1 / m1, q2: r2 / m2, exponent: min(m1*arc1, m2*arc2, mostExponent),
		idle: float64(f.Pull) / s.Band.force(), rubber: s.Band.Rubber,
		soft: 1 / (6 * float64(s.Band.Rubber.C1+s.Band.Rubber.C2)),
	}
}

// balance is a pair of strains, of the tight and the slack run, and how near they
// are to conserving the band.
type balance struct {
	e1, e2 float64
	// over is the rest length in mm that the path would take up, less the band's.
	// by1 to by22 are its first and second derivatives by the strains.
	over             float64
	by1, by2         float64
	by11, by12, by22 float64
	// Stress in MPa of either run, and its first and second derivative by the strain.
	p1, slope1, bend1 float64
	p2, slope2, bend2 float64
}

// weigh fills in a balance by its strains, which must be above 0.
func (c *conservation) weigh(b *balance) {
	c1, c2 := float64(c.rubber.C1), float64(c.rubber.C2)
	s1, s2 := 1+b.e1, 1+b.e2
	both := 1 / (s1 * s2)
	u1, u2 := s2*both, s1*both
	sq1, sq2 := u1*u1, u2*u2
	t1, t2 := 1+s1+s1*s1, 1+s2+s2*s2

	p1, p2 := 2*b.e1*t1*sq1*(c1+c2*u1), 2*b.e2*t2*sq2*(c1+c2*u2)
	slope1, slope2 := 2*(c1+sq1*u1*(2*c1+3*c2*u1)), 2*(c1+sq2*u2*(2*c1+3*c2*u2))
	bend1, bend2 := -12*sq1*sq1*(c1+2*c2*u1), -12*sq2*sq2*(c1+2*c2*u2)
	inverse1, inverse2 := 1/p1, 1/p2

	pulls := math.Log(p1 * inverse2)
	held1, held2 := c.held1-c.q1*pulls, c.held2-c.q2*pulls
	// F(s1) - F(s2), with the logarithms and arcs of tangent drawn together.
	roots := math.Log(b.e1 / b.e2 * math.Sqrt(t2/t1))
	turn := math.Atan(math.Sqrt(3) * (s1 - s2) / (2 + s1 + s2 + 2*s1*s2))
	gap := u1 - u2
	memory := roots + math.Sqrt(3)*turn - c.rubber.shareBetween(u1, u2) + 3*gap

	b.over = held1*u1 + held2*u2 + (c.q1+c.q2)*memory - c.rest
	log1, log2 := slope1*inverse1, slope2*inverse2 // derivatives of ln(stress)
	b.by1 = c.q2*log1*gap - held1*sq1
	b.by2 = c.q1*log2*gap - held2*sq2
	b.by11 = 2*held1*sq1*u1 + (c.q1-c.q2)*log1*sq1 + c.q2*(bend1*inverse1-log1*log1)*gap
	b.by22 = 2*held2*sq2*u2 + (c.q1-c.q2)*log2*sq2 + c.q1*(bend2*inverse2-log2*log2)*gap
	b.by12 = c.q2*log1*sq2 - c.q1*log2*sq1
	b.p1, b.slope1, b.bend1 = p1, slope1, bend1
	b.p2, b.slope2, b.bend2 = p2, slope2, bend2
}

// near is how close approach comes to the strains, as a share of them.
const near = 3e-12

// approach moves a balance's strains from a guess to those that conserve the band
// while slack stress = gain x tight stress - drop. False if a few rounds do not get
// there. What else the balance holds is of the round before the last step.
//
// Halley's method along the line on which the stresses differ as they should. It
// triples the figures that are right in each round, where Newton's doubles them, and
// second derivatives cost less than the logarithms of another round.
func (c *conservation) approach(gain, drop float64, b *balance) bool {
	p1, _ := c.rubber.tension(b.e1)
	p2, slope2 := c.rubber.tension(b.e2)
	slack := gain*p1 - drop
	b.e2 = max(b.e2+(slack-p2)/slope2, slack*c.soft)
	for range 6 {
		if !(b.e1 > 0) || !(b.e2 > 0) {
			break
		}
		c.weigh(b)
		soft := 1 / b.slope2
		off := (gain*b.p1 - drop - b.p2) * soft
		along := gain * b.slope1 * soft // de2/de1 on that line, and d2e2/de1²
		curve := (gain*b.bend1 - b.bend2*along*along) * soft
		rate := b.by1 + b.by2*along
		turn := b.by11 + along*(2*b.by12+along*b.by22) + b.by2*curve
		miss := b.over + b.by2*off
		step := -2 * miss * rate / (2*rate*rate - miss*turn)
		slackStep := off + step*(along+curve/2*step)
		b.e1 += step
		b.e2 += slackStep
		share := max(math.Abs(step)/b.e1, math.Abs(slackStep)/b.e2)
		// What the step leaves is of the order of this.
		if share*(share*share+math.Abs(off)/b.e2) < near {
			return b.e1 > 0 && b.e2 > 0
		}
	}
	return false
}

// slips reports whether the band is too short to be conserved at the least tight
// stress that holds a drop; if not, the balance is left there.
func (c *conservation) slips(least float64, b *balance) bool {
	b.e1, b.e2 = c.rubber.strainAt(least, b.e1), c.rubber.strainAt(least*math.Exp(-c.exponent), b.e2)
	c.weigh(b)
	return b.over < 0
}

// solve finds the strains of the tight and slack run that conserve the band
// while slack stress = gain x tight stress - drop. The rest length taken up
// falls steadily as the tight strain grows. start is a guess at the tight
// stress, least the lowest allowed: if the root lies below it there is none.
// guess is a first guess of both strains.
//
// Newton's method inside a shrinking bracket: slower than approach, and sure.
func (c *conservation) solve(gain, drop, start, least, guess float64) (e1, e2 float64, ok bool) {
	low, high := -1.0, math.Inf(1) // low < 0: the lower end has not been tried
	e1 = c.rubber.strainAt(max(start, least), guess)
	atLeast := !(start > least)
	e2 = guess
	for range 200 {
		p1, slope1 := c.rubber.tension(e1)
		e2 = c.rubber.strainAt(gain*p1-drop, e2)
		b := balance{e1: e1, e2: e2}
		c.weigh(&b)
		if b.over < 0 {
			if atLeast {
				return 0, 0, false
			}
			high = e1
		} else {
			low = e1
		}
		rate := b.by1 + b.by2*gain*slope1/b.slope2
		next := e1 - b.over/rate
		atLeast = false
		if p, _ := c.rubber.tension(next); !(p >= least) && low < 0 {
			next = c.rubber.strainAt(least, e1)
			atLeast = true
		} else if !(next >= low && next <= high) {
			if math.IsInf(high, 1) {
				next = 2*low + 1e-3
			} else {
				next = low + (high-low)/2
			}
		}
		step := math.Abs(next - e1)
		e1 = next
		if step <= 1e-10*e1 && !atLeast {
			break
		}
	}
	p1, _ := c.rubber.tension(e1)
	e2 = c.rubber.strainAt(gain*p1-drop, e2)
	return e1, e2, true
}
