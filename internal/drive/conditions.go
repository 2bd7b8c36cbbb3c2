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

// factor scales a value of relative uncertainty u.
func (l Level) factor(u float64) float64 { return 1 + float64(l)*u }

// Conditions say how good the motor, bands, grip, bearings and cells are on the
// day. The zero value is the likely day.
type Conditions struct {
	MotorSpeed   Level // free speed, maker's tolerance
	MotorTorque  Level // stall torque
	BandPull     Level
	Grip         Level
	Bearings     Level
	LoadFriction Level
	Cells        Level // internal resistance: Low new, High part-used
}

// Relative uncertainties of what is read from sheets.
const (
	// MotorUncertainty is the maker's own tolerance on a published 130-size
	// data set (free speed 9100 ± 1800 rpm).
	MotorUncertainty = 0.20
	// CountedUncertainty is what a count of turns leaves open (judgement).
	CountedUncertainty = 0.05
	// BandUncertainty is the scatter of stationery bands (judgement; a
	// procurement standard allows 17 % on width alone, MIL-R-1832D).
	BandUncertainty = 0.30
	// WeighedBandUncertainty is what hanging a known mass leaves open
	// (judgement).
	WeighedBandUncertainty = 0.10
	// CellUncertainty spans new to part-used cells about their stated
	// resistance (judgement).
	CellUncertainty = 0.5
)

// Uncertain lists what is only roughly known about a drive at work, each on its own.
func Uncertain() []func(*Conditions, Level) {
	return []func(*Conditions, Level){
		func(c *Conditions, l Level) { c.MotorSpeed = l },
		func(c *Conditions, l Level) { c.MotorTorque = l },
		func(c *Conditions, l Level) { c.BandPull = l },
		func(c *Conditions, l Level) { c.Grip = l },
		func(c *Conditions, l Level) { c.Bearings = l },
		func(c *Conditions, l Level) { c.LoadFriction = l },
		func(c *Conditions, l Level) { c.Cells = l },
	}
}
