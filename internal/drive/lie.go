package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Lie is how what pulls on an axle lies together: the bands of the two stages that
// meet on it, or at the output the band and the weight. A design states one for each
// axle and is worked out with the worst angle of it, so that no placement which keeps
// to it has more friction; which placements do is settled when holes are sought.
type Lie int

// The lies, the best first.
const (
	// InLine: the pulls are against one another, to within 45 degrees.
	InLine Lie = iota
	// Across: they are at right angles, or more against one another than that.
	Across
	// Folded: anything, at worst both the same way.
	Folded
)

// Lies lists them, the best first.
func Lies() []Lie { return []Lie{InLine, Across, Folded} }

func (l Lie) String() string { return [...]string{"in line", "across", "folded back"}[l] }

// Apart is the angle between the two pulls, the least that the lie allows.
func (l Lie) Apart() units.Radians { return [...]units.Radians{3 * math.Pi / 4, math.Pi / 2, 0}[l] }

// Cos is the cosine of that angle.
func (l Lie) Cos() float64 { return [...]float64{-math.Sqrt2 / 2, 0, 1}[l] }

// GeometryAt is where the axles of a design sit as far as forces care, though no hole
// has been chosen yet: the stages fitted, and on every axle the pulls at the least angle
// that its lie allows. lies[i] is of the axle of stage i's driven pulley; the last one
// matters only under a weight.
func GeometryAt(fits *[MaxStages]mechanics.Fitted, lies *[MaxStages]Lie) Geometry {
	return Geometry{Fits: *fits, Turns: 1, Lies: lies}
}

// together is the size of two pulls at the angle of the lie.
func (l Lie) together(a, b units.Newtons) units.Newtons {
	return units.Newtons(math.Sqrt(max(0, float64(a*a+b*b)+2*float64(a*b)*l.Cos())))
}
