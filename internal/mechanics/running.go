package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Loaded is a stage at work.
type Loaded struct {
	Tight, Slack               units.Newtons // pulls of the two runs
	TightStretch, SlackStretch float64
	// SpeedFactor is driven surface speed / driver surface speed, which is
	// slack stretch / tight stretch: as much rest length passes every point of
	// the path in a second, so the slack run, less stretched, runs slower. It
	// is also the stage's efficiency. The driven pulley turns at driver speed
	// x SpeedFactor / Ratio.
	SpeedFactor float64
}

// CreepFactor is driven surface speed / driver surface speed of a band that
// runs on at these stretches: slack / tight. The textbook formula with square
// roots of stresses is dimensionally wrong.
func CreepFactor(tightStretch, slackStretch float64) float64 { return slackStretch / tightStretch }

// Load works out the running stage when it carries an effective pull (torque on
// a pulley over its pitch radius; tight pull less slack pull).
//
// The band is conserved: no rest length is lost when it moves from the slack
// run to the tight one. Each pulley holds the stretch at which the band runs
// on, until a sliding arc phi = ln(P1/P2)/m just before it runs off, in which
// friction brings it to the stretch of the next run:
//
//	rest = [p + r1 (th1 - phi1)]/s1 + [p + r2 (th2 - phi2)]/s2
//	       + (r1/m1 + r2/m2) [F(s1) - F(s2)]
//
// with F = Rubber.Memory. Together with T1 - T2 = effective that has one root.
//
// False: the band slips (or is loose, or effective is negative or no number;
// for a load that drives the motor swap the pulleys). With effective 0 both
// runs pull alike, and a stage without friction carries only that. The driver
// may be the larger pulley. The answer at exactly the greatest pull of Grip is
// a matter of rounding.
func (s Stage) Load(f Fitted, effective units.Newtons) (Loaded, bool) {
	var at loading
	return s.load(f, nil, effective, &at)
}

// Loads is Load for each of several effective pulls, quickest if they rise
// steadily; it ends at the first that slips.
func (s Stage) Loads(f Fitted, effective []units.Newtons) []Loaded {
	out := make([]Loaded, 0, len(effective))
	c := s.conservation(f)
	var at loading
	for _, pull := range effective {
		l, ok := s.load(f, &c, pull, &at)
		if !ok {
			break
		}
		out = append(out, l)
	}
	return out
}

// loading remembers the last loads of a stage, from which the next is guessed.
type loading struct {
	known          int
	stress, before float64 // tight stress at the last load and the one before
	e1, e2         float64
}

// load is Load; c is the stage's conservation if it is at hand.
func (s Stage) load(f Fitted, c *conservation, effective units.Newtons, at *loading) (Loaded, bool) {
	if effective == 0 && f.Stretch > 1 {
		return Loaded{Tight: f.Pull, Slack: f.Pull, TightStretch: f.Stretch, SlackStretch: f.Stretch, SpeedFactor: 1}, true
	}
	force := s.Band.force()
	if !(effective > 0) || !(f.Stretch > 1) || !(force > 0) || !(s.Friction > 0) {
		return Loaded{}, false
	}
	if c == nil {
		own := s.conservation(f)
		c = &own
	}
	drop := float64(effective) / force
	if math.IsInf(drop, 1) {
		return Loaded{}, false
	}
	// Tight stress at which the slack side is just enough to hold: T1 = R T2.
	least := drop / -math.Expm1(-c.exponent())
	guess1, guess2 := f.Stretch-1, f.Stretch-1
	var start float64
	if at.known < 2 {
		// To first order the two runs share the change of pull by their lengths.
		tightSide, slackSide := c.span+c.r1*c.arc1, c.span+c.r2*c.arc2
		start = float64(f.Pull)/force + drop*slackSide/(tightSide+slackSide)
	} else {
		start, guess1, guess2 = 2*at.stress-at.before, at.e1, at.e2
	}
	e1, e2, ok := c.solve(1, drop, start, least, guess1, guess2)
	if !ok {
		return Loaded{}, false
	}
	p1, _ := c.rubber.tension(e1)
	*at = loading{known: at.known + 1, stress: p1, before: at.stress, e1: e1, e2: e2}
	tight := units.Newtons(force * p1)
	return Loaded{
		Tight: tight, Slack: tight - effective,
		TightStretch: 1 + e1, SlackStretch: 1 + e2,
		SpeedFactor: CreepFactor(1+e1, 1+e2),
	}, true
}

