package views

import (
	"math"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Type on drawings: capitals of 2.5 mm, the least of ISO 3098-1 for A4.
var (
	figures = drawing.Words(10)
	letters = drawing.Words(11).InBold()

	leastType = drawing.Points(8) // of words that have to be made to fit
)

// sheet is a canvas that remembers where ink is, so that labels find a place
// that is free.
type sheet struct {
	*drawing.Canvas
	area      drawing.Rect               // where labels may be
	ink       map[[2]int][]drawing.Point // by squares of inkSquare
	taken     []drawing.Rect             // by labels
	captioned mm                         // of the area, where captions stand
	// What no label may lie on: pulleys, holes, arrowheads.
	discs []roundel
	boxes []drawing.Rect
	// aim is where the leader of the label that is being placed would end, by the
	// label's middle; nil for one without a leader.
	aim func(drawing.Point) drawing.Point
	// misses counts labels without a place: a smaller drawing may have room for them.
	misses int
}

// roundel is a disc on the page.
type roundel struct {
	at     drawing.Point
	radius mm
}

// touches reports whether a rectangle lies on it.
func (d roundel) touches(r drawing.Rect) bool { return edge(r, d.at).Distance(d.at) < d.radius }

const inkSquare mm = 4

func square(p drawing.Point) [2]int {
	return [2]int{int(math.Floor(float64(p.X / inkSquare))), int(math.Floor(float64(p.Y / inkSquare)))}
}

// newSheet is a sheet on a canvas with labels kept to an area.
func newSheet(c *drawing.Canvas, area drawing.Rect) *sheet {
	return &sheet{Canvas: c, area: area, ink: map[[2]int][]drawing.Point{}}
}

// draw adds a path and remembers its line.
func (s *sheet) draw(p *drawing.Path, pen drawing.Pen, fill drawing.Fill) {
	if len(p.Steps) == 0 {
		return
	}
	s.Draw(p, pen, fill)
	s.mark(p)
}

// mark remembers a line as ink, a point every half millimetre.
func (s *sheet) mark(p *drawing.Path) {
	var start, at drawing.Point
	for _, step := range p.Steps {
		switch step.Kind {
		case drawing.Move:
			start, at = step.To, step.To
			continue
		case drawing.Close:
			step = drawing.Step{Kind: drawing.Draw, To: start}
		}
		along, _ := stepper(at, step)
		n := max(1, int(math.Ceil(float64(length(at, step))*2)))
		for i := range n + 1 {
			q := along(float64(i) / float64(n))
			s.ink[square(q)] = append(s.ink[square(q)], q)
		}
		at = step.To
	}
}

// clutter is how much ink lies in a rectangle.
func (s *sheet) clutter(r drawing.Rect) int {
	n := 0
	from, to := square(drawing.Point{X: r.X0, Y: r.Y0}), square(drawing.Point{X: r.X1, Y: r.Y1})
	for x := from[0]; x <= to[0]; x++ {
		for y := from[1]; y <= to[1]; y++ {
			for _, p := range s.ink[[2]int{x, y}] {
				if r.X0 < p.X && p.X < r.X1 && r.Y0 < p.Y && p.Y < r.Y1 {
					n++
				}
			}
		}
	}
	return n
}

// free reports whether no label is in the way, with a little air.
func (s *sheet) free(r drawing.Rect) bool {
	if !s.area.Holds(r) {
		return false
	}
	for _, o := range s.boxes {
		if r.Overlaps(o) {
			return false
		}
	}
	for _, d := range s.discs {
		if d.touches(r) {
			return false
		}
	}
	return s.clear(r)
}

// clear reports whether no label is within a little air of it.
func (s *sheet) clear(r drawing.Rect) bool {
	r = r.Inset(-air)
	for _, o := range s.taken {
		if r.Overlaps(o) {
			return false
		}
	}
	return true
}

const air mm = 0.6

// spot is a place for a label and how little it is liked.
type spot struct {
	at      drawing.Point
	dislike float64
}

// settle finds the best place for a label so wide and high, and takes it: of the
// spots that are free the one with the least ink and dislike; if none is free,
// the nearest place that is, to the first spot, anywhere on the sheet. ok is
// false if there is none at all.
func (s *sheet) settle(width, height mm, spots []spot) (at drawing.Point, ok bool) {
	at, cost := s.look(width, height, spots)
	if ok = !math.IsInf(cost, 1); ok {
		s.taken = append(s.taken, centred(at, width, height))
	} else {
		s.misses++
	}
	return at, ok
}

// settleAimed is settle for a label with a leader, which had better not pass over
// other labels.
func (s *sheet) settleAimed(width, height mm, spots []spot, aim func(drawing.Point) drawing.Point) (at drawing.Point, ok bool) {
	s.aim = aim
	defer func() { s.aim = nil }()
	return s.settle(width, height, spots)
}

// centred is a rectangle about its middle.
func centred(p drawing.Point, width, height mm) drawing.Rect {
	return drawing.Rect{X0: p.X - width/2, Y0: p.Y - height/2, X1: p.X + width/2, Y1: p.Y + height/2}
}

// look finds the place that settle would take, and what is against it; infinite
// if there is none.
func (s *sheet) look(width, height mm, spots []spot) (at drawing.Point, cost float64) {
	cost = math.Inf(1)
	try := func(p drawing.Point, dislike float64) {
		if r := centred(p, width, height); s.free(r) {
			c := dislike + 3*float64(s.clutter(r.Inset(-air)))
			if s.aim != nil && c < cost-1e-9 {
				c += float64(s.blocked(s.aim(p), p))
			}
			if c < cost-1e-9 {
				cost, at = c, p
			}
		}
	}
	for _, p := range spots {
		try(p.at, p.dislike)
	}
	if math.IsInf(cost, 1) && len(spots) > 0 {
		for y := s.area.Y0 + height/2; y <= s.area.Y1-height/2; y += 1.5 {
			for x := s.area.X0 + width/2; x <= s.area.X1-width/2; x += 1.5 {
				p := drawing.Point{X: x, Y: y}
				try(p, 100+2*float64(p.Distance(spots[0].at)))
			}
		}
	}
	return at, cost
}

// write puts words with their middle at a point, on white. The place must have
// been taken before.
func (s *sheet) write(at drawing.Point, words string, style drawing.Style) {
	w, h := s.room(words, style)
	s.Rectangle(drawing.Rect{X0: at.X - w/2, Y0: at.Y - h/2, X1: at.X + w/2, Y1: at.Y + h/2}, drawing.NoPen, drawing.White)
	style.Align, style.Level = drawing.Middle, drawing.Centred
	s.Text(at, words, style)
}

// room is what words take in, upright or turned by a quarter.
func (s *sheet) room(words string, style drawing.Style) (width, height mm) {
	width, height = style.Width(words)+0.8, lineHeight(style)
	if style.Turn != 0 {
		width, height = height, width
	}
	return width, height
}

// lineHeight is how high a line of words is with the room it takes in.
func lineHeight(style drawing.Style) mm { return style.CapHeight() + 2*style.Descent() }

// around are spots on rings about a point, nearer ones liked better.
func around(c drawing.Point, radii []mm, from units.Radians) []spot {
	var out []spot
	for i, r := range radii {
		const n = 24
		for k := range n {
			// Alternately to either side of the first direction.
			turn := units.Radians((k+1)/2) * 2 * math.Pi / n
			if k%2 == 1 {
				turn = -turn
			}
			out = append(out, spot{c.Towards(from+turn, r), 2*float64(i) + 1.2*math.Abs(float64(turn))})
		}
	}
	return out
}

// arrowhead is a filled arrow of a dimension line, its point at a place, seen
// coming from a direction (ISO 129-1: closed and filled; here 20 degrees and
// 2.5 mm).
func (s *sheet) arrowhead(tip drawing.Point, from units.Radians) { s.head(tip, from, 2.5) }

func (s *sheet) head(tip drawing.Point, from units.Radians, long float64) {
	path := arrow(tip, from, long)
	s.Draw(path, drawing.NoPen, drawing.Black)
	s.boxes = append(s.boxes, path.Bounds())
}

// pointed ends a leader with an arrowhead, unless it would lie on a label.
func (s *sheet) pointed(tip drawing.Point, from units.Radians) {
	box := arrow(tip, from, 2.5).Bounds()
	if !slices.ContainsFunc(s.taken, box.Overlaps) {
		s.arrowhead(tip, from)
	}
}

func arrow(tip drawing.Point, from units.Radians, long float64) *drawing.Path {
	const half = 20.0 / 2 / 180 * math.Pi
	side := mm(long / math.Cos(half))
	return drawing.Polygon(tip, tip.Towards(from+half, side), tip.Towards(from-half, side))
}

// settleHere is settle without looking further than the spots.
func (s *sheet) settleHere(width, height mm, spots []spot) (at drawing.Point, ok bool) {
	for _, p := range spots {
		if s.free(centred(p.at, width, height)) {
			return s.settle(width, height, spots)
		}
	}
	return drawing.Point{}, false
}
