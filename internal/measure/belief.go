package measure

import (
	"math"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// unknown is one thing that is only roughly known: the logarithm of its factor over
// what the cupboard says has the mean 0 and this standard deviation beforehand.
type unknown struct {
	name  string
	sigma float64
	motor func(m *parts.Motor, factor float64) // changes the sheet of the motor, or
	apply func(m *drive.Model, factor float64) // the drive made ready for working out
}

// The stated ranges of this program are taken as two standard deviations either way
// of a normal law in the logarithm.
const perRange = 2

// unknowns lists what is roughly known of a drive: first the motor's free speed, then
// what else bears on the output's speed, then the pull of each kind of band, as far
// as names go.
func unknowns(b *built.Build, bands []string) []unknown {
	motor := b.Drive.Motor
	speed := drive.MotorUncertainty
	switch {
	case motor.Calibrated:
		speed = drive.CountedUncertainty
	case motor.SpeedKnown > 0 && remembered.Find(b.Cupboard, b.Drive, b.Brief) == nil:
		// Of the very drive that was counted the count itself is remembered: it must not be
		// taken in twice.
		speed = motor.SpeedKnown
	}
	cell := float64(drive.CellUncertainty)
	bearing, grip := mechanics.DowelInWood(), mechanics.BandGrip()
	out := []unknown{
		{name: "motor speed", sigma: speed / perRange, motor: func(m *parts.Motor, f float64) { m.FreeSpeed *= units.RPM(f) }},
		// The stall current goes with the torque, as in drive.MotorModel.
		{name: "motor torque", sigma: drive.MotorUncertainty / perRange, motor: func(m *parts.Motor, f float64) {
			m.StallTorque *= units.NewtonMillimetres(f)
			m.StallCurrent *= units.Amps(f)
		}},
		{name: "cells", sigma: math.Log((1+cell)/(1-cell)) / 2 / perRange, apply: func(m *drive.Model, f float64) { m.Supply.Resistance *= units.Ohms(f) }},
		{name: "bearings", sigma: halfRange(bearing) / perRange, apply: func(m *drive.Model, f float64) {
			m.MotorMu *= f
			for i := range m.Count {
				m.AxleMu[i] *= f
			}
		}},
		{name: "grip", sigma: halfRange(grip) / perRange, apply: func(m *drive.Model, f float64) {
			for i := range m.Count {
				m.Stages[i].Friction *= f
			}
		}},
	}
	low := b.Drive.DemandAt(b.Brief, drive.Low).Steady
	high := b.Drive.DemandAt(b.Brief, drive.High).Steady
	if low > 0 && high > low {
		out = append(out, unknown{name: "load friction", sigma: math.Log(float64(high/low)) / 2 / perRange,
			apply: func(m *drive.Model, f float64) { m.Demand.Steady *= units.NewtonMillimetres(f) }})
	}
	for _, name := range bands {
		spread := drive.BandUncertainty
		for k := range b.Cupboard.Bands {
			if p := &b.Cupboard.Bands[k]; p.Name == name && p.Calibrated {
				spread = drive.WeighedBandUncertainty
			}
		}
		out = append(out, unknown{name: "band " + name, sigma: spread / perRange, apply: func(m *drive.Model, f float64) {
			for i := range m.Count {
				if b.Drive.Stages[i].Band.Name == name {
					m.Stages[i].Band.PullFactor *= f
				}
			}
		}})
	}
	return out
}

// halfRange is half the width of a range in the logarithm.
func halfRange(r mechanics.Range) float64 { return math.Log(r.High/r.Low) / 2 }

// atWork is the drive under factors given by their logarithms, one for each unknown;
// false if it cannot be worked out.
func atWork(b *built.Build, all []unknown, x []float64) (drive.Model, drive.Geometry, drive.Flow, bool) {
	d, motor := *b.Drive, *b.Drive.Motor
	d.Motor = &motor
	for i, u := range all {
		if u.motor != nil {
			u.motor(&motor, math.Exp(x[i]))
		}
	}
	m, err := drive.Prepare(&d, b.Brief, drive.Conditions{})
	if err != nil {
		return m, drive.Geometry{}, drive.Flow{}, false
	}
	for i, u := range all {
		if u.apply != nil {
			u.apply(&m, math.Exp(x[i]))
		}
	}
	g, err := drive.GeometryOf(&d, &m, 0)
	if err != nil {
		return m, g, drive.Flow{}, false
	}
	return m, g, m.Carry(&g, m.Demand.Steady), true
}

// speed is the logarithm of the output's speed; false if the drive does not turn.
func speed(b *built.Build, all []unknown, x []float64) (float64, bool) {
	m, g, flow, ok := atWork(b, all, x)
	if !ok {
		return 0, false
	}
	n := float64(m.OutputSpeed(&g, &flow))
	return math.Log(n), n > 0
}
