package goals

import (
	"math"

	"findrive/internal/design"
	"findrive/internal/units"
)

// exactTime is the least difference from a time over a distance, from rest, in
// steps of a fiftieth of the time, or of a stopwatch if that is more: ten seconds in steps
// of 0.2. Finer is more than two timers agree on, and far more than any prediction can tell.
//
// A vehicle that takes long to get away does so differently every time, so no more
// than a fifth of the time may go there (judgement). Then a run within limits needs
// a steady speed within limits too, which is the brief: never slower than the
// average, and not so fast that even with the longest start it comes too early.
// The bounds of fastest bound the time from below; that it comes too early only the
// design itself can say.
//
// Nested: a wider window of times holds every narrower one.
//
// Where no drive can do that and come within half the time, any start is allowed, and any
// time that is a race at all (any): these are limits of this program's own, and no drive is
// refused for good by them.
type exactTime struct {
	*Challenge
	any bool
}

const (
	exactSteps = 50
	startShare = 0.2
)

func (e exactTime) step() units.Seconds { return max(e.Time/exactSteps, stopwatch) }

// last is being off by half the time, or by as much as any race can be.
func (e exactTime) last() int {
	if e.any {
		return int(math.Ceil(float64(max(longest-e.Time, e.Time)/e.step()))) - 1
	}
	return int(math.Ceil(float64(e.Time/2/e.step()))) - 1
}

func (e exactTime) asks(step int) asked {
	off := units.Seconds(step+1) * e.step()
	late, early, start := e.Time+off, max(0, e.Time-off), startShare*e.Time
	metres := float64(e.Distance) / 1000
	window := units.Interval[units.MetresPerSecond]{Lo: units.MetresPerSecond(metres / float64(late)), Hi: fastestThought}
	if early > start {
		window.Hi = min(fastestThought, units.MetresPerSecond(metres/float64(early-start)))
	}
	if e.any {
		start, window.Hi = late, fastestThought
	}
	b := travelling(e.Challenge, window)
	return asked{brief: b, rule: runRule{brief: b, distance: e.Distance, startMost: start,
		times: units.Interval[units.Seconds]{Lo: early, Hi: late}}}
}

func (e exactTime) measure(p *design.Proposal, step int) (Score, int) {
	b := e.asks(step).brief
	run := scoreRun(p.Drive, b, e.Distance)
	off := run.Likely - e.Time
	return Score{Run: &run, Off: off, Asked: b}, min(step, stepOf(units.Seconds(math.Abs(float64(off))), e.step()))
}

func (e exactTime) best(step int) Score { return Score{Off: units.Seconds(step) * e.step()} }
