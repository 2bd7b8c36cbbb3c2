package layout

import (
	"fmt"
	"math"
	"slices"
)

// noise forgives the last bits of sums and square roots.
const noise mm = 1e-9

// The rules, as a Violation names them.
const (
	RuleGrid       = "a hole is off the grid"
	RuleZone       = "a hole is outside its zone"
	RuleOutline    = "a pulley reaches outside the frame"
	RuleGround     = "a pulley is too near the ground"
	RuleBodyFrame  = "the motor's body reaches outside the frame"
	RuleApart      = "shafts or their pulleys are too near each other"
	RuleGapMin     = "shafts are nearer than their window"
	RuleGapMax     = "shafts are further apart than their window"
	RuleRise       = "one shaft is not as far above the other as asked"
	RuleTurn       = "the way from shaft to shaft bends too far"
	RuleSteep      = "one shaft does not stand steeply enough above the other"
	RuleBody       = "a shaft or pulley is too near the motor's body"
	RuleBodies     = "two motors are too near each other"
	RuleBandRuns   = "the pulleys are too near each other for the band to run"
	RuleBandShaft  = "a band is too near a shaft or pulley"
	RuleBandBody   = "a band is too near the motor's body"
	RuleBandBand   = "two bands are too near each other"
	RuleMate       = "there is no hole for a second axle"
	RuleHolesGiven = "there is not one hole for each shaft"
)

// Violation is a rule that a placement breaks.
type Violation struct {
	Rule   string
	Shafts [2]int // for a band its first shaft, with what it meets; twice the same for a rule about one
	Short  mm     // by how much; 0 for an angle
}

func (v Violation) String() string {
	return fmt.Sprintf("%s (shafts %d and %d, by %.2f mm)", v.Rule, v.Shafts[0], v.Shafts[1], float64(v.Short))
}

// Check measures every rule at finished places, the plain way, and lists those
// that are broken; none means that the placement stands.
func Check(p Problem, at []Point) []Violation {
	var out []Violation
	EachBroken(&p, at, func(v Violation) { out = append(out, v) })
	return out
}

// EachBroken is Check for those who ask often: it hands over each broken rule.
func EachBroken(p *Problem, at []Point, broken func(Violation)) {
	need := func(rule string, i, j int, have, least mm) {
		if !(have >= least-noise) {
			broken(Violation{rule, [2]int{i, j}, least - have})
		}
	}
	if len(at) != len(p.Shafts) {
		broken(Violation{Rule: RuleHolesGiven})
		return
	}
	both := 2 * p.Slack // for what depends on two holes
	apart := p.Clearance + both

	for i := range p.Shafts {
		s, c := &p.Shafts[i], at[i]
		need(RuleGrid, i, i, 0, p.Grid.off(c))
		need(RuleZone, i, i, s.Zone.inside(c), 0)
		for _, d := range s.Discs {
			need(RuleOutline, i, i, p.Outline.inside(c)+p.Overhang, d.Radius+p.Slack)
			if p.Ground != nil {
				need(RuleGround, i, i, c.Y-*p.Ground, d.Radius+p.Clearance+p.Slack)
			}
		}
		for j := range i {
			if radii, meet := s.radiiBeside(&p.Shafts[j]); meet {
				need(RuleApart, i, j, distance(c, at[j]), radii+apart)
			}
		}
	}
	for _, g := range p.Gaps {
		d := distance(at[g.A], at[g.B])
		need(RuleGapMin, g.A, g.B, d, g.Min+both)
		need(RuleGapMax, g.A, g.B, g.Max-both, d)
	}
	for _, r := range p.Rises {
		rise := at[r.To].Y - at[r.From].Y
		need(RuleRise, r.From, r.To, rise, r.Min)
		need(RuleRise, r.From, r.To, r.Max, rise)
	}
	for k := range p.Turns {
		if t := &p.Turns[k]; !t.Holds(at) {
			broken(Violation{RuleTurn, [2]int{t.A, t.C}, 0})
		}
	}
	for k := range p.Steeps {
		if t := &p.Steeps[k]; !t.Holds(at) {
			broken(Violation{RuleSteep, [2]int{t.From, t.To}, 0})
		}
	}
	for k := range p.Bodies {
		b := &p.Bodies[k]
		c := at[b.Shaft]
		sides := Rect{p.Outline.X0 + b.HalfWidth, p.Outline.Y0 + b.HalfHeight, p.Outline.X1 - b.HalfWidth, p.Outline.Y1 - b.HalfHeight}
		need(RuleBodyFrame, b.Shaft, b.Shaft, sides.inside(c), p.Slack)
		for i := range p.Shafts {
			if radius, there := p.Shafts[i].radiusIn(b.Lanes); there && i != b.Shaft {
				need(RuleBody, i, b.Shaft, boxToPoint(c, b, at[i]), radius+apart)
			}
		}
		for j := range p.Bodies[:k] {
			if o := &p.Bodies[j]; common(b.Lanes, o.Lanes) {
				to := at[o.Shaft]
				need(RuleBodies, b.Shaft, o.Shaft, beyond(to.X-c.X, to.Y-c.Y, b.HalfWidth+o.HalfWidth, b.HalfHeight+o.HalfHeight), apart)
			}
		}
	}
	for k := range p.Runs {
		r := &p.Runs[k]
		need(RuleBandRuns, r.From, r.To, distance(at[r.From], at[r.To]), r.leastCentre()+both)
		loop := r.between(at[r.From], at[r.To])
		for i := range p.Shafts {
			if radius, there := p.Shafts[i].radiusIn([]int{r.Lane}); there && i != r.From && i != r.To {
				need(RuleBandShaft, r.From, i, loop.toPoint(at[i]), radius+r.HalfBand+apart)
			}
		}
		for j := range p.Bodies {
			if b := &p.Bodies[j]; slices.Contains(b.Lanes, r.Lane) {
				need(RuleBandBody, r.From, b.Shaft, loop.toBox(at[b.Shaft], b), r.HalfBand+apart)
			}
		}
		for j := range p.Runs[:k] {
			if o := &p.Runs[j]; o.Lane == r.Lane {
				other := o.between(at[o.From], at[o.To])
				need(RuleBandBand, r.From, o.From, loop.toBand(&other), r.HalfBand+o.HalfBand+apart)
			}
		}
	}
	if p.Mate != nil && len(Mates(p, at)) == 0 {
		last := len(at) - 1
		broken(Violation{RuleMate, [2]int{last, last}, 0})
	}
}

