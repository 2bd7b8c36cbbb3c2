package drawing

import (
	"math"

	"findrive/internal/units"
)

// Path is a line of straight pieces and arcs of circles, perhaps in several
// parts. The zero value is empty; Line, Polyline, Polygon, Rectangle, Circle and
// Arc make the usual ones, MoveTo, LineTo, ArcAbout and Close any other.
type Path struct{ Steps []Step }

// StepKind is what a step of a path does.
type StepKind int

// The kinds of step.
const (
	Move  StepKind = iota // to Step.To, drawing nothing
	Draw                  // a straight line to Step.To
	Turn                  // along a circle to Step.To
	Close                 // straight back to the last Move
)

// Step is one step of a path.
type Step struct {
	Kind StepKind
	To   Point
	// For Turn: the circle, where on it the arc begins, and how far it goes,
	// anticlockwise as seen if above 0, a whole turn at most.
	Centre      Point
	Radius      units.Millimetres
	From, Sweep units.Radians
}

// MoveTo begins a new part at a point.
func (p *Path) MoveTo(to Point) *Path {
	p.Steps = append(p.Steps, Step{Kind: Move, To: to})
	return p
}

// LineTo goes on to a point in a straight line.
func (p *Path) LineTo(to Point) *Path {
	if len(p.Steps) == 0 {
		return p.MoveTo(to)
	}
	p.Steps = append(p.Steps, Step{Kind: Draw, To: to})
	return p
}

// ArcAbout goes along a circle, from one direction through an angle,
// anticlockwise as seen if the sweep is above 0. A straight line leads to where
// the arc begins.
func (p *Path) ArcAbout(centre Point, radius units.Millimetres, from, sweep units.Radians) *Path {
	sweep = max(-2*math.Pi, min(2*math.Pi, sweep))
	start := centre.Towards(from, radius)
	if n := len(p.Steps); n == 0 || p.Steps[n-1].Kind == Close || p.Steps[n-1].To.Distance(start) > 1e-6 {
		p.LineTo(start)
	}
	p.Steps = append(p.Steps, Step{
		Kind: Turn, To: centre.Towards(from+sweep, radius), Centre: centre, Radius: radius, From: from, Sweep: sweep,
	})
	return p
}

// Close goes straight back to where the part began.
func (p *Path) Close() *Path {
	p.Steps = append(p.Steps, Step{Kind: Close})
	return p
}

// Line from a to b.
func Line(a, b Point) *Path { return Polyline(a, b) }

// Polyline through all points.
func Polyline(points ...Point) *Path {
	p := &Path{}
	for _, at := range points {
		p.LineTo(at)
	}
	return p
}

// Polygon through all points and back.
func Polygon(points ...Point) *Path { return Polyline(points...).Close() }

// Rectangle as a path.
func Rectangle(r Rect) *Path { return Polygon(r.corners()...) }

// Circle as a path.
func Circle(centre Point, radius units.Millimetres) *Path {
	p := &Path{}
	return p.ArcAbout(centre, radius, 0, 2*math.Pi).Close()
}

// Arc of a circle as a path; see Path.ArcAbout.
func Arc(centre Point, radius units.Millimetres, from, sweep units.Radians) *Path {
	p := &Path{}
	return p.ArcAbout(centre, radius, from, sweep)
}

// shifted is the path moved along.
func (p *Path) shifted(by Point) *Path {
	if by == (Point{}) {
		return p
	}
	out := &Path{Steps: make([]Step, len(p.Steps))}
	for i, s := range p.Steps {
		s.To = s.To.Plus(by.X, by.Y)
		s.Centre = s.Centre.Plus(by.X, by.Y)
		out.Steps[i] = s
	}
	return out
}

// Cubics is an arc as cubic Bézier curves, of an eighth of a turn at most each:
// two control points and an end point. The curves leave the circle by less than
// a 200 000th of the radius; k = 4/3 tan(angle/4) is the usual approximation.
func (s Step) Cubics() [][3]Point {
	pieces := max(1, int(math.Ceil(math.Abs(float64(s.Sweep))/(math.Pi/4)-1e-9)))
	part := s.Sweep / units.Radians(pieces)
	k := mm(4.0/3*math.Tan(float64(part)/4)) * s.Radius
	out := make([][3]Point, pieces)
	at := s.From
	for i := range out {
		a, b := s.Centre.Towards(at, s.Radius), s.Centre.Towards(at+part, s.Radius)
		out[i] = [3]Point{a.Towards(at+math.Pi/2, k), b.Towards(at+part-math.Pi/2, k), b}
		at += part
	}
	return out
}

// WholeCircle reports the circle if the path is just one.
func (p *Path) WholeCircle() (centre Point, radius units.Millimetres, ok bool) {
	if len(p.Steps) != 3 || p.Steps[1].Kind != Turn || p.Steps[2].Kind != Close ||
		math.Abs(math.Abs(float64(p.Steps[1].Sweep))-2*math.Pi) > 1e-9 {
		return Point{}, 0, false
	}
	return p.Steps[1].Centre, p.Steps[1].Radius, true
}

// outlines is the path as polygons, arcs as chords that leave the circle by no
// more than a hundredth of a millimetre.
func (p *Path) outlines() [][]Point {
	var out [][]Point
	var part []Point
	flush := func() {
		if len(part) > 1 {
			out = append(out, part)
		}
		part = nil
	}
	for _, s := range p.Steps {
		switch s.Kind {
		case Move:
			flush()
			part = []Point{s.To}
		case Draw:
			part = append(part, s.To)
		case Turn:
			step := 2 * math.Acos(1-math.Min(0.5, 0.01/math.Max(0.01, float64(s.Radius))))
			n := max(2, int(math.Ceil(math.Abs(float64(s.Sweep))/step)))
			for i := 1; i <= n; i++ {
				part = append(part, s.Centre.Towards(s.From+s.Sweep*units.Radians(i)/units.Radians(n), s.Radius))
			}
		case Close:
			if len(part) > 0 {
				first := part[0]
				flush()
				part = []Point{first}
			}
		}
	}
	flush()
	return out
}

// Bounds is the smallest rectangle round the path, without the width of the pen.
func (p *Path) Bounds() Rect {
	out, any := Rect{}, false
	for _, part := range p.outlines() {
		for _, at := range part {
			r := Rect{at.X, at.Y, at.X, at.Y}
			if any {
				r = out.Union(r)
			}
			out, any = r, true
		}
	}
	return out
}
