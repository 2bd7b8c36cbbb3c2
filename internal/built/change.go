package built

import (
	"context"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/pause"
)

// Change is one or two things done to a built drive, and what comes of them.
type Change struct {
	Steps []string // what to do, sentences without their full stops
	// After is the changed drive worked out by the plain route, and so the check of
	// what the search of changes came to.
	After *Working
	// Before and Now are the measure of the symptom, as in Symptom; Broken is how
	// many rules the drive breaks then.
	Before, Now             float64
	BrokenBefore, BrokenNow int
}

// Solves reports whether the symptom is gone, in range and not only at its middle, no rule
// is broken, and the drive still does its job.
func (c *Change) Solves(sym Symptom) bool {
	return c.BrokenNow == 0 && c.After.Stops == Turns && c.After.Speed.Low > 0 && c.Now <= gone(sym)
}

// gone is the trouble at which a symptom is gone. A wanted speed is met when its rule says
// so; that nothing ever wears is not to be had, and a tenth of the speed is let pass.
func gone(sym Symptom) float64 {
	switch sym {
	case TooFast:
		return math.Inf(1)
	case Slower:
		return slightWear
	}
	return 0
}

const slightWear = 0.1

// cures reports the same of a build in the search of changes, but for some rules.
func (b *Build) cures(sym Symptom, but ...constraints.Rule) bool {
	now, still := b.ails()
	return b.cured(b.trouble(sym, drive.Conditions{}), sym, now, still, but...)
}

// cured is the same of what is known already.
func (b *Build) cured(t float64, sym Symptom, now ailments, still bool, but ...constraints.Rule) bool {
	if t > gone(sym) || still {
		return false
	}
	for at := range now {
		if at.Rule != comfort && !slices.Contains(but, at.Rule) {
			return false
		}
	}
	return !b.falters()
}

// ailments is how far each rule is missed, by rule and stage.
type ailments map[Finding]float64

// ails is how far a build misses each rule, and whether it stands still.
func (b *Build) ails() (ailments, bool) {
	s, err := b.at(drive.Conditions{})
	if err != nil {
		return nil, true
	}
	const eachRule, mostMiss = 0.05, 2
	out := ailments{}
	l := ledger{quiet: true}
	b.judge(&l, s)
	for _, f := range l.findings {
		if f.Broken {
			out[Finding{Rule: f.Rule, Stage: f.Stage}] = eachRule + min(f.Miss, mostMiss)
		}
	}
	lim := b.Brief.Limits
	for i := range s.stages {
		stretch := s.stages[i].Fitted.Stretch
		if off := max(lim.ComfortStretchMin-stretch, stretch-lim.ComfortStretchMax); off > 0 {
			out[Finding{Rule: comfort, Stage: i + 1}] = min(off, mostMiss)
		}
	}
	return out, s.stop != Turns
}

// comfort is no rule, but a stretch outside what is comfortable is to be avoided.
const comfort constraints.Rule = "comfortable stretch"

// What counts beside the symptom itself, in its currency (judgement): going beyond
// what the rules ask, and rules that were broken before, whose mending is welcome
// but not what was asked.
const (
	beyondShare = 0.25
	oldShare    = 0.1
	newlyBroken = 1
	mostBeyond  = 1.4 // a factor of four
)

// cost is what is left to wish for in a build: the symptom, what the change cost in
// effort, and every rule that is broken further than it was before.
func (b *Build) cost(sym Symptom, effort float64, before ailments) float64 {
	now, still := b.ails()
	return costOf(b.trouble(sym, drive.Conditions{}), now, still, effort, before)
}

// costOf is the same of what is known already.
func costOf(t float64, now ailments, still bool, effort float64, before ailments) float64 {
	if t < 0 {
		t = beyondShare * max(t, -mostBeyond)
	}
	sum := effort + t
	for at, miss := range now {
		was, broken := before[at]
		sum += oldShare*miss + max(0, miss-was)
		if !broken && at.Rule != comfort {
			sum += newlyBroken
		}
	}
	if still {
		sum += helpless
	}
	return math.Round(1e9*sum) / 1e9 // in whatever order the rules were added up
}

