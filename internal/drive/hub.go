package drive

import (
	"math"

	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Distance is the distance between two centres.
func Distance(a, b layout.Point) units.Millimetres {
	return units.Millimetres(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)))
}

// hubPull is the pull of a stage's two strands on its driver's axle, in the
// drawing; on the driven's axle it is the opposite.
func hubPull(f *mechanics.Fitted, crossed bool, tight, slack units.Newtons, turns int, along units.Radians) mechanics.Force {
	s := belt(f, crossed).Strands(turns)
	return mechanics.HubLoad(tight, slack, s.DriverTight.Turned(along), s.DriverSlack.Turned(along))
}

func belt(f *mechanics.Fitted, crossed bool) mechanics.Belt {
	return mechanics.Belt{Driver: f.DriverPitch, Driven: f.DrivenPitch, Centre: f.Centre, Crossed: crossed}
}

// opposite is the reaction to a force.
func opposite(f mechanics.Force) mechanics.Force { return mechanics.Force{X: -f.X, Y: -f.Y} }
