package proof

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/layout"
)

// Whether anything can be placed in a box is settled on the hole grid. What the
// rules say, but for those of the frame, is about how the shafts stand to each
// other, so what is searched is the steps from each shaft to the next: a set of
// boxes of steps is ruled out if two shafts must be too near or too far, or if with
// everything in the middle of its box a rule is broken by more than things can
// move; otherwise the widest box is halved. Single steps are put in the frame and
// looked at by the plain check of the layout.

// The most sets of boxes looked at for one claim. Whoever writes a proof soon gives
// up on a large box and cuts it, since two halves are easier; the checker has room
// to spare.
const (
	quickWork = 3_000
	roomWork  = 60_000
)

// steps is the columns and rows that the steps to one shaft may lead.
type steps struct{ x0, x1, y0, y1 int }

type placing struct {
	c       *choice
	box     *box
	problem layout.Problem
	shafts  int
	pitch   mm
	rails   []mm
	drop    [drive.MaxStages + 1]mm    // on rails: how far up each step leads
	height  [drive.MaxStages + 1]mm    // on rails: of each shaft
	rings   [drive.MaxStages + 1][]gap // [j][i]: distances of shafts i < j
	rises   [drive.MaxStages + 1][]gap
	domain  []layout.Rect // where each shaft may be in the frame
	accept  func([]layout.Point) bool
	left    *int
	at      []layout.Point
}

type outcome int

const (
	none    outcome = iota // nothing in the box is accepted
	found                  // in at
	unknown                // the work ran out
)

// place looks for a placement in the box, in any plan, that is accepted.
func (c *choice) place(b *box, work int, accept func(at []layout.Point, lanes plan) bool) ([]layout.Point, plan, outcome) {
	got := none
	for _, lanes := range easiest(c.n.plansFor()) {
		p := placing{c: c, box: b, problem: c.problem(lanes, c.off()), left: &work}
		p.accept = func(at []layout.Point) bool { return accept(at, lanes) }
		switch p.search() {
		case found:
			return p.at, lanes, found
		case unknown:
			got = unknown
		}
	}
	return nil, plan{}, got
}

func (p *placing) search() outcome {
	p.shafts, p.pitch = len(p.problem.Shafts), p.problem.Grid.Pitch
	p.rails = p.problem.Grid.Heights
	p.at = make([]layout.Point, p.shafts)
	p.gather()
	for _, d := range p.domain {
		if d.X0 > d.X1 || d.Y0 > d.Y1 {
			return none
		}
	}
	var s [drive.MaxStages + 1]steps
	for j := 1; j < p.shafts; j++ {
		reach := p.rings[j][j-1].Hi
		a, b := p.domain[j-1], p.domain[j]
		s[j] = steps{x0: p.up(max(b.X0-a.X1, -reach)), x1: p.down(min(b.X1-a.X0, reach)), y0: p.up(max(b.Y0-a.Y1, -reach)), y1: p.down(min(b.Y1-a.Y0, reach))}
	}
	if len(p.rails) == 0 {
		return p.visit(&s)
	}
	for j := range s {
		s[j].y0, s[j].y1 = 0, 0
	}
	return p.chooseRail(0, &s)
}

// chooseRail tries every rail for shaft j and those after it.
func (p *placing) chooseRail(j int, s *[drive.MaxStages + 1]steps) outcome {
	if j == p.shafts {
		return p.visit(s)
	}
	got := none
	for _, y := range p.rails {
		if y < p.domain[j].Y0-noise || y > p.domain[j].Y1+noise {
			continue
		}
		p.height[j] = y
		if j > 0 {
			p.drop[j] = y - p.height[j-1]
		}
		switch p.chooseRail(j+1, s) {
		case found:
			return found
		case unknown:
			got = unknown
		}
	}
	return got
}

const (
	noise mm = 1e-9 // forgives the last bits of sums
	slop  mm = 1e-6 // by which ruling out is laxer than the plain check
)

