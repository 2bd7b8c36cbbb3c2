package drawing

import (
	"math"

	"findrive/internal/units"
)

// Point is a place on a page, from its upper left corner, y down.
type Point struct{ X, Y units.Millimetres }

// Plus is the point moved along.
func (p Point) Plus(dx, dy units.Millimetres) Point { return Point{p.X + dx, p.Y + dy} }

// Towards is the point a distance away in a direction (anticlockwise from the
// right, as seen).
func (p Point) Towards(a units.Radians, distance units.Millimetres) Point {
	sin, cos := math.Sincos(float64(a))
	return Point{p.X + distance*mm(cos), p.Y - distance*mm(sin)}
}

// Distance is how far apart two points are.
func (p Point) Distance(q Point) units.Millimetres {
	return mm(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
}

// Direction is the direction from p to q, anticlockwise from the right as seen.
func (p Point) Direction(q Point) units.Radians {
	return units.Radians(math.Atan2(float64(p.Y-q.Y), float64(q.X-p.X)))
}

// Rect is a rectangle with its sides along the page's: X0 ≤ X1, Y0 ≤ Y1, Y0 the
// upper edge.
type Rect struct{ X0, Y0, X1, Y1 units.Millimetres }

// Width of the rectangle.
func (r Rect) Width() units.Millimetres { return r.X1 - r.X0 }

// Height of the rectangle.
func (r Rect) Height() units.Millimetres { return r.Y1 - r.Y0 }

// Centre of the rectangle.
func (r Rect) Centre() Point { return Point{(r.X0 + r.X1) / 2, (r.Y0 + r.Y1) / 2} }

// Inset is the rectangle made smaller on all sides, larger if by is below 0.
func (r Rect) Inset(by units.Millimetres) Rect {
	return Rect{r.X0 + by, r.Y0 + by, r.X1 - by, r.Y1 - by}
}

// Shifted is the rectangle moved along.
func (r Rect) Shifted(dx, dy units.Millimetres) Rect {
	return Rect{r.X0 + dx, r.Y0 + dy, r.X1 + dx, r.Y1 + dy}
}

// Overlaps reports whether the two share more than an edge.
func (r Rect) Overlaps(o Rect) bool {
	return r.X0 < o.X1 && o.X0 < r.X1 && r.Y0 < o.Y1 && o.Y0 < r.Y1
}

// Holds reports whether all of o lies in r.
func (r Rect) Holds(o Rect) bool {
	return r.X0 <= o.X0 && r.Y0 <= o.Y0 && o.X1 <= r.X1 && o.Y1 <= r.Y1
}

// Union is the smallest rectangle with both in it.
func (r Rect) Union(o Rect) Rect {
	return Rect{min(r.X0, o.X0), min(r.Y0, o.Y0), max(r.X1, o.X1), max(r.Y1, o.Y1)}
}

// corners of the rectangle, the way a clock turns.
func (r Rect) corners() []Point {
	return []Point{{r.X0, r.Y0}, {r.X1, r.Y0}, {r.X1, r.Y1}, {r.X0, r.Y1}}
}
