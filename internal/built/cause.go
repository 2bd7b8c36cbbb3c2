package built

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// likelyGrip is the likely friction of a band in a groove.
var likelyGrip = mechanics.BandGrip().Likely

// Cause is something about a drive that its own numbers support as a reason of a
// symptom.
type Cause struct {
	Name  string // short and steady, for the machine output
	Stage int    // from 1; 0 for the whole drive
	// Unusual is whether the thing itself is out of the ordinary, or only a part of
	// how every drive works.
	Unusual bool
	Says    string // what is so, a sentence without its full stop
	// Takes is how much of the trouble goes once this one thing is as it ought to
	// be, worked out: the logarithm of a factor.
	Takes float64
	// Before and After are the measure in words, as it is and as it would be; empty
	// where there is no one figure.
	Before, After string
}

// How much of a factor makes a cause worth naming, and a change worth making.
const (
	leastNamed = 0.05
	leastTaken = 0.02
)

// FewCells is the cause that a holder gives less than the motor is made for.
const FewCells = "too few cells"

// suspect is a cause that has not been tried yet: mend puts the one thing right.
type suspect struct {
	name    string
	stage   int
	unusual bool
	says    string
	mend    func(b *Build, c *drive.Conditions)
}

// causes tries every suspect: the drive is worked out again with that one thing as
// it ought to be. Out of the ordinary comes first, then what takes most.
func (b *Build) causes(sym Symptom) []Cause {
	before := b.trouble(sym, drive.Conditions{})
	out := []Cause{}
	for _, s := range b.suspects(sym) {
		mended, c := b.copied(), drive.Conditions{}
		s.mend(mended, &c)
		cause := Cause{Name: s.name, Stage: s.stage, Unusual: s.unusual, Says: s.says, Takes: before - mended.trouble(sym, c)}
		if cause.Takes < leastNamed {
			continue
		}
		// What more volts would do is no figure to give for a motor that stands.
		if sym != JumpsOff && !(sym == NoGo && s.name == FewCells) {
			cause.Before, cause.After = b.effect(sym, drive.Conditions{}), mended.effect(sym, c)
		}
		out = append(out, cause)
	}
	slices.SortStableFunc(out, func(a, b Cause) int {
		if a.Unusual != b.Unusual {
			if a.Unusual {
				return -1
			}
			return 1
		}
		if more := a.Name == FewCells; more != (b.Name == FewCells) {
			// More volts are no cure for a motor that stands for another reason.
			return map[bool]int{true: 1, false: -1}[more]
		}
		return cmp.Compare(math.Round(1000*b.Takes), math.Round(1000*a.Takes))
	})
	return out
}

func (b *Build) suspects(sym Symptom) []suspect {
	var out []suspect
	n := b.needs(drive.Conditions{})
	for i := range b.Drive.Stages {
		out = append(out, b.bandSuspects(sym, i, n)...)
	}
	out = append(out, b.gearing(sym)...)
	out = append(out, b.loadSuspects(sym)...)
	out = append(out, b.supplySuspects(sym)...)
	if sym == NoGo || sym == Slips || sym == Slower {
		out = append(out, suspect{name: "axle friction", says: "dry axles, or holes out of line, take part of the torque; waxed and in line they take less",
			mend: func(_ *Build, c *drive.Conditions) { c.Bearings = drive.Low }})
	}
	if sym == Slips {
		out = append(out, suspect{name: "slippery grooves", says: "dust or polish in the grooves halves their grip; clean and matt they hold better",
			mend: func(_ *Build, c *drive.Conditions) { c.Grip = drive.High }})
	}
	return out
}

