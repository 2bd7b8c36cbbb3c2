package views

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// mark is one value of a running dimension: how far from the datum along its
// axis, and where on the page.
type mark struct {
	value mm // millimetres of the thing
	at    mm // on the page
	start mm // where across the axis its extension line begins on the page
}

// sorted marks, equal values once, each extension line from its outermost start.
func sortedMarks(marks []mark, outer func(a, b mm) mm) []mark {
	slices.SortStableFunc(marks, func(a, b mark) int { return cmp.Compare(a.at, b.at) })
	var out []mark
	for _, m := range marks {
		if n := len(out); n > 0 && math.Abs(float64(out[n-1].value-m.value)) < 0.05 {
			out[n-1].start = outer(out[n-1].start, m.start)
			continue
		}
		out = append(out, m)
	}
	return out
}

// spread moves places along a line as little as may be (least squares) so that
// neighbours are at least gap apart. They must be in order.
func spread(at []mm, gap mm) []mm {
	type cluster struct {
		sum   mm // of place less what the members before it take
		count int
	}
	var clusters []cluster
	middle := func(c cluster) mm { return c.sum / mm(c.count) }
	for i, p := range at {
		c := cluster{p - mm(i)*gap, 1}
		for len(clusters) > 0 && middle(clusters[len(clusters)-1]) > middle(c) {
			last := clusters[len(clusters)-1]
			clusters = clusters[:len(clusters)-1]
			c = cluster{last.sum + c.sum, last.count + c.count}
		}
		clusters = append(clusters, c)
	}
	out := make([]mm, 0, len(at))
	for _, c := range clusters {
		for range c.count {
			out = append(out, middle(c)+mm(len(out))*gap)
		}
	}
	return out
}

// figureGap is between neighbouring figures of a running dimension.
const figureGap mm = 0.2

// below draws a running dimension under the drawing, along a level line: values
// from the datum at 0, read from the right (ISO 129-1: running dimensioning, the
// datum marked with a circle).
func (s *sheet) below(line mm, marks []mark) {
	marks = sortedMarks(marks, func(a, b mm) mm { return max(a, b) })
	style := figures.WithTurn(math.Pi / 2)
	_, high := s.room("0", figures)
	places := make([]mm, len(marks))
	for i, m := range marks {
		places[i] = m.at
	}
	places = spread(places, high+figureGap)
	// The corner at the datum belongs to the other dimension's words.
	places[0] = max(places[0], marks[0].at)
	for i := 1; i < len(places); i++ {
		places[i] = max(places[i], places[i-1]+high+figureGap)
	}
	s.draw(drawing.Line(drawing.Point{X: marks[0].at, Y: line}, drawing.Point{X: marks[len(marks)-1].at, Y: line}), drawing.Thin, drawing.NoFill)
	for i, m := range marks {
		s.draw(drawing.Line(drawing.Point{X: m.at, Y: m.start}, drawing.Point{X: m.at, Y: line + 1}), drawing.Thin, drawing.NoFill)
		s.draw(drawing.Line(drawing.Point{X: m.at, Y: line + 1}, drawing.Point{X: places[i], Y: line + 2.6}), drawing.Thin, drawing.NoFill)
		tip := drawing.Point{X: m.at, Y: line}
		if math.Abs(float64(m.value)) < 0.05 {
			s.draw(drawing.Circle(tip, 1), drawing.Thin, drawing.White)
		} else {
			s.arrowhead(tip, tip.Direction(drawing.Point{X: datum(marks), Y: line}))
		}
		w, h := s.room(number(m.value), style)
		at := drawing.Point{X: places[i], Y: line + 3 + h/2}
		s.taken = append(s.taken, drawing.Rect{X0: at.X - w/2, Y0: at.Y - h/2, X1: at.X + w/2, Y1: at.Y + h/2})
		s.write(at, number(m.value), style)
	}
}

