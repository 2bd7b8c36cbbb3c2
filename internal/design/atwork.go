package design

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/units"
)

// The functions of this file work a placed drive out that no search has chosen,
// such as one that stands on the table already, in the same way as a proposal.

// SpeedRangeOf is the output speed of a placed drive as a range, as in
// Proposal.Speed. A drive that does not turn on the likely day has Likely and Low
// 0, and for High the fastest that any one better circumstance would make it.
func SpeedRangeOf(d *drive.Drive, b *brief.Brief) SpeedRange {
	t := &task{brief: b}
	if n, ok := t.rangeAtHoles(d); ok {
		return n
	}
	var most units.RPM
	for _, set := range drive.Uncertain() {
		for _, l := range []drive.Level{drive.Low, drive.High} {
			var c drive.Conditions
			set(&c, l)
			most = max(most, t.speedUnder(d, c))
		}
	}
	return SpeedRange{High: most}
}

// rangeAtHoles puts a placed drive that turns on the likely day into the classrooms.
func (t *task) rangeAtHoles(d *drive.Drive) (SpeedRange, bool) {
	m, err := drive.Prepare(d, t.brief, drive.Conditions{})
	if err != nil {
		return SpeedRange{}, false
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return SpeedRange{}, false
	}
	running, starting := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	likely := m.OutputSpeed(&g, &running)
	if starting.Slips >= 0 || likely <= 0 {
		return SpeedRange{}, false
	}
	class, err := forecast.NewClass(t.brief, d.Motor, d.Holder, d.Wheel, d.Drum, knownOf(d))
	if err != nil {
		return SpeedRange{}, false
	}
	w := class.WorkOf(&m, &g, &running, &starting)
	f := class.Of(&w)
	return SpeedRange{Low: min(f.Low, likely), Likely: likely, High: max(f.High, likely)}, true
}

// InClassrooms is how fast a placed drive turns in each of the hundred classrooms, with its
// holes as they are drawn but for what a drill is off: 0 where it stands. The error is that
// it cannot be worked out at all.
func InClassrooms(d *drive.Drive, b *brief.Brief) ([forecast.Rooms]units.RPM, error) {
	var none [forecast.Rooms]units.RPM
	m, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil {
		return none, err
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return none, err
	}
	class, err := forecast.NewClass(b, d.Motor, d.Holder, d.Wheel, d.Drum, knownOf(d))
	if err != nil {
		return none, err
	}
	running, starting := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	if starting.Slips >= 0 || running.Slips >= 0 {
		return none, nil // to first order a band that slips on the likely day slips everywhere
	}
	w := class.WorkOf(&m, &g, &running, &starting)
	return class.Speeds(&w), nil
}

// TravelOf is the speed of travel of a vehicle or of the load of a lift; nil for
// other models.
func TravelOf(d *drive.Drive, b *brief.Brief, n SpeedRange) *LinearRange { return linear(d, b, n) }

// MotorOf is the motor of a drive at work. Where a band slips the motor's torque is
// not known, and only what does not depend on it is filled in.
func MotorOf(d *drive.Drive, m *drive.Model, running, starting *drive.Flow) MotorReport {
	if running.Slips < 0 && starting.Slips < 0 {
		return motorReport(d, m, running, starting)
	}
	r := MotorReport{Stall: m.Motor.StallTorque(m.Supply), Turns: turning(d.MotorTurns)}
	if m.Motor.Conflict.Serious() {
		r.Contradiction = m.Motor.Conflict.String()
	}
	return r
}

// OverloadOf says what gives way when the load of a placed drive grows; nil if the
// brief's load is 0, or if the drive does not turn with it.
func OverloadOf(d *drive.Drive, b *brief.Brief) *Overload {
	o := (&task{brief: b}).overload(d)
	if o == nil || math.Min(o.Slips, o.Stalls) <= o.Brief {
		return nil
	}
	return o
}
