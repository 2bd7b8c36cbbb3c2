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

// hub is the way a stage's strands pull on its driver's axle, in the drawing; on
// the driven's axle it is the opposite.
type hub struct{ tight, slack mechanics.Direction }

func hubOf(f *mechanics.Fitted, crossed bool, turns int, along units.Radians) hub {
	s := belt(f, crossed).Strands(turns)
	return hub{tight: s.DriverTight.Turned(along), slack: s.DriverSlack.Turned(along)}
}

// pull is the force of the two strands together.
func (h hub) pull(tight, slack units.Newtons) mechanics.Force {
	return mechanics.HubLoad(tight, slack, h.tight, h.slack)
}

func belt(f *mechanics.Fitted, crossed bool) mechanics.Belt {
	return mechanics.Belt{Driver: f.DriverPitch, Driven: f.DrivenPitch, Centre: f.Centre, Crossed: crossed}
}

// opposite is the reaction to a force.
func opposite(f mechanics.Force) mechanics.Force { return mechanics.Force{X: -f.X, Y: -f.Y} }

// StrandLean is how a fitted band's strands lean from the line of centres: the cosine and
// the tangent of the angle, the latter not below 0.
func StrandLean(f *mechanics.Fitted, crossed bool) (cos, tan float64) {
	s := belt(f, crossed).Strands(1).DriverTight
	return s.X, math.Abs(s.Y / s.X)
}

// HubOf is the size of a fitted band's pull on either axle, by the pulls of its tight and
// its slack run.
func HubOf(f *mechanics.Fitted, crossed bool) func(tight, slack units.Newtons) units.Newtons {
	h := hubOf(f, crossed, 1, 0)
	return func(tight, slack units.Newtons) units.Newtons { return h.pull(tight, slack).Size() }
}
