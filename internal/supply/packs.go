package supply

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/money"
	"findrive/internal/prices"
)

// OnePack is what the least that can be had of one offer does by itself.
type OnePack struct {
	Offer prices.Offer
	Packs int          // the least that can be had
	Money money.Amount // with carriage; more of the same where the supplier asks for a larger order
	// Before and After are how many groups of each brief can build at the same time
	// from the cupboard, and with the packs; each brief by itself, by the drives weighed,
	// of which there may be more.
	Before, After []int
}

// Gained is how many groups more can build, of all briefs together.
func (o *OnePack) Gained() int {
	n := 0
	for i := range o.After {
		n += o.After[i] - o.Before[i]
	}
	return n
}

// onePack tries every offer by itself. For each a search looks for a drive with it for
// one group more than the drives known serve.
func (a *asker) onePack(ctx context.Context) ([]OnePack, error) {
	before := make([]int, len(a.jobs))
	empty := make([]int, len(a.q.List.Offers))
	for i := range a.jobs {
		before[i] = a.served(ctx, i, a.had(empty))
	}
	var out []OnePack
	for o, offer := range a.q.List.Offers {
		packs := slices.Clone(empty)
		packs[o], _ = a.alone(offer)
		part := a.at[key{offer.Kind, offer.Part}] // of axles the kind
		have := a.had(packs)
		with := OnePack{Offer: offer, Before: before}
		with.Packs, with.Money = a.alone(offer)
		for i, j := range a.jobs {
			n := a.served(ctx, i, have)
			if n < j.groups && j.most[part] > 0 && a.limited[part] {
				if _, err := a.search(ctx, j, j.from(have, n+1), n+1, 1, j.brief.Tolerance); err != nil {
					return nil, err
				}
				n = a.served(ctx, i, have)
			}
			with.After = append(with.After, n)
		}
		out = append(out, with)
	}
	// What a search for a later offer found may serve for an earlier one too.
	for i := range a.jobs {
		before[i] = a.served(ctx, i, a.had(empty))
	}
	for o := range out { // still in the order of the offers
		packs := slices.Clone(empty)
		packs[o] = out[o].Packs
		for i := range a.jobs {
			out[o].After[i] = a.served(ctx, i, a.had(packs))
		}
	}
	slices.SortStableFunc(out, func(x, y OnePack) int {
		// Groups for the money, without fractions.
		return cmp.Or(cmp.Compare(int64(y.Gained())*int64(x.Money), int64(x.Gained())*int64(y.Money)), cmp.Compare(x.Money, y.Money))
	})
	return out, nil
}

// alone is the fewest packs of an offer that can be ordered by themselves, and what they
// cost with carriage.
func (a *asker) alone(o prices.Offer) (packs int, paid money.Amount) {
	s := a.q.List.Suppliers[o.Supplier]
	packs = o.Least
	if short := s.Minimum - o.Price*money.Amount(packs); short > 0 {
		packs += int((short + o.Price - 1) / o.Price)
	}
	goods := o.Price * money.Amount(packs)
	if s.FreeFrom > 0 && goods >= s.FreeFrom {
		return packs, goods
	}
	return packs, goods + s.Carriage
}

// served is how many groups of a job the drives known let build at the same time from so
// many of each part.
func (a *asker) served(ctx context.Context, job int, have []int) int {
	j := a.jobs[job]
	p := &allot.Problem{Groups: j.groups}
	for i := range a.parts {
		p.Stock = append(p.Stock, have[i])
	}
	var choices []choice
	for _, f := range j.drives {
		if f.off <= j.brief.Tolerance {
			choices = append(choices, choice{job: 0, drive: f, takes: f.takes, gone: f.gone, sawn: f.sawn})
			takes := slices.Clone(f.takes)
			for i := range takes {
				if a.parts[i].kind == "axle" {
					takes[i] = 0 // of which there are rows of their own
				}
			}
			p.Choices = append(p.Choices, allot.Choice{Cost: int64(f.drive.Total), Takes: takes})
		}
	}
	a.sawnFrom(p, choices, have)
	best := 0
	if a.q.Mix {
		best = allot.Best(ctx, p).Served
	}
	for i, c := range p.Choices { // one drive for all
		n := j.groups
		counts := make([]int, len(p.Choices))
		for part, t := range c.Takes {
			if t > 0 {
				n = min(n, p.Stock[part]/t)
			}
		}
		for counts[i] = n; n > 0 && p.Fits != nil && !p.Fits(counts); counts[i] = n {
			n--
		}
		best = max(best, n)
	}
	return best
}
