package assemblydrawing

import (
	"cmp"
	"slices"

	"findrive/internal/drawing"
)

// row is words side by side, each near what it names, with a line to it.
type row struct {
	y     mm // of the words' middle
	to    mm // where the lines to what they name end
	style drawing.Style
	list  []label
}

type label struct {
	x     mm // of what it names
	reach mm // how much further its line goes than the others'
	words string
	left  mm
}

func (r *row) add(x, reach mm, words string) {
	r.list = append(r.list, label{x: x, reach: reach, words: words})
}

const labelGap mm = 2.6

// place finds places for the words as near as can be to what they name, in order, none
// over another.
func (r *row) place(room drawing.Rect) {
	slices.SortStableFunc(r.list, func(a, b label) int { return cmp.Compare(a.x, b.x) })
	at := room.X0
	for i := range r.list {
		l := &r.list[i]
		wide := r.style.Width(l.words)
		l.left = max(at, l.x-wide/2)
		at = l.left + wide + labelGap
	}
	// What stands out at the right moves back, and what is before it too.
	edge := room.X1
	for i := len(r.list) - 1; i >= 0; i-- {
		l := &r.list[i]
		wide := r.style.Width(l.words)
		l.left = min(l.left, edge-wide)
		edge = l.left - labelGap
	}
}

// gap is where in the row, once placed, there is room for words so wide that name nothing
// in particular; ok is false if there is none.
func (r *row) gap(room drawing.Rect, wide mm) (left mm, ok bool) {
	const clear = 3 * labelGap // not to be taken for one of the others
	at := room.X0
	for _, l := range r.list {
		if l.left-at >= wide+2*clear {
			return at + clear, true
		}
		at = l.left + r.style.Width(l.words)
	}
	return at + clear, room.X1-at >= wide+clear
}

// draw sets the words in their places.
func (r *row) draw(c *drawing.Canvas, room drawing.Rect) {
	r.place(room)
	for _, l := range r.list {
		wide := r.style.Width(l.words)
		c.Text(drawing.Point{X: l.left + wide/2, Y: r.y}, l.words, r.style.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
		start, end := r.y+2.6, r.to-l.reach
		if r.to < r.y {
			start, end = r.y-2.6, r.to+l.reach
		}
		c.Line(drawing.Point{X: max(l.left+1, min(l.left+wide-1, l.x)), Y: start}, drawing.Point{X: l.x, Y: end}, light)
	}
}
