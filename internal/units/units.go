// Package units gives every quantity its unit in the type, so that a bare
// number never has to be guessed at.
package units

import "math"

// The quantities of a rubber-band drive, each in the one unit the program
// works in. A newton millimetre is the same as a milli-newton-metre (mN·m),
// the name the trade uses for small motors.
type (
	Millimetres       float64
	Newtons           float64
	NewtonMillimetres float64
	RPM               float64
	Grams             float64
	Volts             float64
	Amps              float64
	Ohms              float64
	Radians           float64
	Megapascals       float64 // the same as N/mm²
	MetresPerSecond   float64
	Seconds           float64
	MilliampHours     float64
)

// StandardGravity is g in m/s², exact by definition (3rd CGPM, 1901; BIPM SI
// Brochure; Abramowitz and Stegun table 2.4).
const StandardGravity = 9.80665

// MillimetresPerInch is exact by definition (NBS AMS 55, table 2.4: 0.0254 m).
const MillimetresPerInch = 25.4

// NewtonMillimetresPerGramCentimetre converts the g·cm of motor sheets; exact
// from standard gravity: 1 gf·cm = 0.0980665 mN·m.
const NewtonMillimetresPerGramCentimetre = 0.0980665

// Weight is the pull of gravity on a mass.
func (g Grams) Weight() Newtons { return Newtons(float64(g) / 1000 * StandardGravity) }

// Degrees is the angle in degrees.
func (r Radians) Degrees() float64 { return float64(r) * 180 / math.Pi }

// Degrees makes an angle from degrees.
func Degrees(deg float64) Radians { return Radians(deg * math.Pi / 180) }

// RadiansPerSecond is the speed of turning in rad/s.
func (n RPM) RadiansPerSecond() float64 { return float64(n) * math.Pi / 30 }

// SecondsPerTurn is the time of one turn; infinite at rest.
func (n RPM) SecondsPerTurn() Seconds { return Seconds(60 / float64(n)) }

// RimSpeed is the speed of a point at radius r.
func (n RPM) RimSpeed(r Millimetres) MetresPerSecond {
	return MetresPerSecond(n.RadiansPerSecond() * float64(r) / 1000)
}

// RPMForRim is the speed of turning at which a point at radius r moves at v.
func RPMForRim(v MetresPerSecond, r Millimetres) RPM {
	return RPM(float64(v) * 1000 / float64(r) * 30 / math.Pi)
}
