package design

import (
	"context"

	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/search"
)

// A dive: what its drives cost at most, after how many arrangements it gives up, and after how many
// nodes it is made in a large cupboard that has not been searched by then. In a smaller one some
// drive is soon found anyhow.
const (
	diveCeiling search.Cost = 30_000
	diveRows    int64       = 200
	diveAfter   int64       = 1000
)

// largeFrom is how many kinds of pulleys make a large cupboard.
const largeFrom = 25

// looking is a look under a ceiling for so many drives.
type looking func(ctx context.Context, keep int, watch func(search.Progress)) search.Result[node, *candidate]

// lookAndDive looks at a cupboard no longer than until a dive is due, which mostly settles it, and
// else dives and looks again. dived is what the dive took.
func (t *task) lookAndDive(ctx context.Context, opt Options, look looking, watch func(search.Progress)) (found search.Result[node, *candidate], dived search.Stats) {
	short := &briefly{Context: ctx}
	found = look(short, opt.Keep, func(so search.Progress) {
		watch(so)
		if so.Stats.Nodes >= diveAfter {
			short.over.Store(true)
		}
	})
	if found.Proved || pause.Err(ctx) != nil {
		return found, dived
	}
	dived = t.dive(ctx, opt)
	return look(ctx, opt.Keep, watch), dived
}

// dive looks for some drives, good or not, to have them to show if the search is stopped while it
// is still ruling out cheaper ones. It has a task of its own: which of its arrangements are left
// as soon as enough have a drive hangs on the machine, and so does what is learned of them. Where
// it is made much has to be looked at, for which the chart of the classrooms pays.
func (t *task) dive(ctx context.Context, opt Options) search.Stats {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	own := taskFor(ctx, t.given, t.brief, opt)
	found := search.Best[node, *candidate](ctx, diving{own.upTo(diveCeiling)}, search.Options{Keep: opt.Keep, Enough: opt.Keep, Limit: diveCeiling, InOrder: true, Threads: opt.Threads, Watch: func(so search.Progress) {
		if so.Stats.Finished >= diveRows {
			stop()
		}
	}})
	t.dived, t.many = found.Best, true
	for i := range found.Best { // they may be had for much less
		f := &found.Best[i]
		t.rowOf(&f.Node).settle(ctx, score.Points(f.Cost))
	}
	return found.Stats
}

// diving is the search for arrangements that have any drive.
type diving struct{ problem }

// Finish finds any design of an arrangement that costs no more than limit.
func (d diving) Finish(ctx context.Context, n node, limit search.Cost) search.Finished[*candidate] {
	s := d.settlingOf(ctx, &n, score.Points(limit))
	s.one = true
	if s.prepare() {
		s.eachLevel(func() {
			if _, ok := s.listStates(s.wanted()); !ok {
				return
			}
			s.chooseMotorJoint(func() {
				s.chooseAxles(0, func() {
					if r, all := s.refiningOf(); r != nil {
						r.refine(&all, r.bound(&all))
					}
				})
			})
		})
	}
	if s.best == nil {
		return search.Finished[*candidate]{Cost: search.Unlimited, Open: search.Unlimited, Left: search.Unlimited}
	}
	return search.Finished[*candidate]{Solution: s.best, Cost: search.Cost(s.best.cost), Open: search.Unlimited, Left: search.Unlimited}
}
