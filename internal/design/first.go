package design

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/parts"
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
	s.memories = t.rowOf(n).memories
	if !s.prepare() {
		return nil
	}
	s.eachLevel(func() {
		if _, ok := s.listStates(s.wanted()); !ok || !s.someStates() {
			return
		}
		w := walking{settling: s}
		if best := t.rowOf(n).best; best != nil && best.cost == least {
			w.known = append(w.known, best)
		}
		for i := range s.stages {
			w.ordered[i] = inOrder(s.states[i])
		}
		for _, inner := range drive.Lies() {
			if !w.anyAxles(shapes{shape{inner, drive.InLine}, shape{inner, drive.Folded}}) {
				continue
			}
			for _, output := range drive.Lies() {
				w.eachAxles(shapes{shape{inner, output}, shape{inner, output}}, func(r *refining, b box) {
					if w.any(r, b) {
						w.walk(r, w.stages-1, b)
					}
				})
			}
		}
	})
	if pause.Err(ctx) != nil {
		return nil // something before it may not have been looked at
	}
	return s.best
}

// walking goes through the designs of an arrangement in the order of equals.
type walking struct {
	*settling
	ordered [drive.MaxStages][]*cluster // single states
	known   []*candidate                // designs that cost no more than the cheapest
}

// inOrder lists the states of a cluster one by one: the cheaper first, then open before
// crossed, single before looped before paired, the shorter band, and the mark nearer to
// the ideal stretch.
func inOrder(all *cluster) []*cluster {
	states := slices.Clone(all.states)
	slices.SortStableFunc(states, func(a, b *state) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), parts.CompareBool(a.crossed, b.crossed), cmp.Compare(a.use, b.use),
			cmp.Compare(a.band, b.band), cmp.Compare(a.off(a.Centre), b.off(b.Centre)), cmp.Compare(a.Centre, b.Centre))
	})
	out := make([]*cluster, len(states))
	for i := range states {
		out[i] = joined(states[i : i+1 : i+1])
	}
	return out
}

// shapes are those from a best to a worst.
type shapes struct{ best, worst shape }

// eachAxles gives the designs with some shapes of each way to make axles and joints, in
// order, until the first of all is found.
func (w *walking) eachAxles(as shapes, f func(r *refining, b box)) {
	w.chooseMotorJoint(func() {
		w.chooseAxles(0, func() {
			if w.best != nil || pause.Err(w.ctx) != nil {
				return
			}
			r, all := w.refiningOf()
			if r == nil || as.worst.inner < all.best.inner || as.best.inner > all.worst.inner || as.worst.output < all.best.output || as.best.output > all.worst.output {
				return
			}
			all.best = shape{max(all.best.inner, as.best.inner), max(all.best.output, as.best.output)}
			all.worst = shape{min(all.worst.inner, as.worst.inner), min(all.worst.output, as.worst.output)}
			r.tight = true
			f(r, all)
		})
	})
}

// anyAxles tells whether there is a design with some shapes that costs no more than the
// cheapest, whatever its axles.
func (w *walking) anyAxles(as shapes) bool {
	found := false
	w.eachAxles(as, func(r *refining, b box) { found = found || w.any(r, b) })
	return found
}

// walk goes through the states of stage i, then of those before it, in a box that has a
// design.
func (w *walking) walk(r *refining, i int, b box) {
	if i < 0 {
		w.printing = true
		r.workOut(&b)
		w.printing = false
		return
	}
	for _, c := range w.ordered[i] {
		if b.states[i] = c; w.any(r, b) {
			w.walk(r, i-1, b)
			return
		}
		if pause.Err(w.ctx) != nil {
			return
		}
	}
}

// any tells whether a box has a design that costs no more than the cheapest.
func (w *walking) any(r *refining, b box) bool {
	if slices.ContainsFunc(w.known, func(c *candidate) bool { return r.holds(&b, c) }) {
		return true
	}
	limit, most := w.limit, w.most
	w.one = true
	r.refine(&b, r.bound(&b))
	found := w.best
	w.one, w.best, w.limit, w.most = false, nil, limit, most
	if found == nil {
		return false
	}
	w.known = append(w.known, found)
	return true
}

// holds tells whether a design is one of a box. If it says no, it may still be, where the ways
// to band its pulleys have been listed anew since.
func (r *refining) holds(b *box, c *candidate) bool {
	if c.bears != r.choice.bears || *c.choice.onMotor != *r.choice.onMotor ||
		c.lies.inner < b.best.inner || c.lies.inner > b.worst.inner || c.lies.output < b.best.output || c.lies.output > b.worst.output {
		return false
	}
	for i := range r.stages {
		if *c.choice.axles[i] != *r.choice.axles[i] || !slices.Contains(b.states[i].states, c.choice.states[i]) {
			return false
		}
	}
	return true
}
