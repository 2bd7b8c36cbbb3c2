// Package ideas asks which models of a library a cupboard can make now, for how
// many groups, and what is missing for the others. Every answer is a search with
// package design; every change it offers has been searched with.
package ideas

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/search"
)

// Kind is what an answer comes to; the words are part of the machine output.
type Kind string

// The kinds of answer, best first.
const (
	AllSets   Kind = "all sets"     // all sets asked for can be built at once
	FewerSets Kind = "fewer sets"   // some, not all
	Open      Kind = "not settled"  // no drive found before the search was stopped
	NoDrive   Kind = "not possible" // not even one set: proved
)

func (k Kind) rank() int { return slices.Index([]Kind{AllSets, FewerSets, Open, NoDrive}, k) }

// Answer is what the cupboard makes of an idea.
type Answer struct {
	Idea
	Kind Kind
	// Best is the best drive found, for all sets asked for or for as many as can be;
	// nil without one.
	Best *design.Proposal
	// BestProved is false if the search for Best was stopped early: there may be a
	// better one.
	BestProved bool
	// Sets is how many of Best the stock makes, at least as many as are asked for if
	// those can be built.
	Sets int
	// MostProved is true if it has been proved that no drive can be built more
	// than Sets times. It is looked into only if fewer are possible than asked for.
	MostProved bool
	// First are the parts of Best that run out first: of one set more there is
	// too little of each.
	First []design.Use
	// Lacking are the kinds of part, of those that every drive needs, of which the
	// cupboard has none, and what the brief asks for by name and is not there.
	Lacking []string
	// Nearest is the nearest miss of the rules that stood in the way; nil unless Kind
	// is NoDrive or Open.
	Nearest *design.Refused
	// Changes are changes of the brief or the cupboard any one of which makes a
	// drive possible, each found by searching with it; only for NoDrive. All of them
	// have been looked at only if ChangesTried.
	Changes      []Change
	ChangesTried bool
}

// Result is the answers, best first.
type Result struct {
	Cupboard *parts.Cupboard
	Answers  []Answer
	Stopped  bool // some answer is not proved
}

// Count is how many answers are of a kind.
func (r *Result) Count(k Kind) int {
	n := 0
	for i := range r.Answers {
		if r.Answers[i].Kind == k {
			n++
		}
	}
	return n
}

// Options steer Find.
type Options struct {
	Sets    int // to be built of each idea; 0 leaves it to the briefs
	Threads int
	// Limit bounds one search; it is called as each begins. Nil bounds none. An
	// idea takes at most two such times: one to find its best drive, another for
	// what is missing.
	Limit func(context.Context) (context.Context, context.CancelFunc)
	Watch func(search.Progress)
}

// Find answers every idea. When ctx ends, what is left is answered Open. The error
// is design.Find's: the program contradicts itself.
func Find(ctx context.Context, cup *parts.Cupboard, list []Idea, opt Options) (*Result, error) {
	r := &Result{Cupboard: cup}
	for _, idea := range list {
		if opt.Sets > 0 {
			b := *idea.Brief
			b.Sets = opt.Sets
			idea.Brief = &b
		}
		a, err := answer(ctx, cup, idea, opt)
		if err != nil {
			return nil, err
		}
		if !a.BestProved || a.Kind == FewerSets && !a.MostProved {
			r.Stopped = true
		}
		r.Answers = append(r.Answers, *a)
	}
	slices.SortStableFunc(r.Answers, func(a, b Answer) int {
		if a.Kind != b.Kind {
			return cmp.Compare(a.Kind.rank(), b.Kind.rank())
		}
		return cmp.Or(a.compare(&b), cmp.Compare(a.Brief.Name, b.Brief.Name))
	})
	return r, nil
}

// compare orders answers of the same kind: those that serve the greater share of the
// groups first, then those of fewer points, then those nearer to being possible.
func (a *Answer) compare(b *Answer) int {
	switch a.Kind {
	case AllSets:
		return cmp.Compare(a.Best.Total, b.Best.Total)
	case FewerSets:
		return cmp.Or(cmp.Compare(b.Sets*a.Brief.Sets, a.Sets*b.Brief.Sets), cmp.Compare(a.Best.Total, b.Best.Total))
	case NoDrive:
		return cmp.Or(cmp.Compare(min(1, len(b.Changes)), min(1, len(a.Changes))), cmp.Compare(len(a.Lacking), len(b.Lacking)))
	}
	return 0
}

// asker searches for one idea.
type asker struct {
	cup  *parts.Cupboard
	opt  Options
	sets int  // to be possible with a change; 0 for one
	mix  bool // they may be built as different drives
}

