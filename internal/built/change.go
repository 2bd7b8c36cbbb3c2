package built

import (
	"context"
	"fmt"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
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

// Solves reports whether the symptom is gone and no more rules are broken than
// before. A wanted speed is met when its rule says so; that nothing ever wears is not
// to be had.
func (c *Change) Solves(sym Symptom) bool {
	switch sym {
	case TooFast:
		return c.BrokenNow == 0
	case Slower:
		return c.BrokenNow <= c.BrokenBefore
	}
	return c.BrokenNow <= c.BrokenBefore && c.Now <= 0
}

// step is one change.
type step struct {
	kind   kind
	stage  int
	effort float64
	says   string
	do     func(b *Build)
}

type kind int

// The kinds of change.
const (
	moveAxle kind = iota
	otherBand
	otherCells
	otherDriver
	otherDriven
	otherMotor
)

// effort is what a change costs in the currency of trouble, so that of two that do
// as well the easier is taken (judgement).
var effort = map[kind]float64{otherBand: 0.01, otherCells: 0.01, moveAxle: 0.02, otherDriver: 0.03, otherDriven: 0.03, otherMotor: 0.05}

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
	t := b.trouble(sym, drive.Conditions{})
	if t < 0 {
		t = beyondShare * max(t, -mostBeyond)
	}
	sum := effort + t
	now, still := b.ails()
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

// steps lists every single change that the cupboard allows: another band or another
// way of putting it on, another pulley, more or fewer cells, another motor, the axles
// nearer or further apart.
func (b *Build) steps() []step {
	var out []step
	for i := range b.Drive.Stages {
		out = append(out, b.bandSteps(i)...)
		out = append(out, b.axleSteps(i)...)
		out = append(out, b.pulleySteps(i)...)
	}
	d := b.Drive
	for k := range b.Cupboard.Holders {
		h := &b.Cupboard.Holders[k]
		if h.Name != d.Holder.Name {
			out = append(out, step{kind: otherCells, says: fmt.Sprintf("use holder %s (%s) in place of %s (%s)", h.Name, cells(h.Cells), d.Holder.Name, cells(d.Holder.Cells)),
				do: func(b *Build) { b.Drive.Holder = h }})
		}
	}
	for k := range b.Cupboard.Motors {
		m := &b.Cupboard.Motors[k]
		if m.Name == d.Motor.Name {
			continue
		}
		if _, no := b.joint(constraints.PulleyHub(d.Stages[0].Driver), m.ShaftDiameter); no == nil && constraints.ShaftReaches(m, d.Stages[0].Driver) == nil {
			out = append(out, step{kind: otherMotor, says: fmt.Sprintf("use motor %s in place of %s", m.Name, d.Motor.Name),
				do: func(b *Build) { b.Drive.Motor = m; joints(b) }})
		}
	}
	for i := range out {
		out[i].effort = effort[out[i].kind]
	}
	return out
}

func cells(n int) string {
	if n == 1 {
		return "1 cell"
	}
	return fmt.Sprintf("%d cells", n)
}

func (b *Build) bandSteps(i int) []step {
	var out []step
	own := &b.Drive.Stages[i]
	for k := range b.Cupboard.Bands {
		band := &b.Cupboard.Bands[k]
		for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			if band.Name == own.Band.Name && use == own.Use || use.BandsTaken() > band.Count {
				continue
			}
			says := fmt.Sprintf("stage %d: put on band %s, %s, in place of %s", i+1, band.Name, use, own.Band.Name)
			if band.Name == own.Band.Name {
				says = fmt.Sprintf("stage %d: put band %s on %s", i+1, band.Name, use)
			}
			out = append(out, step{kind: otherBand, stage: i, says: says,
				do: func(b *Build) { b.Drive.Stages[i].Band, b.Drive.Stages[i].Use = band, use }})
		}
	}
	return out
}

// axleSteps move the driven axle, and all that follows it, to whole millimetres.
func (b *Build) axleSteps(i int) []step {
	st, now := &b.Drive.Stages[i], b.Drive.Centre(i)
	var at []units.Millimetres
	m := st.Mechanics(likelyGrip)
	for _, stretch := range []float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35} {
		if c, ok := m.CentreAtStretch(stretch); ok {
			at = append(at, units.Millimetres(math.Round(float64(c))))
		}
	}
	slices.Sort(at)
	var out []step
	for _, c := range slices.Compact(at) {
		if off := math.Abs(float64(c - now)); off < 1 || c < 2 {
			continue
		}
		out = append(out, step{kind: moveAxle, stage: i, effort: effort[moveAxle], says: fmt.Sprintf("stage %d: set the axles %s apart in place of %s", i+1, millimetres(c), millimetres(now)),
			do: func(b *Build) {
				to := centres(b.Drive)
				to[i] = c
				place(b.Drive, b.Ways, to)
			}})
	}
	return out
}

