package mechanics

import (
	"math"

	"findrive/internal/units"
)

// RubberDensity is the density of band rubber in kg/m³ (from memory; natural
// rubber 930, fillers add to it).
const RubberDensity = 950.0

// CentrifugalPull is the part of a pull that a moving band needs to go round a
// pulley and so does not press on it: rho A v²/s (Khurmi and Gupta, Theory of
// Machines, ch. 11). The density is in kg/m³, the area of the section at rest
// in mm²; the mass per length is rho A/s as the section shrinks by the stretch.
func CentrifugalPull(density, area, stretch float64, speed units.MetresPerSecond) units.Newtons {
	// mm² to m² is 1e-6; then kg/m x (m/s)² is newtons.
	return units.Newtons(density * area * 1e-6 * float64(speed*speed) / stretch)
}

// GripUsedAtSpeed is the share of the grip that a running stage uses, belt
// speed included: ln((T1 - q1)/(T2 - q2)) over the smaller friction exponent,
// where q is each run's CentrifugalPull. It is 1 at slip, and infinite where the slack run lifts off altogether.
// Below 1 m/s the speed matters by less than 1 %.
func (s Stage) GripUsedAtSpeed(f Fitted, l Loaded, speed units.MetresPerSecond) float64 {
	area := s.Band.Area()
	tight := float64(l.Tight - CentrifugalPull(RubberDensity, area, l.TightStretch, speed))
	slack := float64(l.Slack - CentrifugalPull(RubberDensity, area, l.SlackStretch, speed))
	if !(slack > 0) || !(tight > 0) {
		return math.Inf(1)
	}
	if tight <= slack {
		return 0
	}
	driver, driven := s.FrictionExponents(f)
	return math.Log(tight/slack) / min(driver, driven)
}
