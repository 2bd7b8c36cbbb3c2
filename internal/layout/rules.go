package layout

import (
	"math"
	"slices"
)

// slop is by how much the search's ruling out is laxer than Check, in mm, so that
// rounding can never rule out what Check would pass. What is left is checked
// exactly.
const slop mm = 1e-6

// far is further than any frame is long; it stands for no limit.
const far mm = 1e7

const maxPairs = MaxShafts * (MaxShafts - 1) / 2

// span is a range of columns and rows of the grid.
type span struct{ x0, x1, y0, y1 int }

func (b span) empty() bool { return b.x0 > b.x1 || b.y0 > b.y1 }

func (b span) meet(o span) span {
	return span{max(b.x0, o.x0), min(b.x1, o.x1), max(b.y0, o.y0), min(b.y1, o.y1)}
}

// pair is all that the rules say of two shafts i < j by themselves.
type pair struct {
	i, j        int
	least, most mm // window on their distance, as Check has it
	prefer      mm
	// near and far are the window as the triangle inequality leaves it.
	near, far        mm
	riseMin, riseMax mm // window on how far j stands above i
	// plus and minus are the steps (bit k for the step to shaft k+1) that lead
	// from i to j, forwards and backwards.
	plus, minus uint32
	// limit is what j may be from i, in columns and rows.
	limit span
	// base is how far j is above i when the step has no rows: on rails.
	base mm
	// ring is what the window leaves of each row, by its distance from the middle
	// one; nil if it is not looked at row by row.
	ring []chord
}

// The rules about a motor's body or a band. need is how much must be between
// the body's side or the band's middle line and the middle of the thing.
type (
	bodyKeep struct { // another shaft or body about shaft, with a body of these half sizes
		shaft, other int
		w, h, need   mm
	}
	bandKeep struct {
		run, shaft int
		need       mm
	}
	bandBodyKeep struct {
		run, body int
		need      mm
	}
	bandBandKeep struct {
		a, b int
		need mm
	}
)

// search is a problem made ready, and the state of the search for its places.
type search struct {
	p      *Problem
	shafts int
	pitch  mm
	rails  []mm            // heights in rising order; none on an even grid
	domain [MaxShafts]span // where each shaft may be by the rules about it alone; rows are rails if there are any
	pairs  [maxPairs]pair
	count  int            // of pairs
	parent [MaxShafts]int // the shaft from which each is reached
	prefer [MaxShafts]mm  // how long the step to each should be

	bodies     []bodyKeep
	bands      []bandKeep
	bandBodies []bandBodyKeep
	bandBands  []bandBandKeep

	mate    mateColumns
	chords  []chord          // room for the rings of pairs
	level   [MaxShafts]int   // the rail of each shaft
	left    int              // work allowed
	steep   bool             // steep steps are tried before level ones
	upFirst int              // how much more boxes count up than across, where any places will do
	at      [MaxShafts]Point // the places found
}

func (s *search) pairOf(i, j int) *pair {
	if i > j {
		i, j = j, i
	}
	return &s.pairs[j*(j-1)/2+i]
}

// makeReady gathers the rules; false if some of them can never hold together.
func (s *search) makeReady() bool {
	if !s.findDomains() {
		return false
	}
	s.gatherPairs()
	if !s.gatherBodies() || !s.gatherBands() {
		return false
	}
	return s.tighten() && s.chain()
}

// findDomains works out where each shaft may be by the rules about it alone; false if
// one has no place.
func (s *search) findDomains() bool {
	if !s.findGrid() {
		return false
	}
	for i := range s.shafts {
		if s.domain[i] = s.domainOf(i); s.domain[i].empty() {
			return false
		}
	}
	return true
}

// findGrid counts the shafts and puts the rails in order; false without a grid.
func (s *search) findGrid() bool {
	p := s.p
	s.shafts, s.pitch = len(p.Shafts), p.Grid.Pitch
	if !(s.pitch > 0) {
		return false
	}
	if len(p.Grid.Heights) > 0 {
		s.rails = p.Grid.Heights
		if !slices.IsSorted(s.rails) {
			s.rails = slices.Clone(s.rails)
			slices.Sort(s.rails)
		}
	}
	return true
}