func (k asker) limited(ctx context.Context) (context.Context, context.CancelFunc) {
	if k.opt.Limit == nil {
		return ctx, func() {}
	}
	return k.opt.Limit(ctx)
}

// best is the single best drive for so many sets.
func (k asker) best(ctx context.Context, idea Idea, sets int) (*design.Result, error) {
	b := *idea.Brief
	b.Sets = sets
	return design.Find(ctx, k.cup, &b, design.Options{Keep: 1, Threads: k.opt.Threads, Watch: k.opt.Watch})
}

func answer(ctx context.Context, cup *parts.Cupboard, idea Idea, opt Options) (*Answer, error) {
	k := asker{cup: cup, opt: opt}
	a := &Answer{Idea: idea, Lacking: append(design.Lacking(cup, idea.Brief), unknown(cup, idea.Brief)...)}
	first, stop := k.limited(ctx)
	r, err := k.best(first, idea, idea.Brief.Sets)
	stop()
	if err != nil {
		return nil, err
	}
	switch {
	case len(r.Proposals) > 0:
		a.Kind = AllSets
		a.take(r)
		return a, nil
	case r.Status == design.StoppedEarly:
		a.Kind = Open
		a.blame(r)
		return a, nil
	}
	// Proved: not for so many. What is missing?
	second, stop := k.limited(ctx)
	defer stop()
	if err := k.fewer(second, a, r); err != nil {
		return nil, err
	}
	if a.Kind == NoDrive && len(design.Lacking(cup, idea.Brief)) == 0 {
		a.Changes, a.ChangesTried, err = k.changes(second, idea.Brief)
	}
	return a, err
}

// fewer finds the greatest number of sets, below the one asked for and refused,
// that can be built of one drive. What can be built n times can be built n-1
// times, and a drive built for n sets shows how many more of it there could be; so
// each search either ends it or raises the number.
func (k asker) fewer(ctx context.Context, a *Answer, refused *design.Result) error {
	a.Kind = NoDrive
	if a.Brief.Sets == 1 {
		a.blame(refused)
		return nil
	}
	for sets := 1; sets < a.Brief.Sets; sets = a.Sets + 1 {
		r, err := k.best(ctx, a.Idea, sets)
		switch {
		case err != nil:
			return err
		case len(r.Proposals) > 0:
			a.Kind = FewerSets
			a.take(r)
			continue
		case a.Kind == FewerSets:
			a.MostProved = r.Status == design.NonePossible
			return nil
		case r.Status == design.StoppedEarly:
			a.Kind = Open
		}
		a.blame(r)
		return nil
	}
	a.MostProved = true // one more is what was refused at first
	return nil
}

// take makes the best drive of a search the answer's.
func (a *Answer) take(r *design.Result) {
	a.Best = &r.Proposals[0]
	a.BestProved = r.Status == design.ProvedBest
	a.Sets, a.First = capacity(a.Best)
}

// blame notes what stood in the way.
func (a *Answer) blame(r *design.Result) {
	a.BestProved = r.Status == design.NonePossible
	for i := range r.Refused {
		if no := &r.Refused[i]; a.Nearest == nil || no.Miss < a.Nearest.Miss {
			a.Nearest = no
		}
	}
}

// capacity is how many sets of a drive the stock makes, and the parts that are
// too few for one more.
func capacity(p *design.Proposal) (int, []design.Use) {
	sets := -1
	for _, u := range p.Uses {
		if n := u.Have / u.Each; sets < 0 || n < sets {
			sets = n
		}
	}
	var first []design.Use
	for _, u := range p.Uses {
		if u.Have/u.Each == sets {
			first = append(first, u)
		}
	}
	return sets, first
}

// unknown is what the brief asks for by name, or by number of cells, and the
// cupboard has not.
func unknown(cup *parts.Cupboard, b *brief.Brief) []string {
	var out []string
	if name := b.Load.Wheel; name != "" && cup.Item("wheel", name) == nil {
		out = append(out, "wheel "+name)
	}
	if name := b.Load.Drum; name != "" && cup.Item("drum", name) == nil {
		out = append(out, "drum "+name)
	}
	if len(b.Cells) > 0 && len(cup.Holders) > 0 && !slices.ContainsFunc(cup.Holders, func(h parts.CellHolder) bool { return slices.Contains(b.Cells, h.Cells) }) {
		var numbers []string
		for _, n := range b.Cells {
			numbers = append(numbers, strconv.Itoa(n))
		}
		cells := "cells"
		if slices.Equal(b.Cells, []int{1}) {
			cells = "cell"
		}
		out = append(out, fmt.Sprintf("holder for %s %s", strings.Join(numbers, " or "), cells))
	}
	return out
}
