package design

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
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
	anyBand []promise   // for each head, what any band promises that can be afforded
	// glancing leaves the classrooms out of bounds, which take the longest.
	glancing bool
}

// upTo is the search for arrangements of at most some penalty.
func (t *task) upTo(ceiling search.Cost) problem {
	p := problem{task: t, ceiling: ceiling, anyBand: make([]promise, len(t.heads))}
	for i := range t.heads {
		var ok bool
		if p.anyBand[i], ok = t.anyBand(score.Points(ceiling) - t.heads[i].fixed); !ok {
			p.anyBand[i].pull.Lo = units.Newtons(math.Inf(1)) // more than any motor bears
		}
	}
	return p
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
			out[i] = node{head: int16(i), fixed: p.heads[i].fixed, flow: p.outputFlow(&p.heads[i])}
			out[i].bound = p.bound(&out[i], 0)
		}
		return out
	}
	h := &p.heads[n.head]
	var out []node
	try := func(pulley int, joint score.Points) {
		// What is left out when it is stopped counts as not looked at: see search.Best.
		if p.stopped() || !p.wantsPulley(&n, pulley) {
			return
		}
		no := p.enough(&n, pulley)
		if wheel, _ := p.outputParts(h.output); no == nil && n.chosen == 0 && wheel != nil {
			no = constraints.ClearOfFloor(p.brief, wheel, &p.pulleys[pulley].Part)
		}
		rigid := !seated(p.forgivingSeats.at(h, n.nextShaft(h), pulley))
		if no == nil && (rigid && p.mustForgive || !seated(p.seats.at(h, n.nextShaft(h), pulley))) {
			no = constraints.RoomInFrame(p.brief)
		}
		if no != nil {
			p.tally.add(no)
			return
		}
		c := n
		c.pulleys[n.chosen] = int16(pulley)
		c.chosen++
		if ok, short := p.hang(&c); !ok {
			if short != nil {
				p.tally.add(short)
			}
			return
		}
		c.fixed += joint + score.Assumptions(p.brief.Weights, len(p.pulleys[pulley].Part.Assumed)) + p.toMake(&n, pulley)
		if rigid {
			c.flow.unforgiving = p.rigid()
		}
		if c.chosen%2 == 0 && p.idle(int(c.pulleys[c.chosen-1]), int(c.pulleys[c.chosen-2])) {
			c.fixed += score.Idle(p.brief.Weights, 1)
		}
		c.bound = p.bound(&c, int(c.chosen-1)/2) // a stage that has just been chosen is left to Closer
		if c.bound != search.Unlimited {
			out = append(out, c)
		}
	}
	if int(n.chosen) == 2*h.stages-1 {
		for pulley, joints := range p.onMotor[h.motor] {
			if joints != nil {
				try(pulley, score.Joint(p.brief.Weights, joints[0].Kind))
			}
		}
		return out
	}
	for i, pulley := range p.axlePulleys {
		if n.chosen%2 == 0 { // a driven pulley: see Tie
			pulley = p.axlePulleys[len(p.axlePulleys)-1-i]
		}
		try(pulley, p.axleCost[pulley])
	}
	return out
}

// Closer takes the flow of a node through the stage that its last two pulleys make.
func (p problem) Closer(n node, limit search.Cost) (node, search.Cost) {
	if n.chosen == 0 || n.chosen%2 == 1 {
		return n, n.bound
	}
	p.ceiling = min(p.ceiling, limit)
	if !p.carry(&n) {
		return n, search.Unlimited
	}
	n.bound = p.bound(&n, int(n.chosen)/2)
	return n, n.bound
}

// idle tells whether a stage changes no speed.
func (t *task) idle(driver, driven int) bool {
	return t.pulleys[driver].Part.GrooveFloor == t.pulleys[driven].Part.GrooveFloor
}

// rigid is what a drive is charged at least that does not forgive holes out of place.
func (t *task) rigid() score.Points {
	if len(t.bearable) < 2 {
		return 0
	}
	return score.Forgiveness(t.brief.Weights, t.bearable[1], t.brief.Limits.HoleError)
}

// carry takes the flow of a node through the stage that its last two pulleys make;
// false if none of the ways to band it will do. What is quickly had is looked at
// first: their bands without creep. Of a whole arrangement there is no more to it once nodes
// are many: its bands are looked at closer when it is settled.
func (p problem) carry(n *node) bool {
	h, after := &p.heads[n.head], int(n.chosen)/2-1
	quick := p
	quick.glancing = true
	pays := func(f partFlow) bool {
		c := *n
		c.flow = f
		return quick.bound(&c, after+1) <= p.ceiling
	}
	atOnce := p.many && n.whole(p.task)
	stage := p.onStage(h.stages-1-after, h, int(n.pulleys[n.chosen-1]), int(n.pulleys[n.chosen-2]))
	flow, creep, no, ok := p.through(n.flow, stage, score.Points(p.ceiling)-n.fixed, atOnce, pays)
	if no != nil && !ok {
		p.tally.add(no)
	}
	if !ok {
		return false
	}
	if n.flow = flow; !atOnce {
		n.flow.share = creep.crept()
	}
	return true
}

