package design

import (
	"cmp"
	"context"
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// problem is the search for arrangements: which motor, cells and pulleys. What
// is left, bands, axles and holes, is settled by Finish for each arrangement.
//
// Choices are made from the output back to the motor, because that is the way
// the torque is known: the load is given, the motor's torque is a result.
//
// Symmetry: equal parts have been merged into classes, so no two nodes stand for
// the same dimensions. Dominance is left to the bounds: a larger pulley is not
// better or worse in general, since bands, room and stock all depend on it.
type problem struct {
	*task
	ceiling search.Cost // nothing dearer is asked for
}

var _ search.Problem[node, *candidate] = problem{}

func (p problem) Root() node { return node{head: -1} }

func (p problem) Bound(n node) search.Cost { return n.bound }

func (p problem) Whole(n node) bool { return n.whole(p.task) }

// Branch makes the next choice. Refusals that are final are made here, so that
// hopeless branches are never even counted.
func (p problem) Branch(n node) []node {
	if n.head < 0 {
		out := make([]node, len(p.heads))
		for i := range p.heads {
			d := p.heads[i].demand
			out[i] = node{head: int16(i), fixed: p.heads[i].fixed, flow: partFlow{least: d.Steady, most: d.Steady, pull: d.Radial}}
			out[i].bound = p.bound(&out[i])
		}
		return out
	}
	h := &p.heads[n.head]
	var out []node
	try := func(pulley int, joint score.Points) {
		no := p.enough(&n, pulley)
		if wheel, _ := p.outputParts(h.output); no == nil && n.chosen == 0 && wheel != nil {
			no = constraints.ClearOfFloor(p.brief, wheel, &p.pulleys[pulley].Part)
		}
		if no != nil {
			p.tally.add(no)
			return
		}
		c := n
		c.pulleys[n.chosen] = int16(pulley)
		c.chosen++
		c.fixed += joint + score.Assumptions(p.brief.Weights, len(p.pulleys[pulley].Part.Assumed))
		if c.chosen%2 == 0 {
			var ok bool
			if c.flow, no, ok = p.through(n.flow, h.stages-1-int(n.chosen)/2, pulley, int(n.pulleys[n.chosen-1]), score.Points(p.ceiling)-c.fixed); !ok {
				if no != nil {
					p.tally.add(no)
				}
				return
			}
		}
		c.bound = p.bound(&c)
		if c.bound != search.Unlimited {
			out = append(out, c)
		}
	}
	if int(n.chosen) == 2*h.stages-1 {
		for pulley, joint := range p.motorJoint[h.motor] {
			if joint != nil {
				try(pulley, score.Joint(p.brief.Weights, joint.Kind))
			}
		}
		return out
	}
	for _, pulley := range p.axlePulleys {
		try(pulley, p.axleCost[pulley])
	}
	return out
}

// enough is the stock rule for one more pulley of a kind.
func (p problem) enough(n *node, pulley int) *constraints.Refusal {
	use := 1
	for _, q := range n.pulleys[:n.chosen] {
		if int(q) == pulley {
			use++
		}
	}
	return constraints.EnoughStock(p.pulleys[pulley].Part.Name, p.pulleys[pulley].Count, use, p.brief.Sets)
}

// leastSpeedFactor is the least a stage can keep of its speed: the slack
// stretch is above 1 and the tight stretch at most the running limit.
func (t *task) leastSpeedFactor() float64 { return 1 / t.brief.Limits.RunningStretchMax }

// bound is the least penalty any completion of n can have, Unlimited if none can
// meet the speed rule or start the motor.
//
// It is admissible. The stages chosen are bounded by their flow. Those still to
// choose are taken as lossless, and as creeping not at all or as much as the
// running-stretch rule allows, at any velocity ratio their pulleys can have.
// Penalties still to come are not negative.
func (t *task) bound(n *node) search.Cost {
	h := &t.heads[n.head]
	before := units.Interval[float64]{} // ln of the velocity ratio still to come
	left := 0
	for stage := int(n.chosen) / 2; stage < h.stages; stage++ {
		r := t.stageReach
		if stage == h.stages-1 {
			r = t.motorReach[h.motor]
		}
		if n.chosen%2 == 1 && stage == int(n.chosen)/2 {
			r = t.reachOf(h, stage, int(n.pulleys[n.chosen-1]), r)
		}
		before.Lo += r.Lo
		before.Hi += r.Hi
		left++
	}
	ratio := units.Interval[float64]{Lo: n.flow.ratio.Lo + before.Lo, Hi: n.flow.ratio.Hi + before.Hi}
	if ratio.Hi < h.leastRatio || before.Empty() || math.IsInf(ratio.Lo, 0) {
		return search.Unlimited
	}
	torque := n.flow.least / units.NewtonMillimetres(math.Exp(before.Hi))
	if constraints.MotorRun(t.brief.Limits, "", h.stall, torque) != nil {
		return search.Unlimited
	}
	slowest := h.slowest
	if left == 0 {
		slowest = t.slowest(h, &n.flow)
	}
	speed := units.Interval[units.RPM]{
		Lo: slowest * units.RPM(math.Pow(t.leastSpeedFactor(), float64(left))*math.Exp(n.flow.share.Lo-ratio.Hi)),
		Hi: h.motorModel.SpeedAt(h.supply, torque) * units.RPM(math.Exp(n.flow.share.Hi-ratio.Lo)),
	}
	allowed := t.speedAllowed(h.demand.Target)
	if speed = speed.Meet(allowed); speed.Empty() {
		return search.Unlimited
	}
	return search.Cost(n.fixed + t.motorLoad(h, torque) + score.SpeedBound(t.brief.Weights, speed, h.demand.Target))
}

// slowest is the least speed of a motor that carries a flow within the running
// rule.
func (t *task) slowest(h *head, f *partFlow) units.RPM {
	drag := mechanics.BearingTorque(mechanics.MotorBearing().Likely, f.pull, t.motors[h.motor].Part.ShaftDiameter/2)
	return max(h.slowest, h.motorModel.SpeedAt(h.supply, f.most+drag))
}

// speedAllowed is the window of the speed rule.
func (t *task) speedAllowed(target units.RPM) units.Interval[units.RPM] {
	tol := units.RPM(t.brief.Tolerance)
	return units.Interval[units.RPM]{Lo: target * (1 - tol), Hi: target * (1 + tol)}
}

// reachOf narrows a stage's reach once its driven pulley is known.
func (t *task) reachOf(h *head, stage, driven int, r units.Interval[float64]) units.Interval[float64] {
	drivers := t.axleDriverEnds
	if stage == h.stages-1 {
		drivers = t.motorDriverEnds[h.motor]
	}
	small, large := t.pairRatio(drivers[0], driven), t.pairRatio(drivers[1], driven)
	return r.Meet(units.Interval[float64]{Lo: large.Lo, Hi: small.Hi})
}

// Tie is the tie rule: heads in order (fewer stages, fewer cells, the weaker
// motor), then pulleys from the output back, smaller first, then names.
func (p problem) Tie(n, w node) int {
	if c := cmp.Compare(n.head, w.head); c != 0 {
		return c
	}
	for i := range n.chosen {
		if c := cmp.Compare(n.pulleys[i], w.pulleys[i]); c != 0 {
			return c
		}
	}
	if n.chosen < w.chosen {
		return -1
	}
	return 0
}

// Finish settles a whole arrangement: see settle.go.
func (p problem) Finish(ctx context.Context, n node, limit search.Cost) (*candidate, search.Cost, bool, search.Cost) {
	return p.settleArrangement(ctx, &n, limit)
}

// ends finds the smallest and largest groove floor among the pulleys.
func (t *task) ends(pulleys []int) [2]int {
	var out [2]int
	for i, p := range pulleys {
		if i == 0 {
			out = [2]int{p, p}
		}
		if t.pulleys[p].Part.GrooveFloor < t.pulleys[out[0]].Part.GrooveFloor {
			out[0] = p
		}
		if t.pulleys[p].Part.GrooveFloor > t.pulleys[out[1]].Part.GrooveFloor {
			out[1] = p
		}
	}
	return out
}

// arrangement is a whole node with its parts looked up, motor stage first.
type arrangement struct {
	*node
	head           *head
	stages         int
	driver, driven [drive.MaxStages]int
}

func (t *task) arrange(n *node) *arrangement {
	h := &t.heads[n.head]
	a := &arrangement{node: n, head: h, stages: h.stages}
	for i := range h.stages {
		back := 2 * (h.stages - 1 - i)
		a.driven[i], a.driver[i] = int(n.pulleys[back]), int(n.pulleys[back+1])
	}
	return a
}
