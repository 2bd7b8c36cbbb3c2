package design

import (
	"context"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// row is an arrangement that is settled bit by bit: its ways to make axles and joints,
// each with the boxes of designs that are still to be looked at.
type row struct {
	*settling
	branches []branch
	gaveUp   score.Points // least cost of what could not be placed or ruled out
}

// branch is one way to make the axles and joints of a row, at one hole error.
type branch struct {
	bears   units.Millimetres
	axles   [drive.MaxStages]*axleOption
	onMotor *drive.Joint
	cost    score.Points // of these and what the arrangement costs anyhow
	// How many states of each stage are in boxes: all of those with which a design may cost
	// no more than upTo.
	listed [drive.MaxStages]int
	upTo   score.Points
	boxes  []pending
	// What was learned when it was last left off before its end.
	tight   bool
	layouts []layouts
}

// rowKey names an arrangement.
type rowKey struct {
	head    int16
	pulleys [2 * drive.MaxStages]int16
}

// rowOf is the row of an arrangement, begun if it has not been.
func (t *task) rowOf(n *node) *row {
	key := rowKey{n.head, n.pulleys}
	t.mu.Lock()
	r := t.rows[key]
	t.mu.Unlock()
	if r != nil {
		return r
	}
	own := *n
	r = &row{settling: t.settlingOf(context.Background(), &own, unsettled-1), gaveUp: unsettled}
	if r.prepare() {
		r.eachLevel(func() {
			r.chooseMotorJoint(func() {
				r.chooseAxles(0, func() {
					r.branches = append(r.branches, branch{bears: r.choice.bears, axles: r.choice.axles, onMotor: r.choice.onMotor, cost: r.choice.cost, upTo: r.choice.cost - 1})
				})
			})
		})
	}
	t.mu.Lock()
	t.rows[key] = r
	t.mu.Unlock()
	return r
}

// atATime is how many boxes of a row are looked at before it is asked what else has been found
// meanwhile, and other threads are waited for. It is tried out (scripts/performance ordinary):
// nothing depends on it but time.
const atATime = 150

// settle settles the designs of a row as far as they cost no more than limit.
func (r *row) settle(ctx context.Context, limit score.Points) {
	for r.upTo(ctx, limit).Left < search.Unlimited {
	}
}

// upTo settles some of the designs of a row, as far as they cost no more than limit: the cheapest
// that has been found, if there is one.
func (r *row) upTo(ctx context.Context, limit score.Points) search.Finished[*candidate] {
	r.ctx, r.limit, r.open = ctx, limit, r.gaveUp
	if r.best != nil {
		r.limit = min(r.limit, r.best.cost-1)
	}
	boxes := atATime
	for i := range r.branches {
		boxes -= r.resume(&r.branches[i], boxes)
	}
	r.gaveUp, r.placer, r.model, r.asked = r.open, nil, nil, asked{} // very many rows wait
	out := search.Finished[*candidate]{Cost: search.Unlimited, Open: search.Cost(r.open), Left: search.Unlimited}
	for i := range r.branches {
		if least := r.branches[i].least(); least <= r.limit {
			out.Left = min(out.Left, search.Cost(least))
		}
	}
	if pause.Err(ctx) != nil || r.stopped() {
		out.Open, out.Left = min(out.Open, out.Left), search.Unlimited
	}
	if r.best != nil && r.best.cost <= limit {
		out.Solution, out.Cost = r.best, search.Cost(r.best.cost)
	}
	return out
}

// resume looks at so many boxes of a branch, or a few more, that may cost no more than the limit,
// and tells at how many it has.
func (r *row) resume(b *branch, boxes int) int {
	if boxes <= 0 || b.least() > r.limit {
		return 0
	}
	r.choice = choice{bears: b.bears, axles: b.axles, onMotor: b.onMotor, cost: b.cost}
	wanted := max(b.upTo, r.wanted())
	count, ok := r.listStates(wanted)
	if !ok {
		return 0
	}
	of, all := r.refiningOf()
	if of != nil {
		b.boxes = append(b.boxes, r.newBoxes(b, &all, &count)...)
	}
	b.listed, b.upTo = count, wanted
	if of == nil {
		return 0
	}
	of.tight, of.layouts, of.until = b.tight, b.layouts, boxes
	left := 0
	for i := range b.boxes {
		if b.boxes[i].bound <= r.limit && of.looked < of.until {
			of.refine(&b.boxes[i].box, b.boxes[i].bound)
			continue
		}
		if b.boxes[i].bound <= r.most {
			b.boxes[left] = b.boxes[i]
			left++
		}
	}
	if b.boxes = append(b.boxes[:left], of.later...); left == 0 {
		b.boxes = of.later // without the room of those that are done with
	}
	if b.tight, b.layouts = of.tight, of.layouts; b.least() > r.limit {
		b.tight, b.layouts = false, nil
	}
	return of.looked
}

// newBoxes are the designs of a branch with a state that was not listed when its boxes were made,
// by the first stage that has one.
func (r *row) newBoxes(b *branch, all *box, count *[drive.MaxStages]int) []pending {
	var out []pending
	for i := range r.stages {
		one := pending{*all, b.cost}
		for k := range r.stages {
			some := listed{0, count[k]}
			switch {
			case k < i:
				some.end = b.listed[k]
			case k == i:
				some.first = b.listed[k]
			}
			if one.states[k] = r.listings[k].of(some); one.states[k] == nil {
				break
			}
			one.bound += one.states[k].cost
		}
		if !slices.Contains(one.states[:r.stages], nil) {
			out = append(out, one)
		}
	}
	return out
}

// least is the least that a design of a branch that has not been looked at can cost.
func (b *branch) least() score.Points {
	least := b.upTo + 1
	for i := range b.boxes {
		least = min(least, b.boxes[i].bound)
	}
	return least
}
