package goals

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// A goal counts its score in whole steps that a judge can tell apart, 0 the best
// that could be thought of. Drives on one step are equal to the judge, and the one
// with fewer penalty points, which is the easier to build well, comes first.
//
// The search asks of a goal only: which drives are on this step or a better one?
// The answer is a brief, with one more rule if a brief cannot say it, that exactly
// those drives meet. Steps are nested: who meets a step meets every worse one. The
// argument for that stands with each goal.
type goal interface {
	// last is the worst step there is.
	last() int
	// asks is the brief and the rule that drives on a step or better meet.
	asks(step int) asked
	// measure is the score of a drive that meets asks(step), and the step it is on,
	// which is at most that step.
	measure(p *design.Proposal, step int) (Score, int)
	// best is the best score that a drive on a step can have.
	best(step int) Score
}

// asked is what design.Find is asked for one step.
type asked struct {
	brief       *brief.Brief
	rule        rule // may be nil
	mustForgive bool
}

// rule is what a goal asks beyond a brief; see design.Extra.
type rule interface {
	reaches(p *design.Partly) bool
	parts(d *drive.Drive) *constraints.Refusal
	works(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal
}

// Score is what a drive comes to in the contest. Only what belongs to the kind of
// challenge is filled in.
type Score struct {
	Run      *RunScore         // from rest over the distance
	Off      units.Seconds     // exact time: how far off, later above 0
	Climbs   units.Radians     // steepest: slope cleared, whole degrees
	Lifts    units.Grams       // heaviest: whole tens of grams
	Takes    units.Seconds     // slowest, steepest, heaviest: time at a steady speed
	Turns    float64           // turns: in the time
	Holes    units.Millimetres // forgiving: how far any hole may be off
	AtMost   bool              // it is the most that the program looks for
	Asked    *brief.Brief      // the brief that it was worked out with
	Traction float64           // vehicles: what the floor holds over what the start needs
}

// RunScore is a run from rest, on the likely day and on the worst and best.
type RunScore struct {
	Likely   units.Seconds
	Early    units.Seconds // if everything goes well
	Late     units.Seconds // if everything goes badly; 0 if it may not get away at all
	Start    units.Seconds // of the likely time, what is lost at the start
	Slipping units.Seconds // how long band or wheels slip at the start
	End      units.MetresPerSecond
}

// goalOf is the goal of a challenge.
func goalOf(c *Challenge) goal {
	switch c.Kind {
	case ExactTime:
		return exactTime{c, false}
	case Fastest:
		return fastest{c}
	case Slowest:
		return slowest{c}
	case Steepest:
		return steepest{c}
	case Heaviest:
		return heaviest{c}
	case Turns:
		return turns{c}
	}
	return forgiving{c}
}

// travelling is the brief of a challenge for a speed of travel within a window. What
// the speed costs otherwise is no matter: the window is all that is asked.
func travelling(c *Challenge, window units.Interval[units.MetresPerSecond]) *brief.Brief {
	b := *c.Brief
	middle, tolerance := about(float64(window.Lo), float64(window.Hi))
	b.Speed = brief.Speed{Linear: units.MetresPerSecond(middle)}
	b.Tolerance, b.Weights.Classroom, b.Weights.SpeedPerPercent = tolerance, 0, 0
	return &b
}

// turning is the same for a speed of turning.
func turning(c *Challenge, window units.Interval[units.RPM]) *brief.Brief {
	b := *c.Brief
	middle, tolerance := about(float64(window.Lo), float64(window.Hi))
	b.Speed = brief.Speed{Turning: units.RPM(middle)}
	b.Tolerance, b.Weights.Classroom, b.Weights.SpeedPerPercent = tolerance, 0, 0
	return &b
}

// about is a window as its middle and the share that it reaches either way.
func about(lo, hi float64) (middle, tolerance float64) {
	lo = max(lo, 0)
	return (lo + hi) / 2, (hi - lo) / (hi + lo)
}

// fastestThought is a speed that no model travels at.
const fastestThought units.MetresPerSecond = 50

// refused is the contest's own refusal. Miss is how far off, as a share.
func refused(miss float64, say func() string) *constraints.Refusal {
	return &constraints.Refusal{Rule: constraints.Contest, Miss: math.Max(0, miss), Say: say}
}