// beside draws a running dimension left of the drawing, along an upright line, with
// no figure lower than foot.
func (s *sheet) beside(line, foot mm, marks []mark) {
	marks = sortedMarks(marks, func(a, b mm) mm { return min(a, b) })
	_, high := s.room("0", figures)
	places := make([]mm, len(marks))
	for i, m := range marks {
		places[i] = m.at
	}
	places = spread(places, high+figureGap)
	last := len(places) - 1
	places[last] = min(places[last], foot)
	for i := last - 1; i >= 0; i-- {
		places[i] = min(places[i], places[i+1]-high-figureGap)
	}
	places[0] = max(places[0], s.area.Y0+s.captioned+high/2)
	for i := 1; i <= last; i++ {
		places[i] = max(places[i], places[i-1]+high+figureGap)
	}
	s.draw(drawing.Line(drawing.Point{X: line, Y: marks[0].at}, drawing.Point{X: line, Y: marks[len(marks)-1].at}), drawing.Thin, drawing.NoFill)
	for i, m := range marks {
		s.draw(drawing.Line(drawing.Point{X: m.start, Y: m.at}, drawing.Point{X: line - 1, Y: m.at}), drawing.Thin, drawing.NoFill)
		s.draw(drawing.Line(drawing.Point{X: line - 1, Y: m.at}, drawing.Point{X: line - 2.6, Y: places[i]}), drawing.Thin, drawing.NoFill)
		tip := drawing.Point{X: line, Y: m.at}
		if math.Abs(float64(m.value)) < 0.05 {
			s.draw(drawing.Circle(tip, 1), drawing.Thin, drawing.White)
		} else {
			s.arrowhead(tip, tip.Direction(drawing.Point{X: line, Y: datum(marks)}))
		}
		w, h := s.room(number(m.value), figures)
		at := drawing.Point{X: line - 3 - w/2, Y: places[i]}
		s.taken = append(s.taken, drawing.Rect{X0: at.X - w/2, Y0: at.Y - h/2, X1: at.X + w/2, Y1: at.Y + h/2})
		s.write(at, number(m.value), figures)
	}
}

// datum is where on the page the value 0 is.
func datum(marks []mark) mm {
	for _, m := range marks {
		if math.Abs(float64(m.value)) < 0.05 {
			return m.at
		}
	}
	return marks[0].at
}

// between draws a dimension along the line from a to b, words in the middle or
// near it, with extension lines that begin a little way from p and q, the things
// measured. It draws nothing if there is no place for the words beside the line.
func (s *sheet) between(a, b, p, q drawing.Point, words string) bool {
	along, gap := a.Direction(b), a.Distance(b)
	w, h := s.room(words, figures)
	span := mm(math.Abs(math.Cos(float64(along))))*w + mm(math.Abs(math.Sin(float64(along))))*h
	middle := drawing.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
	inside := gap > 8
	var spots []spot
	if free := (gap-span)/2 - 3; inside && free > 0 { // in the line, clear of its arrowheads
		spots = append(spots, spot{middle, 0})
		for _, t := range []mm{0.3, -0.3, 0.6, -0.6, 1, -1} {
			spots = append(spots, spot{middle.Towards(along, t*free), 3 * math.Abs(float64(t))})
		}
	} else {
		// No room in the line: above it, below it, or at one of its ends.
		off := mm(math.Abs(math.Sin(float64(along))))*w/2 + mm(math.Abs(math.Cos(float64(along))))*h/2 + 0.9
		for _, d := range []mm{off, -off} {
			spots = append(spots, spot{middle.Towards(along+math.Pi/2, d), 0})
		}
		out := mm(1)
		if !inside {
			out = 7
		}
		for _, end := range []drawing.Point{b.Towards(along, out+span/2), a.Towards(along, -out-span/2)} {
			spots = append(spots, spot{end, 3})
		}
	}
	heads := [2]drawing.Rect{arrowBox(a, along), arrowBox(b, along+math.Pi)}
	if !inside {
		heads = [2]drawing.Rect{arrowBox(a, along+math.Pi), arrowBox(b, along)}
	}
	for _, r := range heads {
		if !s.free(r) {
			return false
		}
	}
	at, ok := s.settleHere(w, h, spots)
	if !ok {
		return false
	}
	for _, e := range [2][2]drawing.Point{{p, a}, {q, b}} {
		if d := e[0].Distance(e[1]); d > 2 {
			dir := e[0].Direction(e[1])
			s.draw(drawing.Line(e[0].Towards(dir, 1), e[1].Towards(dir, 1)), drawing.Thin, drawing.NoFill)
		}
	}
	if inside {
		s.draw(drawing.Line(a, b), drawing.Thin, drawing.NoFill)
		s.arrowhead(a, along)
		s.arrowhead(b, along+math.Pi)
	} else {
		s.draw(drawing.Line(a.Towards(along, -6), b.Towards(along, 6)), drawing.Thin, drawing.NoFill)
		s.arrowhead(a, along+math.Pi)
		s.arrowhead(b, along)
	}
	s.write(at, words, figures)
	return true
}

// arrowBox is the room of an arrowhead.
func arrowBox(tip drawing.Point, from units.Radians) drawing.Rect {
	return arrow(tip, from, 2.5).Bounds()
}
