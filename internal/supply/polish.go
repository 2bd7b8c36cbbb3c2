package supply

import (
	"context"
	"slices"

	"findrive/internal/pause"
	"findrive/internal/purchase"
)

// polish looks for better drives for the money of a solution, and for the plan of fewest
// points that it buys. That changes no money, so no search for it is long.
func (a *asker) polish(ctx context.Context, s *solution) (*solution, error) {
	if a.free {
		s.plan.CostProved = true // of what is weighed
		return s, nil
	}
	if a.opt.Rank != nil {
		limit := a.opt.Limit
		a.opt.Limit = a.opt.Rank
		defer func() { a.opt.Limit = limit }()
	}
	if s.proved {
		have := a.had(s.plan.Packs)
		for _, j := range a.jobs {
			if _, err := a.search(ctx, j, j.from(have, j.groups), j.groups, 3, j.brief.Tolerance); err != nil {
				return nil, err
			}
		}
	}
	if err := a.shareByShare(ctx, s); err != nil {
		return nil, err
	}
	out := *s
	out.choices = a.known(a.tolerances())
	better := purchase.Least(ctx, a.problem(out.choices), purchase.Options{})
	if better.Found && better.Money <= s.plan.Money {
		out.plan = better
	} else {
		out.choices = s.choices
	}
	return &out, nil
}

// shareByShare looks for better drives for what each share of a plan may take, what the
// plan leaves included.
func (a *asker) shareByShare(ctx context.Context, s *solution) error {
	p := a.problem(s.choices)
	have := a.had(s.plan.Packs)
	for i, n := range s.plan.Counts {
		if n == 0 || pause.Err(ctx) != nil {
			continue
		}
		others := slices.Clone(s.plan.Counts)
		others[i] = 0
		c := &s.choices[i]
		j := a.jobs[c.job]
		caps := a.capsFrom(c.job, a.left(p, have, others), 1)
		if _, err := a.search(ctx, j, a.beside(j, caps, sawnBy(s.choices, others), have, n), n, 2, j.brief.Tolerance); err != nil {
			return err
		}
	}
	return nil
}
