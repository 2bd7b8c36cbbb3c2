package layout

import "math"

// window is what the rules say of the distance between two shafts.
type window struct{ least, most mm }

// windows gathers every rule that is about the distance between two shafts:
// discs in one lane, a shaft passing a disc, two shafts side by side, and the
// gaps. Slack narrows each by twice its size, for a hole off at either end.
func windows(p *Problem) [][]window {
	n := len(p.Shafts)
	out := make([][]window, n)
	for i := range out {
		out[i] = make([]window, n)
		for j := range out[i] {
			out[i][j].most = mm(math.Inf(1))
		}
	}
	atLeast := func(i, j int, d mm) {
		out[i][j].least = max(out[i][j].least, d)
		out[j][i].least = out[i][j].least
	}
	apart := p.Clearance + 2*p.Slack
	for i := range n {
		a := &p.Shafts[i]
		for j := range n {
			b := &p.Shafts[j]
			if i == j {
				continue
			}
			for _, d := range a.Discs {
				if size, there := b.sizeIn([]int{d.Lane}, true); there {
					atLeast(i, j, d.Radius+size+apart)
				}
			}
			for _, lane := range a.Lanes {
				if contains(b.Lanes, lane) {
					atLeast(i, j, a.Radius+b.Radius+apart)
				}
			}
		}
	}
	for _, g := range p.Gaps {
		atLeast(g.A, g.B, g.Min+2*p.Slack)
		out[g.A][g.B].most = min(out[g.A][g.B].most, g.Max-2*p.Slack)
		out[g.B][g.A].most = out[g.A][g.B].most
	}
	return out
}

// Place looks for a placement, doing at most budget steps of work. If one exists
// on the grid and the budget lasts it is found; Impossible is only said when
// every point of the grid has been ruled out.
//
// On rails it is a search over boxes; see steps.go for sheet sides. Each shaft has a box of grid points it may be at; a
// set of boxes is ruled out when some pair of shafts cannot be at an allowed
// distance anywhere in their boxes, since then no placement within them can be
// right. Otherwise the largest box is halved and both halves are searched, and
// when every box is down to one point the placement is checked in full. The two
// halves hold between them every point of the box, so nothing is lost.
func Place(p Problem, budget int) ([]Point, Outcome) {
	s := placing{p: &p, pairs: windows(&p), left: budget, at: make([]Point, len(p.Shafts)), heights: p.Grid.Heights}
	if len(s.heights) == 0 {
		for k := 0; mm(k)*p.Grid.Pitch <= p.Outline.Y1+noise; k++ {
			s.heights = append(s.heights, mm(k)*p.Grid.Pitch)
		}
	}
	boxes := make([]box, len(p.Shafts))
	for i := range p.Shafts {
		boxes[i] = s.domain(i)
		if boxes[i].empty() {
			return nil, Impossible
		}
	}
	outcome := Impossible
	if len(p.Grid.Heights) > 0 {
		outcome = s.search(boxes)
	} else {
		outcome = s.searchSteps(boxes)
	}
	if outcome != Placed {
		return nil, outcome
	}
	return s.at, Placed
}

// box is a range of columns and rows of the grid.
type box struct{ x0, x1, y0, y1 int }

func (b box) empty() bool { return b.x0 > b.x1 || b.y0 > b.y1 }

type placing struct {
	p       *Problem
	pairs   [][]window
	heights []mm
	left    int
	at      []Point
}

// domain is the box of points a shaft may be at by the rules that concern it
// alone.
func (s *placing) domain(i int) box {
	p, shaft := s.p, &s.p.Shafts[i]
	z := shaft.Zone
	inside := func(in Rect, x, y mm) {
		z.X0, z.X1 = max(z.X0, in.X0+x), min(z.X1, in.X1-x)
		z.Y0, z.Y1 = max(z.Y0, in.Y0+y), min(z.Y1, in.Y1-y)
	}
	for _, d := range shaft.Discs {
		reach := d.Radius + p.Slack - p.Overhang
		inside(p.Outline, reach, reach)
		if p.Ground != nil {
			z.Y0 = max(z.Y0, *p.Ground+d.Radius+p.Slack+p.Clearance)
		}
	}
	for _, b := range p.Bodies {
		if b.Shaft == i {
			inside(p.Outline, b.HalfWidth+p.Slack, b.HalfHeight+p.Slack)
		}
	}
	out := box{
		x0: int(math.Ceil(float64((z.X0 - noise) / p.Grid.Pitch))), x1: int(math.Floor(float64((z.X1 + noise) / p.Grid.Pitch))),
		y0: len(s.heights), y1: -1,
	}
	for k, y := range s.heights {
		if z.Y0-noise <= y && y <= z.Y1+noise {
			out.y0, out.y1 = min(out.y0, k), max(out.y1, k)
		}
	}
	return out
}

func (s *placing) search(boxes []box) Outcome {
	if s.left--; s.left < 0 {
		return GaveUp
	}
	if s.hopeless(boxes) {
		return Impossible
	}
	widest, i, across := 0, 0, true
	for k, b := range boxes {
		if b.x1-b.x0 > widest {
			widest, i, across = b.x1-b.x0, k, true
		}
		if b.y1-b.y0 > widest {
			widest, i, across = b.y1-b.y0, k, false
		}
	}
	if widest == 0 {
		for k, b := range boxes {
			s.at[k] = Point{mm(b.x0) * s.p.Grid.Pitch, s.heights[b.y0]}
		}
		if len(Check(*s.p, s.at)) == 0 {
			return Placed
		}
		return Impossible
	}
	whole := boxes[i]
	defer func() { boxes[i] = whole }()
	for _, half := range whole.halves(across) {
		boxes[i] = half
		if got := s.search(boxes); got != Impossible {
			return got
		}
	}
	return Impossible
}

func (b box) halves(across bool) [2]box {
	lower, upper := b, b
	if across {
		mid := b.x0 + (b.x1-b.x0)/2
		lower.x1, upper.x0 = mid, mid+1
	} else {
		mid := b.y0 + (b.y1-b.y0)/2
		lower.y1, upper.y0 = mid, mid+1
	}
	return [2]box{lower, upper}
}

// hopeless reports whether some pair of shafts can nowhere in their boxes be as
// far apart as the rules say.
func (s *placing) hopeless(boxes []box) bool {
	pitch := float64(s.p.Grid.Pitch)
	for i, a := range boxes {
		for j, b := range boxes[:i] {
			nearX := float64(max(0, a.x0-b.x1, b.x0-a.x1)) * pitch
			farX := float64(max(a.x1-b.x0, b.x1-a.x0)) * pitch
			nearY := float64(max(0, s.heights[a.y0]-s.heights[b.y1], s.heights[b.y0]-s.heights[a.y1]))
			farY := float64(max(s.heights[a.y1]-s.heights[b.y0], s.heights[b.y1]-s.heights[a.y0]))
			w := s.pairs[i][j]
			if math.Hypot(farX, farY) < float64(w.least)-noise || math.Hypot(nearX, nearY) > float64(w.most)+noise {
				return true
			}
		}
	}
	for _, r := range s.p.Rises {
		from, to := boxes[r.From], boxes[r.To]
		if s.heights[to.y1]-s.heights[from.y0] < r.Min-noise || s.heights[to.y0]-s.heights[from.y1] > r.Max+noise {
			return true
		}
	}
	return false
}
