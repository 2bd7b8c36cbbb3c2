package design

import (
	"context"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
)

// Exists looks for any drive that meets the brief, best or not, or for the proof that
// there is none, which is much less work than finding the best. The result has at
// most one proposal; ProvedBest then only says that there is one. A drive is worked
// out by the plain route as Find's are. Of opt, Keep is not looked at.
//
// Two low ceilings of penalty come first, under which most cupboards have some drive
// and few ways to band each arrangement are looked at. After that all drives count as
// equally good, so that the first that is found ends the search.
func Exists(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	tackles := b.Load.Tackles
	if len(tackles) < 2 {
		return exists(ctx, cup, b, opt)
	}
	all := &Result{Cupboard: cup, Brief: b, Status: NonePossible, Proposals: []Proposal{}, Refused: []Refused{}}
	for _, tackle := range tackles {
		r, err := exists(ctx, cup, b.With(tackle), opt)
		if err != nil || len(r.Proposals) > 0 {
			return r, err
		}
		if r.Status == StoppedEarly {
			all.Status = StoppedEarly
		}
		all.Refused = append(all.Refused, r.Refused...)
	}
	all.Refused = together(all.Refused)
	return all, nil
}

func exists(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	r := &Result{Cupboard: cup, Brief: b, Status: NonePossible, Proposals: []Proposal{}}
	t := taskFor(cup, b, opt)
	any := *b
	any.Weights = brief.Weights{SpeedStep: b.Weights.SpeedStep}
	equal := taskFor(cup, &any, opt)
	for _, p := range []problem{{t, 4_000}, {t, 8_000}, {equal, search.Unlimited}} {
		found := anyUnder(ctx, p, opt)
		r.Stats.Add(found.Stats)
		if len(found.Best) > 0 {
			p, err := t.propose(found.Best[0].Solution)
			if err != nil {
				return nil, err
			}
			p.Rank = 1
			r.Proposals, r.Status = append(r.Proposals, p), ProvedBest
			break
		}
		if !found.Proved {
			r.Status, r.Open = StoppedEarly, score.Points(found.Open)
			break
		}
	}
	r.Refused = together(append(t.tally.account(), equal.tally.account()...))
	return r, nil
}

// anyUnder is the search for any drive of a problem: it ends as soon as one is found.
// It is stopped between batches only, so that what is found does not depend on the
// number of threads.
func anyUnder(ctx context.Context, p problem, opt Options) search.Result[node, *candidate] {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	return search.Best(ctx, p, search.Options{Limit: p.ceiling, InOrder: true, Threads: opt.Threads, Watch: func(so search.Progress) {
		if opt.Watch != nil {
			opt.Watch(so)
		}
		if so.Stats.Improved > 0 {
			stop()
		}
	}})
}