// enough is the stock rule for one more pulley of a kind.
func (p problem) enough(n *node, pulley int) *constraints.Refusal {
	use := 1
	for _, q := range n.pulleys[:n.chosen] {
		if int(q) == pulley {
			use++
		}
	}
	if no := constraints.EnoughStock(p.pulleys[pulley].Part.Name, p.pulleys[pulley].Count, use, p.brief.Sets); no != nil {
		return no
	}
	return p.fewDiscs(n, pulley)
}

// Tie is the tie rule: heads in order (fewer stages, fewer cells, the stronger
// motor), then pulleys from the output back, the larger driven pulley and the
// smaller driver first, then names. A large pulley towards the output needs the
// least grip; and with what reduces most looked at first, the search soon comes to
// drives that will do, instead of trying all those that are a little too fast.
func (p problem) Tie(n, w node) int {
	if c := cmp.Compare(n.head, w.head); c != 0 {
		return c
	}
	for i := range n.chosen {
		if c := cmp.Compare(n.pulleys[i], w.pulleys[i]); c != 0 {
			if i%2 == 0 {
				return -c
			}
			return c
		}
	}
	if n.chosen < w.chosen {
		return -1
	}
	return 0
}

// Tiebreak is what of two drives the order of equals may go by.
type Tiebreak int

// Those that there are, in the order in which they decide.
const (
	Nowhere Tiebreak = iota // the same arrangement, or not known which comes first
	RopeParts
	StageCount
	Cells
	MotorKind
	OutputPart // wheel or drum
	DrivenPulley
	DriverPulley
)

// order is where an arrangement stands among equals: the numbers of its kinds of parts.
type order struct {
	stages, holder, motor, output int
	pulleys                       [2 * drive.MaxStages]int16
}

func (t *task) orderOf(n *node) *order {
	h := &t.heads[n.head]
	return &order{h.stages, h.holder, h.motor, h.output, n.pulleys}
}

// Decides names the first difference for which a drive comes before another of as many
// points: see Tie. Of pulleys it is told at which stage, from the motor. Nowhere if none
// puts it first.
func Decides(first, other *Proposal) (at Tiebreak, stage int) {
	if a, b := first.Tackle, other.Tackle; a != nil && b != nil && a.Parts != b.Parts {
		return before(RopeParts, a.Parts, b.Parts), 0
	}
	a, b := first.order, other.order
	if a == nil || b == nil {
		return Nowhere, 0
	}
	for _, c := range []struct {
		at   Tiebreak
		x, y int
	}{{StageCount, a.stages, b.stages}, {Cells, a.holder, b.holder}, {MotorKind, a.motor, b.motor}, {OutputPart, a.output, b.output}} {
		if c.x != c.y {
			return before(c.at, c.x, c.y), 0
		}
	}
	for i := range 2 * a.stages {
		x, y := int(a.pulleys[i]), int(b.pulleys[i])
		switch stage := a.stages - 1 - i/2; {
		case x == y:
		case i%2 == 0:
			return before(DrivenPulley, y, x), stage
		default:
			return before(DriverPulley, x, y), stage
		}
	}
	return Nowhere, 0
}

// before is a tiebreak if what stands there is of the lower number.
func before(at Tiebreak, x, y int) Tiebreak {
	if x < y {
		return at
	}
	return Nowhere
}

// Same tells whether two arrangements are one drive: the same parts in the same pairs, in
// whatever order the stages come.
func (p problem) Same(n, w node) bool {
	a, b := &p.heads[n.head], &p.heads[w.head]
	if a.stages != b.stages || a.motor != b.motor || a.holder != b.holder || a.output != b.output {
		return false
	}
	var pairs [drive.MaxStages][2]int16
	for i := range a.stages {
		pairs[i] = [2]int16{w.pulleys[2*i], w.pulleys[2*i+1]}
	}
	left := pairs[:a.stages]
	for i := range a.stages {
		k := slices.Index(left, [2]int16{n.pulleys[2*i], n.pulleys[2*i+1]})
		if k < 0 {
			return false
		}
		left = slices.Delete(left, k, k+1)
	}
	return true
}

// Finish settles a bit more of a whole arrangement as far as its designs cost no more than limit:
// see row.go.
func (p problem) Finish(ctx context.Context, n node, limit search.Cost) search.Finished[*candidate] {
	return p.rowOf(&n).upTo(ctx, score.Points(limit))
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
