package layout

import "math"

// Place looks for a placement that passes Check, doing at most budget steps of
// work. If there is one on the grid it is found; Impossible is only said when
// every point of the grid has been ruled out; GaveUp when the budget ran out
// first, and for more than MaxShafts shafts. Equal problems give equal answers.
//
// Tidy shapes are tried first: all shafts level, left to right at the preferred
// distances, then with one bend upwards or downwards. After that comes the
// search of boxes.go, likeliest part first.
func Place(p Problem, budget int) ([]Point, Outcome) { return new(Placer).Place(p, budget) }

// Placer is Place for those who ask often, one question at a time: it keeps its room for the
// next.
type Placer struct {
	p Problem
	s search
}

// Place is the function of that name.
func (f *Placer) Place(p Problem, budget int) ([]Point, Outcome) {
	if len(p.Shafts) == 0 {
		return []Point{}, Placed
	}
	if len(p.Shafts) > MaxShafts-1 && p.Mate != nil || len(p.Shafts) > MaxShafts {
		return nil, GaveUp
	}
	s := &f.s
	f.p = p
	*s = search{p: &f.p, left: budget, bodies: s.bodies[:0], bands: s.bands[:0], bandBodies: s.bandBodies[:0], bandBands: s.bandBands[:0], chords: s.chords}
	if !s.makeReady() {
		return nil, Impossible
	}
	outcome := s.run()
	if outcome != Placed {
		return nil, outcome
	}
	at := make([]Point, s.shafts)
	copy(at, s.at[:])
	return at, Placed
}

// Zones are where each shaft may be by the rules about it alone, from the first to the
// last hole across and up; empty for a shaft that has no place. For more than MaxShafts
// shafts, or without a grid, they are nil.
func Zones(p Problem) []Rect {
	s := search{p: &p}
	if len(p.Shafts) > MaxShafts || !s.findGrid() {
		return nil
	}
	out := make([]Rect, s.shafts)
	for i := range out {
		d := s.domainOf(i)
		if d.empty() {
			out[i] = Rect{X0: 1, Y0: 1}
			continue
		}
		out[i] = Rect{X0: mm(d.x0) * s.pitch, X1: mm(d.x1) * s.pitch, Y0: mm(d.y0) * s.pitch, Y1: mm(d.y1) * s.pitch}
		if len(s.rails) > 0 {
			out[i].Y0, out[i].Y1 = s.rails[d.y0], s.rails[d.y1]
		}
	}
	return out
}

func (s *search) run() Outcome {
	if len(s.rails) > 0 {
		return s.onRails()
	}
	if s.tidy() {
		return Placed
	}
	return s.searchSteps()
}

// steps are the columns and rows from each shaft's parent to the shaft; the
// first is not used.
type steps [MaxShafts]struct{ x, y int }

// tidy tries shapes with every band level or upright.
func (s *search) tidy() bool {
	var lengths [2][MaxShafts]int // preferred, then the shortest
	for j := 1; j < s.shafts; j++ {
		w := s.pairOf(s.parent[j], j)
		lo, hi := s.upTo(w.near-slop), s.downTo(w.far+slop)
		if lo > hi {
			return false
		}
		preferred := int(math.Round(float64(s.prefer[j] / s.pitch)))
		lengths[0][j], lengths[1][j] = min(max(preferred, lo), hi), max(lo, 0)
	}
	leastBend := 1
	if len(s.rails) > 0 {
		leastBend = s.shafts // heights are chosen by rail
	}
	for kind := range lengths {
		// bend is the first shaft off the level line; none if it is the count.
		for bend := s.shafts; bend >= leastBend; bend-- {
			for _, up := range [2]int{1, -1} {
				if s.left <= 0 {
					return false
				}
				s.left--
				var st steps
				for j := 1; j < s.shafts; j++ {
					if j < bend {
						st[j].x = lengths[kind][j]
					} else {
						st[j].y = up * lengths[kind][j]
					}
				}
				if s.settle(&st) {
					return true
				}
				if bend == s.shafts {
					break
				}
			}
		}
	}
	return false
}

// onRails tries every choice of rails, those that keep shafts level first and
// near the middle of the frame, and for each searches the columns. A choice is
// only skipped for rules that it breaks whatever the columns.
func (s *search) onRails() Outcome {
	middle := (s.p.Outline.Y0 + s.p.Outline.Y1) / 2
	d := s.domain[0]
	return s.eachRail(d.y0, d.y1, middle, func(rail int) Outcome {
		s.level[0] = rail
		return s.chooseRail(1)
	})
}

