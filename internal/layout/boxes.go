package layout

import (
	"math"
	"math/bits"
)

// The search over every point of the grid.
//
// On an even grid every rule but those of zone, outline and ground is about how
// shafts stand to each other, so the whole drive can be shifted without changing
// them. The search is therefore over steps, from each shaft to the next, and not
// over places: what fails once is not tried again at every place in the frame.
// On rails the heights are chosen before, and the steps are only sideways.
//
// It starts from the box of all steps that could be. A set of boxes, one for each
// step, is narrowed to what the windows, the ring of grid points each step may
// lead to, and the frame leave of it (narrow), and ruled out if nothing is left
// or if a band must clash with something wherever in the boxes the steps lie
// (mustClash). Otherwise the widest box is halved and both halves searched; later
// steps and widths across count for more, which took a third to a fifth of the work
// on the hard cases measured. When every box is down to one step the rules are
// checked exactly.
//
// Why nothing is lost: narrow and mustClash only discard steps that break some
// rule by more than rounding could account for; two halves hold between them all
// of a box; a single combination of steps is checked at one place in the frame,
// and is as good at any other. The domains need no more than that their pairwise
// differences allow the steps: ranges along a line that meet two by two have a
// place common to all (Helly), so a set of single steps that passes for all pairs
// has a place for the first shaft.

// boxes has the range of each step, by the shaft it leads to.
type boxes [MaxShafts]span

// chord is what a step's ring leaves of a row: columns from inner to outer, on
// either side; none if outer is below 0.
type chord struct{ inner, outer int }

func (s *search) searchSteps() Outcome {
	var b boxes
	s.leadToMate()
	for j := 1; j < s.shafts; j++ {
		b[j] = s.pairOf(s.parent[j], j).limit
	}
	if s.p.Any {
		s.leaveOutMirrored(&b)
	} else {
		s.listRings()
	}
	if !s.p.Any {
		return s.visit(&b)
	}
	return s.visitInPhases(&b)
}

// visitInPhases looks at level steps first for a while, then at steep ones, and then to the end,
// heights first: where long bands run to and fro in a flat frame these tell what is in a strand's
// way (TestToAndFroInAFlatFrame), and what lies across says little.
// Level first is tidier and mostly soon done. But shafts that must be folded into a low frame
// hardly ever stand level: where that took longest (20,000 to 330,000 boxes; one is
// TestFoldedInALowFrame) they were found among the first ten to two thousand steep ones.
func (s *search) visitInPhases(b *boxes) Outcome {
	work := s.left
	for _, phase := range phases {
		s.left, s.steep, s.upFirst = min(phase.boxes, work), phase.steep, phase.upFirst
		work -= s.left
		got := s.visit(b)
		if work += s.left; got != GaveUp || work == 0 {
			s.left = work
			return got
		}
	}
	return GaveUp
}

// phases are how many boxes are looked at, whether steep steps come first, and how much more boxes
// count up than across. They are tried out
// (scripts/performance ordinary): nothing depends on them but time.
var phases = [...]struct {
	boxes   int
	steep   bool
	upFirst int
}{{1000, false, 1}, {4000, true, 1}, {math.MaxInt, false, 16}}

// listRings looks at rings row by row.
func (s *search) listRings() {
	total := 0
	for k := range s.pairs[:s.count] {
		if w := &s.pairs[k]; s.byRows(w) {
			total += w.rows()
		}
	}
	if total > len(s.chords) {
		s.chords = make([]chord, total)
	}
	left := s.chords
	for k := range s.pairs[:s.count] {
		w := &s.pairs[k]
		if !s.byRows(w) {
			continue
		}
		w.ring, left = left[:w.rows()], left[w.rows():]
		for row := range w.ring {
			w.ring[row] = s.chordAt(w, row)
		}
	}
}

// leaveOutMirrored leaves of the first step one half, where the other is its mirror image and
// with it all that may follow.
func (s *search) leaveOutMirrored(b *boxes) {
	across, up := true, len(s.rails) == 0 && len(s.p.Steeps) == 0
	first := s.domain[0]
	if s.p.Mate != nil {
		across = s.mate.x0+s.mate.x1 == first.x0+first.x1
	}
	for j := 1; j < s.shafts; j++ {
		d := s.domain[j]
		across = across && d.x0+d.x1 == first.x0+first.x1
		up = up && d.y0+d.y1 == first.y0+first.y1
	}
	for k := range s.pairs[:s.count] {
		up = up && s.pairs[k].riseMin == -s.pairs[k].riseMax
	}
	if across && s.shafts > 1 {
		b[1].x0 = max(b[1].x0, 0)
	}
	if up && s.shafts > 1 {
		b[1].y0 = max(b[1].y0, 0)
	}
}

