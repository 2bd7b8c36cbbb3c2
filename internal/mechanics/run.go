package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Push is the force that drives a vehicle at every speed, in straight pieces from
// rest up. The last piece ends where the force is down to the resistance, or the
// vehicle keeps the speed at its end.
type Push []PushPiece

// PushPiece is the push between two speeds, straight between its ends. Moved is
// the mass that is sped up with it: the vehicle's, and as much as what turns in the
// drive is worth at the wheels.
type PushPiece struct {
	From, To     units.MetresPerSecond
	AtFrom, AtTo units.Newtons
	Moved        units.Grams
	Slipping     bool // a band or the wheels slip: the push is what they hold
}

// Run is a run from rest.
type Run struct {
	Time     units.Seconds
	End      units.MetresPerSecond // speed at the end of it
	Slipping units.Seconds         // how long band or wheels slip at the start
}

// FromRest works out a run over a distance against a steady resistance: Newton's
// second law, dv/dt = (F(v) - resistance) / moved, which in each straight piece has
// the closed form v = v0 + (a/k) (exp(k t) - 1) with a the acceleration at its
// beginning and k the slope of the acceleration. False if the vehicle never gets
// there.
func FromRest(push Push, resistance units.Newtons, distance units.Millimetres) (Run, bool) {
	left := float64(distance) / 1000
	var run Run
	for i := range push {
		p := &push[i]
		kg := float64(p.Moved) / 1000
		v0, v1 := float64(p.From), float64(p.To)
		if v1 <= v0 {
			continue
		}
		a := float64(p.AtFrom-resistance) / kg
		k := float64(p.AtTo-p.AtFrom) / kg / (v1 - v0)
		if a <= 0 {
			return run, cruise(&run, v0, left)
		}
		piece := motion{v0: v0, a: a, k: k}
		if until := piece.reaches(v1); !math.IsInf(until, 1) && piece.travelled(until) < left {
			run.Time += units.Seconds(until)
			if p.Slipping {
				run.Slipping += units.Seconds(until)
			}
			left -= piece.travelled(until)
			run.End = p.To
			continue
		}
		t := piece.covers(left)
		run.Time += units.Seconds(t)
		if p.Slipping {
			run.Slipping += units.Seconds(t)
		}
		run.End = units.MetresPerSecond(piece.speed(t))
		return run, true
	}
	return run, cruise(&run, float64(run.End), left)
}

// cruise ends a run at a steady speed.
func cruise(run *Run, v, left float64) bool {
	if v <= 0 {
		return false
	}
	run.Time += units.Seconds(left / v)
	run.End = units.MetresPerSecond(v)
	return true
}

// motion is one piece of a run, from its beginning.
type motion struct{ v0, a, k float64 }

// straight is a slope of the acceleration, for each second, below which it is taken
// as steady: over a minute that changes nothing.
const straight = 1e-9

func (m motion) speed(t float64) float64 {
	if math.Abs(m.k) < straight {
		return m.v0 + m.a*t
	}
	return m.v0 + m.a/m.k*math.Expm1(m.k*t)
}

func (m motion) travelled(t float64) float64 {
	if math.Abs(m.k) < straight {
		return m.v0*t + m.a*t*t/2
	}
	return m.v0*t + m.a/m.k*(math.Expm1(m.k*t)/m.k-t)
}

// reaches is when a speed is reached; infinite if it is only approached.
func (m motion) reaches(v float64) float64 {
	if math.Abs(m.k) < straight {
		return (v - m.v0) / m.a
	}
	share := m.k * (v - m.v0) / m.a // how far towards standstill of the acceleration
	if share <= -1+1e-12 {
		return math.Inf(1)
	}
	return math.Log1p(share) / m.k
}

// covers is when a distance is covered, by Newton's method from beyond: the way
// covered is convex in time as long as the vehicle gains speed, so that every step
// stops short of the answer and none goes past it.
func (m motion) covers(distance float64) float64 {
	t := 1e-3
	for m.travelled(t) < distance {
		t *= 2
	}
	for range 80 {
		closer := t - (m.travelled(t)-distance)/m.speed(t)
		if !(closer < t) {
			break // as near as numbers go
		}
		t = closer
	}
	return t
}