// eachRail goes through rails first..last, those nearest to a height first, until
// one does not end in Impossible.
func (s *search) eachRail(first, last int, height mm, try func(int) Outcome) Outcome {
	above := first
	for above <= last && s.rails[above] < height {
		above++
	}
	below := above - 1
	for below >= first || above <= last {
		rail := above
		if above > last || (below >= first && height-s.rails[below] < s.rails[above]-height) {
			rail = below
			below--
		} else {
			above++
		}
		if rail > first && s.rails[rail] == s.rails[rail-1] {
			continue // listed twice
		}
		if got := try(rail); got != Impossible {
			return got
		}
	}
	return Impossible
}

// chooseRail tries the rails of shaft j and all after it.
func (s *search) chooseRail(j int) Outcome {
	if s.left <= 0 {
		return GaveUp
	}
	s.left--
	if j == s.shafts {
		if s.level[0] == s.level[j-1] && s.tidy() { // level, but for detours
			return Placed
		}
		return s.searchSteps()
	}
	d := s.domain[j]
	return s.eachRail(d.y0, d.y1, s.rails[s.level[s.parent[j]]], func(rail int) Outcome {
		s.level[j] = rail
		for i := range j {
			w := s.pairOf(i, j)
			w.base = s.rails[rail] - s.rails[s.level[i]]
			x := mm(max(w.limit.x1, -w.limit.x0)) * s.pitch
			if w.base > min(w.far, w.riseMax)+slop || w.base < max(-w.far, w.riseMin)-slop ||
				x*x+w.base*w.base < (w.near-slop)*max(0, w.near-slop) {
				return Impossible
			}
		}
		return s.chooseRail(j + 1)
	})
}

// settle puts the first shaft where all of them are within their domains and
// checks every other rule there. No rule but those of the domains depends on
// where the first shaft is, so any such place will do: the middle one is taken, or the nearest
// to it with a hole for the mate.
func (s *search) settle(st *steps) bool {
	var from steps // from the first shaft
	first := s.domain[0]
	for j := 1; j < s.shafts; j++ {
		up := from[s.parent[j]]
		from[j].x, from[j].y = up.x+st[j].x, up.y+st[j].y
		d := s.domain[j]
		first.x0, first.x1 = max(first.x0, d.x0-from[j].x), min(first.x1, d.x1-from[j].x)
		if len(s.rails) == 0 {
			first.y0, first.y1 = max(first.y0, d.y0-from[j].y), min(first.y1, d.y1-from[j].y)
		}
	}
	if first.empty() {
		return false
	}
	x, y := first.x0+(first.x1-first.x0)/2, first.y0+(first.y1-first.y0)/2
	put := func() {
		for j := range s.shafts {
			s.at[j].X = mm(x+from[j].x) * s.pitch
			if len(s.rails) > 0 {
				s.at[j].Y = s.rails[s.level[j]]
			} else {
				s.at[j].Y = mm(y+from[j].y) * s.pitch
			}
		}
	}
	put()
	if !s.obeys() {
		return false
	}
	if s.p.Mate == nil {
		return true
	}
	found := false
	x, found = s.withMate(first, x, from[s.shafts-1].x)
	put()
	return found
}

// obeys checks the places in s.at by every rule about more than one shaft.
func (s *search) obeys() bool {
	at := &s.at
	for k := range s.pairs[:s.count] {
		w := &s.pairs[k]
		d := distance(at[w.i], at[w.j])
		rise := at[w.j].Y - at[w.i].Y
		if d < w.least-noise || d > w.most+noise || rise < w.riseMin-noise || rise > w.riseMax+noise {
			return false
		}
	}
	for k := range s.p.Turns {
		if !s.p.Turns[k].Holds(at[:]) {
			return false
		}
	}
	for k := range s.p.Steeps {
		if !s.p.Steeps[k].Holds(at[:]) {
			return false
		}
	}
	for k := range s.bodies {
		b := &s.bodies[k]
		if beyond(at[b.other].X-at[b.shaft].X, at[b.other].Y-at[b.shaft].Y, b.w, b.h) < b.need-noise {
			return false
		}
	}
	for k := range s.bands {
		b := &s.bands[k]
		r := &s.p.Runs[b.run]
		loop := r.between(at[r.From], at[r.To])
		if loop.toPoint(at[b.shaft]) < b.need-noise {
			return false
		}
	}
	for k := range s.bandBodies {
		b := &s.bandBodies[k]
		r, body := &s.p.Runs[b.run], &s.p.Bodies[b.body]
		loop := r.between(at[r.From], at[r.To])
		if loop.toBox(at[body.Shaft], body) < b.need-noise {
			return false
		}
	}
	for k := range s.bandBands {
		b := &s.bandBands[k]
		r, o := &s.p.Runs[b.a], &s.p.Runs[b.b]
		loop, other := r.between(at[r.From], at[r.To]), o.between(at[o.From], at[o.To])
		if loop.toBand(&other) < b.need-noise {
			return false
		}
	}
	return true
}
