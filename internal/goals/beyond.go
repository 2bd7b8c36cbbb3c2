package goals

import (
	"slices"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Beyond is what keeps a drive from the next step of its goal, and how far it would go
// without that margin.
type Beyond struct {
	Rule constraints.Rule // that is broken first as more is asked of the drive
	Says string           // in words, with the figures there
	// At is where: in grams, or degrees. Up to a step less the drive keeps every rule with
	// its holes as they are; its score is less where it must do so wherever within reach of
	// a drill they are.
	At float64
	// Most is the mass in grams, or the slope in degrees, up to which the drive still starts
	// and grips while every rule that is no mere margin is kept; 0 if that is short of At.
	Most float64
	Ends built.Stop // what stops it there; built.Turns if it is another rule, or the end of what is looked for
}

// margins are the rules that keep something in hand against a poor day. Going beyond them
// is at one's own risk; all others guard people, or the drive would not work.
var margins = []constraints.Rule{constraints.Grip, constraints.GripStart, constraints.MotorStarts, constraints.MotorRuns}

// beyond is what lies behind the best step of a drive that lifts or climbs; nil for other
// goals, and where nothing is as far as this program looks.
func beyond(cup *parts.Cupboard, c *Challenge, e *Entry) *Beyond {
	if c.Kind != Heaviest && c.Kind != Steepest || e.step == 0 {
		return nil
	}
	score, end, step := e.Score.Climbs.Degrees(), float64(steepestThought), 1.0
	if c.Kind == Heaviest {
		score, end, step = float64(e.Score.Lifts), float64(heaviestLift), float64(weightStep)
	}
	at := func(v float64) (broken []built.Finding, stops built.Stop, ok bool) {
		b := *e.Score.Asked
		if c.Kind == Heaviest {
			b.Load.Mass = units.Grams(v)
		} else {
			b.Load.Slope = units.Degrees(v)
		}
		w, err := built.Work(built.FromProposal(e.Proposal, cup, &b))
		if err != nil {
			return nil, "", false
		}
		for _, f := range w.Findings {
			if f.Broken && f.Rule != constraints.Speed {
				broken = append(broken, f)
			}
		}
		return broken, w.Stops, true
	}
	out := &Beyond{}
	going := score
	for v := score + step; v <= end; v += step {
		broken, stops, ok := at(v)
		if ok && len(broken) > 0 && out.At == 0 {
			out.Rule, out.Says, out.At = broken[0].Rule, broken[0].Says, v
		}
		if out.Ends = stops; !ok || out.Ends != built.Turns ||
			slices.ContainsFunc(broken, func(f built.Finding) bool { return !slices.Contains(margins, f.Rule) }) {
			break
		}
		going = v
	}
	if out.At == 0 {
		return nil
	}
	if going >= out.At {
		out.Most = going
	}
	return out
}
