package views

import (
	"fmt"

	"findrive/internal/drawing"
)

// scale is how much larger than the thing a drawing is.
type scale struct {
	of, to float64 // written "of : to"
}

// scales are tried in order: those of ISO 5455, with steps between them so that
// the drawing fills a page of A4.
var scales = []scale{{2, 1}, {1.5, 1}, {1, 1}, {1, 1.25}, {1, 1.5}, {1, 2}, {1, 2.5}, {1, 3}, {1, 3.5}, {1, 4}, {1, 5}, {1, 7.5}, {1, 10}, {1, 15}, {1, 20}, {1, 50}}

func (s scale) String() string { return fmt.Sprintf("%g : %g", s.of, s.to) }

func (s scale) mm(x mm) mm { return x * mm(s.of/s.to) }

// fitting is the largest scale at which something fits.
func fitting(width, height mm, room drawing.Rect) scale {
	for _, s := range scales {
		if s.mm(width) <= room.Width() && s.mm(height) <= room.Height() {
			return s
		}
	}
	return scales[len(scales)-1]
}

// paper puts the plane of the pulleys on the page.
type paper struct {
	scale
	origin drawing.Point // of the datum corner
}

func (p paper) at(q place) drawing.Point {
	return drawing.Point{X: p.origin.X + p.mm(q.x), Y: p.origin.Y - p.mm(q.y)}
}
