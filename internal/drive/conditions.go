package drive

import "findrive/internal/mechanics"

// Level picks one value out of a stated range.
type Level int

// The levels of a range.
const (
	Low Level = iota - 1
	Likely
	High
)

func (l Level) of(r mechanics.Range) float64 {
	switch l {
	case Low:
		return r.Low
	case High:
		return r.High
	}
	return r.Likely
}

// Conditions say how good the motor, bands, grip, bearings and cells are on the
// day, and how heavy the load is. The zero value is the likely day. What each level
// means is in spreads.go.
type Conditions struct {
	MotorSpeed   Level // free speed, maker's tolerance
	MotorTorque  Level // stall torque
	FreeCurrent  Level
	BandPull     Level
	Grip         Level
	Bearings     Level
	LoadFriction Level // of a ride's pivot, of wheels on the floor
	Load         Level // what is carried
	CellVoltage  Level // open voltage
	Cells        Level // internal resistance: Low new, High part-used
}

// Uncertain lists what is only roughly known about a drive at work, each on its own.
func Uncertain() []func(*Conditions, Level) {
	return []func(*Conditions, Level){
		func(c *Conditions, l Level) { c.MotorSpeed = l },
		func(c *Conditions, l Level) { c.MotorTorque = l },
		func(c *Conditions, l Level) { c.FreeCurrent = l },
		func(c *Conditions, l Level) { c.BandPull = l },
		func(c *Conditions, l Level) { c.Grip = l },
		func(c *Conditions, l Level) { c.Bearings = l },
		func(c *Conditions, l Level) { c.LoadFriction = l },
		func(c *Conditions, l Level) { c.Load = l },
		func(c *Conditions, l Level) { c.CellVoltage = l },
		func(c *Conditions, l Level) { c.Cells = l },
	}
}
