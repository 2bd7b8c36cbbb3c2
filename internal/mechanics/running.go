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
// F is the indefinite integral of (dlnP/ds)/s over the stretch s > 1: what a unit of
// r/m of sliding arc holds of the band's rest length.
//
//	F(s) = ln(s-1) - ln(s²+s+1)/2 + sqrt(3) atan((2s+1)/sqrt(3))
//	       - (C1/C2) ln(1 + C2/(C1 s)) + 3/s
//
// Only differences of F have a meaning. It depends on C1/C2 alone, so it is
// unchanged when both constants are scaled together. (Written with
// (C1/C2) ln(s/(C1 s + C2)) instead it differs by a constant.) It is -Inf at a
// stretch of 1.
//
// Together with T1 - T2 = effective that has one root.
//
// False: the band slips (or is loose, or effective is negative or no number;
// for a load that drives the motor swap the pulleys). With effective 0 both
// runs pull alike, and a stage without friction carries only that. The driver
// may be the larger pulley. The answer at exactly the greatest pull of Grip is
// a matter of rounding.
func (s Stage) Load(f Fitted, effective units.Newtons) (Loaded, bool) {
	l := s.Loading(&f)
	return l.At(effective)
}

// Loads is Load for each of several effective pulls, quickest if they rise
// steadily; it ends at the first that slips.
func (s Stage) Loads(f Fitted, effective []units.Newtons) []Loaded {
	out := make([]Loaded, 0, len(effective))
	loading := s.Loading(&f)
	for _, pull := range effective {
		l, ok := loading.At(pull)
		if !ok {
			break
		}
		out = append(out, l)
	}
	return out
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
	c := s.conservation(&f)
	share := math.Exp(-c.exponent)
	// The runs share the change of pull by their lengths, to first order.
	start := c.idle * (c.held1 + c.held2) / (c.held1 + share*c.held2)
	b := balance{e1: c.rubber.strainAt(start, f.Stretch-1)}
	b.e2 = c.rubber.strainAt(share*start, share*b.e1)
	if !c.approach(share, 0, &b) || b.e1 < f.Stretch-1 {
		var ok bool
		b.e1, b.e2, ok = c.solve(share, 0, start, c.idle, f.Stretch-1)
		if !ok {
			return 0, f.Stretch
		}
	}
	p1, _ := c.rubber.tension(b.e1)
	return units.Newtons(force * p1 * (1 - share)), 1 + b.e1
}
