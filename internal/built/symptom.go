package built

import (
	"errors"
	"fmt"
	"math"

	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Symptom is what people see go wrong, in their words.
type Symptom string

// The symptoms.
const (
	TooFast  Symptom = "far too fast"
	NoGo     Symptom = "hums and will not start"
	Slips    Symptom = "band slips"
	JumpsOff Symptom = "band jumps off"
	Slower   Symptom = "gets slower each lesson"
)

// Symptoms lists every symptom.
func Symptoms() []Symptom { return []Symptom{TooFast, NoGo, Slips, JumpsOff, Slower} }

// ErrNoSpeed is that nobody said what speed was wanted, so that nothing is too fast.
var ErrNoSpeed = errors.New(`to judge what is too fast, the file must say what was wanted: write for example speed = "1 turn in 3 s"`)

// helpless is the trouble of a drive that cannot be worked out: a band is off, or
// the motor stands still. It is as bad as being out by a factor of fifty.
const helpless = 4

// sure is a grip at which no band slips: it serves to work out what a band would
// have to carry if it did not slip.
const sure = 50

// trouble measures a symptom of a build under the given conditions: the natural
// logarithm of a factor by which the drive is worse than the rules ask, 0 or less
// where they are content. Its zero is, by symptom,
//
//	TooFast   the wanted speed; either way off is trouble
//	NoGo      Limits.StartMin of stall torque over the torque to start
//	Slips     Limits.GripMin of grip over what the band must carry, at the
//	          weakest stage, running or starting
//	JumpsOff  no sign of any of the things that throw a band; see thrown
//	Slower    no speed lost between fresh and worn
func (b *Build) trouble(sym Symptom, c drive.Conditions) float64 {
	switch sym {
	case TooFast:
		return b.offSpeed(c)
	case Slower:
		fresh, later := b.freshAndWorn(c)
		if !(fresh > 0) || !(later > 0) {
			return helpless
		}
		return math.Log(float64(fresh / later))
	}
	n := b.needs(c)
	if !n.ok {
		if sym == JumpsOff {
			return b.thrownParts(nil)
		}
		return helpless
	}
	switch sym {
	case NoGo:
		return math.Log(b.Brief.Limits.StartMin / n.startMargin)
	case Slips:
		return math.Log(b.Brief.Limits.GripMin / n.grip[n.weakest])
	}
	return b.thrownParts(&n)
}

// worn is what some lessons do: cells part-used, bands that have lost some of their
// pull, dust in the bearings. What the conditions settle already stays as it is.
func worn(b *Build, c drive.Conditions) (*Build, drive.Conditions) {
	if c.Cells == drive.Likely {
		// Used cells, whatever they were before; used ones then are near the end.
		b = b.copied()
		h := *b.Drive.Holder
		if h.Condition == parts.Used {
			c.CellVoltage = drive.Low
		}
		h.Condition, h.Measured = parts.Used, false
		b.Drive.Holder = &h
	}
	for _, w := range []struct {
		is *drive.Level
		to drive.Level
	}{{&c.Cells, drive.High}, {&c.BandPull, drive.Low}, {&c.Bearings, drive.High}} {
		if *w.is == drive.Likely {
			*w.is = w.to
		}
	}
	return b, c
}

// freshAndWorn are the output's speeds before and after some lessons.
func (b *Build) freshAndWorn(c drive.Conditions) (fresh, later units.RPM) {
	old, oldConditions := worn(b, c)
	return b.speed(c), old.speed(oldConditions)
}

// speed is the output's; 0 if it does not turn.
func (b *Build) speed(c drive.Conditions) units.RPM {
	s, err := b.at(c)
	if err != nil {
		return 0
	}
	return s.speed
}

func (b *Build) offSpeed(c drive.Conditions) float64 {
	s, err := b.at(c)
	if err != nil || !(s.speed > 0) || !(s.model.Demand.Target > 0) {
		return helpless
	}
	return math.Abs(math.Log(float64(s.speed / s.model.Demand.Target)))
}

// mostScaled is the most by which a load is scaled down to be carried.
const mostScaled = 1000

// needs is what a drive has to carry, whether its bands can or not.
type needs struct {
	ok          bool
	startMargin float64                  // stall torque over the torque to start
	grip        [drive.MaxStages]float64 // greatest pull over the most the band must carry
	weakest     int
	stages      []StageWorking
	// pull is the effective pull each band must carry at the harder of running and
	// starting.
	pull [drive.MaxStages]units.Newtons
}

func (b *Build) needs(c drive.Conditions) needs {
	s, err := b.at(c)
	if err != nil || !s.whole {
		return needs{}
	}
	gripping := s.model
	for i := range gripping.Count {
		gripping.Stages[i].Friction = sure
	}
	torque := max(s.model.Demand.Start, s.model.Demand.Steady)
	// Where even a band of sure grip would lose its slack run, less of the load is
	// put on and the answer scaled up: torques grow very nearly as the load does.
	times := 1.0
	flow := gripping.Carry(&s.geometry, torque)
	for ; flow.Slips >= 0; times *= 2 {
		if times > mostScaled {
			return needs{}
		}
		flow = gripping.Carry(&s.geometry, torque/units.NewtonMillimetres(2*times))
	}
	n := needs{ok: true, stages: s.stages}
	n.startMargin = float64(s.model.Motor.StallTorque(s.model.Supply)) / max(times*float64(flow.MotorTorque), 1e-9)
	n.startMargin = max(n.startMargin, math.Exp(-helpless))
	for i := range s.model.Count {
		greatest, _ := s.model.Stages[i].Grip(s.stages[i].Fitted)
		n.pull[i] = units.Newtons(times) * flow.Stages[i].Effective
		n.grip[i] = max(float64(greatest)/max(float64(n.pull[i]), 1e-9), math.Exp(-helpless))
		if n.grip[i] < n.grip[n.weakest] {
			n.weakest = i
		}
	}
	return n
}

// thrownParts adds up what throws bands off, each as the logarithm of a factor
// beyond its limit or, for stretch, as shares of ten per cent (judgement: a band 10 %
// too slack is as bad as one half as wide again as its groove).
func (b *Build) thrownParts(n *needs) float64 {
	sum := 0.0
	for i := range b.Drive.Stages {
		for _, part := range b.thrown(i, n) {
			sum += part
		}
	}
	return sum
}

// The things that throw a band off.
const (
	tooWide    = "too wide"
	tooLimp    = "too limp"
	tooTight   = "too tight"
	tooNear    = "crossed too near"
	tooLittle  = "too little arc"
	slipsFirst = "slips"
)

func (b *Build) thrown(i int, n *needs) map[string]float64 {
	st, lim := &b.Drive.Stages[i], b.Brief.Limits
	out := map[string]float64{}
	width := st.Loop().WidthAt(1)
	if st.Use == drive.LoopedTwice {
		width = 2 * st.Band.Width
	}
	add := func(what string, by float64) {
		if by > 0 {
			out[what] = by
		}
	}
	add(tooWide, math.Log(float64(width/min(st.Driver.GrooveWidth, st.Driven.GrooveWidth))))
	f, err := st.Mechanics(likelyGrip).Fit(b.Drive.Centre(i))
	if err != nil && f.Stretch > 1 {
		return out // rims overlap: nothing is on
	}
	const tenPercent, half = 0.1, 0.405 // ln 1.5
	add(tooLimp, (lim.ComfortStretchMin-f.Stretch)/tenPercent*half)
	add(tooTight, (f.Stretch-lim.FittedStretchMax)/tenPercent*half)
	if st.Crossed {
		add(tooNear, math.Log(float64((f.DriverPitch+f.DrivenPitch)/f.Centre)))
	}
	add(tooLittle, 2*math.Log(float64(lim.ArcMin/max(min(f.DriverArc, f.DrivenArc), 0.01))))
	if n != nil {
		add(slipsFirst, math.Log(lim.GripMin/n.grip[i]))
	}
	return out
}

// effect says what a measure means, for "instead of" sentences.
func (b *Build) effect(sym Symptom, c drive.Conditions) string {
	switch sym {
	case TooFast:
		n := b.speed(c)
		if !(n > 0) {
			return "it would stand still"
		}
		return fmt.Sprintf("about %s turns a minute", figure(float64(n)))
	case Slower:
		fresh, later := b.freshAndWorn(c)
		if !(later > 0) {
			return "it stands still when worn"
		}
		return fmt.Sprintf("it loses %s %% of its speed", percent(1-float64(later/fresh)))
	}
	n := b.needs(c)
	switch {
	case !n.ok:
		return "no band carries that"
	case sym == NoGo:
		return fmt.Sprintf("the motor has %s times what starting needs", figure(n.startMargin))
	}
	return fmt.Sprintf("the weakest band grips %s times what it must", figure(n.grip[n.weakest]))
}
