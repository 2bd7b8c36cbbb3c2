package built

import (
	"cmp"
	"fmt"
	"iter"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Finding is what one rule says of a built drive.
type Finding struct {
	Rule   constraints.Rule
	Stage  int // from 1; 0 for the whole drive
	Broken bool
	Miss   float64 // how far short it falls, as a share of the limit; 0 if kept
	Says   string  // a sentence without its full stop
}

// Clear is the rule that two pulleys which lie in one plane do not touch.
const Clear constraints.Rule = "pulleys clear of each other"

// ledger gathers findings; without their sentences if it is quiet, which is for the
// search of changes.
type ledger struct {
	findings []Finding
	quiet    bool
}

func (l *ledger) add(rule constraints.Rule, stage int, no *constraints.Refusal, kept string, args ...any) {
	f := Finding{Rule: rule, Stage: stage}
	if no != nil {
		f.Broken, f.Miss = true, no.Miss
	}
	switch {
	case l.quiet:
	case no != nil:
		f.Says = no.Say()
	default:
		f.Says = fmt.Sprintf(kept, args...)
	}
	l.findings = append(l.findings, f)
}

// judge adds what rules say, with a sentence for each that is kept.
func (l *ledger) judge(verdicts iter.Seq[constraints.Verdict], kept func(rule constraints.Rule, stage int) string) {
	for v := range verdicts {
		says := ""
		if v.No == nil && !l.quiet {
			says = kept(v.Rule, v.Stage)
		}
		l.add(v.Rule, v.Stage, v.No, "%s", says)
	}
}

// findings holds a drive to every rule that can be judged: the same functions as the
// search uses. Rules of room are left out where the file has no frame.
func (b *Build) findings(s *state) []Finding {
	var l ledger
	b.judge(&l, s)
	order := constraints.Rules()
	slices.SortStableFunc(l.findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(slices.Index(order, a.Rule), slices.Index(order, b.Rule)), cmp.Compare(a.Stage, b.Stage))
	})
	return l.findings
}

func (b *Build) judge(l *ledger, s *state) {
	for i := range b.Drive.Stages {
		b.partsFit(l, i)
		b.bandOn(l, i, &s.stages[i])
	}
	if hub, ok := b.outputHub(); ok {
		joint, no := b.joint(hub, b.Drive.Axles[len(b.Drive.Axles)-1].Diameter)
		l.add(constraints.Fit, 0, no, "%s goes on its axle: %s", hub.Name, joint.Kind)
	}
	b.framed(l)
	if s.whole {
		b.atWork(l, s)
	}
}

// partsFit are the rules about parts, wherever they are.
func (b *Build) partsFit(l *ledger, i int) {
	st, lim := &b.Drive.Stages[i], b.Brief.Limits
	driver, no := b.joint(constraints.PulleyHub(st.Driver), b.shaft(i))
	l.add(constraints.Fit, i+1, no, "%s goes on its shaft: %s", st.Driver.Name, driver.Kind)
	driven, no := b.joint(constraints.PulleyHub(st.Driven), b.Drive.Axles[i].Diameter)
	l.add(constraints.Fit, i+1, no, "%s goes on its axle: %s", st.Driven.Name, driven.Kind)
	if i == 0 {
		l.add(constraints.TooManyVolts, 0, constraints.Volts(b.Drive.Motor, b.Drive.Holder), "motor %s bears %s V and is given %s", b.Drive.Motor.Name, figure(float64(constraints.MostVolts(b.Drive.Motor))), figure(float64(constraints.PrintedVolts(b.Drive.Holder))))
		l.add(constraints.Fit, 1, constraints.ShaftReaches(b.Drive.Motor, st.Driver), "the motor's shaft reaches into %s", st.Driver.Name)
	}
	groove, small := constraints.BandInGroove(st.Driver, st.Band, st.Use), constraints.BigEnoughGroove(lim, st.Driver, st.Band)
	if groove == nil {
		groove = constraints.BandInGroove(st.Driven, st.Band, st.Use)
	}
	if small == nil {
		small = constraints.BigEnoughGroove(lim, st.Driven, st.Band)
	}
	l.add(constraints.Groove, i+1, groove, "band %s lies in both grooves", st.Band.Name)
	l.add(constraints.SmallGroove, i+1, small, "both grooves are large enough for band %s", st.Band.Name)
	if i == len(b.Drive.Stages)-1 && b.Drive.Wheel != nil {
		l.add(constraints.Floor, i+1, constraints.ClearOfFloor(b.Brief, b.Drive.Wheel, st.Driven), "%s is clear of the floor", st.Driven.Name)
	}
}

