package built

import (
	"errors"
	"math"

	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// Working is a built drive worked out on the likely day.
type Working struct {
	Build  *Build
	Target units.RPM // 0 if nobody said what was wanted
	// Speed is that of the output; Likely is 0 if it does not turn.
	Speed    design.SpeedRange
	Linear   *design.LinearRange // vehicle or lift
	Ratio    float64             // motor turns for one of the output; 0 if a band does not go round
	Stages   []StageWorking
	Motor    design.MotorReport
	Findings []Finding // every rule, in the order of constraints.Rules, then by stage
	// SlipsFirst is the stage, from 0, whose band has the least in hand.
	SlipsFirst int
	Overload   *design.Overload // what gives way as the load grows; nil if nothing is known
	InFrame    *InFrame         // nil if the file has no frame
	Stops      Stop
	// Counted is what is remembered of this very model, from which Speed then is; nil if it
	// was not counted.
	Counted *parts.CountedDrive
}

// AtWork is how often the motor turns for one turn of the output with what the bands lose; 0
// if the output does not turn.
func (w *Working) AtWork() float64 {
	if w.Stops != Turns {
		return 0
	}
	creeps := make([]float64, len(w.Stages))
	for i := range w.Stages {
		creeps[i] = w.Stages[i].Creep
	}
	return mechanics.TurnsAtWork(w.Ratio, creeps)
}

// MotorSpeed is how fast the motor turns when the output turns at its likely speed; 0 if it does
// not turn. Under a load that swings in a turn it is the mean of that turn, as the output's speed
// is, where Motor has the speed at the mean torque, which is another.
func (w *Working) MotorSpeed() units.RPM { return w.Speed.Likely * units.RPM(w.AtWork()) }

// Stop is why a drive does not turn.
type Stop string

// The reasons.
const (
	Turns     Stop = ""                   // it does turn
	OffBand   Stop = "band off"           // a band hangs loose or cannot be put on
	BandSlips Stop = "band slips"         // a band cannot carry the load while running
	Stalls    Stop = "motor stalls"       // the motor is too weak to keep it turning
	NoStart   Stop = "motor cannot start" // it would run on but cannot get over the start
)

// StageWorking is one stage at work.
type StageWorking struct {
	Fitted       mechanics.Fitted
	Fits         bool    // the band goes round and is not loose
	Overlaps     bool    // the pulleys cannot stand so near
	GripRunning  float64 // margin; infinite with nothing to carry, 0 if it slips
	GripStarting float64
	TightStretch float64 // of the tight run at work; 0 if not known
	Creep        float64 // share of speed lost
}

// Grip is the smaller margin.
func (s *StageWorking) Grip() float64 { return min(s.GripRunning, s.GripStarting) }

// state is the drive at work, as far as it can be worked out.
type state struct {
	model             drive.Model
	geometry          drive.Geometry
	running, starting drive.Flow
	stages            []StageWorking
	work              *constraints.Work
	whole             bool // every band goes round: the flows are worked out
	speed             units.RPM
	stop              Stop
}

// at works a build out under the given conditions. The error is from
// drive.Prepare: the motor's figures contradict each other beyond use.
func (b *Build) at(c drive.Conditions) (*state, error) { return b.atWith(c, nil) }

// atWith is at with something changed, if tweak is not nil, once the drive is made ready.
func (b *Build) atWith(c drive.Conditions, tweak func(*drive.Model)) (*state, error) {
	d := b.Drive
	m, err := drive.Prepare(d, b.Brief, c)
	if err != nil {
		return nil, err
	}
	if tweak != nil {
		tweak(&m)
	}
	s := &state{model: m, whole: true, stages: make([]StageWorking, len(d.Stages)), stop: OffBand}
	for i := range d.Stages {
		f, err := m.Stages[i].Fit(d.Centre(i))
		w := StageWorking{Fitted: f, Fits: err == nil, Overlaps: errors.Is(err, mechanics.ErrOverlap)}
		s.whole = s.whole && w.Fits
		s.stages[i] = w
	}
	if !s.whole {
		return s, nil
	}
	if s.geometry, err = drive.GeometryOf(d, &m, 0); err != nil {
		return nil, err
	}
	s.work = constraints.WorkOf(d, b.Brief, &s.model, &s.geometry)
	s.running, s.starting = *s.work.Running, *s.work.Starting
	for i := range s.stages {
		w := &s.stages[i]
		greatest, _ := m.Stages[i].Grip(w.Fitted)
		w.GripRunning, w.GripStarting = margin(&s.running, i, greatest), margin(&s.starting, i, greatest)
		if s.running.Slips < i {
			w.TightStretch = s.work.Tightest(i)
			w.Creep = 1 - s.running.Stages[i].Loaded.SpeedFactor
		}
	}
	stall := m.Motor.StallTorque(m.Supply)
	switch {
	case s.running.Slips >= 0 || s.starting.Slips >= 0:
		s.stop = BandSlips
	case s.running.MotorTorque >= stall:
		s.stop = Stalls
	case s.starting.MotorTorque >= stall:
		s.stop = NoStart
	default:
		s.stop, s.speed = Turns, s.work.Speed
	}
	return s, nil
}

// margin is a stage's grip over what it has to carry; 0 for the stage that slips,
// and infinite, as not known to be in trouble, for those between it and the motor.
func margin(f *drive.Flow, i int, greatest units.Newtons) float64 {
	switch {
	case f.Slips == i:
		return 0
	case f.Slips > i:
		return math.Inf(1)
	}
	return constraints.GripMargin(greatest, f.Stages[i].Effective)
}

// Work works a built drive out. The error is that of a motor whose figures cannot
// be used.
func Work(b *Build) (*Working, error) {
	s, err := b.at(drive.Conditions{})
	if err != nil {
		return nil, err
	}
	d := b.Drive
	w := &Working{Build: b, Target: s.model.Demand.Target, Stages: s.stages, Stops: s.stop}
	w.Findings, w.InFrame = b.findings(s), b.frameIn(true)
	if !s.whole {
		w.Motor = design.MotorReport{Stall: s.model.Motor.StallTorque(s.model.Supply)}
		return w, nil
	}
	w.Ratio = 1
	for i := range s.stages {
		w.Ratio *= s.stages[i].Fitted.Ratio
		if s.stages[i].Grip() < s.stages[w.SlipsFirst].Grip() {
			w.SlipsFirst = i
		}
	}
	w.Speed = design.SpeedRangeOf(d, b.Brief)
	if c := remembered.Find(b.Cupboard, d, b.Brief); c != nil && s.stop == Turns {
		w.Counted, w.Speed = c, design.SpeedRange{Low: c.Slowest, Likely: c.Likely, High: c.Fastest}
	}
	if s.stop != Turns {
		w.Speed.Low, w.Speed.Likely = 0, 0
	}
	w.Linear = design.TravelOf(d, b.Brief, w.Speed)
	w.Motor = design.MotorOf(d, &s.model, &s.running, &s.starting)
	w.Overload = design.OverloadOf(d, b.Brief)
	return w, nil
}
