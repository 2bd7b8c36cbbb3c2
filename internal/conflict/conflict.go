// Package conflict finds the smallest sets of rules that cannot be kept together,
// and the smallest sets of rules to set aside so that the others can. It knows
// nothing of what the rules are about: whether some of them can be kept together is
// asked of the caller, and each question may be a search of its own, so few are
// asked, and what is known already is never asked again.
//
// Setting a rule aside must never make less possible. On that the whole method
// rests: what is possible with some rules kept is possible with fewer, and what is
// impossible is impossible with more.
//
// A conflict is found by leaving out rules, half of them at a time, as long as what is
// left stays impossible (in the manner of Junker, QuickXplain, AAAI 2004, but from all
// rules downwards, since questions with few rules kept are the hard ones). The other
// conflicts are found in the order of the smallest sets to set aside, as Reiter has it
// (A theory of diagnosis from first principles, Artificial Intelligence 32, 1987).
package conflict

import (
	"cmp"
	"context"
	"math/bits"
	"slices"

	"findrive/internal/pause"
)

// Set is a set of rules by their numbers, from 0 to Most-1.
type Set uint64

// Most is how many rules there may be.
const Most = 64

// Of is the set of the given rules.
func Of(rules ...int) Set {
	var s Set
	for _, r := range rules {
		s |= 1 << r
	}
	return s
}

// Has tells whether a rule is in the set.
func (s Set) Has(rule int) bool { return s>>rule&1 == 1 }

// Len is how many rules are in the set.
func (s Set) Len() int { return bits.OnesCount64(uint64(s)) }

// Rules lists the set in ascending order.
func (s Set) Rules() []int {
	var out []int
	for ; s != 0; s &= s - 1 {
		out = append(out, bits.TrailingZeros64(uint64(s)))
	}
	return out
}

// Within tells whether all of s is in other.
func (s Set) Within(other Set) bool { return s&^other == 0 }

// Answer is what is known of keeping some rules together.
type Answer int

// The answers.
const (
	Open       Answer = iota // not settled in the time allowed
	Possible                 // something keeps them all
	Impossible               // proved: nothing does
)

// Ask settles whether the rules of a set can be kept together, all others set aside.
type Ask func(ctx context.Context, kept Set) Answer

// Conflict is a set of rules that are proved not to go together.
type Conflict struct {
	Members Set
	// Needed are the members without which the others are shown to go together. The
	// conflict is as small as can be if that is all of them; what is missing was not
	// settled.
	Needed Set
}

// Result is what Find came to.
type Result struct {
	// All is the answer for all rules kept, and None for all set aside.
	All, None Answer
	// Alone are the rules that it is enough to set aside alone, as far as that was settled:
	// each is in every conflict, if All is Impossible.
	Alone Set
	// Conflicts are in the order in which they were found.
	Conflicts []Conflict
	// Cures are sets of rules to set aside so that the others go together, fewest rules
	// first: the smallest if All is Impossible.
	Cures []Set
	// Smallest is true if it is proved that no set of fewer rules than the first cure is
	// one.
	Smallest bool
	// Complete is true if there are no other smallest conflicts and cures.
	Complete bool
}

// Options steer Find.
type Options struct {
	Rules     int // there are; of more than Most nothing is asked
	Conflicts int // stop after so many
	Cure      int // set aside at most so many rules at once
	// Enough tells whether the rules that are enough alone, of which there are some, are all that
	// is wanted: then no conflict is looked for. To make one small is most of the work. Nil if
	// they never are.
	Enough func(alone Set) bool
}

