package constraints

import (
	"iter"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Verdict is what a rule says of a drive.
type Verdict struct {
	Rule  Rule
	Stage int      // from 1; 0 for the whole drive
	No    *Refusal // nil if the rule is kept
}

// First is the first refusal among verdicts; nil if every rule is kept.
func First(verdicts iter.Seq[Verdict]) *Refusal {
	for v := range verdicts {
		if v.No != nil {
			return v.No
		}
	}
	return nil
}

// PutOn is the list of the rules about a band as it is put on, at rest. A search works out
// for which spacings they are kept (design/options.go); all else asks here.
func PutOn(l brief.Limits, stage int, s *drive.Stage, f *mechanics.Fitted) iter.Seq[Verdict] {
	return func(yield func(Verdict) bool) {
		_ = yield(Verdict{Stretch, stage + 1, FittedStretch(l, s.Band, f.Stretch)}) &&
			yield(Verdict{Arc, stage + 1, ArcOfContact(l, f)}) &&
			s.Crossed && yield(Verdict{CrossedSpacing, stage + 1, CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, f.Centre)})
	}
}

// Work is a drive under load.
type Work struct {
	Brief             *brief.Brief
	Bands             [drive.MaxStages]*parts.Band
	Motor             string
	Wheel             *parts.Wheel // nil if the model has none
	Model             *drive.Model
	Geometry          *drive.Geometry
	Running, Starting *drive.Flow
	Speed             units.RPM // of the output, running
}

// WorkOf is a drive of a brief as a model and its geometry have it.
func WorkOf(d *drive.Drive, b *brief.Brief, m *drive.Model, g *drive.Geometry) *Work {
	w := &Work{Brief: b, Motor: d.Motor.Name, Wheel: d.Wheel, Model: m, Geometry: g}
	w.Carry()
	for i := range d.Stages {
		w.Bands[i] = d.Stages[i].Band
	}
	return w
}

// Carry fills in what the model does under the brief's load.
func (w *Work) Carry() {
	running := w.Model.Carry(w.Geometry, w.Model.Demand.Steady)
	w.Running, w.Starting = &running, &running
	if w.Model.Demand.Start != w.Model.Demand.Steady {
		starting := w.Model.Carry(w.Geometry, w.Model.Demand.Start)
		w.Starting = &starting
	}
	w.Speed = w.Model.OutputSpeed(w.Geometry, w.Running)
}

// Rules is the list of the rules about a drive under load, which a drive must keep on the
// likely day: a new one is added here. The bands come first, from the output back. A rule
// that has nothing to judge, as a band slips or nobody said what is wanted, is left out.
func (w *Work) Rules() iter.Seq[Verdict] {
	return func(yield func(Verdict) bool) {
		for i := w.Model.Count - 1; i >= 0; i-- {
			if !w.band(i, yield) {
				return
			}
		}
		l, m := w.Brief.Limits, w.Model
		stall := m.Motor.StallTorque(m.Supply)
		if w.Starting.Slips < 0 && !yield(Verdict{MotorStarts, 0, MotorStart(l, w.Motor, stall, w.Starting.MotorTorque)}) {
			return
		}
		if w.Running.Slips < 0 && !yield(Verdict{MotorRuns, 0, MotorRun(l, w.Motor, stall, w.Running.MotorTorque)}) {
			return
		}
		if t := drive.TractionOf(w.Brief, w.Wheel, m.Demand); t.Holds > 0 && !yield(Verdict{Traction, 0, WheelTraction(t.Needed, t.Holds)}) {
			return
		}
		if w.Running.Slips >= 0 || !yield(Verdict{HeldBack, 0, SpeedKept(l, w.kept())}) {
			return
		}
		if target := m.Demand.Target; target > 0 {
			yield(Verdict{Speed, 0, SpeedWithin(w.Speed, target, w.Brief.Tolerance)})
		}
	}
}

// band gives the rules about a stage's band at work.
func (w *Work) band(i int, yield func(Verdict) bool) bool {
	l, b := w.Brief.Limits, w.Bands[i]
	greatest, _ := w.Model.Stages[i].Grip(w.Geometry.Fits[i])
	margin := func(flow *drive.Flow) float64 {
		if flow.Slips == i {
			return 0
		}
		return GripMargin(greatest, flow.Stages[i].Effective)
	}
	return (w.Running.Slips > i || yield(Verdict{Grip, i + 1, GripRunning(l, b, i, margin(w.Running))})) &&
		(w.Starting.Slips > i || yield(Verdict{GripStart, i + 1, GripStarting(l, b, i, margin(w.Starting))})) &&
		(w.Running.Slips >= i || yield(Verdict{RunningStretch, i + 1, RunningTight(l, b, w.Tightest(i))}))
}

// Tightest is how far the tight run of a stage's band, which does not slip, is stretched at
// work. A level ride asks most of its bands at the heaviest moment of every turn; other
// loads start once.
func (w *Work) Tightest(i int) float64 {
	tight := w.Running.Stages[i].Loaded.TightStretch
	if w.Model.Demand.Swing > 0 && w.Starting.Slips < i {
		tight = max(tight, w.Starting.Stages[i].Loaded.TightStretch)
	}
	return tight
}

// kept is what is left of the speed that the motor without load would give the output, as a
// share.
func (w *Work) kept() float64 {
	ratio := 1.0
	for i := range w.Model.Count {
		ratio *= w.Geometry.Fits[i].Ratio
	}
	return float64(w.Speed) * ratio / float64(w.Model.Motor.FreeSpeed(w.Model.Supply))
}
