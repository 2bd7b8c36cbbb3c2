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

// draw sets the words as near as can be to what they name, in order, none over
// another.
func (r *row) draw(c *drawing.Canvas, room drawing.Rect) {
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
