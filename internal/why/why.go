// Package why answers why not, and why this one. Where nothing can be built, or not
// what somebody wants, it says which rules, lines of the brief and stocks cannot be
// kept together, as few of them as stand in the way, and which single change by how
// little would unlock it. Where drives can be built it says why one ranks before
// another. Every claim is a search with package design, found or proved.
package why

import (
	"context"
	"reflect"
	"slices"

	"findrive/internal/conflict"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/search"
)

// Answer is what Ask came to.
type Answer struct {
	Case leeway.Case
	// Found is what the search for it came to: at most one drive, best or not.
	Found *design.Result
	// Comparison is of the best drive with another: with what is wanted if something
	// is, else with the next. Nil if there are not two to compare. Settled is false if
	// the search for the best was stopped.
	Comparison *Comparison
	Settled    bool
	// Wanted is the best drive with everything that is wanted; Best the best of all.
	// Of what cannot be built only Best may be there.
	Wanted, Best *design.Proposal

	Lacking  []string // kinds of part of which the cupboard has none
	Levers   []leeway.Lever
	Conflict conflict.Result // by number in Levers
	// Changes are changes each of which alone would do, least cost first; if no single
	// lever is enough, together with others.
	Changes []Change
	// Extreme is the nearest to the speed asked that can be built, where all that can be
	// built is too slow or all too fast; nil if that is not so or not known.
	Extreme *Extreme
	// Tried is true if every way to change each lever that helps alone has been tried.
	Tried bool
	// Open is how many searches were stopped before they settled anything.
	Open int
}

// Possible tells whether what was asked for can be built.
func (a *Answer) Possible() bool { return len(a.Found.Proposals) > 0 }

// Complete tells whether nothing was left unsettled of what is said. There may be more
// conflicts than those that are listed.
func (a *Answer) Complete() bool {
	if a.Possible() {
		return a.Settled
	}
	switch {
	case a.Found.Status != design.NonePossible:
		return false
	case len(a.Lacking) > 0 || a.Conflict.None == conflict.Impossible:
		return true
	}
	for _, c := range a.Conflict.Conflicts {
		if c.Members != c.Needed {
			return false
		}
	}
	return len(a.Conflict.Conflicts) > 0 && a.Tried && a.Open == 0
}

// Options steer Ask.
type Options struct {
	Against int // the rank that the first is compared with; 0 for the next
	// None is what the search for the case came to, if it has been made and found
	// nothing; nil if it has not.
	None    *design.Result
	Threads int
	Watch   func(search.Progress)
	// Briefly leaves out what cannot be kept together where single changes tell what stands in
	// the way: to find out which things those are takes most of the time.
	Briefly bool
	// First bounds the first search of all, and then what it takes to find what stands
	// in the way; Alone bounds a search with one thing set aside and Each every other.
	// Nil bounds none.
	First, Alone, Each func(context.Context) (context.Context, context.CancelFunc)
}

// How much a tired reader is told.
const (
	mostConflicts = 3
	mostAside     = 2 // levers set aside together
	mostChanges   = 8
	perLever      = 2
)

// Ask answers for a case. When ctx ends, what is known by then is returned. The error
// is design's: the program contradicts itself.
func Ask(ctx context.Context, c leeway.Case, opt Options) (*Answer, error) {
	k := &asker{opt: opt, base: c}
	a := &Answer{Case: c}
	var err error
	if a.Found = opt.None; a.Found == nil {
		first, stop := limited(ctx, opt.First)
		a.Found, err = design.Exists(first, c.Cupboard, c.Brief, k.options(c, 0))
		stop()
		if err != nil {
			return nil, err
		}
	}
	if a.Possible() {
		return a, k.compare(ctx, a)
	}
	all := conflict.Impossible // as the first search has proved
	if a.Found.Status == design.StoppedEarly {
		all, k.open = conflict.Open, 1
	}
	if a.Lacking = design.Lacking(c.Cupboard, c.Brief); len(a.Lacking) > 0 {
		return a, nil
	}
	a.Levers = leeway.Levers(c)
	k.levers = a.Levers
	enough := a.tells
	if !opt.Briefly {
		enough = nil
	}
	account, stop := limited(ctx, opt.First)
	a.Conflict = conflict.Find(account, func(ctx context.Context, kept conflict.Set) conflict.Answer {
		if kept.Len() == len(a.Levers) {
			return all
		}
		return k.ask(ctx, kept)
	}, conflict.Options{Rules: len(a.Levers), Conflicts: mostConflicts, Cure: mostAside, Enough: enough})
	stop()
	if len(a.Conflict.Cures) == 0 && a.Conflict.All == conflict.Impossible && a.Conflict.None == conflict.Possible {
		if aside := k.several(ctx); len(aside) > 0 {
			a.Conflict.Cures = append(a.Conflict.Cures, conflict.Of(aside...))
		}
	}
	a.Changes, a.Tried = k.changes(ctx, a.Conflict.Cures)
	k.nearest(ctx, a)
	k.better(ctx, a.Changes)
	k.byCost(a.Changes)
	a.Changes = k.slower(ctx, a.Changes)
	k.leading(ctx, a)
	if c.Pins != nil {
		a.Best, err = k.best(ctx, leeway.Case{Cupboard: c.Cupboard, Brief: c.Brief})
	}
	a.Open = k.open
	if k.err != nil {
		err = k.err
	}
	return a, err
}

