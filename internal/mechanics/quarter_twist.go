package mechanics

import (
	"math"

	"findrive/internal/units"
)

// QuarterTwistLength is the path of a band between two pulleys whose axles cross at
// right angles, the given centre distance apart where they are nearest.
//
// Such a band stays on if the middle of its run is delivered into the middle plane of the
// pulley that it comes to: the middle plane of each touches the other where the band
// leaves it ("Quarter-Twist Belt", Shop Practice, vol. 2, chestofbooks.com, Fig. 98, read in
// an excerpt, which also says that it runs off when turned the other way). So each pulley is met
// by two tangents from one point, where the band leaves the other: both are as long as
// the centre distance, and round a pulley of radius r the band lies for half a turn and
// twice the angle whose tangent is r over that distance. Pitch diameters as everywhere.
func QuarterTwistLength(driver, driven, centre units.Millimetres) units.Millimetres {
	c := float64(centre)
	round := func(diameter units.Millimetres) float64 {
		r := float64(diameter) / 2
		return r * (math.Pi + 2*math.Atan(r/c))
	}
	return units.Millimetres(2*c + round(driver) + round(driven))
}
