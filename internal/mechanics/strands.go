package mechanics

import (
	"math"

	"findrive/internal/units"
)

// Direction is a unit vector in the plane of the pulleys.
type Direction struct{ X, Y float64 }

// Opposite points the other way.
func (d Direction) Opposite() Direction { return Direction{-d.X, -d.Y} }

// Turned is the direction turned anticlockwise by an angle: from the frame of
// Strands, where the line of centres runs along x, to that of a drawing.
func (d Direction) Turned(by units.Radians) Direction {
	sin, cos := math.Sincos(float64(by))
	return Direction{X: d.X*cos - d.Y*sin, Y: d.X*sin + d.Y*cos}
}

// Strands says which way the two free strands pull on the pulleys.
type Strands struct {
	DriverTight, DriverSlack Direction // on the driver: towards the driven pulley
	DrivenTight, DrivenSlack Direction // on the driven pulley: towards the driver
}

// Strands gives the directions in which the strands pull, for the driver at the
// origin and the driven pulley at (Centre, 0), y upwards. driverTurns is +1 if
// the driver turns anticlockwise and -1 if clockwise.
//
// The tight strand is the one that runs towards the driver. The top of an
// anticlockwise driver moves away from the driven pulley, so it draws the band
// in over its top and the strand at its top is tight; clockwise, the one at its
// bottom. That holds for open and crossed bands alike. The top strand leans
// outwards by asin((R-r)/C) to the larger pulley of an open band (r driver, R
// driven), and crosses down by asin((R+r)/C) in a crossed one.
func (b Belt) Strands(driverTurns int) Strands {
	across := float64(b.Driven - b.Driver)
	if b.Crossed {
		across = -float64(b.Driven + b.Driver)
	}
	sine := min(1, max(-1, across/(2*float64(b.Centre))))
	cosine := math.Sqrt(1 - sine*sine)
	tight, slack := Direction{cosine, sine}, Direction{cosine, -sine}
	if driverTurns < 0 {
		tight, slack = slack, tight
	}
	return Strands{
		DriverTight: tight, DriverSlack: slack,
		DrivenTight: tight.Opposite(), DrivenSlack: slack.Opposite(),
	}
}

// Force is a force in the plane of the pulleys.
type Force struct{ X, Y units.Newtons }

// Size is the length of the force.
func (f Force) Size() units.Newtons { return units.Newtons(math.Hypot(float64(f.X), float64(f.Y))) }

// Plus is the sum of two forces: bands on the same axle add as vectors, so that
// pulls to opposite sides cancel.
func (f Force) Plus(g Force) Force { return Force{f.X + g.X, f.Y + g.Y} }

// HubLoad is the force of one band's two strands on an axle: the tight pull
// along one direction plus the slack pull along the other.
func HubLoad(tight, slack units.Newtons, tightWay, slackWay Direction) Force {
	return Force{
		X: tight*units.Newtons(tightWay.X) + slack*units.Newtons(slackWay.X),
		Y: tight*units.Newtons(tightWay.Y) + slack*units.Newtons(slackWay.Y),
	}
}
