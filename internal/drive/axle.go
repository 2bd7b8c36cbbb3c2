package drive

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// axleEnds is how far an axle stands out of each side of the frame, so that it
// can be held and a wheel or crank fitted (common practice: 5 to 10 mm in all).
const axleEnds = 5

// rideHold is how much of the output axle a ride is pushed onto (common practice).
const rideHold = 15

// AxleLength is the length an axle is cut to that carries pulleys only: the
// frame's outside width and a little at each end.
func AxleLength(b *brief.Brief) units.Millimetres {
	return units.Millimetres(math.Ceil(float64(b.Frame.OverSides() + 2*axleEnds)))
}

// OutputAxleLength is the length the output axle is cut to. Wheels sit outside
// the frame on both its ends, clear of the ends of the other axles; a drum on one
// end; a ride is pushed onto one end.
func OutputAxleLength(b *brief.Brief, wheel *parts.Wheel, drum *parts.Drum) units.Millimetres {
	length := AxleLength(b)
	switch {
	case wheel != nil:
		length += 2 * (b.Limits.Clearance + wheel.Width)
	case drum != nil:
		length += b.Limits.Clearance + drum.Width
	case b.Model == brief.UprightRide || b.Model == brief.LevelRide:
		length += rideHold
	}
	return units.Millimetres(math.Ceil(float64(length)))
}
