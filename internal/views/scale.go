package views

import (
	"fmt"
	"slices"

	"findrive/internal/drawing"
)

// scale is how much larger than the thing a drawing is.
type scale struct {
	page, thing float64 // written "page : thing"
}

// scales are tried in order: those of ISO 5455, with steps between them so that
// the drawing fills its room.
var scales = []scale{{5, 1}, {4, 1}, {3, 1}, {2.5, 1}, {2, 1}, {1.75, 1}, {1.5, 1}, {1.25, 1}, {1, 1}, {1, 1.25}, {1, 1.5}, {1, 1.75}, {1, 2}, {1, 2.5}, {1, 3}, {1, 3.5}, {1, 4}, {1, 5}, {1, 7.5}, {1, 10}, {1, 15}, {1, 20}, {1, 50}}

func (s scale) String() string { return fmt.Sprintf("%g : %g", s.page, s.thing) }

func (s scale) mm(x mm) mm { return x * mm(s.page/s.thing) }

// smaller is the scale so many steps down.
func (s scale) smaller(steps int) scale {
	return scales[min(len(scales)-1, slices.Index(scales, s)+steps)]
}

// fit is a scale, and whether what is empty of the frame is shortened across and up.
type fit struct {
	scale
	across, up bool
}

// worth is how much larger a drawing must get by it to have the frame broken.
const worth = 1.25

// fitting is the largest scale at which something fits, whose size on the page is
// given by the functions.
func fitting(width, height func(fit) mm, room drawing.Rect) fit {
	fits := func(f fit) bool { return width(f) <= room.Width() && height(f) <= room.Height() }
	whole := fit{scale: scales[len(scales)-1]}
	for _, s := range scales {
		if f := (fit{scale: s}); fits(f) {
			whole = f
			break
		}
	}
	for _, s := range scales {
		if s.mm(1) < whole.mm(1)*worth {
			break
		}
		for _, f := range []fit{{s, true, false}, {s, false, true}, {s, true, true}} {
			if fits(f) {
				return f
			}
		}
	}
	return whole
}

// stretch is what is drawn along one direction: all of it from first to last, and the
// drive itself within the frame, which begins at 0 and ends at end. So much of each end of
// the frame as is called edge is drawn to scale too.
type stretch struct{ first, last, from, to, end, edge mm }

// fold puts a stretch on the page, from the datum: the drive to scale, and what is
// empty before and after it shortened if asked and long enough.
type fold struct {
	scale
	stretch
	before, after mm // lengths on the page
}

// broken is how long a shortened part of the frame is on the page.
const broken mm = 13

func (s stretch) fold(k scale, shorten bool) *fold {
	f := &fold{scale: k, stretch: s, before: k.mm(s.from), after: k.mm(s.end - s.to)}
	for _, empty := range []*mm{&f.before, &f.after} {
		if short := k.mm(s.edge) + broken; shorten && *empty > 1.5*short {
			*empty = short
		}
	}
	return f
}

// shortened is where something is that lies so far from an end of the frame, in what is
// empty there: so much of the thing, on the page so long.
func (f *fold) shortened(x, empty, page mm) mm {
	edge := min(f.edge, empty)
	if x <= edge {
		return f.mm(x)
	}
	return f.mm(edge) + (page-f.mm(edge))*(x-edge)/(empty-edge)
}

// at is where something is, from the datum, on the page.
func (f *fold) at(x mm) mm {
	switch {
	case x < f.from && f.from > 0 && x > 0:
		return f.shortened(x, f.from, f.before)
	case x < f.from && f.from > 0:
		return f.mm(x)
	case x > f.to && f.end > f.to:
		return f.before + f.mm(f.to-f.from) + f.after - f.shortened(max(0, f.end-x), f.end-f.to, f.after) + f.mm(max(0, x-f.end))
	}
	return f.before + f.mm(x-f.from)
}

// long is the length of all of it on the page.
func (f *fold) long() mm { return f.at(f.last) - f.at(f.first) }

// breaks are where on the page the frame is broken, from the datum.
func (f *fold) breaks() []mm {
	var out []mm
	if f.before < f.mm(f.from)-0.01 {
		out = append(out, f.mm(f.edge)+broken/2)
	}
	if f.after < f.mm(f.end-f.to)-0.01 {
		out = append(out, f.at(f.end)-f.mm(f.edge)-broken/2)
	}
	return out
}

// paper puts the plane of the pulleys on the page.
type paper struct {
	scale
	origin drawing.Point // of the datum corner
	// How it is shortened; nil if it is not.
	across, up *fold
}

func (p paper) at(q place) drawing.Point {
	x, y := p.mm(q.x), p.mm(q.y)
	if p.across != nil {
		x = p.across.at(q.x)
	}
	if p.up != nil {
		y = p.up.at(q.y)
	}
	return drawing.Point{X: p.origin.X + x, Y: p.origin.Y - y}
}
