package views

import (
	"math"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// sight tells what of a line is hidden behind nearer things.
type sight struct{ solids []solid }

// solid hides what lies deeper than it.
type solid struct {
	owner int // what the owner draws itself is not hidden by it
	near  mm  // depth of the side towards the eye
	holds func(drawing.Point) bool
}

// noise keeps an edge from being hidden by what it bounds.
const noise mm = 1e-6

func disc(c drawing.Point, r mm) func(drawing.Point) bool {
	return func(p drawing.Point) bool { return p.Distance(c) < r-1e-4 }
}

func box(r drawing.Rect) func(drawing.Point) bool {
	r = r.Inset(1e-4)
	return func(p drawing.Point) bool { return r.X0 < p.X && p.X < r.X1 && r.Y0 < p.Y && p.Y < r.Y1 }
}

// split parts a path at a depth into what is seen and what is hidden. What is
// listed in own hides nothing of it.
func (s *sight) split(p *drawing.Path, depth mm, own ...int) (seen, hidden *drawing.Path) {
	var before []solid
next:
	for _, b := range s.solids {
		for _, o := range own {
			if b.owner == o {
				continue next
			}
		}
		if b.near < depth-noise {
			before = append(before, b)
		}
	}
	covered := func(q drawing.Point) bool {
		for _, b := range before {
			if b.holds(q) {
				return true
			}
		}
		return false
	}
	out := [2]*drawing.Path{{}, {}}
	if len(before) == 0 {
		return p, out[1]
	}
	var start, at drawing.Point
	for _, step := range p.Steps {
		switch step.Kind {
		case drawing.Move:
			start, at = step.To, step.To
			continue
		case drawing.Close:
			step = drawing.Step{Kind: drawing.Draw, To: start}
		}
		along, piece := stepper(at, step)
		for _, run := range runs(along, covered, length(at, step)) {
			i := 0
			if run.inside {
				i = 1
			}
			piece(out[i], run.from, run.to)
		}
		at = step.To
	}
	return out[0], out[1]
}

// length of a step.
func length(from drawing.Point, s drawing.Step) mm {
	if s.Kind == drawing.Turn {
		return s.Radius * mm(math.Abs(float64(s.Sweep)))
	}
	return from.Distance(s.To)
}

// stepper gives the points of a step by share of the way, and adds a piece of it
// to a path.
func stepper(from drawing.Point, s drawing.Step) (along func(float64) drawing.Point, piece func(to *drawing.Path, a, b float64)) {
	if s.Kind == drawing.Turn {
		angle := func(t float64) units.Radians { return s.From + s.Sweep*units.Radians(t) }
		return func(t float64) drawing.Point { return s.Centre.Towards(angle(t), s.Radius) },
			func(to *drawing.Path, a, b float64) {
				begin(to, s.Centre.Towards(angle(a), s.Radius))
				to.ArcAbout(s.Centre, s.Radius, angle(a), s.Sweep*units.Radians(b-a))
			}
	}
	along = func(t float64) drawing.Point {
		return drawing.Point{X: from.X + (s.To.X-from.X)*mm(t), Y: from.Y + (s.To.Y-from.Y)*mm(t)}
	}
	return along, func(to *drawing.Path, a, b float64) {
		begin(to, along(a))
		to.LineTo(along(b))
	}
}

// begin goes to a point without drawing, if the path is not there already.
func begin(p *drawing.Path, at drawing.Point) {
	if n := len(p.Steps); n == 0 || p.Steps[n-1].To.Distance(at) > 1e-6 {
		p.MoveTo(at)
	}
}

type run struct {
	from, to float64
	inside   bool
}

// runs finds where a way enters and leaves, looking every fifth of a millimetre
// of the drawing and then closer.
func runs(along func(float64) drawing.Point, inside func(drawing.Point) bool, length mm) []run {
	n := max(2, int(math.Ceil(float64(length)/0.2)))
	// The state of each little piece is that of its middle.
	state := func(i int) bool { return inside(along((float64(i) + 0.5) / float64(n))) }
	out := []run{{inside: state(0)}}
	for i := 1; i < n; i++ {
		now := state(i)
		if last := &out[len(out)-1]; now != last.inside {
			a, b := (float64(i)-0.5)/float64(n), (float64(i)+0.5)/float64(n)
			for range 20 {
				if m := (a + b) / 2; inside(along(m)) == now {
					b = m
				} else {
					a = m
				}
			}
			last.to = (a + b) / 2
			out = append(out, run{from: last.to, inside: now})
		}
	}
	out[len(out)-1].to = 1
	return out
}
