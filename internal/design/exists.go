package design

import (
	"context"
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/pause"
	"findrive/internal/score"
	"findrive/internal/search"
)

// Exists looks for any drive that meets the brief, best or not, or for the proof that
// there is none, which is much less work than finding the best; or for so many as
// opt.Keep says, if it is above 1. ProvedBest only says that there are those, and, if
// they are fewer than asked for, no others. Drives are worked out by the plain route as
// Find's are.
//
// It is looked for under two low ceilings of penalty, under which most cupboards have some
// drive and few ways to band each arrangement are looked at, and among all drives, which
// then count as equally good. Which comes to one soonest is not known beforehand: each is
// tried for a while before any is gone through to its end.
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
	if pause.Err(ctx) != nil {
		return stoppedBefore(cup, b), nil
	}
	r := &Result{Cupboard: cup, Brief: b, Status: NonePossible, Proposals: []Proposal{}}
	t, equal := taskFor(ctx, cup, b, opt), equalTask(ctx, cup, b, opt)
	levels := [...]problem{t.upTo(4_000), t.upTo(8_000), equal.upTo(search.Unlimited)}
	var over [len(levels)]bool
	for _, efforts := range tries {
		for i, p := range levels {
			if over[i] || efforts[i] == 0 || pause.Err(ctx) != nil {
				continue
			}
			found := anyUnder(ctx, p, opt, efforts[i])
			r.Stats.Add(found.Stats)
			if len(found.Best) > len(r.Proposals) {
				r.Status, r.Proposals = ProvedBest, r.Proposals[:0]
				for i, f := range found.Best {
					p, err := t.propose(f.Solution)
					if err != nil {
						return nil, err
					}
					p.Rank, p.order = i+1, t.orderOf(&f.Node)
					r.Proposals = append(r.Proposals, p)
				}
			}
			if over[i] = found.Proved; !found.Proved {
				r.Open = max(r.Open, score.Points(found.Open))
			}
			if len(r.Proposals) == opt.Keep || i == len(levels)-1 && found.Proved {
				r.Refused = together(append(t.tally.account(), equal.tally.account()...))
				return r, nil
			}
		}
	}
	r.Status = StoppedEarly
	r.Refused = together(append(t.tally.account(), equal.tally.account()...))
	return r, nil
}

// equalTask is a task to which all drives are equally good.
func equalTask(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) *task {
	any := *b
	any.Weights = brief.Weights{SpeedStep: b.Weights.SpeedStep}
	t := taskFor(ctx, cup, &any, opt)
	t.anyWillDo = true
	return t
}

// noneFrom is up to which penalty drives are looked for before it is asked whether there are
// any at all, and noneEffort how much is looked at for that, counted as in tries: where there
// are none, that is a tenth of the work of going through all ceilings.
const (
	noneFrom   search.Cost = 10_000
	noneEffort int64       = 40_000
)

// none asks whether the cupboard has no drive at all; not settled, it says no.
func (t *task) none(ctx context.Context, opt Options) (none bool, stats search.Stats) {
	equal := equalTask(ctx, t.given, t.brief, opt)
	opt.Keep, opt.Watch = 1, nil
	found := anyUnder(ctx, equal.upTo(search.Unlimited), opt, noneEffort)
	if none = found.Proved && len(found.Best) == 0; none {
		t.tally.join(equal.tally)
	}
	if len(found.Best) > 0 {
		t.keepToShow(found.Best[0], opt.AtMost)
	}
	return none, found.Stats
}

// keepToShow keeps a drive, good or not, to have one to show if the search is stopped before it
// has found any; unless it costs more than at most, if that is not 0.
func (t *task) keepToShow(f search.Found[node, *candidate], most score.Points) {
	p, err := t.propose(f.Solution)
	if err != nil || most > 0 && p.Total > most {
		return
	}
	f.Cost, f.Solution.cost = search.Cost(p.Total), p.Total
	t.toShow = &f
}

// tries are how much is looked at in turn: under each of the low ceilings, and of all
// drives, in nodes, of which each visit to a whole one counts as several; 0 for nothing. What is found
// hangs on them, but not on the machine. (Measured on a service's scarce stock: where a low
// ceiling has no drive, to go through it took up to a hundred times as long as to find one
// above it.)
var tries = [...][3]int64{{1_000, 1_000, 4_000}, {4_000, 4_000, 16_000}, {0, 0, math.MaxInt64}}

// visitCounts is how many nodes a visit to a whole one counts for.
const visitCounts = 12

// anyUnder is the search for any drives of a problem: it ends as soon as enough are
// found, or so much has been looked at. It is stopped only while no node is
// looked at, so that what is found does not depend on the number of threads.
func anyUnder(ctx context.Context, p problem, opt Options, effort int64) search.Result[node, *candidate] {
	own, stop := context.WithCancel(ctx)
	defer stop()
	enough := 0
	if p.anyWillDo { // else a better one may be found beside it
		enough = opt.Keep
	}
	found := search.Best(own, p, search.Options{Keep: opt.Keep, Limit: p.ceiling, InOrder: true, Enough: enough, Threads: opt.Threads, Watch: func(so search.Progress) {
		if opt.Watch != nil {
			opt.Watch(so)
		}
		if so.Stats.Improved >= int64(opt.Keep) || so.Stats.Nodes+visitCounts*so.Stats.Visits > effort {
			stop()
		}
	}})
	if pause.Err(ctx) != nil && found.Proved {
		// The task may have seen it end before the search did, and left something out.
		found.Proved, found.Open = false, 0
	}
	return found
}