// inside is how far a point lies inside a rectangle; below 0 outside.
func (r Rect) inside(p Point) mm { return min(p.X-r.X0, r.X1-p.X, p.Y-r.Y0, r.Y1-p.Y) }

// off is how far a point is from the nearest hole of the grid, along x or y.
func (g *Grid) off(p Point) mm {
	if !(g.Pitch > 0) {
		return mm(math.Inf(1))
	}
	miss := func(v mm) mm {
		holes := float64(v / g.Pitch)
		return mm(math.Abs(holes-math.Round(holes))) * g.Pitch
	}
	if len(g.Heights) == 0 {
		return max(miss(p.X), miss(p.Y))
	}
	nearest := mm(math.Inf(1))
	for _, h := range g.Heights {
		nearest = min(nearest, mm(math.Abs(float64(p.Y-h))))
	}
	return max(miss(p.X), nearest)
}

// radiusIn is the largest radius a shaft has in any of the lanes: of its discs
// there, or of the shaft itself where it passes. False if it is in none.
func (s *Shaft) radiusIn(lanes []int) (radius mm, there bool) {
	if common(s.Lanes, lanes) {
		radius, there = s.Radius, true
	}
	for i := range s.Discs {
		if d := &s.Discs[i]; slices.Contains(lanes, d.Lane) {
			radius, there = max(radius, d.Radius), true
		}
	}
	return radius, there
}

// radiiBeside is the largest sum of radii of two things on two shafts that meet
// in one lane: discs or the shafts themselves. False if nothing meets.
func (s *Shaft) radiiBeside(o *Shaft) (radii mm, meet bool) {
	if common(s.Lanes, o.Lanes) {
		radii, meet = s.Radius+o.Radius, true
	}
	for i := range s.Discs {
		d := &s.Discs[i]
		if slices.Contains(o.Lanes, d.Lane) {
			radii, meet = max(radii, d.Radius+o.Radius), true
		}
		for j := range o.Discs {
			if o.Discs[j].Lane == d.Lane {
				radii, meet = max(radii, d.Radius+o.Discs[j].Radius), true
			}
		}
	}
	for j := range o.Discs {
		if d := &o.Discs[j]; slices.Contains(s.Lanes, d.Lane) {
			radii, meet = max(radii, d.Radius+s.Radius), true
		}
	}
	return radii, meet
}

// common reports whether two lists of lanes have a lane in common.
func common(a, b []int) bool {
	for _, lane := range a {
		if slices.Contains(b, lane) {
			return true
		}
	}
	return false
}