// bandSuspects are about one band and the pulleys it runs on.
func (b *Build) bandSuspects(sym Symptom, i int, n needs) []suspect {
	st, lim := &b.Drive.Stages[i], b.Brief.Limits
	f, _ := st.Mechanics(likelyGrip).Fit(b.Drive.Centre(i))
	var out []suspect
	add := func(name string, unusual bool, mend func(*drive.Stage, *Build), says string, args ...any) {
		out = append(out, suspect{name: name, stage: i + 1, unusual: unusual, says: fmt.Sprintf(says, args...),
			mend: func(b *Build, _ *drive.Conditions) { mend(&b.Drive.Stages[i], b) }})
	}
	ideal := func(s *drive.Stage, _ *Build) { s.Band = longer(s, f.Stretch/lim.IdealStretch) }
	if f.Stretch > lim.ComfortStretchMax {
		add("band too tight", true, ideal, "band %s is stretched %s %%, and %s to %s %% is comfortable", st.Band.Name, percent(f.Stretch-1), percent(lim.ComfortStretchMin-1), percent(lim.ComfortStretchMax-1))
	}
	if f.Stretch < lim.ComfortStretchMin && f.Stretch > 0 {
		words := fmt.Sprintf("band %s is limp: stretched only %s %%, and %s %% is the least that is comfortable", st.Band.Name, percent(max(0, f.Stretch-1)), percent(lim.ComfortStretchMin-1))
		if f.Stretch <= 1 {
			words = fmt.Sprintf("band %s is too long and hangs loose", st.Band.Name)
		}
		add("band too limp", true, ideal, "%s", words)
	}
	if arc := min(f.DriverArc, f.DrivenArc); arc < lim.ArcWarn && !st.Crossed && (sym == Slips || sym == JumpsOff) {
		add("too little arc", true, func(s *drive.Stage, b *Build) { b.apart(i, 1.6) }, "the band wraps only %.0f degrees of the smaller pulley, for the two stand near and differ much in size", arc.Degrees())
	}
	thrown := b.thrown(i, nil)
	if thrown[tooWide] > 0 {
		add("band too wide", true, func(s *drive.Stage, _ *Build) { widened(s) }, "band %s is wider than the groove it has to lie in, and climbs out", st.Band.Name)
	}
	if thrown[tooNear] > 0 {
		add("crossed too near", true, func(_ *drive.Stage, b *Build) { b.apart(i, math.Exp(thrown[tooNear])) }, "the crossed band rubs itself, for the axles are near")
	}
	if n.ok && n.grip[i] < 2 && (sym == Slips || sym == JumpsOff) {
		add("thin band", false, stronger(2), "one band %s has to carry %s N and slips at %s N", st.Band.Name, figure(float64(n.pull[i])), figure(n.grip[i]*float64(n.pull[i])))
	}
	if n.ok && n.grip[i] > 3 && (sym == NoGo || sym == Slower) {
		add("heavier band than needed", st.Use != drive.Single || n.grip[i] > 12 && st.Band.Width > 2, stronger(0.5), "the band of this stage grips %s times what it must, and all its pull rubs in the bearings", figure(n.grip[i]))
	}
	return out
}

// longer is a stage's band with its length changed by a factor.
func longer(s *drive.Stage, by float64) *parts.Band {
	out := *s.Band
	out.FlatLength *= units.Millimetres(by)
	return &out
}

func stronger(by float64) func(*drive.Stage, *Build) {
	return func(s *drive.Stage, _ *Build) {
		out := *s.Band
		out.PullFactor *= by
		s.Band = &out
	}
}

func widened(s *drive.Stage) {
	driver, driven := *s.Driver, *s.Driven
	driver.GrooveWidth, driven.GrooveWidth = 10*driver.GrooveWidth, 10*driven.GrooveWidth
	s.Driver, s.Driven = &driver, &driven
}

// apart moves the axles of stage i apart by a factor, with a band that much longer
// that its stretch is the same.
func (b *Build) apart(i int, by float64) {
	s := &b.Drive.Stages[i]
	before, _ := s.Mechanics(likelyGrip).Fit(b.Drive.Centre(i))
	at := centres(b.Drive)
	at[i] *= units.Millimetres(by)
	place(b.Drive, at)
	after, _ := s.Mechanics(likelyGrip).Fit(at[i])
	s.Band = longer(s, after.Stretch/before.Stretch)
}

// What one stage can do (common practice): 3 to 6 times slower is comfortable, and
// up to 10 from a small pulley on the motor.
const (
	leastRatio     = 3
	mostRatio      = 6
	mostMotorRatio = 10
)

