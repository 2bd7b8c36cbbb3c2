package layout

import "math"

// Mate is one more axle, as high as the last shaft and at least Apart from it, through every lane
// but through no band's loop, and with nothing on it between the sides: a vehicle's second axle. It
// is no shaft of the problem: it takes no part in what shape is the tidiest, and has its hole where
// one is left. Slack is on top of Apart, as it is of the clearance.
type Mate struct {
	Radius, Apart mm
	Zone          Rect // where its hole may be marked, as a Shaft's
}

// Mates are the holes that are left for the mate once the shafts stand, the furthest from the last
// shaft first, and of two as far the one to the left.
func Mates(p *Problem, at []Point) []Point {
	m, last := p.Mate, at[len(at)-1]
	s := search{p: p, pitch: p.Grid.Pitch}
	if !(s.pitch > 0) || last.Y < m.Zone.Y0-noise || last.Y > m.Zone.Y1+noise {
		return nil
	}
	lo, hi := s.upTo(m.Zone.X0-noise), s.downTo(m.Zone.X1+noise)
	var out []Point
	for lo <= hi { // the further of the two ends that are left
		x := hi
		if last.X-mm(lo)*s.pitch >= mm(hi)*s.pitch-last.X-noise {
			x = lo
			lo++
		} else {
			hi--
		}
		if c := (Point{mm(x) * s.pitch, last.Y}); p.mateClear(c, at) {
			out = append(out, c)
		}
	}
	return out
}

// mateClear reports whether a mate at c keeps away from all that it must.
func (p *Problem) mateClear(c Point, at []Point) bool {
	apart := p.Mate.Radius + p.Clearance + 2*p.Slack
	for i := range p.Shafts {
		if distance(c, at[i]) < p.mateNeeds(i)-noise {
			return false
		}
	}
	for k := range p.Bodies {
		if b := &p.Bodies[k]; boxToPoint(at[b.Shaft], b, c) < apart-noise {
			return false
		}
	}
	for k := range p.Runs {
		r := &p.Runs[k]
		if loop := r.between(at[r.From], at[r.To]); loop.outside(c) < r.HalfBand+apart-noise {
			return false
		}
	}
	return true
}

// mateNeeds is how far a mate must be from a shaft.
func (p *Problem) mateNeeds(i int) mm {
	s, m := &p.Shafts[i], p.Mate
	rim := s.Radius
	for k := range s.Discs {
		rim = max(rim, s.Discs[k].Radius)
	}
	need := rim + m.Radius + p.Clearance
	if i == len(p.Shafts)-1 {
		need = max(need, m.Apart)
	}
	return need + 2*p.Slack
}

// mateColumns are those where the mate may be by the rules about it alone, how many it is from the
// last shaft at least, and on which side of that and how far there last seemed to be a hole.
type mateColumns struct{ x0, x1, least, seen int }

// besideMate takes from the columns of the last shaft those that leave the mate no place on either
// side.
func (s *search) besideMate(d *span) {
	z := &s.p.Mate.Zone
	m := mateColumns{x0: s.upTo(z.X0 - noise), x1: s.downTo(z.X1 + noise), least: s.upTo(s.p.mateNeeds(len(s.p.Shafts)-1) - noise)}
	s.mate = m
	if d.x0 > m.x1-m.least {
		d.x0 = max(d.x0, m.x0+m.least)
	} else if d.x1 < m.x0+m.least {
		d.x1 = min(d.x1, m.x1-m.least)
	}
}

// withMate finds where the first shaft may be with a hole for the mate, nearest to column x and
// within the columns of first; the shafts stand as if it were at x, and the last is so far from it.
func (s *search) withMate(first span, x, last int) (int, bool) {
	best, off := x, math.MaxInt
	from := s.at[s.shafts-1]
	for k := s.mate.x0 - first.x1 - last; k <= s.mate.x1-first.x0-last; k++ {
		if -s.mate.least < k && k < s.mate.least {
			continue
		}
		to := min(max(x, first.x0, s.mate.x0-last-k), first.x1, s.mate.x1-last-k)
		if away := max(to-x, x-to); away < off && s.p.mateClear(Point{from.X + mm(k)*s.pitch, from.Y}, s.at[:s.shafts]) {
			best, off = to, away
		}
	}
	return best, off < math.MaxInt
}

// leadToMate makes the pairs of the mate with each shaft ready, as steps to the last shaft and one
// more; they lie behind those of the shafts.
func (s *search) leadToMate() {
	if s.p.Mate == nil {
		return
	}
	last, step := s.shafts-1, uint32(1)<<(s.shafts-1)
	for i := range s.shafts {
		w := s.pairOf(i, s.shafts)
		w.plus, w.minus, w.base, w.near = step, 0, 0, s.p.mateNeeds(i)
		if i < last {
			to := s.pairOf(i, last)
			w.plus, w.minus, w.base = to.plus|step, to.minus, to.base
		}
	}
}

// mayMate reports whether there may be a hole for the mate with the steps in the boxes. As the last
// shaft moves the mate does, so that it is looked for from there, one column after the other.
func (s *search) mayMate(b *boxes) bool {
	lo, hi := math.MinInt, math.MaxInt
	b[s.shafts] = span{}
	for i := range s.shafts {
		sum, d := b.sum(s.pairOf(i, s.shafts)), s.domain[i]
		lo, hi = max(lo, s.mate.x0-d.x1-sum.x1), min(hi, s.mate.x1-d.x0-sum.x0)
	}
	free := func(k int) bool {
		b[s.shafts].x0, b[s.shafts].x1 = k, k
		return !s.mateBlocked(b)
	}
	if k := s.mate.seen; k != 0 && lo <= k && k <= hi && free(k) {
		return true
	}
	for k := hi; k >= lo; k-- {
		if (k >= s.mate.least || k <= -s.mate.least) && free(k) {
			s.mate.seen = k
			return true
		}
	}
	return false
}

// mateBlocked reports whether something is too near the mate's box wherever in the boxes the steps
// lie.
func (s *search) mateBlocked(b *boxes) bool {
	mate := s.shafts
	for i := range s.shafts {
		w := s.pairOf(i, mate)
		x, y := s.furthest(b, w)
		if least := w.near - slop; x*x+y*y < least*least {
			return true
		}
	}
	apart := s.p.Mate.Radius + s.p.Clearance + 2*s.p.Slack
	for k := range s.p.Bodies {
		body := &s.p.Bodies[k]
		if x, y := s.furthest(b, s.pairOf(body.Shaft, mate)); beyond(x, y, body.HalfWidth, body.HalfHeight) < apart-slop {
			return true
		}
	}
	for k := range s.p.Runs {
		run := &s.p.Runs[k]
		need := run.HalfBand + apart
		if v, ok := s.view(b, run, far, mate, mate); ok && v.loop.outside(v.things[0])+v.off < need-slop || s.strandClash(b, run, mate, need-slop) {
			return true
		}
	}
	return false
}

// furthest is how far apart two may be across and up, by the boxes.
func (s *search) furthest(b *boxes, w *pair) (x, y mm) {
	sum := b.sum(w)
	_, x = spread(sum.x0, sum.x1, s.pitch, 0)
	_, y = spread(sum.y0, sum.y1, s.pitch, w.base)
	return x, y
}