// bandOn are the rules about a band as it is put on.
func (b *Build) bandOn(l *ledger, i int, w *StageWorking) {
	st, lim := &b.Drive.Stages[i], b.Brief.Limits
	gap := w.Fitted.Centre - (st.Driver.Outside+st.Driven.Outside)/2
	l.add(Clear, i+1, clearOf(gap, lim.Clearance, st.Driver.Name, st.Driven.Name), "%s and %s are %s apart at the rims", st.Driver.Name, st.Driven.Name, millimetres(gap))
	if w.Overlaps {
		return // a band round pulleys that cut each other is nothing to judge
	}
	l.judge(constraints.PutOn(lim, i, st, &w.Fitted), func(rule constraints.Rule, _ int) string {
		switch window := constraints.FittedWindow(lim, st.Band); rule {
		case constraints.Stretch:
			return fmt.Sprintf("band %s is stretched %s %%; from %s to %s %% will do", st.Band.Name, percent(w.Fitted.Stretch-1), percent(window.Lo-1), percent(window.Hi-1))
		case constraints.Arc:
			return fmt.Sprintf("band %s wraps %.0f degrees of the smaller pulley; %.0f are needed", st.Band.Name, min(w.Fitted.DriverArc, w.Fitted.DrivenArc).Degrees(), lim.ArcMin.Degrees())
		}
		return "the crossed band has room to cross at a shallow angle"
	})
}

func clearOf(gap, least units.Millimetres, driver, driven string) *constraints.Refusal {
	if gap >= least {
		return nil
	}
	return &constraints.Refusal{Rule: Clear, Miss: float64(1 - gap/least), Say: func() string {
		if gap < 0 {
			return fmt.Sprintf("%s and %s cannot stand so near: their rims would overlap by %s. Measure the centre distance again", driver, driven, millimetres(-gap))
		}
		return fmt.Sprintf("the rims of %s and %s are only %s apart, and %s are needed", driver, driven, millimetres(gap), millimetres(least))
	}}
}

// atWork are the rules about the drive under load. How much of its speed it keeps is a rule
// for who chooses a drive, since that differs from table to table: on this one it is seen.
func (b *Build) atWork(l *ledger, s *state) {
	judged := func(yield func(constraints.Verdict) bool) {
		for v := range s.work.Rules() {
			left := v.Rule == constraints.HeldBack || v.Rule == constraints.Speed && s.stop != Turns ||
				v.Rule == constraints.GripStart && s.startsAlike(v.Stage-1)
			if !left && !yield(v) {
				return
			}
		}
	}
	l.judge(judged, func(rule constraints.Rule, stage int) string { return b.kept(s, rule, stage) })
	b.rightWay(l)
}

// startsAlike tells whether starting asks no more of a stage's band than running.
func (s *state) startsAlike(i int) bool {
	return s.stages[i].GripStarting == s.stages[i].GripRunning && s.starting.Slips == s.running.Slips
}

// kept says that a drive under load keeps a rule.
func (b *Build) kept(s *state, rule constraints.Rule, stage int) string {
	d, lim, stall := b.Drive, b.Brief.Limits, s.model.Motor.StallTorque(s.model.Supply)
	var band *parts.Band
	var w *StageWorking
	if stage > 0 {
		band, w = d.Stages[stage-1].Band, &s.stages[stage-1]
	}
	switch rule {
	case constraints.Grip:
		return fmt.Sprintf("band %s grips %s while running", band.Name, times(w.GripRunning))
	case constraints.GripStart:
		return fmt.Sprintf("band %s grips %s at starting", band.Name, times(w.GripStarting))
	case constraints.RunningStretch:
		return fmt.Sprintf("under load the tight side of band %s is stretched %s %%; up to %s %% will do", band.Name, percent(w.TightStretch-1), percent(constraints.RunningLimit(lim, band)-1))
	case constraints.MotorStarts:
		return fmt.Sprintf("to start, motor %s has %s; %s times is asked", d.Motor.Name, times(float64(stall/s.starting.MotorTorque)), figure(lim.StartMin))
	case constraints.MotorRuns:
		return fmt.Sprintf("to run, motor %s has %s; %s times is asked", d.Motor.Name, times(float64(stall/s.running.MotorTorque)), figure(lim.RunMin))
	case constraints.Traction:
		t := traction(b, s)
		return fmt.Sprintf("the wheels hold on the floor: it takes %s times what they need to spin them", figure(float64(t.Holds/t.Needed)))
	}
	return fmt.Sprintf("the speed is within %s %% of what was wanted", percent(b.Brief.Tolerance))
}

// rightWay is the rule about which way the output turns.
func (b *Build) rightWay(l *ledger) {
	if want := b.wanted(); want != 0 {
		var no *constraints.Refusal
		if want != b.Drive.OutputTurns() {
			no = &constraints.Refusal{Rule: constraints.Direction, Miss: 1, Say: func() string {
				return "the output turns the wrong way: swap the motor's wires, or cross one band"
			}}
		}
		l.add(constraints.Direction, 0, no, "the output turns the way that was wanted")
	}
}

// times is a margin in words.
func times(margin float64) string {
	if math.IsInf(margin, 1) || margin > 99 {
		return "far more than is needed"
	}
	return figure(margin) + " times what is needed"
}

func figure(v float64) string { return units.Significant(v, 2) }

func percent(share float64) string { return units.Decimals(100*share, 0) }

func millimetres(v units.Millimetres) string { return units.Decimals(float64(v), 1) + " mm" }