func (p *placing) up(v mm) int   { return int(math.Ceil(float64(v/p.pitch - slop))) }
func (p *placing) down(v mm) int { return int(math.Floor(float64(v/p.pitch + slop))) }

// gather collects what must hold of two shafts by themselves, and where each may be
// in the frame.
func (p *placing) gather() {
	pr, b := &p.problem, p.box
	far := mm(math.Inf(1))
	for j := range pr.Shafts {
		p.rings[j], p.rises[j] = make([]gap, j), make([]gap, j)
		for i := range j {
			ring := gap{Hi: far}
			if radii, meet := meeting(&pr.Shafts[i], &pr.Shafts[j]); meet {
				ring.Lo = radii + pr.Clearance + 2*pr.Slack
			}
			switch {
			case i == j-1:
				ring = ring.Meet(b.centre[i])
				r := &pr.Runs[i]
				ring.Lo = max(ring.Lo, leastCentre(r)+2*pr.Slack)
			case i == j-2:
				ring = ring.Meet(thirdSide(b.centre[i], b.centre[i+1], b.angle[i]))
			}
			p.rings[j][i] = ring.Grow(slop)
			p.rises[j][i] = gap{Lo: -far, Hi: far}
		}
		p.domain = append(p.domain, p.domainOf(j))
	}
	last := p.shafts - 1
	if p.c.weighted() {
		p.rises[last][last-1] = b.rise.Grow(slop)
	}
	for _, r := range pr.Rises {
		w := &p.rises[r.To][r.From]
		*w = w.Meet(gap{Lo: r.Min, Hi: r.Max}.Grow(slop))
	}
}

func leastCentre(r *layout.Run) mm {
	if r.Crossed {
		return r.FromPitch + r.ToPitch
	}
	return mm(math.Abs(float64(r.FromPitch - r.ToPitch)))
}

// meeting is the largest sum of radii of two things on two shafts that lie in one
// lane.
func meeting(a, b *layout.Shaft) (mm, bool) {
	type thing struct {
		radius mm
		lanes  []int
	}
	things := func(s *layout.Shaft) []thing {
		out := []thing{{s.Radius, s.Lanes}}
		for _, d := range s.Discs {
			out = append(out, thing{d.Radius, []int{d.Lane}})
		}
		return out
	}
	most, meet := mm(0), false
	for _, x := range things(a) {
		for _, y := range things(b) {
			for _, l := range x.lanes {
				for _, m := range y.lanes {
					if l == m {
						most, meet = max(most, x.radius+y.radius), true
					}
				}
			}
		}
	}
	return most, meet
}

// domainOf is where a shaft may be by the rules about it alone.
func (p *placing) domainOf(j int) layout.Rect {
	pr, shaft := &p.problem, &p.problem.Shafts[j]
	z := shaft.Zone
	inside := func(x, y mm) {
		z.X0, z.X1 = max(z.X0, pr.Outline.X0+x), min(z.X1, pr.Outline.X1-x)
		z.Y0, z.Y1 = max(z.Y0, pr.Outline.Y0+y), min(z.Y1, pr.Outline.Y1-y)
	}
	for _, d := range shaft.Discs {
		reach := d.Radius + pr.Slack
		inside(reach-pr.Overhang, reach-pr.Overhang)
		if pr.Ground != nil {
			z.Y0 = max(z.Y0, *pr.Ground+reach+pr.Clearance)
		}
	}
	if j == 0 {
		inside(pr.Bodies[0].HalfWidth+pr.Slack, pr.Bodies[0].HalfHeight+pr.Slack)
	}
	return z
}

// between is where shaft j may be from shaft i by the boxes.
func (p *placing) between(s *[drive.MaxStages + 1]steps, i, j int) layout.Rect {
	var out layout.Rect
	for k := i + 1; k <= j; k++ {
		out.X0, out.X1 = out.X0+mm(s[k].x0)*p.pitch, out.X1+mm(s[k].x1)*p.pitch
		out.Y0, out.Y1 = out.Y0+mm(s[k].y0)*p.pitch+p.drop[k], out.Y1+mm(s[k].y1)*p.pitch+p.drop[k]
	}
	return out
}