// byRows reports whether the ring of a pair is worth looking at row by row: of
// every step, since it is what the search decides on, and of pairs whose window
// is so narrow that a small box it crosses may well have no grid point in it.
func (s *search) byRows(w *pair) bool {
	return w.i == s.parent[w.j] || w.far-w.near < thin*s.pitch
}

// acrossFirst is how much wider a box counts across than up for the tidiest places, which hang on
// it. For any places it counts the same, which is quicker: strands mostly lie across.
const acrossFirst = 2

// thin is where looking at grid points begins to pay (measured).
const thin = 3

// rows is how many rows up or down the pair may be apart, and 0.
func (w *pair) rows() int { return max(w.limit.y1, -w.limit.y0) + 1 }

// chordAt is what a pair's window leaves of a row.
func (s *search) chordAt(w *pair, row int) chord {
	y := w.base + mm(row)*s.pitch
	outer := w.far + slop
	if outer*outer < y*y {
		return chord{outer: -1}
	}
	c := chord{outer: int(math.Sqrt(float64(outer*outer-y*y)) / float64(s.pitch))}
	if inner := w.near - slop; inner > 0 && inner*inner > y*y {
		c.inner = int(math.Ceil(math.Sqrt(float64(inner*inner-y*y)) / float64(s.pitch)))
	}
	return c
}

func (s *search) visit(whole *boxes) Outcome {
	if s.left <= 0 {
		return GaveUp
	}
	s.left--
	b := *whole
	if !s.narrow(&b) {
		return Impossible
	}
	widest, split, across := 0, 0, true
	wider, higher := acrossFirst, 1
	if s.p.Any {
		wider, higher = 1, s.upFirst
	}
	for j := 1; j < s.shafts; j++ {
		if w := wider * j * (b[j].x1 - b[j].x0); w > widest {
			widest, split, across = w, j, true
		}
		if h := higher * j * (b[j].y1 - b[j].y0); h > widest {
			widest, split, across = h, j, false
		}
	}
	if widest > 0 && s.mustClash(&b) {
		return Impossible
	}
	// The likeliest steps of the boxes may do, long before they are down to one.
	if s.likeliest(&b) {
		return Placed
	}
	if widest == 0 || s.p.Mate != nil && !s.mayMate(&b) {
		return Impossible
	}
	near, away := b, b
	if n, a := &near[split], &away[split]; across {
		mid := n.x0 + (n.x1-n.x0)/2
		n.x1, a.x0 = mid, mid+1
		if s.aim(split, min(max(0, n.y0), n.y1)) > (mm(mid)+0.5)*s.pitch {
			*n, *a = *a, *n
		}
	} else {
		mid := n.y0 + (n.y1-n.y0)/2
		n.y1, a.y0 = mid, mid+1
		if mid < 0 != s.steep { // level is better
			*n, *a = *a, *n
		}
	}
	if got := s.visit(&near); got != Impossible {
		return got
	}
	return s.visit(&away)
}

// aim is how far to the right the step to shaft j would best lead in a row: so
// that it is as long as preferred, and upright where the row is beyond that.
func (s *search) aim(j, row int) mm {
	y := s.pairOf(s.parent[j], j).base + mm(row)*s.pitch
	return mm(math.Sqrt(float64(max(0, s.prefer[j]*s.prefer[j]-y*y))))
}

// likeliest tries, of each box, the grid point of its ring in the most level row
// nearest to the preferred length. With boxes of one step it tries just that.
func (s *search) likeliest(b *boxes) bool {
	var st steps
	for j := 1; j < s.shafts; j++ {
		box := &b[j]
		y := min(max(0, box.y0), box.y1)
		c := s.chordAt(s.pairOf(s.parent[j], j), max(y, -y))
		x := min(max(int(math.Round(float64(s.aim(j, y)/s.pitch))), box.x0, -c.outer), box.x1, c.outer)
		if -c.inner < x && x < c.inner {
			if x = c.inner; x > box.x1 {
				x = -c.inner
			}
		}
		if x < box.x0 || x > box.x1 || max(x, -x) > c.outer {
			return false
		}
		st[j].x, st[j].y = x, y
	}
	return s.settle(&st)
}

