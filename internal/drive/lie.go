package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Lie is how what pulls on an axle lies together: the bands of the two stages that
// meet on it, or at the output the band and the weight. A design states one for each
// axle and is worked out with one angle of it; which placements keep to the lie is settled when
// holes are sought.
type Lie int

// The lies, the best first.
const (
	// InLine: the pulls are against one another, to within 20 degrees.
	InLine Lie = iota
	// Aslant: less so, down to 125 degrees.
	Aslant
	// Across: from there to a right angle.
	Across
	// Folded: less than that, at worst both the same way.
	Folded
)

// lies are their names, the least angles between the pulls and the angles that designs are worked
// out with: at these two equal pulls press on the axle with the mean of what they do at the least
// angle and where the next better lie begins, to a degree. With the least, a drive would turn
// faster at nearly all of its holes than is said of it.
var lies = [...]struct {
	name                string
	least               units.Radians
	cosApart, cosWorked float64
}{
	InLine: {"in line", 160 * degree, math.Cos(160 * degree), math.Cos(170 * degree)},
	Aslant: {"aslant", 125 * degree, math.Cos(125 * degree), math.Cos(143 * degree)},
	Across: {"across", 90 * degree, 0, math.Cos(108 * degree)},
	Folded: {"folded back", 0, 1, math.Cos(63 * degree)},
}

const degree = math.Pi / 180

// Lies lists them, the best first.
func Lies() []Lie { return []Lie{InLine, Aslant, Across, Folded} }

func (l Lie) String() string { return lies[l].name }

// Apart is the least angle between the two pulls.
func (l Lie) Apart() units.Radians { return lies[l].least }

// Below is the angle at which the next better lie begins.
func (l Lie) Below() units.Radians {
	if l == InLine {
		return math.Pi
	}
	return lies[l-1].least
}

// CosWorked is the cosine of the angle that a design is worked out with.
func (l Lie) CosWorked() float64 { return lies[l].cosWorked }

// CosApart is that of the least angle.
func (l Lie) CosApart() float64 { return lies[l].cosApart }

// CosBelow is that of the angle at which the next better lie begins.
func (l Lie) CosBelow() float64 {
	if l == InLine {
		return -1
	}
	return lies[l-1].cosApart
}

// GeometryAt is where the axles of a design sit as far as forces care, though no hole
// has been chosen yet: the stages fitted, and on every axle the pulls at the angle that its
// lie is worked out with. lies[i] is of the axle of stage i's driven pulley; the last one
// matters only under a weight.
func GeometryAt(fits *[MaxStages]mechanics.Fitted, lies *[MaxStages]Lie) Geometry {
	return Geometry{Fits: *fits, Turns: 1, Lies: lies}
}

// together is the size of two pulls at the angle that the lie is worked out with.
func (l Lie) together(a, b units.Newtons) units.Newtons {
	return units.Newtons(math.Sqrt(max(0, float64(a*a+b*b)+2*float64(a*b)*l.CosWorked())))
}

// Nearest is how near to one another two shafts may stand on either side of an axle, so
// far from it at most, to keep to the lie. Folded back they may stand anywhere.
func (l Lie) Nearest(a, b units.Millimetres) units.Millimetres {
	if l == Folded {
		return 0
	}
	return ShaftsApart(a, b, l.CosApart())
}

// Furthest is how far from one another they may stand before it is a better lie.
func (l Lie) Furthest(a, b units.Millimetres) units.Millimetres {
	return ShaftsApart(a, b, l.CosBelow())
}

// ShaftsApart is how far two shafts stand apart on either side of an axle, where what pulls
// towards them is at an angle of that cosine.
func ShaftsApart(a, b units.Millimetres, cos float64) units.Millimetres {
	return units.Millimetres(math.Sqrt(max(0, float64(a*a+b*b)-2*float64(a*b)*cos)))
}
