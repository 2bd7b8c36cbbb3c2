package design

import (
	"context"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
)

// Exists looks for any drive that meets the brief, best or not, or for the proof that
// there is none, which is much less work than finding the best; or for so many as
// opt.Keep says, if it is above 1. ProvedBest only says that there are those, and, if
// they are fewer than asked for, no others. Drives are worked out by the plain route as
// Find's are.
//
// Two low ceilings of penalty come first, under which most cupboards have some drive
// and few ways to band each arrangement are looked at. After that all drives count as
// equally good, so that the first that are found end the search.
func Exists(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	opt.Keep = max(1, opt.Keep)
	tackles := b.Load.Tackles
	if len(tackles) < 2 {
		return exists(ctx, cup, b, opt)
	}
	all := &Result{Cupboard: cup, Brief: b, Status: NonePossible, Proposals: []Proposal{}, Refused: []Refused{}}
	for _, tackle := range tackles {
		r, err := exists(ctx, cup, b.With(tackle), opt)
		if err != nil || len(r.Proposals) == opt.Keep {
			return r, err
		}
		all.Proposals = append(all.Proposals, r.Proposals...)
		all.Refused = append(all.Refused, r.Refused...)
		all.Stats.Add(r.Stats)
		switch {
		case r.Status == StoppedEarly:
			all.Status = StoppedEarly
		case len(r.Proposals) > 0 && all.Status == NonePossible:
			all.Status = ProvedBest
		}
		if len(all.Proposals) >= opt.Keep {
			break
		}
	}
	all.Proposals = all.Proposals[:min(opt.Keep, len(all.Proposals))]
	for i := range all.Proposals {
		all.Proposals[i].Rank = i + 1
	}
	all.Refused = together(all.Refused)
	return all, nil
}

func exists(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	r := &Result{Cupboard: cup, Brief: b, Status: NonePossible, Proposals: []Proposal{}}
	t := taskFor(ctx, cup, b, opt)
	any := *b
	any.Weights = brief.Weights{SpeedStep: b.Weights.SpeedStep}
	equal := taskFor(ctx, cup, &any, opt)
	equal.anyWillDo = true
	for _, p := range []problem{t.upTo(4_000), t.upTo(8_000), equal.upTo(search.Unlimited)} {
		found := anyUnder(ctx, p, opt)
		r.Stats.Add(found.Stats)
		if len(found.Best) > len(r.Proposals) {
			r.Status, r.Proposals = ProvedBest, r.Proposals[:0]
			for i, f := range found.Best {
				p, err := t.propose(f.Solution)
				if err != nil {
					return nil, err
				}
				p.Rank = i + 1
				r.Proposals = append(r.Proposals, p)
			}
		}
		if len(r.Proposals) == opt.Keep {
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

// anyUnder is the search for any drives of a problem: it ends as soon as enough are
// found. It is stopped between batches only, so that what is found does not depend on
// the number of threads.
func anyUnder(ctx context.Context, p problem, opt Options) search.Result[node, *candidate] {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	return search.Best(ctx, p, search.Options{Keep: opt.Keep, Limit: p.ceiling, InOrder: true, Threads: opt.Threads, Watch: func(so search.Progress) {
		if opt.Watch != nil {
			opt.Watch(so)
		}
		if so.Stats.Improved >= int64(opt.Keep) {
			stop()
		}
	}})
}