// sum is where w.j may be from w.i by the boxes.
func (b *boxes) sum(w *pair) span {
	var out span
	for set := w.plus; set != 0; set &= set - 1 {
		v := &b[bits.TrailingZeros32(set)+1]
		out.x0, out.x1, out.y0, out.y1 = out.x0+v.x0, out.x1+v.x1, out.y0+v.y0, out.y1+v.y1
	}
	for set := w.minus; set != 0; set &= set - 1 {
		v := &b[bits.TrailingZeros32(set)+1]
		out.x0, out.x1, out.y0, out.y1 = out.x0-v.x1, out.x1-v.x0, out.y0-v.y1, out.y1-v.y0
	}
	return out
}

// mustClash reports whether some band comes too near something wherever in the
// boxes the steps lie. The distance of a band to a thing is measured with
// everything in the middle of its box. One of the band's shafts held, it changes by
// no more than its other shaft and the thing can be off their middles (band.go).
func (s *search) mustClash(b *boxes) bool {
	for k := range s.bands {
		r := &s.bands[k]
		run := &s.p.Runs[r.run]
		if v, ok := s.view(b, run, r.need, r.shaft, r.shaft); ok && v.loop.toPoint(v.things[0])+v.off < r.need-slop {
			return true
		}
		if s.strandClash(b, run, r.shaft, r.need-slop) {
			return true
		}
	}
	for k := range s.bandBodies {
		r := &s.bandBodies[k]
		run, body := &s.p.Runs[r.run], &s.p.Bodies[r.body]
		// A band right through a body is 0 from it, so only small boxes tell.
		if v, ok := s.view(b, run, r.need, body.Shaft, body.Shaft); ok && v.loop.toBox(v.things[0], body)+v.off < r.need-slop {
			return true
		}
		// What is so near to its middle is as near to its side.
		if s.strandClash(b, run, body.Shaft, r.need+min(body.HalfWidth, body.HalfHeight)-slop) {
			return true
		}
	}
	for k := range s.bandBands {
		r := &s.bandBands[k]
		run, other := &s.p.Runs[r.a], &s.p.Runs[r.b]
		v, ok := s.view(b, run, r.need, other.From, other.To)
		if !ok || !s.runsAll(b, other) {
			continue
		}
		second := other.between(v.things[0], v.things[1])
		if v.loop.toBand(&second)+v.off < r.need-slop {
			return true
		}
	}
	return false
}

// view is a band and two shafts in the middles of their boxes, seen from that shaft
// of the band from which they are best known, and how far off all may be together.
type view struct {
	loop   band
	things [2]Point
	off    mm
}

// view is false if so much is off that nothing can be said.
func (s *search) view(b *boxes, run *Run, need mm, first, second int) (view, bool) {
	to, off := s.middle(b, run.From, run.To)
	if off >= need || !s.runsAll(b, run) {
		return view{}, false
	}
	seen := func(from int) (things [2]Point, off mm) {
		var off2 mm
		things[0], off = s.middle(b, from, first)
		things[1], off2 = s.middle(b, from, second)
		return things, max(off, off2)
	}
	things, offThings := seen(run.From)
	var origin Point
	if offThings > 0 {
		if t, o := seen(run.To); o < offThings {
			things, offThings = t, o
			origin, to = Point{-to.X, -to.Y}, Point{}
		}
	}
	if off += offThings; off >= need {
		return view{}, false
	}
	return view{run.between(origin, to), things, off}, true
}

// runsAll reports whether the run's pitch circles have their tangents all through
// the boxes.
func (s *search) runsAll(b *boxes, r *Run) bool {
	w := s.pairOf(r.From, r.To)
	sum := b.sum(w)
	x, _ := spread(sum.x0, sum.x1, s.pitch, 0)
	y, _ := spread(sum.y0, sum.y1, s.pitch, w.base)
	least := r.leastCentre()
	return x*x+y*y > least*least
}

// middle is the middle of where shaft j may be from shaft i, and how far off it
// may be.
func (s *search) middle(b *boxes, i, j int) (Point, mm) {
	if i == j {
		return Point{}, 0
	}
	w := s.pairOf(i, j)
	sum := b.sum(w)
	at := Point{mm(sum.x0+sum.x1) / 2 * s.pitch, mm(sum.y0+sum.y1)/2*s.pitch + w.base}
	dx, dy := mm(sum.x1-sum.x0)/2*s.pitch, mm(sum.y1-sum.y0)/2*s.pitch
	if i > j {
		at = Point{-at.X, -at.Y}
	}
	return at, mm(math.Sqrt(float64(dx*dx + dy*dy)))
}
