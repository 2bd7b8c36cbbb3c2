package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Loading is a fitted stage under one effective pull after another. Each answer
// is that of Stage.Load, but it is found from the answers before it: quickest
// where they lie near, or where the pulls rise in steps.
type Loading struct {
	c          conservation
	force      float64 // N for each MPa of the default rubber
	stretch    float64 // at rest
	pull       units.Newtons
	grips      bool
	share      float64 // 1 - 1/R: at slip, of the tight pull that is effective
	known      bool    // whether last and past are filled in
	last, past answer  // the last two answers; the stage at rest is the first
}

// answer is the strains of the two runs at a drop of stress from the tight to the
// slack run, and how fast they change with it.
type answer struct{ drop, e1, e2, rate1, rate2 float64 }

// Loading makes a fitted stage ready to be loaded.
func (s *Stage) Loading(f *Fitted) Loading {
	l := Loading{force: s.Band.force(), stretch: f.Stretch, pull: f.Pull}
	l.grips = f.Stretch > 1 && l.force > 0 && s.Friction > 0
	if l.grips {
		l.c = s.conservation(f)
		l.share = -math.Expm1(-l.c.exponent)
	}
	return l
}

// At is Stage.Load.
func (l *Loading) At(effective units.Newtons) (Loaded, bool) {
	if effective == 0 && l.stretch > 1 {
		return Loaded{Tight: l.pull, Slack: l.pull, TightStretch: l.stretch, SlackStretch: l.stretch, SpeedFactor: 1}, true
	}
	drop := float64(effective) / l.force
	if !l.grips || !(effective > 0) || math.IsInf(drop, 1) {
		return Loaded{}, false
	}
	c := &l.c
	// Tight stress at which the slack side is just enough to hold: T1 = R T2.
	least := drop / l.share
	var b balance
	if !l.known {
		b.e1, b.e2 = l.first(drop)
	} else {
		b.e1, b.e2 = l.next(drop)
	}
	if p1, _ := c.rubber.tension(b.e1); p1 < least && c.slips(least, &b) {
		return Loaded{}, false
	}
	ok := c.approach(1, drop, &b)
	p1, _ := c.rubber.tension(b.e1)
	if !ok || p1 < least {
		// To first order the two runs share the change of pull by their lengths.
		start := c.idle + drop*c.held2/(c.held1+c.held2)
		b.e1, b.e2, ok = c.solve(1, drop, start, least, l.stretch-1)
		if !ok {
			return Loaded{}, false
		}
		p1, _ = c.rubber.tension(b.e1)
		l.known = false // so hard to find a load is no good start for the next
	} else {
		p2, slope2 := c.rubber.tension(b.e2)
		b.e2 += (p1 - drop - p2) / slope2
		l.keep(drop, &b)
	}
	tight := units.Newtons(l.force * p1)
	return Loaded{
		Tight: tight, Slack: tight - effective,
		TightStretch: 1 + b.e1, SlackStretch: 1 + b.e2,
		SpeedFactor: CreepFactor(1+b.e1, 1+b.e2),
	}, true
}

// keep remembers an answer, and how it changes there.
func (l *Loading) keep(drop float64, b *balance) {
	if drop != l.last.drop {
		l.past = l.last
	}
	rate1 := b.by2 / (b.by1*b.slope2 + b.by2*b.slope1)
	l.last = answer{drop: drop, e1: b.e1, e2: b.e2, rate1: rate1, rate2: (b.slope1*rate1 - 1) / b.slope2}
	l.known = true
}

// first guesses the strains at a drop from the stage at rest, to second order, and
// remembers the stage at rest.
func (l *Loading) first(drop float64) (e1, e2 float64) {
	c := &l.c
	e, u := l.stretch-1, 1/l.stretch
	_, slope := c.rubber.tension(e)
	bend := -12 * u * u * u * u * (float64(c.rubber.C1) + 2*float64(c.rubber.C2)*u)
	whole := c.held1 + c.held2
	share1, share2 := c.held1/whole, c.held2/whole
	// To first order the two runs share the change of pull by their lengths.
	rate1, rate2 := share2/slope, -share1/slope
	// The second derivatives of what the path takes up, over the whole path and u².
	square1, square2, slides := rate1*rate1, rate2*rate2, (rate1-rate2)*(rate1-rate2)
	conserved := 2*u*(share1*square1+share2*square2) + (c.q1-c.q2)/whole*slope/c.idle*slides
	softer := bend / slope * (square1 - square2)
	turn1 := conserved - share2*softer
	turn2 := turn1 + softer
	l.last = answer{e1: e, e2: e, rate1: rate1, rate2: rate2}
	return e + drop*(rate1+turn1/2*drop), e + drop*(rate2+turn2/2*drop)
}

// next guesses the strains at a drop by the cubics through the last two answers.
func (l *Loading) next(drop float64) (e1, e2 float64) {
	a, b := &l.past, &l.last
	h := b.drop - a.drop
	t := (drop - b.drop) / h // 0 at the last answer, -1 at the one before it
	curve := func(e0, rate0, e1, rate1 float64) float64 {
		rate0, rate1 = rate0*h, rate1*h
		cubic := rate0 + rate1 - 2*(e1-e0)
		square := rate1 - (e1 - e0) + cubic
		return e1 + t*(rate1+t*(square+t*cubic))
	}
	return curve(a.e1, a.rate1, b.e1, b.rate1), curve(a.e2, a.rate2, b.e2, b.rate2)
}

// GrowthAtRest is how fast the pulls of the two runs together grow with the effective pull, where
// that is small: the runs share it by their lengths. It is between -1 and 1.
func (l *Loading) GrowthAtRest() float64 {
	if !l.grips {
		return 0
	}
	return (l.c.held2 - l.c.held1) / (l.c.held1 + l.c.held2)
}
