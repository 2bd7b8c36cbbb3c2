package drive

import (
	"findrive/internal/brief"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// MotorModel is a motor as mechanics sees it under the given conditions.
func MotorModel(m *parts.Motor, c Conditions) (mechanics.Motor, error) {
	free := m.FreeSpeed * units.RPM(c.MotorSpeed.of(FreeSpeedSpread(m)))
	idle := m.FreeCurrent * units.Amps(c.FreeCurrent.of(FreeCurrentSpread()))
	// The stall current goes with the stall torque, so that the sheet's own
	// consistency is kept.
	scale := c.MotorTorque.of(StallTorqueSpread())
	return mechanics.NewMotor(m.Rated, free, idle,
		m.StallTorque*units.NewtonMillimetres(scale), m.StallCurrent*units.Amps(scale))
}

// SupplyOf is a holder's cells in series under the given conditions.
func SupplyOf(h *parts.CellHolder, c Conditions) mechanics.Supply {
	return mechanics.CellsInSeries(h.Cells, units.Volts(c.CellVoltage.of(CellVoltage(h))),
		h.CellResistance*units.Ohms(c.Cells.of(CellResistanceSpread())))
}

// wheelGrip is the friction of hard wheels on a table or carpet (judgement:
// 0.3 polished to 0.6; a band stretched round the wheel as a tyre does better).
const wheelGrip = 0.4

// Traction is the torque at the wheels that a vehicle needs to start and the
// most the floor holds.
type Traction struct{ Needed, Holds units.NewtonMillimetres }

// TractionOf works out a vehicle's traction; zero for other models.
func TractionOf(b *brief.Brief, wheel *parts.Wheel, d Demand) Traction {
	if b.Model != brief.Vehicle {
		return Traction{}
	}
	return Traction{Needed: d.Start, Holds: mechanics.TractionTorque(wheelGrip, b.Load.Mass, b.Load.DrivenShare, b.Load.Slope, wheel.Diameter/2)}
}

// Prepare makes a drive's choice of parts ready for working out under the given
// conditions.
func Prepare(d *Drive, b *brief.Brief, c Conditions) (Model, error) {
	m := Model{Count: len(d.Stages), RatioUncertainty: d.RatioUncertainty(), ShaftRad: d.Motor.ShaftDiameter / 2, MotorMu: c.Bearings.of(mechanics.MotorBearing())}
	for i := range d.Stages {
		s := &d.Stages[i]
		m.Stages[i] = s.Mechanics(c.Grip.of(mechanics.BandGrip()))
		m.Stages[i].Band.PullFactor *= c.BandPull.of(BandPullSpread(s.Band))
		m.AxleRadius[i] = d.Axles[i].Diameter / 2
		m.AxleMu[i] = c.Bearings.of(BearingFriction(d.Axles[i].Material))
		m.AxleWeight[i] = AxleWeight(d, b, i)
	}
	var err error
	if m.Motor, err = MotorModel(d.Motor, c); err != nil {
		return Model{}, err
	}
	m.Supply = SupplyOf(d.Holder, c)
	m.Demand = demandOf(carrying(b, c.Load.of(LoadSpread())), d.Wheel, d.Drum, d.OutputAxle(), c.LoadFriction, c.Bearings)
	return m, nil
}

// carrying is a brief whose load is so many times as large.
func carrying(b *brief.Brief, times float64) *brief.Brief {
	if times == 1 {
		return b
	}
	out := *b
	out.Load.Mass *= units.Grams(times)
	out.Load.OutOfBalance *= units.Grams(times)
	out.Load.Torque *= units.NewtonMillimetres(times)
	return &out
}
