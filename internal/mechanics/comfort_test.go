package mechanics

import (
	"math"

	"findrive/internal/units"
)

// SeatLeavingSpeed is the speed at which riders at the top of an upright wheel
// begin to leave their seats: w² r = g, with r from axle to rider. A 22 m wheel
// gets there at 9 turns a minute.
func SeatLeavingSpeed(radius units.Millimetres) units.RPM { return CarouselSlideSpeed(1, radius) }

// CarouselSlideSpeed is the speed at which a rider held by friction alone slides
// outwards on a level carousel: w² r = mu g.
func CarouselSlideSpeed(mu float64, radius units.Millimetres) units.RPM {
	return units.RPM(math.Sqrt(mu*units.StandardGravity*1000/float64(radius)) * 30 / math.Pi)
}

// CentripetalAcceleration is w² r in m/s².
func CentripetalAcceleration(speed units.RPM, radius units.Millimetres) float64 {
	w := speed.RadiansPerSecond()
	return w * w * float64(radius) / 1000
}

// ModelSpeed is the speed at which a model of scale 1:scale feels like the full
// size: Froude scaling, in which time goes as the square root of length. A 1:16
// model turns 4 times as fast.
func ModelSpeed(fullSize units.RPM, scale float64) units.RPM {
	return fullSize * units.RPM(math.Sqrt(scale))
}
