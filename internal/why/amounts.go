package why

import (
	"context"

	"findrive/internal/conflict"
	"findrive/internal/design"
	"findrive/internal/leeway"
)

// really settles whether the levers of a set can be kept together with all others set aside
// but except, if it is not nil. The case with them aside leaves out what grows with some of
// them: nothing is possible that is not so in it. What is found in it must be found again with
// these by some amount, else it is open.
func (k *asker) really(ctx context.Context, kept conflict.Set, except *leeway.Lever, limit func(context.Context) (context.Context, context.CancelFunc)) conflict.Answer {
	c := k.relaxed(kept, except)
	q, answer := k.within(ctx, c, limit)
	var grow []*leeway.Lever // set aside, and something grows with them
	for i := range k.levers {
		if l := &k.levers[i]; !kept.Has(i) && l != except && l.Ways[0].Loose != nil {
			grow = append(grow, l)
		}
	}
	if q == nil || len(grow) == 0 {
		return answer
	}
	// rest is the case with all that is set aside but those levers.
	rest := k.base.Copy()
	for i := range k.levers {
		if l := &k.levers[i]; !kept.Has(i) && l != except && l.Ways[0].Loose == nil {
			l.Relax(rest)
		}
	}
	needed := rest.Copy()
	for _, l := range grow {
		way := &l.Ways[0]
		way.Apply(needed, way.Needs(c, q))
	}
	if found := k.like(ctx, needed, q); found != nil {
		return conflict.Possible
	}
	// Of several, all but the last by as little as there can be.
	last := len(grow) - 1
	for i, l := range grow[:last] {
		way := &l.Ways[0]
		steps, _, _ := k.halve(ctx, func(n int) leeway.Case {
			c := rest.Copy()
			way.Loose(c, n, 0)
			for _, other := range grow[i+1:] {
				other.Relax(c)
			}
			return c
		}, way.Needs, -1, way.Most, q)
		way.Apply(rest, steps)
	}
	_, _, answer, _ = k.growing(ctx, func(apply func(leeway.Case)) leeway.Case {
		c := rest.Copy()
		apply(c)
		return c
	}, &grow[last].Ways[0], 0, limit)
	if answer == conflict.Impossible && last > 0 {
		return conflict.Open // not settled with more of the others
	}
	return answer
}

// like looks in a case for a drive of the same parts as one that was found in another, which is
// soon done. That there is none settles nothing.
func (k *asker) like(ctx context.Context, c leeway.Case, q *design.Proposal) *design.Proposal {
	d := q.Drive
	p := &design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages)}
	for i := range d.Stages {
		s := &d.Stages[i]
		p.Each = append(p.Each, design.StagePins{Driver: s.Driver.Name, Driven: s.Driven.Name, Band: s.Band.Name, Use: &s.Use, Crossed: &s.Crossed, Axle: d.Axles[i].Name})
	}
	c.Pins = p
	open := k.open
	found, _ := k.exists(ctx, c)
	k.open = open
	return found
}

// halve finds the fewest steps with which a drive is found, where more never make less
// possible, halving between few, which will not do, and enough, with which q was found. needs
// is how few a drive shows to be enough, nil if that cannot be told. below is the answer for
// one step less.
func (k *asker) halve(ctx context.Context, with func(steps int) leeway.Case, needs func(c leeway.Case, q *design.Proposal) int, few, enough int, q *design.Proposal) (steps int, found *design.Proposal, below conflict.Answer) {
	lo, hi := few, enough
	fewer := func(steps int) int {
		if needs == nil {
			return steps
		}
		return min(steps, max(lo+1, needs(with(steps), q)))
	}
	hi = fewer(hi)
	below = conflict.Impossible
	for hi-lo > 1 {
		mid := lo + (hi-lo)/2
		if found, a := k.exists(ctx, with(mid)); found != nil {
			q = found
			hi = fewer(mid)
		} else {
			lo, below = mid, a
		}
	}
	return hi, q, below
}

// bisect finds the fewest steps of a way with which a drive is found. with is a case to which
// the way was applied. proved is whether one step less is proved not to do. Without a drive the
// answer is whether that is proved.
func (k *asker) bisect(ctx context.Context, with func(apply func(leeway.Case)) leeway.Case, way *leeway.Way) (steps int, q *design.Proposal, answer conflict.Answer, proved bool) {
	if way.Loose != nil {
		return k.growing(ctx, with, way, 1, k.opt.Alone)
	}
	by := func(n int) leeway.Case { return with(func(c leeway.Case) { way.Apply(c, n) }) }
	if q, answer = k.within(ctx, by(way.Most), k.opt.Alone); q == nil {
		return 0, nil, answer, false
	}
	var needs func(leeway.Case, *design.Proposal) int
	if way.Enough != nil {
		needs = func(_ leeway.Case, q *design.Proposal) int { return way.Enough(q) }
	}
	steps, q, below := k.halve(ctx, by, needs, 0, way.Most, q)
	return steps, q, answer, below == conflict.Impossible
}

// oneByOne is how many amounts of what grows are tried without leaving any out.
const oneByOne = 5

// growing is bisect for a way with which something grows that makes less possible. With as
// much as is known to have grown already, at first with few steps, it finds how many there must
// be at least; if they do not do, so much more has grown.
func (k *asker) growing(ctx context.Context, with func(apply func(leeway.Case)) leeway.Case, way *leeway.Way, few int, limit func(context.Context) (context.Context, context.CancelFunc)) (steps int, q *design.Proposal, answer conflict.Answer, proved bool) {
	proved = true
	for grown, tries, stride := few, 0, 1; grown <= way.Most; tries++ {
		loose := func(n int) leeway.Case { return with(func(c leeway.Case) { way.Loose(c, n, grown) }) }
		q, answer = k.within(ctx, loose(way.Most), limit)
		if q == nil {
			if answer == conflict.Impossible && proved {
				return 0, nil, answer, false
			}
			return 0, nil, conflict.Open, false
		}
		steps, q, answer = k.halve(ctx, loose, way.Needs, grown-1, way.Most, q)
		proved = proved && answer == conflict.Impossible
		by := with(func(c leeway.Case) { way.Apply(c, steps) })
		if found := k.like(ctx, by, q); found != nil {
			return steps, found, conflict.Possible, proved
		}
		found, answer := k.within(ctx, by, limit)
		if found != nil {
			return steps, found, conflict.Possible, proved
		}
		proved = proved && answer == conflict.Impossible
		if grown = steps + 1; tries >= oneByOne {
			grown, proved = grown+stride, false
			stride *= 2
		}
	}
	if proved {
		return 0, nil, conflict.Impossible, false
	}
	return 0, nil, conflict.Open, false
}
