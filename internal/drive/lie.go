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
// has been chosen yet: the stages fitted, every axle with its pulls at the least angle
// that its lie allows, and a motor that turns anticlockwise. lies[i] is of the axle of
// stage i's driven pulley; the last one matters only under a weight.
func (m *Model) GeometryAt(fits *[MaxStages]mechanics.Fitted, lies *[MaxStages]Lie) Geometry {
	g := Geometry{Fits: *fits, Turns: 1}
	// The band pulls the output axle towards its driver, at that angle to the weight.
	along := units.Radians(math.Pi)
	if w := m.Weight(); w.Size() > 0 {
		along = units.Radians(math.Atan2(float64(w.Y), float64(w.X))) + lies[m.Count-1].Apart() + math.Pi
	}
	for i := m.Count - 1; i >= 0; i-- {
		g.Along[i] = along
		if i > 0 {
			along += math.Pi - lies[i-1].Apart()
		}
	}
	return g
}

// Back takes the torque on stage i's driven pulley back to its driver: what Carry
// does for one stage after another. other is what pulls on the driven axle besides
// the stage's band. It fills in the stage's part of the flow and returns the band's
// pull on the driver's axle; false if the band slips.
func (m *Model) Back(flow *Flow, g *Geometry, i int, torque units.NewtonMillimetres, other mechanics.Force) (mechanics.Force, bool) {
	return m.settle(flow, g, i, torque, other)
}

// Weight is what presses on the output axle besides its band.
func (m *Model) Weight() mechanics.Force { return mechanics.Force{Y: -m.Demand.Radial} }
