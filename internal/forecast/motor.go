package forecast

import (
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// motorIn is a motor and its cells in one room.
func motorIn(r *room, motor *parts.Motor, holder *parts.CellHolder) (mechanics.Motor, mechanics.Supply, error) {
	stall := between(r.stall, drive.StallTorqueSpread())
	m, err := mechanics.NewMotor(motor.Rated, motor.FreeSpeed*units.RPM(between(r.free, drive.FreeSpeedSpread(motor))),
		motor.FreeCurrent*units.Amps(between(r.idle, drive.FreeCurrentSpread())),
		motor.StallTorque*units.NewtonMillimetres(stall), motor.StallCurrent*units.Amps(stall))
	if err != nil {
		return m, mechanics.Supply{}, err
	}
	return m, mechanics.CellsInSeries(holder.Cells, units.Volts(peaked(r.open, drive.CellVoltage(holder))),
		holder.CellResistance*units.Ohms(between(r.resistance, drive.CellResistanceSpread()))), nil
}
