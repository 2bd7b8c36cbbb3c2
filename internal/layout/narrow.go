package layout

import (
	"math"
	"math/bits"
)

// narrow takes from the boxes what cannot be; false if nothing is left.
func (s *search) narrow(b *boxes) bool {
	for k := range s.pairs[:s.count] {
		w := &s.pairs[k]
		sum := b.sum(w)
		can := sum.meet(w.limit)
		switch {
		case can.empty():
		case w.ring != nil:
			can = w.shrinkToRing(can)
		case s.p.Any:
			can = s.shrinkToWindow(w, can)
		}
		if can.empty() || can != sum && !b.keepWithin(w, sum, can) {
			return false
		}
		sum = can
		nearX, farX := spread(sum.x0, sum.x1, s.pitch, 0)
		nearY, farY := spread(sum.y0, sum.y1, s.pitch, w.base)
		least, most := w.near-slop, w.far+slop
		if least > 0 && farX*farX+farY*farY < least*least || nearX*nearX+nearY*nearY > most*most {
			return false
		}
	}
	if len(s.rails) == 0 && !s.keepTurns(b) {
		return false
	}
	for k := range s.bodies {
		r := &s.bodies[k]
		if r.shaft == r.other {
			continue
		}
		w := s.pairOf(r.shaft, r.other)
		sum := b.sum(w)
		_, farX := spread(sum.x0, sum.x1, s.pitch, 0)
		_, farY := spread(sum.y0, sum.y1, s.pitch, w.base)
		if beyond(farX, farY, r.w, r.h) < r.need-slop {
			return false
		}
	}
	return true
}

// spread is the least and greatest size of base plus a whole number of pitches.
func spread(lo, hi int, pitch, base mm) (least, most mm) {
	a, b := base+mm(lo)*pitch, base+mm(hi)*pitch
	switch { // not by the builtin max, which is a call of a function in a browser
	case a > 0:
		return a, b
	case b < 0:
		return -b, -a
	case b > -a:
		return 0, b
	}
	return 0, -a
}

// keepWithin takes from each step of a pair what would lead out of where it can
// be, l, whatever the others do.
func (b *boxes) keepWithin(w *pair, sum, l span) bool {
	ok := true
	for set := w.plus; set != 0; set &= set - 1 {
		v := &b[bits.TrailingZeros32(set)+1]
		*v = span{
			max(v.x0, l.x0-(sum.x1-v.x1)), min(v.x1, l.x1-(sum.x0-v.x0)),
			max(v.y0, l.y0-(sum.y1-v.y1)), min(v.y1, l.y1-(sum.y0-v.y0)),
		}
		ok = ok && !v.empty()
	}
	for set := w.minus; set != 0; set &= set - 1 {
		v := &b[bits.TrailingZeros32(set)+1]
		*v = span{
			max(v.x0, sum.x0+v.x1-l.x1), min(v.x1, sum.x1+v.x0-l.x0),
			max(v.y0, sum.y0+v.y1-l.y1), min(v.y1, sum.y1+v.y0-l.y0),
		}
		ok = ok && !v.empty()
	}
	return ok
}

// shrinkToRing is what of a box lies about the grid points of the pair's ring.
func (w *pair) shrinkToRing(b span) span {
	out := span{x0: b.x1 + 1, x1: b.x0 - 1, y0: b.y1 + 1, y1: b.y0 - 1}
	for y := b.y0; y <= b.y1; y++ {
		c := w.ring[max(y, -y)]
		x0, x1 := max(b.x0, -c.outer), min(b.x1, c.outer)
		if -c.inner < x0 && x0 < c.inner {
			x0 = c.inner
		}
		if -c.inner < x1 && x1 < c.inner {
			x1 = -c.inner
		}
		if x0 > x1 {
			continue
		}
		out.x0, out.x1 = min(out.x0, x0), max(out.x1, x1)
		out.y0, out.y1 = min(out.y0, y), y
	}
	return out
}

// shrinkToWindow is the same for whoever asks for any places and halves few boxes, by the ends
// of the box alone: that leaves more, and is had at once.
func (s *search) shrinkToWindow(w *pair, b span) span {
	least, most := w.near-slop, w.far+slop
	shrink := func(lo, hi *int, near, far mm) {
		if near > most {
			*lo, *hi = 1, 0
			return
		}
		outer := int(math.Sqrt(float64(most*most-near*near)) / float64(s.pitch))
		*lo, *hi = max(*lo, -outer), min(*hi, outer)
		if far < least {
			inner := int(math.Ceil(math.Sqrt(float64(least*least-far*far)) / float64(s.pitch)))
			if -inner < *lo {
				*lo = max(*lo, inner)
			}
			if *hi < inner {
				*hi = min(*hi, -inner)
			}
		}
	}
	near, far := spread(b.y0, b.y1, s.pitch, w.base)
	shrink(&b.x0, &b.x1, near, far)
	if !b.empty() && len(s.rails) == 0 {
		near, far = spread(b.x0, b.x1, s.pitch, 0)
		shrink(&b.y0, &b.y1, near, far)
	}
	return b
}
