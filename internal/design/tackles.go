package design

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
)

// findTackle finds the best drives of a lift for each tackle that the brief allows
// and ranks them together: drive and tackle are chosen as one. A drive among the
// best of all is among the best with its own tackle, so nothing is lost by
// searching one tackle after another. A tackle costs no points; of drives with
// equally many the one with fewer rope parts comes first, as it needs fewer blocks
// and less cord.
func findTackle(ctx context.Context, cup *parts.Cupboard, b *brief.Brief, opt Options) (*Result, error) {
	all := &Result{Cupboard: cup, Brief: b, Status: ProvedBest, Proposals: []Proposal{}, Refused: []Refused{}}
	var open []score.Points // of the tackles that were not searched to the end
	for _, tackle := range b.Load.Tackles {
		one := opt
		one.First = nil // another tackle may do better
		if opt.Watch != nil {
			before := all.Stats
			one.Watch = func(p search.Progress) {
				p.Stats.Add(before)
				opt.Watch(p)
			}
		}
		r, err := find(ctx, cup, b.With(tackle), one)
		if err != nil {
			return nil, fmt.Errorf("with %d rope parts: %w", tackle.Parts, err)
		}
		all.Stats.Add(r.Stats)
		all.Proposals = append(all.Proposals, r.Proposals...)
		all.Refused = append(all.Refused, r.Refused...)
		if r.Status == StoppedEarly {
			open = append(open, r.Open)
		}
	}
	slices.SortStableFunc(all.Proposals, func(x, y Proposal) int { return cmp.Compare(x.Total, y.Total) })
	all.Proposals = all.Proposals[:min(opt.Keep, len(all.Proposals))]
	for n := len(all.Proposals); n > 0 && all.Proposals[n-1].Total > all.Proposals[0].Total+score.Worth; n-- {
		all.Proposals = all.Proposals[:n-1]
	}
	for i := range all.Proposals {
		all.Proposals[i].Rank = i + 1
	}
	all.Refused = together(all.Refused)
	switch {
	case len(open) > 0:
		all.Status, all.Open = StoppedEarly, slices.Min(open)
	case len(all.Proposals) == 0:
		all.Status = NonePossible
	}
	return all, nil
}

// together adds up accounts of the same rules: counts add, and the nearest miss is
// the least, then the first sentence by alphabet.
func together(accounts []Refused) []Refused {
	out := []Refused{}
	for _, rule := range constraints.Rules() {
		var sum *Refused
		for _, r := range accounts {
			switch {
			case r.Rule != rule:
			case sum == nil:
				first := r
				sum = &first
			default:
				sum.Count += r.Count
				if r.Miss < sum.Miss || r.Miss == sum.Miss && r.Nearest < sum.Nearest {
					sum.Nearest, sum.Miss = r.Nearest, r.Miss
				}
			}
		}
		if sum != nil {
			out = append(out, *sum)
		}
	}
	return out
}