// gearing is whether the stages slow the motor enough.
func (b *Build) gearing(sym Symptom) []suspect {
	if sym == Slower || sym == JumpsOff {
		return nil
	}
	s, err := b.at(drive.Conditions{})
	if err != nil || !s.whole {
		return nil
	}
	total := 1.0
	for i := range s.stages {
		total *= s.stages[i].Fitted.Ratio
	}
	// How many times slower the output would have to turn: by what it does, or, for
	// one that stands still, by what a motor at two thirds of its free speed would.
	short := 1.0
	if target := s.model.Demand.Target; target > 0 {
		n := float64(s.speed)
		if n == 0 {
			n = float64(s.model.Motor.FreeSpeed(s.model.Supply)) / total * 2 / 3
		}
		short = n / float64(target)
	}
	var out []suspect
	for i := range s.stages {
		ratio, most := s.stages[i].Fitted.Ratio, float64(mostRatio)
		if i == 0 {
			most = mostMotorRatio
		}
		by := min(short, most/ratio)
		small := ratio < leastRatio
		if sym == Slips {
			by = leastRatio / ratio // a larger driven pulley is pulled round more easily
		}
		if by < 1.05 {
			continue
		}
		out = append(out, suspect{name: "too little reduction", stage: i + 1, unusual: small || short > 1+b.Brief.Tolerance,
			says: fmt.Sprintf("%s to %s slows only %s times, where %s would be right", b.Drive.Stages[i].Driver.Name, b.Drive.Stages[i].Driven.Name, figure(ratio), figure(ratio*by)),
			mend: func(b *Build, _ *drive.Conditions) { b.slowed(i, by) }})
	}
	if most := pow(mostRatio, len(s.stages)-1) * mostMotorRatio; sym != Slips && short*total > most && len(s.stages) < drive.MaxStages {
		out = append(out, suspect{name: "too few stages", unusual: true,
			says: fmt.Sprintf("the motor should turn %s times for one turn of the output, more than %s can do", figure(short*total), stagesOf(len(s.stages))),
			mend: func(b *Build, _ *drive.Conditions) { b.slowed(len(b.Drive.Stages)-1, short) }})
	}
	return out
}

func pow(base, n int) float64 { return math.Pow(float64(base), float64(n)) }

// slowed gives stage i a driven pulley so many times as large, on an axle as much
// further off as its rim reaches further, with a band of the same stretch.
func (b *Build) slowed(i int, by float64) {
	s := &b.Drive.Stages[i]
	before, _ := s.Mechanics(likelyGrip).Fit(b.Drive.Centre(i))
	driven := *s.Driven
	grown := units.Millimetres(by-1) * (driven.GrooveFloor + s.Band.Thickness)
	driven.GrooveFloor += grown
	driven.Outside += grown
	s.Driven = &driven
	at := centres(b.Drive)
	at[i] += grown / 2
	place(b.Drive, at)
	after, _ := s.Mechanics(likelyGrip).Fit(at[i])
	s.Band = longer(s, after.Stretch/before.Stretch)
}

// usualOutOfBalance is the share of a ride's mass that hangs off its middle when it
// is made with care; as in the reading of briefs.
const usualOutOfBalance = 0.05

// loadSuspects are about what the drive has to move.
func (b *Build) loadSuspects(sym Symptom) []suspect {
	if sym != NoGo && sym != Slips && sym != JumpsOff {
		return nil
	}
	load := b.Brief.Load
	var out []suspect
	change := func(name string, unusual bool, says string, set func(*brief.Load)) {
		out = append(out, suspect{name: name, unusual: unusual, says: says, mend: func(b *Build, _ *drive.Conditions) {
			brief := *b.Brief
			set(&brief.Load)
			b.Brief = &brief
		}})
	}
	if usual := usualOutOfBalance * load.Mass; b.Brief.Model == brief.LevelRide && load.OutOfBalance > usual*(1+1e-9) {
		change("out of balance", true, fmt.Sprintf("one side is %s g heavier; with care it is %s g", figure(float64(load.OutOfBalance)), figure(float64(usual))),
			func(l *brief.Load) { l.OutOfBalance = usual })
	}
	if load.Slope > 0 {
		change("slope", load.Slope > units.Degrees(5), fmt.Sprintf("the ramp rises %.0f degrees", load.Slope.Degrees()), func(l *brief.Load) { l.Slope = 0 })
	}
	less := func(l *brief.Load, by float64) {
		l.Mass *= units.Grams(by)
		l.OutOfBalance *= units.Grams(by)
		l.Torque *= units.NewtonMillimetres(by)
	}
	light := b.copied()
	lightly := *b.Brief
	less(&lightly.Load, 0.25)
	light.Brief = &lightly
	now := b.trouble(sym, drive.Conditions{})
	most := now > 0 && now-light.trouble(sym, drive.Conditions{}) > math.Log(2.5)
	change("load", most, b.loadWords(), func(l *brief.Load) { less(l, 0.5) })
	return out
}

