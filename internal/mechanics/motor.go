package mechanics

import (
	"errors"
	"fmt"
	"math"

	"findrive/internal/units"
)

// Motor is a small brushed permanent-magnet motor as a straight line:
// V = K w + I R and torque = K (I - I0), with V at the motor's terminals.
type Motor struct {
	// KVoltSecondsPerRadian is the motor's constant, the same number in
	// V·s/rad (back voltage) and N·m/A (torque).
	KVoltSecondsPerRadian float64
	Resistance            units.Ohms
	FreeCurrent           units.Amps // I0, taken to be the same at every voltage
	Rated                 units.Volts
	// Conflict is how far the sheet contradicts itself.
	Conflict SheetConflict
}

// SheetConflict compares a sheet's stall current with the one that follows
// from its other figures. Zero where the sheet gives only one of stall torque
// and stall current.
type SheetConflict struct{ Given, Implied units.Amps }

// conflictLimit is the share from which on a sheet contradicts itself: maker's
// figures are good to 20 %.
const conflictLimit = 0.25

// Relative is implied / given stall current, less 1; 0 if there is nothing to
// compare.
func (c SheetConflict) Relative() float64 {
	if c.Given == 0 {
		return 0
	}
	return float64(c.Implied/c.Given) - 1
}

// Serious reports a difference of more than 25 %.
func (c SheetConflict) Serious() bool { return math.Abs(c.Relative()) > conflictLimit }

// String says the difference in words, for example "its stall torque means a
// stall current of 0.44 A, the sheet says 0.50 A (-12 %)".
func (c SheetConflict) String() string {
	return fmt.Sprintf("its stall torque means a stall current of %.2f A, the sheet says %.2f A (%+.0f %%)",
		float64(c.Implied), float64(c.Given), 100*c.Relative())
}

// Errors of NewMotor.
var (
	ErrMotorRating  = errors.New("rated voltage and free speed must be above 0, and the free current not below")
	ErrMotorStall   = errors.New("a stall torque or a stall current is needed")
	ErrMotorCurrent = errors.New("the stall current must be above the free current")
)

// NewMotor makes a motor from the figures of a sheet, all at the rated voltage.
// Stall torque or stall current may be 0 for unknown, but not both. With only
// the current, R = V/Istall. With the torque, K and R are those that give both
// the sheet's free speed and its stall torque, since speed under load is what
// is asked of the model; a stall current given as well is compared with the
// result in Conflict. The free current may be 0.
func NewMotor(rated units.Volts, free units.RPM, freeCurrent units.Amps, stall units.NewtonMillimetres, stallCurrent units.Amps) (Motor, error) {
	if !(rated > 0) || !(free > 0) || !(freeCurrent >= 0) {
		return Motor{}, ErrMotorRating
	}
	if !(stall >= 0) || !(stallCurrent >= 0) || (stall == 0 && stallCurrent == 0) {
		return Motor{}, ErrMotorStall
	}
	if stallCurrent > 0 && stallCurrent <= freeCurrent {
		return Motor{}, ErrMotorCurrent
	}
	v, i0, w0 := float64(rated), float64(freeCurrent), free.RadiansPerSecond()
	var r float64
	if stall > 0 {
		// V = K w0 + I0 R and Ts = K (V/R - I0) give
		// I0² R² - (2 V I0 + w0 Ts) R + V² = 0; the smaller root, written so
		// that it holds for I0 = 0.
		ts := float64(stall) / 1000
		half := v*i0 + w0*ts/2
		r = v * v / (half + math.Sqrt(half*half-i0*i0*v*v))
	} else {
		r = v / float64(stallCurrent)
	}
	m := Motor{
		KVoltSecondsPerRadian: (v - i0*r) / w0,
		Resistance:            units.Ohms(r),
		FreeCurrent:           freeCurrent,
		Rated:                 rated,
	}
	if stall > 0 && stallCurrent > 0 {
		m.Conflict = SheetConflict{Given: stallCurrent, Implied: units.Amps(v / r)}
	}
	return m, nil
}

// Supply is what feeds the motor: an open voltage behind a resistance.
type Supply struct {
	Open       units.Volts
	Resistance units.Ohms
}

// CellsInSeries is n equal cells one behind the other. An alkaline cell has
// 1.5 V open and about 0.2 ohm when new, 0.4 part-used.
func CellsInSeries(n int, openEach units.Volts, resistanceEach units.Ohms) Supply {
	return Supply{Open: units.Volts(n) * openEach, Resistance: units.Ohms(n) * resistanceEach}
}

// CurrentAt is the current at a torque, I0 + torque/K. It does not depend on
// the supply, except that it is held at the stall current, beyond which the
// motor stands still.
func (m Motor) CurrentAt(s Supply, torque units.NewtonMillimetres) units.Amps {
	return min(m.current(torque), m.StallCurrent(s))
}

func (m Motor) current(torque units.NewtonMillimetres) units.Amps {
	return m.FreeCurrent + units.Amps(float64(torque)/1000/m.KVoltSecondsPerRadian)
}

// StallCurrent is the current with the shaft held, V/(R + supply resistance).
func (m Motor) StallCurrent(s Supply) units.Amps {
	return units.Amps(float64(s.Open) / float64(m.Resistance+s.Resistance))
}

// SpeedAt is the speed at a torque. It is 0 or less at and beyond stall: a
// negative figure is not a speed, it only says how far beyond.
func (m Motor) SpeedAt(s Supply, torque units.NewtonMillimetres) units.RPM {
	back := float64(s.Open) - float64(m.current(torque))*float64(m.Resistance+s.Resistance)
	return units.RPM(back / m.KVoltSecondsPerRadian * 30 / math.Pi)
}

// FreeSpeed is the speed without load; 0 or less if the supply cannot turn the
// motor at all.
func (m Motor) FreeSpeed(s Supply) units.RPM { return m.SpeedAt(s, 0) }

// StallTorque is the torque at which the motor stands still; 0 if the supply
// cannot turn it at all.
func (m Motor) StallTorque(s Supply) units.NewtonMillimetres {
	over := float64(m.StallCurrent(s) - m.FreeCurrent)
	return units.NewtonMillimetres(max(0, 1000*m.KVoltSecondsPerRadian*over))
}

// RunningTime is how long cells of a capacity last at a steady current;
// infinite at none. Capacity itself falls as the current rises.
func RunningTime(capacity units.MilliampHours, current units.Amps) units.Seconds {
	return units.Seconds(float64(capacity) * 3.6 / float64(current))
}
