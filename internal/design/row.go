package design

import (
	"context"

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
	begun   bool
	boxes   []pending
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
					r.branches = append(r.branches, branch{bears: r.choice.bears, axles: r.choice.axles, onMotor: r.choice.onMotor, cost: r.choice.cost})
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
	of, all := r.refiningOf()
	switch {
	case of == nil:
		if pause.Err(r.ctx) == nil {
			b.begun, b.boxes = true, nil
		}
		return
	case !b.begun:
		b.begun, b.boxes = true, []pending{{all, b.cost}}
	}
	for i := range b.boxes {
		of.refine(&b.boxes[i].box, b.boxes[i].bound)
	}
	b.boxes = of.later
}

// least is the least that a design of a branch that has not been looked at can cost.
func (b *branch) least() score.Points {
	if !b.begun {
		return b.cost
	}
	least := unsettled
	for i := range b.boxes {
		least = min(least, b.boxes[i].bound)
	}
	return least
}