// Grip is the greatest effective pull, at which the band begins to slip, and
// the stretch of the tight run there: the conservation of Load with
// T1/T2 = exp(min(m1 th1, m2 th2)). Grip is lost before the slack run goes
// limp. Both are 0 for a loose band; a stage without friction has no grip.
func (s Stage) Grip(f Fitted) (greatest units.Newtons, tightStretch float64) {
	force := s.Band.force()
	if !(f.Stretch > 1) || !(force > 0) {
		return 0, 0
	}
	if !(s.Friction > 0) {
		return 0, f.Stretch
	}
	c := s.conservation(f)
	share := math.Exp(-c.exponent())
	idle := float64(f.Pull) / force
	// Equal and opposite changes of pull: a fair first guess.
	start := 2 * idle / (1 + share)
	e1, _, ok := c.solve(share, 0, start, idle, f.Stretch-1, f.Stretch-1)
	if !ok {
		return 0, f.Stretch
	}
	p1, _ := c.rubber.tension(e1)
	return units.Newtons(force * p1 * (1 - share)), 1 + e1
}

// conservation is the equation of Load in bare numbers.
type conservation struct {
	rest, span                 float64
	r1, r2, arc1, arc2, m1, m2 float64
	rubber                     Rubber
}

func (s Stage) conservation(f Fitted) conservation {
	c := conservation{
		rest: float64(s.Band.Rest), span: float64(f.Span),
		r1: float64(f.DriverPitch) / 2, r2: float64(f.DrivenPitch) / 2,
		arc1: float64(f.DriverArc), arc2: float64(f.DrivenArc), rubber: s.Band.Rubber,
	}
	c.m1, c.m2 = s.wedged(f)
	return c
}

// mostExponent keeps exp(exponent) within what a float64 holds. Nothing real
// comes near: the sharpest V and the best grip give about 30.
const mostExponent = 600

// exponent is ln R, the most that the logarithm of the pulls' ratio can be.
func (c *conservation) exponent() float64 { return min(c.m1*c.arc1, c.m2*c.arc2, mostExponent) }

// over is the rest length the path would take up at two strains, less the
// band's, and its partial derivatives.
func (c *conservation) over(e1, e2 float64) (over, by1, by2 float64) {
	s1, s2 := 1+e1, 1+e2
	u1, u2 := 1/s1, 1/s2
	p1, slope1 := c.rubber.tension(e1)
	p2, slope2 := c.rubber.tension(e2)
	q1, q2 := c.r1/c.m1, c.r2/c.m2
	pulls := math.Log(p1 / p2)
	held1 := c.span + c.r1*c.arc1 - q1*pulls
	held2 := c.span + c.r2*c.arc2 - q2*pulls

	// F(s1) - F(s2), with the logarithms and arcs of tangent drawn together.
	roots := math.Log(e1 / e2 * math.Sqrt((1+s2+s2*s2)/(1+s1+s1*s1)))
	turn := math.Atan(math.Sqrt(3) * (s1 - s2) / (2 + s1 + s2 + 2*s1*s2))
	memory := roots + math.Sqrt(3)*turn - c.rubber.shareBetween(u1, u2) + 3*(u1-u2)

	gap := u1 - u2
	over = held1*u1 + held2*u2 + (q1+q2)*memory - c.rest
	by1 = -held1*u1*u1 + q2*slope1/p1*gap
	by2 = -held2*u2*u2 + q1*slope2/p2*gap
	return over, by1, by2
}

// solve finds the strains of the tight and slack run that conserve the band
// while slack stress = gain x tight stress - drop. The rest length taken up
// falls steadily as the tight strain grows. start is a guess at the tight
// stress, least the lowest allowed: if the root lies below it there is none.
// guess1 and guess2 are first guesses of the strains.
//
// Newton's method inside a shrinking bracket; a few rounds are enough.
func (c *conservation) solve(gain, drop, start, least, guess1, guess2 float64) (e1, e2 float64, ok bool) {
	low, high := -1.0, math.Inf(1) // low < 0: the lower end has not been tried
	e1 = c.rubber.strainAt(max(start, least), guess1)
	atLeast := !(start > least)
	e2 = guess2
	for range 200 {
		p1, slope1 := c.rubber.tension(e1)
		e2 = c.rubber.strainAt(gain*p1-drop, e2)
		over, by1, by2 := c.over(e1, e2)
		if over < 0 {
			if atLeast {
				return 0, 0, false
			}
			high = e1
		} else {
			low = e1
		}
		_, slope2 := c.rubber.tension(e2)
		rate := by1 + by2*gain*slope1/slope2
		next := e1 - over/rate
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