// asker asks the search.
type asker struct {
	opt    Options
	base   leeway.Case
	levers []leeway.Lever
	asked  []asked
	open   int
	err    error
}

// asked is a question that was settled: what is asked with one thing set aside as far as it goes is
// asked once more when it is looked for how little of it will do.
type asked struct {
	leeway.Case
	drive  *design.Proposal
	answer conflict.Answer
}

// again is what was settled: a drive of its own, which may be changed.
func (a *asked) again() (*design.Proposal, conflict.Answer) {
	if a.drive == nil {
		return nil, a.answer
	}
	q := *a.drive
	return &q, a.answer
}

func (k *asker) options(c leeway.Case, keep int) design.Options {
	return design.Options{Keep: keep, Threads: k.opt.Threads, Watch: k.opt.Watch, Pins: c.Pins}
}

func limited(ctx context.Context, limit func(context.Context) (context.Context, context.CancelFunc)) (context.Context, context.CancelFunc) {
	if limit == nil {
		return ctx, func() {}
	}
	return limit(ctx)
}

// exists looks for any drive in a case; the answer is Open if the search is stopped.
func (k *asker) exists(ctx context.Context, c leeway.Case) (*design.Proposal, conflict.Answer) {
	return k.within(ctx, c, k.opt.Each)
}

func (k *asker) within(ctx context.Context, c leeway.Case, limit func(context.Context) (context.Context, context.CancelFunc)) (*design.Proposal, conflict.Answer) {
	if k.err != nil {
		return nil, conflict.Open
	}
	if at := slices.IndexFunc(k.asked, func(o asked) bool { return reflect.DeepEqual(o.Case, c) }); at >= 0 {
		return k.asked[at].again()
	}
	ctx, stop := limited(ctx, limit)
	defer stop()
	r, err := design.Exists(ctx, c.Cupboard, c.Brief, k.options(c, 0))
	if err != nil {
		k.err = err
		return nil, conflict.Open
	}
	settled := asked{Case: c.Copy(), answer: conflict.Impossible}
	switch {
	case len(r.Proposals) > 0:
		settled.drive, settled.answer = &r.Proposals[0], conflict.Possible
	case r.Status == design.StoppedEarly:
		k.open++
		return nil, conflict.Open
	}
	k.asked = append(k.asked, settled)
	return settled.again()
}

// relaxed is the case with all levers but those kept set aside; except, if it is not
// nil, one that is left as it is.
func (k *asker) relaxed(kept conflict.Set, except *leeway.Lever) leeway.Case {
	c := k.base.Copy()
	for i := range k.levers {
		if l := &k.levers[i]; !kept.Has(i) && l != except {
			l.Relax(c)
		}
	}
	return c
}

// ask settles whether the levers of a set can be kept together. Where one that is set
// aside may have made less possible, its having been kept is tried as well.
func (k *asker) ask(ctx context.Context, kept conflict.Set) conflict.Answer {
	limit := k.opt.Each
	if kept.Len() == len(k.levers)-1 {
		limit = k.opt.Alone // much hangs on it
	}
	a := k.really(ctx, kept, nil, limit)
	for i := range k.levers {
		l := &k.levers[i]
		if !l.Both || kept.Has(i) || a == conflict.Possible {
			continue
		}
		if other := k.really(ctx, kept, l, k.opt.Each); other != conflict.Impossible {
			a = other
		}
	}
	return a
}

// best is the best drive of a case, nil if none was found.
func (k *asker) best(ctx context.Context, c leeway.Case) (*design.Proposal, error) {
	ctx, stop := limited(ctx, k.opt.Each)
	defer stop()
	r, err := design.Find(ctx, c.Cupboard, c.Brief, k.options(c, 1))
	if err != nil || len(r.Proposals) == 0 {
		return nil, err
	}
	return &r.Proposals[0], nil
}
