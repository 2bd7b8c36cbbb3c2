package fairtest

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/explain"
	"findrive/internal/units"
)

// Prediction is what one of the three should do, for the adult.
type Prediction struct {
	Variant *Variant
	// Low, Likely and High are what the class will write down: turns in Seconds, or
	// seconds for a course.
	Low, Likely, High float64
}

// Seconds is for how long all three are counted: half a minute, and a whole one where
// that is under five turns of the slowest.
func (t *Test) Seconds() int {
	if t.Drives[0].Working.Speed.Likely < 10 {
		return 60
	}
	if t.Drives[2].Working.Speed.Likely > explain.ByTap {
		return 15
	}
	return 30
}

// Timed reports whether the class times a course and does not count turns.
func (t *Test) Timed() bool { return t.Drives[0].Working.Linear != nil }

// PaceUnit is in what the speeds are told: of a model that travels, its travel.
func (t *Test) PaceUnit() string {
	if t.Timed() {
		return "cm a second"
	}
	return "turns a minute"
}

// Pace is how fast a drive likely goes, in PaceUnit, to two figures.
func (v *Variant) Pace() string {
	if l := v.Working.Linear; l != nil {
		return figure(100 * float64(l.Likely))
	}
	return figure(float64(v.Working.Speed.Likely))
}

// PaceRange is the same with the least and the most.
func (v *Variant) PaceRange() string {
	low, high := float64(v.Working.Speed.Low), float64(v.Working.Speed.High)
	if l := v.Working.Linear; l != nil {
		low, high = 100*float64(l.Low), 100*float64(l.High)
	}
	return fmt.Sprintf("%s (%s to %s)", v.Pace(), figure(low), figure(high))
}

// Metres is the course that is timed.
func (t *Test) Metres() float64 { return metres(t.Drives[0].Working) }

// metres is a course for a speed of travel: short for what is slow, 300 mm for lifts.
func metres(w *built.Working) float64 {
	switch {
	case w.Build.Brief.Model == brief.Lift:
		return 0.3
	case w.Linear.Likely < 0.2:
		return 1
	}
	return 3
}

// Predictions are those of the three, slowest first.
func (t *Test) Predictions() [3]Prediction {
	var out [3]Prediction
	for i := range t.Drives {
		v := &t.Drives[i]
		p := Prediction{Variant: v}
		if l := v.Working.Linear; l != nil {
			m := t.Metres()
			p.Low, p.Likely, p.High = m/float64(l.High), m/float64(l.Likely), math.Inf(1)
			if l.Low > 0 {
				p.High = m / float64(l.Low)
			}
		} else {
			n, s := v.Working.Speed, float64(t.Seconds())/60
			p.Low, p.Likely, p.High = s*float64(n.Low), s*float64(n.Likely), s*float64(n.High)
		}
		out[i] = p
	}
	return out
}

// Factor is how many times as fast drive i+1 is as drive i, whatever the day: what the
// motor, the bands and the cells are like moves both alike, so it is known much better
// than either speed.
func (t *Test) Factor(i int) (low, likely, high float64) {
	a, b := t.Drives[i].Working.Build, t.Drives[i+1].Working.Build
	ratio := func(c drive.Conditions) float64 {
		slow, fast := a.SpeedUnder(c), b.SpeedUnder(c)
		if !(slow > 0) || !(fast > 0) {
			return math.NaN()
		}
		return float64(fast / slow)
	}
	likely = ratio(drive.Conditions{})
	low, high = likely, likely
	for _, l := range []drive.Level{drive.Low, drive.High} {
		for _, c := range []drive.Conditions{{MotorSpeed: l}, {MotorTorque: l}, {BandPull: l}, {Bearings: l}, {LoadFriction: l}, {Cells: l}} {
			if r := ratio(c); !math.IsNaN(r) {
				low, high = min(low, r), max(high, r)
			}
		}
	}
	return low, likely, high
}

// Same says what stays the same, as items of a list.
func (t *Test) Same() []string {
	b := t.Base
	var out []string
	if t.Thing != OtherMotor {
		out = append(out, "motor "+b.Drive.Motor.Name)
	}
	if t.Thing != NumberCells {
		out = append(out, fmt.Sprintf("cells (%s)", b.Drive.Holder.Name))
	}
	all := len(b.Drive.Stages) // stages that every test has
	for i := range t.Drives {
		if t.Thing == StageCount {
			all = min(all, len(t.Drives[i].Working.Build.Drive.Stages))
		}
	}
	for i := range b.Drive.Stages {
		s := &b.Drive.Stages[i]
		if i >= all {
			out = append(out, fmt.Sprintf("where there is a stage %d, its pulleys %s and %s, its band %s, %s, and its axles %s mm apart",
				i+1, s.Driver.Name, s.Driven.Name, s.Band.Name, s.Use, units.Decimals(float64(b.Drive.Centre(i)), 1)))
			continue
		}
		here := t.Stage == i+1
		if !(here && t.Thing == DriverPulley) {
			out = append(out, fmt.Sprintf("%s, the driver of stage %d", s.Driver.Name, i+1))
		}
		if !(here && t.Thing == DrivenPulley) {
			out = append(out, fmt.Sprintf("%s, the driven pulley of stage %d", s.Driven.Name, i+1))
		}
		if !(here && t.Thing == OtherBand) {
			out = append(out, fmt.Sprintf("band %s of stage %d, %s", s.Band.Name, i+1, s.Use))
		}
		out = append(out, fmt.Sprintf("the axles of stage %d, %s mm apart", i+1, units.Decimals(float64(b.Drive.Centre(i)), 1)))
	}
	if w := b.Drive.Wheel; w != nil {
		out = append(out, "wheels "+w.Name)
	}
	if w := b.Drive.Drum; w != nil {
		out = append(out, "drum "+w.Name)
	}
	if b.Brief.Load.Mass > 0 {
		out = append(out, fmt.Sprintf("the load, %s g", units.Decimals(float64(b.Brief.Load.Mass), 0)))
	}
	return append(out, "the same fresh cells, counted in the same way")
}

// AlsoChanges says what else changes with the one thing, which nobody can keep the same: the
// stretch of the band on it, as the holes stay. Empty where that is nothing, or less than a
// hundredth.
func (t *Test) AlsoChanges() string {
	if t.Stage == 0 {
		return ""
	}
	var each [3]string
	low, high := math.Inf(1), 0.0
	for i := range t.Drives {
		stretch := t.Drives[i].Working.Stages[t.Stage-1].Fitted.Stretch
		low, high = min(low, stretch), max(high, stretch)
		each[i] = units.Decimals(100*(stretch-1), 0)
	}
	if high-low < 0.01 {
		return ""
	}
	return fmt.Sprintf("One thing changes with it: the holes stay, so the band of stage %d is stretched %s, %s and %s %%. The speeds reckon with that.", t.Stage, each[0], each[1], each[2])
}

// Changed names the one thing.
func (t *Test) Changed() string {
	if t.Stage > 0 && len(t.Base.Drive.Stages) > 1 {
		return fmt.Sprintf("the %s of stage %d", t.Thing, t.Stage)
	}
	return "the " + string(t.Thing)
}