// bestChange looks at every single change, and, where none of them cures, at every two
// together; nil for what does not help. Of changes that cure, that which asks least of
// people is taken, and of those the best. Where none cures, what helps most is taken, if it
// does not lead to another fault. The context ends the search of pairs early, and the best
// so far stands.
func (b *Build) bestChange(ctx context.Context, sym Symptom, stands bool) (one, two *Change) {
	all := b.changes(stands)
	base, _ := b.ails()
	if b.trouble(sym, drive.Conditions{}) <= 0 {
		return nil, nil
	}
	s := search{b: b, sym: sym, stands: stands, base: base, most: b.trouble(sym, drive.Conditions{}) - leastTaken, best: b.cost(sym, 0, base), sure: !b.falters(), tier: math.MaxInt}
	for _, next := range all {
		s.try(b.after(next), next.tier(), next)
	}
	one = s.change()
	if s.cured {
		return one, nil
	}
	s.steps, s.best = nil, s.best-leastTaken
	for i, first := range all {
		if pause.Err(ctx) != nil {
			break
		}
		part := b.after(first)
		others := all[i+1:]
		if first.kind == otherBand || first.kind == otherDriver || first.kind == otherDriven {
			// The axles can then be set to suit what is new.
			others = append(slices.Clone(others), part.axleSteps(first.stage)...)
		}
		for _, next := range others {
			if next.kind != first.kind || next.stage != first.stage {
				s.try(part.after(next), first.tier()+next.tier(), first, next)
			}
		}
	}
	return one, s.change()
}

// stalls reports whether the motor stands by the drive's own numbers.
func (b *Build) stalls() bool {
	s, err := b.at(drive.Conditions{})
	return err == nil && (s.stop == Stalls || s.stop == NoStart)
}

// changes are the single changes that may be advised: never more volts for a motor that
// stands, for it stands for another reason and only gets hotter.
func (b *Build) changes(stands bool) []step {
	return slices.DeleteFunc(b.steps(), func(s step) bool {
		return stands && s.kind == otherCells && b.after(s).Drive.Holder.Cells > b.Drive.Holder.Cells
	})
}

// search is the search of changes.
type search struct {
	b          *Build
	sym        Symptom
	stands     bool // the motor does
	base       ailments
	most, best float64 // the trouble and the cost that must be undercut
	sure       bool    // the drive never stands on a poor day, and must not after
	cured      bool
	tier       int // of the cure
	steps      []step
}

func (s *search) try(after *Build, tier int, steps ...step) {
	if s.cured && tier > s.tier || !s.b.mayTry(s.stands, after) {
		return
	}
	t := after.trouble(s.sym, drive.Conditions{})
	if !(t < s.most) {
		return
	}
	effort := 0.0
	for _, k := range steps {
		effort += k.effort
	}
	now, still := after.ails()
	c := costOf(t, now, still, effort, s.base)
	cures := after.cured(t, s.sym, now, still)
	switch {
	case cures && (!s.cured || tier < s.tier || c < s.best):
	case cures || s.cured || c >= s.best || s.sure && after.falters() || now[missed] > s.base[missed]:
		return
	}
	s.best, s.steps, s.cured = c, slices.Clone(steps), s.cured || cures
	if cures {
		s.tier = tier
	}
}

// missed is the wanted speed: a change that ends further from it than before is no cure.
var missed = Finding{Rule: constraints.Speed}

func (s *search) change() *Change {
	if s.steps == nil {
		return nil
	}
	return s.b.changed(s.sym, s.steps...)
}

// falters reports whether the drive may stand still on a poor day. A change is not
// advised if that is what it leads to, unless the drive did so before.
func (b *Build) falters() bool { return design.SpeedRangeOf(b.Drive, b.Brief).Low <= 0 }

// mayTry reports whether a change may be advised as far as volts go: never to more than
// the motor bears, and for one that stands, which heats with the square of the volts, to no
// more than it has.
func (b *Build) mayTry(stands bool, after *Build) bool {
	gets := constraints.PrintedVolts(after.Drive.Holder)
	has := constraints.PrintedVolts(b.Drive.Holder)
	if stands && gets > has {
		return false
	}
	// Fewer volts are always a step the right way, and other changes have nothing to do
	// with them.
	same := gets == has && after.Drive.Motor == b.Drive.Motor
	return constraints.Volts(after.Drive.Motor, after.Drive.Holder) == nil || gets < has || same
}

// changed works the changed drive out by the plain route.
func (b *Build) changed(sym Symptom, steps ...step) *Change {
	c := &Change{Before: b.trouble(sym, drive.Conditions{})}
	after := b
	for _, s := range steps {
		after = after.after(s)
		c.Steps = append(c.Steps, s.says)
	}
	c.Now = after.trouble(sym, drive.Conditions{})
	was, err := Work(b)
	w, also := Work(after)
	if err != nil || also != nil {
		return nil
	}
	c.After, c.BrokenBefore, c.BrokenNow = w, was.Broken(), w.Broken()
	return c
}
