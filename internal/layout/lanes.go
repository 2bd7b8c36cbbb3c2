package layout

import (
	"cmp"
	"slices"

	"findrive/internal/units"
)

// LanePlan says where along the axles each stage lies, from the front inside
// face of the frame. Lanes are numbered from the front.
type LanePlan struct {
	Lane   []int               // of each stage
	Centre []units.Millimetres // of each stage's groove plane
	// Lanes beside the motor's body, from the front. That of stage 1 is among them where the
	// body stands beside the driven pulley, as the shaft would not reach the driver else.
	BodyLanes  []int
	ShaftLanes []int             // lanes behind that of stage 1 into which the motor's shaft reaches
	BodyFront  units.Millimetres // where the body begins
	Depth      units.Millimetres // used in all
}

// MotorAlong is a motor along its shaft, with the driver of stage 1 on it.
type MotorAlong struct {
	Body  units.Millimetres // length of the body; 0 if it is outside the frame
	Shaft units.Millimetres // length of the shaft before the body
	Seat  units.Millimetres // how far the shaft reaches beyond the driver's groove plane at least
}

// LanePlans lists the ways to lay stages side by side in the depth that are worth
// trying, the easiest to place first. widths is what each stage needs, the larger
// of its two pulleys; gap is left between lanes. No plan: it is too shallow.
//
// The family: every stage gets a lane. Neighbouring stages have a pulley each on
// the same axle and so never share one; others may. The motor's body stands
// against the front side of stage 1's lane, or further back where its shaft would not
// reach the driver: then it stands beside the driven pulley. Other lanes lie behind that
// lane or in front of it, close up; those in front stand beside the body as far as it
// reaches, and it is in the way of what is in them. A shaft longer than the lane needs stays
// half a gap away from the next lane behind, the body that much further to the front; or,
// where the frame may not be deep enough for that, reaches into the lanes behind and is in
// the way of what is in them.
//
// Which holes will do depends only on which stages share a lane, which stand
// beside the body and into which the shaft reaches, and less of any is never harder to
// place. So of plans alike in all the shallowest is listed, and a plan is left out if another
// that fits has less of one and no more of the others: where the second has no holes, the
// first has none.
func LanePlans(stages int, widths []units.Millimetres, motor MotorAlong, gap, depth units.Millimetres) []LanePlan {
	var all []candidate
	for lanes := range stages {
		assign(make([]int, 0, stages), stages, lanes+1, func(lane []int) {
			eachOrder(lanes+1, func(order []int) {
				for _, reaches := range []bool{false, true} {
					if c := layOut(lane, order, widths, &motor, gap, reaches); c.plan.Depth <= depth+noise {
						all = append(all, c)
					}
				}
			})
		})
	}
	slices.SortStableFunc(all, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(len(a.shared), len(b.shared)), cmp.Compare(len(a.beside), len(b.beside)), cmp.Compare(len(a.reached), len(b.reached)),
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
	plan    LanePlan
	shared  [][2]int // stages that share a lane
	beside  []int    // stages beside the motor's body
	reached []int    // stages into whose lanes the motor's shaft reaches
}

// easier reports whether the candidate shares no lane, puts no stage beside the body and has
// the shaft reach into none but what the other does too.
func (c *candidate) easier(o *candidate) bool {
	return within(c.shared, o.shared) && within(c.beside, o.beside) && within(c.reached, o.reached)
}

func within[T comparable](a, b []T) bool {
	return !slices.ContainsFunc(a, func(v T) bool { return !slices.Contains(b, v) })
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

// layOut lays groups of stages side by side in an order, from the front, the motor's shaft
// reaching into the lanes behind or not.
func layOut(group, order []int, widths []mm, motor *MotorAlong, gap mm, reaches bool) candidate {
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
	in := motor.bodyWithin(width[first], gap, first+1 < lanes, reaches)
	start := max(0, motor.Body-inFront-in)
	bodyEnd := start + inFront + in
	c.plan.BodyFront = bodyEnd - motor.Body
	tip := bodyEnd + motor.Shaft
	at := start
	for lane := range lanes {
		beside := motor.Body > 0 && (lane < first && at+width[lane] > c.plan.BodyFront+noise || lane == first && in > noise)
		reached := lane > first && at < tip+gap/2-noise
		if beside {
			c.plan.BodyLanes = append(c.plan.BodyLanes, lane)
		}
		if reached {
			c.plan.ShaftLanes = append(c.plan.ShaftLanes, lane)
		}
		for stage := range group {
			if c.plan.Lane[stage] == lane {
				c.plan.Centre[stage] = at + width[lane]/2
				if beside {
					c.beside = append(c.beside, stage)
				}
				if reached {
					c.reached = append(c.reached, stage)
				}
			}
		}
		at += width[lane] + gap
	}
	c.plan.Depth = max(at-gap, tip)
	return c
}

// bodyWithin is how far the body reaches into stage 1's lane, or, below 0, how far in front of
// the lane it ends: as little of either as lets the shaft reach the driver and, unless it may
// reach into the lanes behind, end half a gap before them, or with its own if that is the last.
func (m *MotorAlong) bodyWithin(lane, gap mm, behind, reaches bool) mm {
	in := max(0, lane/2+m.Seat-m.Shaft)
	switch {
	case !behind:
		in = min(in, lane-m.Shaft)
	case !reaches:
		in = min(in, lane+gap/2-m.Shaft)
	}
	return in
}
