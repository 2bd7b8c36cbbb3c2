package forecast

import (
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

const (
	// loadSpread is by how much what is carried differs (judgement: what children
	// make is a tenth heavier or lighter than planned).
	loadSpread = 0.10
	// idleSpread is that of a motor's current without load (judgement).
	idleSpread = 0.25
	// Open voltage of a cell of 1.5 V, as a share of that: fresh ones were measured at
	// 1.58 to 1.60 V, a used one at 1.3 V.
	openLow, openHigh = 1.3 / 1.5, 1.6 / 1.5
)

// motorIn is a motor and its cells in one room.
func motorIn(r *room, motor *parts.Motor, holder *parts.CellHolder) (mechanics.Motor, mechanics.Supply, error) {
	speed := drive.MotorUncertainty
	if motor.Calibrated {
		speed = drive.CountedUncertainty
	}
	free := between(r.free, [2]float64{1 - speed, 1 + speed})
	stall := between(r.stall, [2]float64{1 - drive.MotorUncertainty, 1 + drive.MotorUncertainty})
	idle := between(r.idle, [2]float64{1 - idleSpread, 1 + idleSpread})
	m, err := mechanics.NewMotor(motor.Rated, motor.FreeSpeed*units.RPM(free), motor.FreeCurrent*units.Amps(idle),
		motor.StallTorque*units.NewtonMillimetres(stall), motor.StallCurrent*units.Amps(stall))
	if err != nil {
		return m, mechanics.Supply{}, err
	}
	open := holder.OpenVoltage * units.Volts(between(r.open, [2]float64{openLow, openHigh}))
	resistance := holder.CellResistance * units.Ohms(between(r.resistance, [2]float64{1 - drive.CellUncertainty, 1 + drive.CellUncertainty}))
	return m, mechanics.CellsInSeries(holder.Cells, open, resistance), nil
}
