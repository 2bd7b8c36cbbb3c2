package proof

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// box is windows for the places of a drive's axles: the centre distance of each
// stage; the angle at each axle between the lines of centres that meet there, none
// if both leave it the same way; and how far the output axle stands above the one
// before, which settles the angle between the last band's pull and the weight.
type box struct {
	centre [drive.MaxStages]gap
	angle  [drive.MaxStages]span
	rise   gap
}

// The axes of a box are numbered: centre distances, angles, then the rise.
func (c *choice) axes() int {
	n := 2*c.n.hd.stages - 1
	if c.weighted() {
		n++
	}
	return n
}

// weighted reports whether a weight hangs on the output axle. Without one the rise
// makes no difference.
func (c *choice) weighted() bool { return c.n.brief.Model != brief.UprightRide }

// get is a box's window along an axis, as bare numbers.
func (b *box) get(axis, stages int) span {
	switch {
	case axis < stages:
		return span{Lo: float64(b.centre[axis].Lo), Hi: float64(b.centre[axis].Hi)}
	case axis < 2*stages-1:
		return b.angle[axis-stages]
	}
	return span{Lo: float64(b.rise.Lo), Hi: float64(b.rise.Hi)}
}

func (b *box) set(axis, stages int, v span) {
	switch {
	case axis < stages:
		b.centre[axis] = gap{Lo: mm(v.Lo), Hi: mm(v.Hi)}
	case axis < 2*stages-1:
		b.angle[axis-stages] = v
	default:
		b.rise = gap{Lo: mm(v.Lo), Hi: mm(v.Hi)}
	}
}

// halves cuts a box in the middle of an axis.
func (b *box) halves(axis, stages int) (lower, upper box) {
	lower, upper = *b, *b
	v := b.get(axis, stages)
	lower.set(axis, stages, span{Lo: v.Lo, Hi: v.Mid()})
	upper.set(axis, stages, span{Lo: v.Mid(), Hi: v.Hi})
	return lower, upper
}

// whole is the box of every place the choice can have.
func (c *choice) wholeBox() box {
	var b box
	far := mm(0)
	for i := range c.n.hd.stages {
		b.centre[i] = c.window(i)
		far = max(far, b.centre[i].Hi)
		if i > 0 {
			b.angle[i-1] = span{Lo: 0, Hi: math.Pi}
		}
	}
	b.rise = gap{Lo: -far, Hi: far}
	return b
}

// window is where stage i's centre distance may be.
func (c *choice) window(i int) gap {
	if c.forgive {
		return c.n.forgiving(c.ways[i])
	}
	return c.ways[i].window
}

// The size of a cell: placements in one can hardly be told apart once drilled, as
// docs/score.md has it. Every hole may be off by the brief's hole error, and so
// every centre distance by twice that, and an axle may lie four times that to one
// side.
const (
	leastCell mm = 0.5
	cellTurn     = 4
)

func (c *choice) cell(axis int) float64 {
	size := max(2*c.n.brief.Limits.HoleError, leastCell)
	k := c.n.hd.stages
	switch {
	case axis < k:
		return float64(size)
	case axis < 2*k-1:
		shortest := mm(math.Inf(1))
		for i := range k {
			shortest = min(shortest, c.window(i).Lo)
		}
		return float64(cellTurn * size / shortest)
	}
	return float64(cellTurn * size)
}

// where is a placement's coordinates along the axes of a box.
func (c *choice) where(at []layout.Point) box {
	var b box
	k := c.n.hd.stages
	for i := range k {
		d := drive.Distance(at[i], at[i+1])
		b.centre[i] = gap{Lo: d, Hi: d}
		if i > 0 {
			back, on := vector(at[i], at[i-1]), vector(at[i], at[i+1])
			turn := math.Atan2(math.Abs(back.X*on.Y-back.Y*on.X), back.X*on.X+back.Y*on.Y)
			b.angle[i-1] = span{Lo: turn, Hi: turn}
		}
	}
	rise := at[k].Y - at[k-1].Y
	b.rise = gap{Lo: rise, Hi: rise}
	return b
}

type direction struct{ X, Y float64 }

func vector(from, to layout.Point) direction {
	return direction{X: float64(to.X - from.X), Y: float64(to.Y - from.Y)}
}

// holds reports whether a placement lies in the box.
func (c *choice) holds(b *box, at []layout.Point) bool {
	p := c.where(at)
	for axis := range c.axes() {
		if !b.get(axis, c.n.hd.stages).Grow(1e-9).Contains(p.get(axis, c.n.hd.stages).Lo) {
			return false
		}
	}
	return true
}

// oneCell reports whether a box and a placement lie in one cell.
func (c *choice) oneCell(b *box, at []layout.Point) bool {
	p := c.where(at)
	for axis := range c.axes() {
		v, q := b.get(axis, c.n.hd.stages), p.get(axis, c.n.hd.stages).Lo
		if max(v.Hi, q)-min(v.Lo, q) > c.cell(axis)*(1+tolerance) {
			return false
		}
	}
	return true
}

// cosines is what a box says of the angles between pulls on the axles: at the axle
// of stage i's driven pulley, between its band and the next, and at the output
// between the last band and the weight.
func (c *choice) cosines(b *box) [drive.MaxStages]span {
	var out [drive.MaxStages]span
	k := c.n.hd.stages
	for i := range k - 1 {
		out[i] = span{Lo: math.Cos(b.angle[i].Hi), Hi: math.Cos(b.angle[i].Lo)}
	}
	if !c.weighted() {
		out[k-1] = span{Lo: -1, Hi: 1}
		return out
	}
	weight := c.n.hd.demand.Weight
	if weight.X != 0 || weight.Y == 0 {
		out[k-1] = span{Lo: -1, Hi: 1}
		return out
	}
	// The last band pulls towards the axle before, which lies below by the rise.
	near, far := b.centre[k-1].Lo, b.centre[k-1].Hi
	out[k-1] = span{
		Lo: max(-1, float64(min(b.rise.Lo/near, b.rise.Lo/far))),
		Hi: min(1, float64(max(b.rise.Hi/near, b.rise.Hi/far))),
	}
	if weight.Y > 0 { // a vehicle's floor pushes up
		out[k-1] = span{Lo: -out[k-1].Hi, Hi: -out[k-1].Lo}
	}
	return out
}

// thirdSide bounds the distance between the outer axles of two stages, by the law
// of cosines: it grows with the angle, and for one angle its square is convex in the
// two sides.
func thirdSide(a, b gap, angle span) gap {
	side := func(a, b mm, cos float64) float64 {
		return math.Sqrt(max(0, float64(a*a+b*b)-2*float64(a)*float64(b)*cos))
	}
	near, far := math.Cos(angle.Lo), math.Cos(angle.Hi)
	out := gap{Lo: mm(math.Inf(1))}
	for _, x := range [2]mm{a.Lo, a.Hi} {
		out.Hi = mm(max(float64(out.Hi), side(x, b.Lo, far), side(x, b.Hi, far)))
		out.Lo = mm(min(float64(out.Lo), side(x, b.Clamp(x*mm(near)), near)))
	}
	for _, y := range [2]mm{b.Lo, b.Hi} {
		out.Lo = mm(min(float64(out.Lo), side(a.Clamp(y*mm(near)), y, near)))
	}
	return out
}

func toSpan[T ~float64](v units.Interval[T]) span {
	return span{Lo: float64(v.Lo), Hi: float64(v.Hi)}
}