// domainOf is where a shaft may be by the rules that concern it alone.
func (s *search) domainOf(i int) span {
	p, shaft := s.p, &s.p.Shafts[i]
	z := shaft.Zone
	within := func(x, y mm) {
		z.X0, z.X1 = max(z.X0, p.Outline.X0+x), min(z.X1, p.Outline.X1-x)
		z.Y0, z.Y1 = max(z.Y0, p.Outline.Y0+y), min(z.Y1, p.Outline.Y1-y)
	}
	for k := range shaft.Discs {
		reach := shaft.Discs[k].Radius + p.Slack
		within(reach-p.Overhang, reach-p.Overhang)
		if p.Ground != nil {
			z.Y0 = max(z.Y0, *p.Ground+reach+p.Clearance)
		}
	}
	for k := range p.Bodies {
		if b := &p.Bodies[k]; b.Shaft == i {
			within(b.HalfWidth+p.Slack, b.HalfHeight+p.Slack)
		}
	}
	mated := p.Mate != nil && i == len(p.Shafts)-1
	if mated {
		z.Y0, z.Y1 = max(z.Y0, p.Mate.Zone.Y0), min(z.Y1, p.Mate.Zone.Y1)
	}
	d := span{x0: s.upTo(z.X0 - noise), x1: s.downTo(z.X1 + noise)}
	if mated {
		s.besideMate(&d)
	}
	if len(s.rails) == 0 {
		d.y0, d.y1 = s.upTo(z.Y0-noise), s.downTo(z.Y1+noise)
		return d
	}
	d.y0, d.y1 = len(s.rails), -1
	for k, y := range s.rails {
		if z.Y0-noise <= y && y <= z.Y1+noise {
			d.y0, d.y1 = min(d.y0, k), k
		}
	}
	return d
}

// upTo and downTo are the first column at or beyond v and the last at or before.
func (s *search) upTo(v mm) int   { return int(math.Ceil(float64(min(max(v, -far), far) / s.pitch))) }
func (s *search) downTo(v mm) int { return int(math.Floor(float64(min(max(v, -far), far) / s.pitch))) }

// gatherPairs collects the rules about the distance and rise of two shafts.
func (s *search) gatherPairs() {
	p := s.p
	both := 2 * p.Slack
	for j := range s.shafts {
		for i := range j {
			w := s.pairOf(i, j)
			*w = pair{i: i, j: j, most: far, riseMin: -far, riseMax: far}
			if radii, meet := p.Shafts[j].radiiBeside(&p.Shafts[i]); meet {
				w.least = radii + p.Clearance + both
			}
			s.count++
		}
	}
	for k := range p.Gaps {
		g := &p.Gaps[k]
		w := s.pairOf(g.A, g.B)
		w.least, w.most = max(w.least, g.Min+both), min(w.most, g.Max-both)
		if g.Prefer != 0 {
			w.prefer = g.Prefer
		}
	}
	for k := range p.Rises {
		r := &p.Rises[k]
		w := s.pairOf(r.From, r.To)
		lo, hi := r.Min, r.Max
		if r.From > r.To {
			lo, hi = -hi, -lo
		}
		w.riseMin, w.riseMax = max(w.riseMin, lo), min(w.riseMax, hi)
	}
}

// gatherBodies collects the rules about motors' bodies.
func (s *search) gatherBodies() bool {
	p := s.p
	apart := p.Clearance + 2*p.Slack
	for k := range p.Bodies {
		b := &p.Bodies[k]
		for i := range p.Shafts {
			if radius, there := p.Shafts[i].radiusIn(b.Lanes); there && i != b.Shaft {
				s.bodies = append(s.bodies, bodyKeep{b.Shaft, i, b.HalfWidth, b.HalfHeight, radius + apart})
			}
		}
		for j := range p.Bodies[:k] {
			o := &p.Bodies[j]
			if !common(b.Lanes, o.Lanes) {
				continue
			}
			if o.Shaft == b.Shaft && apart > noise {
				return false
			}
			s.bodies = append(s.bodies, bodyKeep{b.Shaft, o.Shaft, b.HalfWidth + o.HalfWidth, b.HalfHeight + o.HalfHeight, apart})
		}
	}
	return true
}

