package mechanics

import (
	"math"

	"findrive/internal/units"
)

// PivotTorque is the friction torque of a ride that stands on a pivot or
// thrust washer: mu m g r, with r the mean radius of the rubbing surface.
func PivotTorque(mu float64, mass units.Grams, meanRadius units.Millimetres) units.NewtonMillimetres {
	return BearingTorque(mu, mass.Weight(), meanRadius)
}

// OutOfBalanceTorque is the greatest torque in one turn of a wheel on a level
// axle that has a mass too much on one side: m g r. 20 g at 80 mm is 15.7 N·mm,
// more than many small motors give: balance beats power.
func OutOfBalanceTorque(mass units.Grams, radius units.Millimetres) units.NewtonMillimetres {
	return units.NewtonMillimetres(float64(mass.Weight()) * float64(radius))
}

// RollingResistance is the coefficient of rolling resistance of a light model,
// axle friction not included, on the surface "carpet" or, for any other name,
// on a table or hard floor (common practice).
func RollingResistance(surface string) Range {
	if surface == "carpet" {
		return Range{0.03, 0.05, 0.10}
	}
	return Range{0.01, 0.02, 0.03}
}

// RollingTorque is the torque on the wheels of a vehicle that overcomes rolling
// resistance on a slope: Crr m g cos(slope) r.
func RollingTorque(crr float64, mass units.Grams, slope units.Radians, wheelRadius units.Millimetres) units.NewtonMillimetres {
	return units.NewtonMillimetres(crr * float64(mass.Weight()) * math.Cos(float64(slope)) * float64(wheelRadius))
}

// SlopeTorque is the torque on the wheels that carries a vehicle up a slope:
// m g sin(slope) r; negative downhill.
func SlopeTorque(mass units.Grams, slope units.Radians, wheelRadius units.Millimetres) units.NewtonMillimetres {
	return units.NewtonMillimetres(float64(mass.Weight()) * math.Sin(float64(slope)) * float64(wheelRadius))
}

// TractionTorque is the greatest torque the driven wheels can put down before
// they spin: mu m g cos(slope) x share of the weight on the driven axle x
// wheel radius.
func TractionTorque(mu float64, mass units.Grams, drivenShare float64, slope units.Radians, wheelRadius units.Millimetres) units.NewtonMillimetres {
	return RollingTorque(mu*drivenShare, mass, slope, wheelRadius)
}

// LiftPull is the pull on the cord of a lift: m g / (parts x efficiency), with
// parts the number of rope parts at the moving block, 1 without a tackle, and
// the tackle's efficiency above 0 up to 1.
func LiftPull(mass units.Grams, parts int, efficiency float64) units.Newtons {
	return units.Newtons(float64(mass.Weight()) / (float64(parts) * efficiency))
}

// LiftTorque is the torque on the drum of a lift: LiftPull at the drum's radius
// plus half the cord.
func LiftTorque(mass units.Grams, drumDiameter, cordDiameter units.Millimetres, parts int, efficiency float64) units.NewtonMillimetres {
	return units.NewtonMillimetres(float64(LiftPull(mass, parts, efficiency)) * float64(drumDiameter+cordDiameter) / 2)
}
