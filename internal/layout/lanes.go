package layout

import (
	"cmp"
	"slices"

	"findrive/internal/units"
)

// LanePlan says where along the axles each stage lies, from the front inside
// face of the frame. Lanes are numbered from the front.
type LanePlan struct {
	Lane      []int               // of each stage
	Centre    []units.Millimetres // of each stage's groove plane
	BodyLanes []int               // lanes beside the motor's body, from the front
	BodyFront units.Millimetres   // where the body begins
	Depth     units.Millimetres   // used in all
}

// LanePlans lists the ways to lay stages side by side in the depth that are worth
// trying, the easiest to place first. widths is what each stage needs, the larger
// of its two pulleys; body the length of the motor's body along its shaft, 0 if
// it is outside the frame; gap is left between lanes. No plan: it is too shallow.
//
// The family: every stage gets a lane. Neighbouring stages have a pulley each on
// the same axle and so never share one; others may. The motor's body stands
// against the front side of stage 1's lane. Other lanes lie behind that lane or
// in front of it, close up; those in front stand beside the body as far as it
// reaches, and it is in the way of what is in them.
//
// Which holes will do depends only on which stages share a lane and which stand
// beside the body, and less of either is never harder to place. So of plans alike
// in both the shallowest is listed, and a plan is left out if another that fits
// has less of one and no more of the other: where the second has no holes, the
// first has none.
func LanePlans(stages int, widths []units.Millimetres, body, gap, depth units.Millimetres) []LanePlan {
	var all []candidate
	for lanes := range stages {
		assign(make([]int, 0, stages), stages, lanes+1, func(lane []int) {
			eachOrder(lanes+1, func(order []int) {
				if c := layOut(lane, order, widths, body, gap); c.plan.Depth <= depth+noise {
					all = append(all, c)
				}
			})
		})
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(len(a.shared), len(b.shared)), cmp.Compare(len(a.beside), len(b.beside)),
			cmp.Compare(a.plan.Depth, b.plan.Depth), slices.Compare(a.plan.Lane, b.plan.Lane))
	})
	var out []LanePlan
	var kept []candidate
	for _, c := range all {
		// What is as easy or easier sorts before.
		if !slices.ContainsFunc(kept, func(k candidate) bool { return k.easier(&c) }) {
			kept, out = append(kept, c), append(out, c.plan)
		}
	}
	return out
}

// candidate is a plan with what makes it hard to place.
type candidate struct {
	plan   LanePlan
	shared [][2]int // stages that share a lane
	beside []int    // stages beside the motor's body
}

// easier reports whether the candidate shares no lane and puts no stage beside
// the body but what the other does too.
func (c *candidate) easier(o *candidate) bool {
	return !slices.ContainsFunc(c.shared, func(s [2]int) bool { return !slices.Contains(o.shared, s) }) &&
		!slices.ContainsFunc(c.beside, func(s int) bool { return !slices.Contains(o.beside, s) })
}

// assign lists the ways to give stages to exactly so many groups, numbered in
// the order in which stages first use them, with no neighbours in one.
func assign(group []int, stages, groups int, each func([]int)) {
	used := 0
	for _, g := range group {
		used = max(used, g+1)
	}
	if len(group) == stages {
		if used == groups {
			each(group)
		}
		return
	}
	for g := range min(used+1, groups) {
		if len(group) == 0 || group[len(group)-1] != g {
			assign(append(group[:len(group):len(group)], g), stages, groups, each)
		}
	}
}

// eachOrder lists the orders of n things, the natural one first.
func eachOrder(n int, each func([]int)) {
	var extend func(order []int)
	extend = func(order []int) {
		if len(order) == n {
			each(order)
			return
		}
		for k := range n {
			if !slices.Contains(order, k) {
				extend(append(order[:len(order):len(order)], k))
			}
		}
	}
	extend(make([]int, 0, n))
}

// layOut lays groups of stages side by side in an order, from the front.
func layOut(group, order []int, widths []mm, body, gap mm) candidate {
	lanes := len(order)
	width, number := make([]mm, lanes), make([]int, lanes)
	for lane, g := range order {
		number[g] = lane
	}
	c := candidate{plan: LanePlan{Lane: make([]int, len(group)), Centre: make([]mm, len(group))}}
	for stage, g := range group {
		c.plan.Lane[stage] = number[g]
		width[number[g]] = max(width[number[g]], widths[stage])
		for before := range stage {
			if group[before] == g {
				c.shared = append(c.shared, [2]int{before, stage})
			}
		}
	}
	// Where lane 0 begins so that both the lanes in front of stage 1's and the
	// body have room.
	first, inFront := c.plan.Lane[0], mm(0)
	for lane := range first {
		inFront += width[lane] + gap
	}
	start := max(0, body-inFront)
	c.plan.BodyFront = start + inFront - body
	at := start
	for lane := range lanes {
		beside := lane < first && at+width[lane] > c.plan.BodyFront+noise && body > 0
		if beside {
			c.plan.BodyLanes = append(c.plan.BodyLanes, lane)
		}
		for stage := range group {
			if c.plan.Lane[stage] == lane {
				c.plan.Centre[stage] = at + width[lane]/2
				if beside {
					c.beside = append(c.beside, stage)
				}
			}
		}
		at += width[lane] + gap
	}
	c.plan.Depth = at - gap
	return c
}