// visit looks at a set of boxes of steps, and halves what it cannot rule out. It goes
// in breadth, so that it soon has tried steps of every kind: in depth one set in which
// nothing can be placed, but only in the end, would take all the work.
func (p *placing) visit(whole *[drive.MaxStages + 1]steps) outcome {
	queue := append(p.c.n.space.queue[:0], *whole)
	for at := 0; at < len(queue); at++ {
		if *p.left <= 0 {
			return unknown
		}
		*p.left--
		s := queue[at]
		if !p.possible(&s) || p.clashes(&s) {
			continue
		}
		if p.try(&s) {
			return found
		}
		if first, second, ok := p.halves(&s); ok {
			queue = append(queue, first, second)
			p.c.n.space.queue = queue
		}
	}
	return none
}

// halves cuts a set of boxes where it is widest, the more promising half first; false
// if it is single steps.
func (p *placing) halves(s *[drive.MaxStages + 1]steps) (first, second [drive.MaxStages + 1]steps, ok bool) {
	widest, split, across := 0, 0, false
	for j := 1; j < p.shafts; j++ {
		if w := s[j].x1 - s[j].x0; w > widest {
			widest, split, across = w, j, true
		}
		if h := s[j].y1 - s[j].y0; h > widest {
			widest, split, across = h, j, false
		}
	}
	if widest == 0 {
		return first, second, false
	}
	lower, upper := *s, *s
	if across {
		mid := floorHalf(s[split].x0 + s[split].x1)
		lower[split].x1, upper[split].x0 = mid, mid+1
	} else {
		mid := floorHalf(s[split].y0 + s[split].y1)
		lower[split].y1, upper[split].y0 = mid, mid+1
	}
	// The drive usually runs to the right, and level.
	if !across && s[split].y0+s[split].y1 > 0 {
		return lower, upper, true
	}
	return upper, lower, true
}

func floorHalf(v int) int { return int(math.Floor(float64(v) / 2)) }

// possible holds every two shafts to their distances, rises and domains.
func (p *placing) possible(s *[drive.MaxStages + 1]steps) bool {
	for j := 1; j < p.shafts; j++ {
		if s[j].x0 > s[j].x1 || s[j].y0 > s[j].y1 {
			return false
		}
	}
	for j := 1; j < p.shafts; j++ {
		for i := range j {
			r := p.between(s, i, j)
			nearX, nearY := max(0, r.X0, -r.X1), max(0, r.Y0, -r.Y1)
			farX, farY := max(r.X1, -r.X0), max(r.Y1, -r.Y0)
			ring, rise := p.rings[j][i], p.rises[j][i]
			if nearX*nearX+nearY*nearY > ring.Hi*ring.Hi || ring.Lo > 0 && farX*farX+farY*farY < ring.Lo*ring.Lo ||
				r.Y1 < rise.Lo || r.Y0 > rise.Hi {
				return false
			}
			a, b := p.domain[i], p.domain[j]
			if r.X1 < b.X0-a.X1-slop || r.X0 > b.X1-a.X0+slop || r.Y1 < b.Y0-a.Y1-slop || r.Y0 > b.Y1-a.Y0+slop {
				return false
			}
		}
	}
	return true
}

// clashWithin is how far two neighbours may be off the middle of where they may be
// for it to be worth while asking whether something must clash.
const clashWithin mm = 16