// gatherBands collects the rules about bands. What they say of the pitch circles
// alone are rules about two shafts, and can rule out much more, sooner.
func (s *search) gatherBands() bool {
	p := s.p
	apart := p.Clearance + 2*p.Slack
	atLeast := func(i, j int, d mm) bool {
		if i == j {
			return d <= noise
		}
		w := s.pairOf(i, j)
		w.least = max(w.least, d)
		return true
	}
	for k := range p.Runs {
		r := &p.Runs[k]
		if !atLeast(r.From, r.To, r.leastCentre()+2*p.Slack) {
			return false
		}
		lane := [1]int{r.Lane}
		for i := range p.Shafts {
			radius, there := p.Shafts[i].radiusIn(lane[:])
			if !there || i == r.From || i == r.To {
				continue
			}
			need := radius + r.HalfBand + apart
			s.bands = append(s.bands, bandKeep{k, i, need})
			atLeast(r.From, i, r.FromPitch+need)
			atLeast(r.To, i, r.ToPitch+need)
		}
		for j := range p.Bodies {
			b := &p.Bodies[j]
			if !slices.Contains(b.Lanes, r.Lane) {
				continue
			}
			need := r.HalfBand + apart
			if (b.Shaft == r.From && r.FromPitch+need > noise) || (b.Shaft == r.To && r.ToPitch+need > noise) {
				return false // the pulley is inside the motor
			}
			s.bandBodies = append(s.bandBodies, bandBodyKeep{k, j, need})
			if b.Shaft != r.From {
				s.bodies = append(s.bodies, bodyKeep{b.Shaft, r.From, b.HalfWidth, b.HalfHeight, r.FromPitch + need})
			}
			if b.Shaft != r.To {
				s.bodies = append(s.bodies, bodyKeep{b.Shaft, r.To, b.HalfWidth, b.HalfHeight, r.ToPitch + need})
			}
		}
		for j := range p.Runs[:k] {
			o := &p.Runs[j]
			if o.Lane != r.Lane {
				continue
			}
			need := r.HalfBand + o.HalfBand + apart
			s.bandBands = append(s.bandBands, bandBandKeep{k, j, need})
			if !atLeast(r.From, o.From, r.FromPitch+o.FromPitch+need) || !atLeast(r.From, o.To, r.FromPitch+o.ToPitch+need) ||
				!atLeast(r.To, o.From, r.ToPitch+o.FromPitch+need) || !atLeast(r.To, o.To, r.ToPitch+o.ToPitch+need) {
				return false // both bands on one shaft, in one lane
			}
		}
	}
	return true
}

// tighten draws from the windows what the triangle inequality says of each other
// pair; false if some window is empty or out of the frame's reach.
func (s *search) tighten() bool {
	pairs := s.pairs[:s.count]
	for k := range pairs {
		w := &pairs[k]
		w.near, w.far = w.least, min(w.most, s.farthest(w.i, w.j))
	}
	for range 2 { // more could follow for many shafts; this finds what matters
		s.apartByTurns()
		for via := range s.shafts {
			for k := range pairs {
				w := &pairs[k]
				if w.i == via || w.j == via {
					continue
				}
				a, b := s.pairOf(w.i, via), s.pairOf(via, w.j)
				w.far = min(w.far, a.far+b.far)
				w.near = max(w.near, a.near-b.far, b.near-a.far)
			}
		}
	}
	for k := range pairs {
		w := &pairs[k]
		if w.near > w.far+slop || w.riseMin > w.riseMax+slop {
			return false
		}
		a, b := s.domain[w.i], s.domain[w.j]
		reach := s.downTo(w.far + slop)
		w.limit = span{x0: max(b.x0-a.x1, -reach), x1: min(b.x1-a.x0, reach)}
		if len(s.rails) == 0 {
			w.limit.y0 = max(b.y0-a.y1, -reach, s.upTo(w.riseMin-slop))
			w.limit.y1 = min(b.y1-a.y0, reach, s.downTo(w.riseMax+slop))
		}
		if w.limit.empty() {
			return false
		}
	}
	return true
}

// farthest is the furthest that two shafts can be apart in their domains.
func (s *search) farthest(i, j int) mm {
	a, b := s.domain[i], s.domain[j]
	x := mm(max(b.x1-a.x0, a.x1-b.x0)) * s.pitch
	up, down := s.rises(i, j)
	y := max(up, -down)
	return mm(math.Sqrt(float64(x*x+y*y))) + noise
}

// rises is the most and the least that shaft j can stand above i in their domains.
func (s *search) rises(i, j int) (most, least mm) {
	a, b := s.domain[i], s.domain[j]
	if len(s.rails) > 0 {
		return s.rails[b.y1] - s.rails[a.y0], s.rails[b.y0] - s.rails[a.y1]
	}
	return mm(b.y1-a.y0) * s.pitch, mm(b.y0-a.y1) * s.pitch
}

// chain settles from which earlier shaft each is reached: the one with the
// narrowest ring of possible places about it. Steps along the chain are what the
// search decides on, and every pair is a sum of them.
func (s *search) chain() bool {
	for j := 1; j < s.shafts; j++ {
		best := mm(math.Inf(1))
		for i := j - 1; i >= 0; i-- {
			w := s.pairOf(i, j)
			if ring := w.far*w.far - max(0, w.near)*max(0, w.near); ring < best {
				best, s.parent[j] = ring, i
			}
		}
		if len(s.p.Turns) > 0 { // they are about steps from one shaft to the next
			s.parent[j] = j - 1
		}
		w := s.pairOf(s.parent[j], j)
		length := w.prefer
		if length == 0 {
			length = (max(0, w.near) + w.far) / 2
		}
		s.prefer[j] = min(max(length, w.near), w.far)
	}
	for k := range s.pairs[:s.count] {
		w := &s.pairs[k]
		for i, j := w.i, w.j; i != j; {
			if j > i {
				w.plus |= 1 << (j - 1)
				j = s.parent[j]
			} else {
				w.minus |= 1 << (i - 1)
				i = s.parent[i]
			}
		}
	}
	return true
}