func (b *Build) pulleySteps(i int) []step {
	var out []step
	own := &b.Drive.Stages[i]
	for k := range b.Cupboard.Pulleys {
		p := &b.Cupboard.Pulleys[k]
		hub := constraints.PulleyHub(p)
		if _, no := b.joint(hub, b.shaft(i)); no == nil && p.Name != own.Driver.Name {
			out = append(out, step{kind: otherDriver, stage: i, says: fmt.Sprintf("stage %d: drive with pulley %s in place of %s", i+1, p.Name, own.Driver.Name),
				do: func(b *Build) { b.Drive.Stages[i].Driver = p; joints(b) }})
		}
		if _, no := b.joint(hub, b.Drive.Axles[i].Diameter); no == nil && p.Name != own.Driven.Name {
			out = append(out, step{kind: otherDriven, stage: i, says: fmt.Sprintf("stage %d: drive pulley %s in place of %s", i+1, p.Name, own.Driven.Name),
				do: func(b *Build) { b.Drive.Stages[i].Driven = p; joints(b) }})
		}
	}
	return out
}

// bestChange looks at every single change, and, where the best of them leaves a rule
// broken or the symptom there, at every two together; nil for what does not help.
// The context ends the search of pairs early, and the best so far stands.
func (b *Build) bestChange(ctx context.Context, sym Symptom) (one, two *Change) {
	all := b.steps()
	base, _ := b.ails()
	trouble := b.trouble(sym, drive.Conditions{}) - leastTaken
	best, at := b.cost(sym, 0, base), -1
	sure := !b.falters()
	for i, s := range all {
		after := b.after(s)
		if !b.mayTry(sym, after) {
			continue
		}
		if c := after.cost(sym, s.effort, base); c < best && after.trouble(sym, drive.Conditions{}) < trouble && !(sure && after.falters()) {
			best, at = c, i
		}
	}
	if at >= 0 {
		one = b.changed(sym, all[at])
	}
	if one != nil && one.Solves(sym) || b.trouble(sym, drive.Conditions{}) <= 0 {
		return one, nil
	}
	first, second := -1, step{}
	for i, s := range all {
		if ctx.Err() != nil {
			break
		}
		part := b.after(s)
		others := all[i+1:]
		if s.kind == otherBand || s.kind == otherDriver || s.kind == otherDriven {
			// The axles can then be set to suit what is new.
			others = append(slices.Clone(others), part.axleSteps(s.stage)...)
		}
		for _, next := range others {
			if next.kind == s.kind && next.stage == s.stage {
				continue
			}
			both := part.after(next)
			if !b.mayTry(sym, both) {
				continue
			}
			if c := both.cost(sym, s.effort+next.effort, base); c < best-leastTaken && both.trouble(sym, drive.Conditions{}) < trouble && !(sure && both.falters()) {
				best, first, second = c, i, next
			}
		}
	}
	if first >= 0 {
		two = b.changed(sym, all[first], second)
	}
	return one, two
}

// falters reports whether the drive may stand still on a poor day. A change is not
// advised if that is what it leads to, unless the drive did so before.
func (b *Build) falters() bool { return design.SpeedRangeOf(b.Drive, b.Brief).Low <= 0 }

// mayTry reports whether a change may be advised as far as volts go: never to more than
// the motor bears, and for one that hums, which a stalled motor does while it heats with
// the square of the volts, to no more than it has.
func (b *Build) mayTry(sym Symptom, after *Build) bool {
	gets := constraints.PrintedVolts(after.Drive.Holder)
	has := constraints.PrintedVolts(b.Drive.Holder)
	if sym == NoGo && gets > has {
		return false
	}
	// Fewer volts are always a step the right way, and other changes have nothing to do
	// with them.
	same := gets == has && after.Drive.Motor == b.Drive.Motor
	return constraints.Volts(after.Drive.Motor, after.Drive.Holder) == nil || gets < has || same
}

func (b *Build) after(s step) *Build {
	out := b.copied()
	s.do(out)
	return out
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
