package proof

import (
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/score"
)

// reason says why a part of the space may be left out.
type reason struct {
	// rule is the rule that everything in it breaks; or dear, or ways; empty if
	// there is no reason.
	rule string
	// figure is how near the best of it comes to the rule: a grip margin, a stall
	// torque over what is asked, a speed in rpm, a stretch; 0 where there is
	// nothing to measure.
	figure float64
	bound  score.Points // for dear: what the cheapest of it costs at the least
}

// Reasons that are not rules.
const (
	dear = "dear" // it costs too much
	ways = "ways" // no band that could be afforded goes round the pulleys
	room = "room" // nothing can be placed
	seen = "seen" // a placement stands for the whole cell, and is no better
	near = "near" // the same, though another placement in the cell would be better
	open = "open" // not settled: taken on trust
)

func dearer(bound, limit score.Points) reason {
	if bound > limit {
		return reason{rule: dear, bound: bound}
	}
	return reason{}
}

// judge says why a node may be left out, if nothing that costs at most limit is
// asked for.
func (n *node) judge(limit score.Points) reason {
	if n.hd == nil {
		return reason{}
	}
	if !n.ok && len(n.pulleys) > 0 && len(n.pulleys)%2 == 0 {
		return n.why
	}
	if no := dearer(n.fixed, limit); no.rule != "" {
		return no
	}
	// Stages with nothing or only a driven pulley chosen are still to come.
	before, left := span{Lo: 1, Hi: 1}, 0
	for i := n.hd.stages - 1 - len(n.pulleys)/2; i >= 0; i-- {
		var drivers []int
		for p := range n.space.pulleys {
			if i == 0 && n.hd.shaft[p] != nil || i > 0 && n.cheapestJoint(p) >= 0 {
				drivers = append(drivers, p)
			}
		}
		driven := n.drivenPulleys()
		if 2*(n.hd.stages-1-i)+1 == len(n.pulleys) {
			driven = n.pulleys[len(n.pulleys)-1:]
		}
		if len(drivers) == 0 || len(driven) == 0 {
			return reason{rule: string(constraints.Fit)}
		}
		r := n.reach(drivers, driven)
		before, left = span{Lo: before.Lo * r.Lo, Hi: before.Hi * r.Hi}, left+1
	}
	bound, no := n.toMotor(n.hd, n.flows, before, left, n.fixed)
	if no.rule != "" {
		return no
	}
	if n.whole() && len(n.plansFor()) == 0 {
		return reason{rule: string(constraints.Depth)}
	}
	return dearer(bound, limit)
}

// drivenPulleys are those that sit on some axle.
func (s *space) drivenPulleys() []int {
	var out []int
	for p := range s.pulleys {
		if s.cheapestJoint(p) >= 0 {
			out = append(out, p)
		}
	}
	return out
}

// judgeAxles says why a choice with its axles chosen up to stage i may be left out.
func (c *choice) judgeAxles(i int, limit score.Points) reason {
	if i == c.n.hd.stages && !c.enoughRod() {
		return reason{rule: string(constraints.Stock)}
	}
	return dearer(c.cost, limit)
}

// judgeBands says why a choice with its bands chosen from stage i to the output may
// be left out, wherever the axles go.
func (c *choice) judgeBands(i int, limit score.Points) reason {
	if no := dearer(c.cost, limit); no.rule != "" {
		return no
	}
	if c.forgive && c.window(i).Empty() {
		return reason{rule: string(constraints.Stretch)}
	}
	if i == 0 {
		if !c.enoughBands() {
			return reason{rule: string(constraints.Stock)}
		}
		if constraints.TurnsRight(c.n.brief.Direction, c.reversals()) != nil {
			return reason{rule: string(constraints.Direction)}
		}
	}
	var windows [drive.MaxStages]gap
	var cos [drive.MaxStages]span
	for j := i; j < c.n.hd.stages; j++ {
		windows[j], cos[j] = c.window(j), span{Lo: -1, Hi: 1}
	}
	bound, no := c.bound(i, &windows, &cos, 0)
	if no.rule != "" {
		return no
	}
	return dearer(bound, limit)
}

// judgeBox says why no placement in a box need be looked at.
func (c *choice) judgeBox(b *box, limit score.Points) reason {
	cos := c.cosines(b)
	for i := range c.n.hd.stages {
		if cos[i].Empty() {
			return reason{rule: room} // a rise longer than the centre distance
		}
	}
	bound, no := c.bound(0, &b.centre, &cos, 0)
	if no.rule != "" {
		return no
	}
	if no := dearer(bound, limit); no.rule != "" {
		return no
	}
	if c.forgive {
		for _, off := range []mm{-2 * c.n.brief.Limits.HoleError, 2 * c.n.brief.Limits.HoleError} {
			if _, no := c.bound(0, &b.centre, &cos, off); no.rule != "" {
				return no
			}
		}
	}
	return reason{}
}

// bound is the least that a drive costs whose bands are chosen from stage first to
// the output, or the rule that refuses every one, with all centre distances in
// windows and longer by off.
func (c *choice) bound(first int, windows *[drive.MaxStages]gap, cos *[drive.MaxStages]span, off mm) (score.Points, reason) {
	n, l := c.n, c.n.brief.Limits
	flows := n.flowsAt(n.hd)
	for i := n.hd.stages - 1; i >= first; i-- {
		w := c.ways[i]
		p := pair{w.at(windows[i].Lo + off), w.at(windows[i].Hi + off)}
		if p.near == nil || p.far == nil {
			return 0, reason{rule: string(constraints.Stretch)}
		}
		rub := n.rubbing(c.axles[i].stock)
		for k, least := range [2]float64{l.GripMin, l.GripStartMin} {
			if k == 1 && n.hd.demand.Start == n.hd.demand.Steady && l.GripStartMin <= l.GripMin {
				flows[1] = flows[0]
				break
			}
			flows[k].own = float64(c.model.AxleWeight[i])
			f, b, margin, ok := p.through(flows[k], span{Lo: rub, Hi: rub}, cos[i], least)
			if !ok {
				return 0, reason{rule: string([2]constraints.Rule{constraints.Grip, constraints.GripStart}[k]), figure: margin}
			}
			if k == 0 && b.stretch.Lo > constraints.RunningLimit(l, w.part)*(1+1e-8) {
				return 0, reason{rule: string(constraints.RunningStretch), figure: b.stretch.Lo}
			}
			flows[k] = f
		}
	}
	before := span{Lo: 1, Hi: 1}
	for i := range first {
		r := n.reach([]int{n.driver(i)}, []int{n.driven(i)})
		before = span{Lo: before.Lo * r.Lo, Hi: before.Hi * r.Hi}
	}
	return n.toMotor(n.hd, flows, before, first, c.cost)
}