func (b *Build) loadWords() string {
	l := b.Brief.Load
	switch b.Brief.Model {
	case brief.PlainShaft:
		return fmt.Sprintf("the load asks for %s mN·m; half of that tells whether it is the load", figure(float64(l.Torque)))
	case brief.LevelRide:
		return fmt.Sprintf("%s g too much on one side has to be heaved round; half of that tells whether it is the load", figure(float64(l.OutOfBalance)))
	}
	return fmt.Sprintf("it has %s g to move; half of that tells whether it is the load", figure(float64(l.Mass)))
}

// supplySuspects are about cells and motor.
func (b *Build) supplySuspects(sym Symptom) []suspect {
	d := b.Drive
	var out []suspect
	withCells := func(n int) func(*Build, *drive.Conditions) {
		return func(b *Build, _ *drive.Conditions) {
			h := *b.Drive.Holder
			h.Cells = n
			b.Drive.Holder = &h
		}
	}
	has, rated := d.Holder.Cells, max(1, int(float64(d.Motor.Rated/d.Holder.OpenVoltage)+0.05))
	switch sym {
	case TooFast:
		if has > 1 {
			out = append(out, suspect{name: "more cells than needed", unusual: true, says: fmt.Sprintf("%d cells drive it; one less is nearer what was wanted", has), mend: withCells(has - 1)})
		}
		for k := range b.Cupboard.Motors {
			if m := &b.Cupboard.Motors[k]; speedPerVolt(m) < 0.8*speedPerVolt(d.Motor) {
				out = append(out, suspect{name: "fast motor", unusual: true, says: fmt.Sprintf("motor %s is a fast one; the cupboard has motor %s, which is slower", d.Motor.Name, m.Name),
					mend: func(b *Build, _ *drive.Conditions) { b.Drive.Motor = m }})
				break
			}
		}
		spread := drive.FreeSpeedSpread(d.Motor).High - 1
		out = append(out, suspect{name: "motor faster than its sheet", says: fmt.Sprintf("the motor may be %s %% faster than the cupboard says", percent(spread)),
			mend: func(_ *Build, c *drive.Conditions) { c.MotorSpeed = drive.Low }})
	case NoGo:
		if has < rated {
			out = append(out, suspect{name: FewCells, unusual: true, says: fmt.Sprintf("the motor is made for %s V, and the holder gives %s V; that is the last thing to change, for a motor that stands gets hotter with more", figure(float64(d.Motor.Rated)), figure(float64(has)*float64(d.Holder.OpenVoltage))), mend: withCells(rated)})
		}
		out = append(out, suspect{name: "tired cells", says: "cells that are part-used give less than new ones", mend: func(_ *Build, c *drive.Conditions) { c.Cells = drive.Low }})
	case Slower:
		out = append(out, b.wearSuspects()...)
	}
	return out
}

// speedPerVolt is a motor's free speed for each volt.
func speedPerVolt(m *parts.Motor) float64 { return float64(m.FreeSpeed) / float64(m.Rated) }

// wearSuspects are what goes down from lesson to lesson, each mended by keeping it
// as it was; see worn.
func (b *Build) wearSuspects() []suspect {
	out := []suspect{
		{name: "cells run down", unusual: true, says: b.cellWords(), mend: func(_ *Build, c *drive.Conditions) { c.Cells = drive.Low }},
		{name: "bands lose pull", says: "bands that stay stretched lose pull, and creep more; take them off after each lesson", mend: func(_ *Build, c *drive.Conditions) { c.BandPull = drive.High }},
	}
	w, err := Work(b)
	if limit := b.Brief.Limits.ContinuousShare; err == nil && w.Stops == Turns && w.Motor.Share > limit {
		out = append(out, suspect{name: "motor works hard", unusual: true,
			says: fmt.Sprintf("the motor works at %s %% of its stall torque, where %s %% is the most for long, so that it feels every tired cell", percent(w.Motor.Share), percent(limit)),
			mend: func(b *Build, _ *drive.Conditions) {
				m := *b.Drive.Motor
				m.StallTorque, m.StallCurrent = 2*m.StallTorque, 2*m.StallCurrent
				b.Drive.Motor = &m
			}})
	}
	return out
}

// cellWords say how long the cells last.
func (b *Build) cellWords() string {
	w, err := Work(b)
	if err != nil || w.Motor.Minutes <= 0 {
		return "cells lose voltage as they are used"
	}
	return fmt.Sprintf("it draws %s mA, so that fresh cells last %s minutes of running", figure(1000*float64(w.Motor.Current)), figure(w.Motor.Minutes))
}

// stagesOf is a number of stages in words.
func stagesOf(n int) string {
	if n == 1 {
		return "one stage"
	}
	return fmt.Sprintf("%d stages", n)
}