// Find looks for conflicts among all the rules. It finds none if they go together. If
// it is not settled whether they do, it finds only single rules without which the
// others are sure to. When ctx ends what is known is returned; of more rules than Most
// nothing is.
func Find(ctx context.Context, ask Ask, opt Options) Result {
	if opt.Rules > Most {
		return Result{Cures: []Set{}}
	}
	k := &knowledge{ask: ask}
	all := Set(1)<<opt.Rules - 1
	r := Result{All: k.answer(ctx, all), Cures: []Set{}}
	if r.All == Possible {
		r.Complete = true
		return r
	}
	if r.None = k.answer(ctx, 0); r.None == Impossible {
		r.All, r.Complete = Impossible, true // the rules are not what stands in the way
		return r
	}
	// Each rule set aside alone: those that help are in every conflict, so that most
	// often nothing else needs looking at.
	for _, rule := range all.Rules() {
		if k.answer(ctx, all&^Of(rule)) == Possible {
			r.Alone |= Of(rule)
		}
	}
	enough := r.Alone != 0 && opt.Enough != nil && opt.Enough(r.Alone)
	if r.All == Open || enough {
		for _, rule := range r.Alone.Rules() {
			r.Cures = append(r.Cures, Of(rule))
		}
		r.Smallest = r.All == Impossible
		return r
	}
	r.Complete = r.None == Possible
	unsure := opt.Rules + 1 // fewest rules aside that were not settled
	var open []Set
	tried := map[Set]bool{}
	for queue := []Set{0}; len(queue) > 0; queue = queue[1:] {
		aside := queue[0]
		if slices.ContainsFunc(r.Cures, func(c Set) bool { return c.Within(aside) }) {
			continue
		}
		at := slices.IndexFunc(r.Conflicts, func(c Conflict) bool { return c.Members&aside == 0 })
		if at < 0 {
			switch k.answer(ctx, all&^aside) {
			case Possible:
				// Nobody should give up more than may be needed.
				if !slices.ContainsFunc(open, func(o Set) bool { return o.Within(aside) }) {
					r.Cures = append(r.Cures, aside)
				}
				continue
			case Open:
				r.Complete = false
				unsure = min(unsure, aside.Len())
				open = append(open, aside)
				continue
			}
			// Where one could not be made smaller another would be no plainer.
			if len(r.Conflicts) == opt.Conflicts || slices.ContainsFunc(r.Conflicts, func(c Conflict) bool { return c.Needed != c.Members }) {
				r.Complete = false
				continue
			}
			members := k.smallest(ctx, r.Alone&^aside, all&^aside)
			c := Conflict{Members: members, Needed: k.needed(ctx, members)}
			if c.Needed != c.Members {
				r.Complete = false
			}
			at = len(r.Conflicts)
			r.Conflicts = append(r.Conflicts, c)
		}
		if aside.Len() == opt.Cure {
			r.Complete = false
			continue
		}
		for _, rule := range r.Conflicts[at].Members.Rules() {
			if more := aside | Of(rule); !tried[more] {
				tried[more] = true
				queue = append(queue, more)
			}
		}
	}
	slices.SortStableFunc(r.Cures, func(a, b Set) int { return cmp.Or(cmp.Compare(a.Len(), b.Len()), cmp.Compare(a, b)) })
	r.Smallest = len(r.Cures) > 0 && r.Cures[0].Len() <= unsure
	return r
}

// knowledge is what has been learned by asking.
type knowledge struct {
	ask                  Ask
	possible, impossible []Set
	open                 map[Set]bool
}

func (k *knowledge) answer(ctx context.Context, kept Set) Answer {
	for _, s := range k.possible {
		if kept.Within(s) {
			return Possible
		}
	}
	for _, s := range k.impossible {
		if s.Within(kept) {
			return Impossible
		}
	}
	if k.open[kept] || pause.Err(ctx) != nil {
		return Open
	}
	a := k.ask(ctx, kept)
	switch a {
	case Possible:
		k.possible = append(k.possible, kept)
	case Impossible:
		k.impossible = append(k.impossible, kept)
	default:
		if k.open == nil {
			k.open = map[Set]bool{}
		}
		k.open[kept] = true
	}
	return a
}

// smallest is a smallest conflict within an impossible set. Some rules are known to
// be in every conflict. Where a question stays open the rules in question are kept,
// so that what is returned is impossible for certain, but may not be the smallest.
func (k *knowledge) smallest(ctx context.Context, known, within Set) Set {
	if known != 0 && k.answer(ctx, known) == Impossible {
		return known
	}
	return k.without(ctx, within, (within &^ known).Rules())
}

// without leaves out of an impossible set what it can do without of the rules: all of
// them at once if it can, else each half in turn, the last rules first.
func (k *knowledge) without(ctx context.Context, from Set, rules []int) Set {
	if len(rules) == 0 {
		return from
	}
	if less := from &^ Of(rules...); k.answer(ctx, less) == Impossible {
		return less
	}
	if len(rules) == 1 {
		return from
	}
	from = k.without(ctx, from, rules[len(rules)/2:])
	return k.without(ctx, from, rules[:len(rules)/2])
}

// needed are the members of a conflict that it cannot do without.
func (k *knowledge) needed(ctx context.Context, members Set) Set {
	var out Set
	for _, rule := range members.Rules() {
		if k.answer(ctx, members&^Of(rule)) == Possible {
			out |= Of(rule)
		}
	}
	return out
}
