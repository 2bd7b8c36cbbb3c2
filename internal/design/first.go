package design

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/pause"
	"findrive/internal/score"
)

// Among the designs of an arrangement that cost the same, which one is listed is settled
// by an order of its own (docs/model.md): the search that finds the least cost takes
// whatever comes first. So of each drive that is listed the designs are gone through
// once more, in that order, and the first that costs no more is taken.

// firstOf is the first design of an arrangement, in the order of equals, that costs no
// more than its cheapest; nil if ctx ended before it was found.
func (t *task) firstOf(ctx context.Context, n *node, least score.Points) *candidate {
	s := t.settlingOf(ctx, n, least)
	if !s.prepare() {
		return nil
	}
	s.eachLevel(func() {
		if !s.listStates() {
			return
		}
		w := walking{settling: s}
		for i := range s.stages {
			w.ordered[i] = inOrder(s.states[i])
		}
		for _, inner := range drive.Lies() {
			for _, output := range drive.Lies() {
				s.chooseMotorJoint(func() {
					s.chooseAxles(0, func() { w.begin(shape{inner, output}) })
				})
			}
		}
	})
	return s.best
}

// walking goes through the designs of an arrangement in the order of equals.
type walking struct {
	*settling
	ordered [drive.MaxStages][]*cluster // single states
}

// inOrder lists the states of a cluster one by one: the cheaper first, then open before
// crossed, single before looped before paired, the shorter band, and the mark nearer to
// the ideal stretch.
func inOrder(all *cluster) []*cluster {
	states := slices.Clone(all.states)
	slices.SortStableFunc(states, func(a, b *state) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), compareBool(b.crossed, a.crossed), cmp.Compare(a.use, b.use),
			cmp.Compare(a.band, b.band), cmp.Compare(a.off(a.Centre), b.off(b.Centre)), cmp.Compare(a.Centre, b.Centre))
	})
	out := make([]*cluster, len(states))
	for i := range states {
		out[i] = halve(states[i : i+1])
	}
	return out
}

// begin goes through the designs of the present axles with a shape.
func (w *walking) begin(as shape) {
	if w.best != nil || pause.Err(w.ctx) != nil {
		return
	}
	r, all := w.refiningOf()
	if r == nil || as.inner < all.best.inner || as.inner > all.worst.inner || as.output < all.best.output || as.output > all.worst.output {
		return
	}
	all.best, all.worst = as, as
	w.walk(r, w.stages-1, all)
}

// walk goes through the states of stage i, then of those before it.
func (w *walking) walk(r *refining, i int, b box) {
	if bound := r.bound(&b); bound > w.most || bound == unsettled || pause.Err(w.ctx) != nil {
		return
	}
	if i < 0 {
		r.workOut(&b)
		return
	}
	for _, c := range w.ordered[i] {
		b.states[i] = c
		if w.walk(r, i-1, b); w.best != nil {
			return
		}
	}
}