// clashes reports whether a rule about things that meet is broken wherever in the
// boxes the steps lie. Everything is put in the middle of where it may be. The gap
// between two things changes by no more than one of them can move while the other is
// held, so a rule that is broken by more than that is broken throughout. A band moves
// no further than the one of its pulleys that moves most; that is true as long as its
// pulleys have common tangents all the way, which is asked first.
func (p *placing) clashes(s *[drive.MaxStages + 1]steps) bool {
	var half [drive.MaxStages + 1][drive.MaxStages + 1]mm // how far each can be off, the other held
	tangents := true
	p.at[0] = layout.Point{}
	for j := 1; j < p.shafts; j++ {
		for i := range j {
			r := p.between(s, i, j)
			half[i][j] = mm(math.Sqrt(float64((r.X1-r.X0)*(r.X1-r.X0)+(r.Y1-r.Y0)*(r.Y1-r.Y0)))) / 2
			half[j][i] = half[i][j]
			if i == 0 {
				p.at[j] = layout.Point{X: (r.X0 + r.X1) / 2, Y: (r.Y0 + r.Y1) / 2}
			}
			if i == j-1 {
				x, y, least := max(0, r.X0, -r.X1), max(0, r.Y0, -r.Y1), leastCentre(&p.problem.Runs[i])
				tangents = tangents && x*x+y*y > least*least
				if half[i][j] > clashWithin {
					return false
				}
			}
		}
	}
	clash := false
	layout.EachBroken(&p.problem, p.at, func(v layout.Violation) {
		i, j := v.Shafts[0], v.Shafts[1]
		moves, band := mm(math.Inf(1)), true
		switch v.Rule {
		case layout.RuleBody:
			moves, band = half[i][j], false
		case layout.RuleBandShaft, layout.RuleBandBody:
			moves = min(max(half[j][i], half[j][i+1]), half[i][i+1]+half[i][j], half[i][i+1]+half[i+1][j])
		case layout.RuleBandBand:
			moves = min(half[i][i+1]+max(half[i][j], half[i][j+1]), half[j][j+1]+max(half[j][i], half[j][i+1]))
		}
		clash = clash || v.Short > moves+slop && (tangents || !band)
	})
	return clash
}

// try looks at the likeliest steps of the boxes: of each the most level row, and in
// it the column that makes the step as long as the middle of its window.
func (p *placing) try(s *[drive.MaxStages + 1]steps) bool {
	var from [drive.MaxStages + 1]layout.Point // from the first shaft
	d := p.domain[0]
	for j := 1; j < p.shafts; j++ {
		row := min(max(0, s[j].y0), s[j].y1)
		y := mm(row)*p.pitch + p.drop[j]
		length := p.box.centre[j-1].Mid()
		x := math.Sqrt(max(0, float64(length*length-y*y))) / float64(p.pitch)
		if s[j].x0+s[j].x1 < 0 {
			x = -x
		}
		column := min(max(int(math.Round(x)), s[j].x0), s[j].x1)
		from[j] = layout.Point{X: from[j-1].X + mm(column)*p.pitch, Y: from[j-1].Y + y}
		d.X0, d.X1 = max(d.X0, p.domain[j].X0-from[j].X), min(d.X1, p.domain[j].X1-from[j].X)
		d.Y0, d.Y1 = max(d.Y0, p.domain[j].Y0-from[j].Y), min(d.Y1, p.domain[j].Y1-from[j].Y)
	}
	first, last := p.up(d.X0), p.down(d.X1)
	if first > last {
		return false
	}
	start := layout.Point{X: mm((first+last)/2) * p.pitch, Y: p.height[0]}
	if len(p.rails) == 0 {
		low, high := p.up(d.Y0), p.down(d.Y1)
		if low > high {
			return false
		}
		start.Y = mm((low+high)/2) * p.pitch
	}
	for j := range p.shafts {
		p.at[j] = layout.Point{X: start.X + from[j].X, Y: start.Y + from[j].Y}
		if len(p.rails) > 0 {
			p.at[j].Y = p.height[j]
		}
	}
	stands := p.c.holds(p.box, p.at)
	if stands {
		layout.EachBroken(&p.problem, p.at, func(layout.Violation) { stands = false })
	}
	return stands && p.accept(p.at)
}
