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

// upTo settles the designs of a row as far as they cost no more than limit: the cheapest
// of them, if there is one. open is the least that was left unsettled.
func (r *row) upTo(ctx context.Context, limit score.Points) (best *candidate, cost search.Cost, ok bool, open search.Cost) {
	r.ctx, r.limit, r.open = ctx, limit, r.gaveUp
	if r.best != nil {
		r.limit = min(r.limit, r.best.cost-1)
	}
	for i := range r.branches {
		r.resume(&r.branches[i])
	}
	r.gaveUp, r.placer = r.open, nil
	if pause.Err(ctx) != nil {
		for i := range r.branches {
			if least := r.branches[i].least(); least <= r.limit {
				r.open = min(r.open, least)
			}
		}
	}
	if r.best == nil || r.best.cost > limit {
		return nil, 0, false, search.Cost(r.open)
	}
	return r.best, search.Cost(r.best.cost), true, search.Cost(r.open)
}

// resume looks at the boxes of a branch that may cost no more than the limit.
func (r *row) resume(b *branch) {
	if b.least() > r.limit {
		return
	}
	r.choice = choice{bears: b.bears, axles: b.axles, onMotor: b.onMotor, cost: b.cost}
	wanted := max(b.upTo, r.wanted())
	count, ok := r.listStates(wanted)
	if !ok {
		return
	}
	of, all := r.refiningOf()
	if of != nil {
		b.boxes = append(b.boxes, r.newBoxes(b, &all, &count)...)
	}
	b.listed, b.upTo = count, wanted
	if of == nil {
		return
	}
	for i := range b.boxes {
		of.refine(&b.boxes[i].box, b.boxes[i].bound)
	}
	b.boxes = of.later
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
