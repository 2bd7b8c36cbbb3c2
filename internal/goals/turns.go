package goals

import (
	"math"

	"findrive/internal/design"
	"findrive/internal/units"
)

// turns is the least difference from a number of turns in a time, in steps of a
// turn or a fiftieth of the number, whichever is more: what two counters agree on.
// The count begins once the ride is running, as is usual (common practice), so its
// steady speed is all that counts.
//
// Bound and brief are one: a window of speeds round the one wanted.
//
// Nested: a wider window holds every narrower one.
type turns struct{ *Challenge }

func (t turns) step() float64 { return max(1, t.Turns/exactSteps) }

// last is off by as much as any model can be.
func (t turns) last() int {
	most := float64(spinThought) * float64(t.Time) / 60
	return int(max(t.Turns, most-t.Turns) / t.step())
}

// spinThought is a speed that no model turns at.
const spinThought units.RPM = 100_000

func (t turns) asks(step int) asked {
	off := float64(step+1) * t.step()
	minutes := float64(t.Time) / 60
	return asked{brief: turning(t.Challenge, units.Interval[units.RPM]{
		Lo: units.RPM((t.Turns - off) / minutes), Hi: units.RPM((t.Turns + off) / minutes)})}
}

func (t turns) measure(p *design.Proposal, step int) (Score, int) {
	n := float64(p.Speed.Likely) * float64(t.Time) / 60
	return Score{Turns: n, Asked: t.asks(step).brief}, min(step, int(math.Abs(n-t.Turns)/t.step()+1e-9))
}

func (t turns) best(step int) Score { return Score{Turns: t.Turns - float64(step)*t.step()} }
