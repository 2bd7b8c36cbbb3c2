package why

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/conflict"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/pause"
)

// Change is a change that makes a drive possible.
type Change struct {
	Steps []Step // one, unless no lever is enough alone; then all are needed
	Cost  leeway.Cost
	// Drive is a drive that was found with it, not always the best, and Best the best that there
	// then is; nil if that was not looked for, or not found in the time.
	Drive, Best *design.Proposal
	// Case is the case with it made.
	Case leeway.Case
}

// Then is the drive that there is once the change is made, as far as that is known.
func (c *Change) Then() *design.Proposal { return cmp.Or(c.Best, c.Drive) }

// Nearest is the drive at whose speed a change asks for another, where one of yet another speed
// leads once that is asked for; else nil.
func (a *Answer) Nearest(c *Change) *design.Proposal {
	asks := slices.ContainsFunc(c.Steps, func(s Step) bool { return a.Levers[s.Lever].Key == "speed" })
	if !asks || c.Best == nil || leeway.SpeedOf(c.Best) == leeway.SpeedOf(c.Drive) {
		return nil
	}
	return c.Drive
}

// Step is a change of one lever.
type Step struct {
	Lever int
	Way   int    // of the lever's ways
	Words string // what to do
	By    int    // steps of the way
	// Least is true if it is proved that one step less would not do.
	Least bool
}

// changes turns levers that help into changes by as little as will do. all is whether
// every way of each lever was tried, or enough was found.
func (k *asker) changes(ctx context.Context, cures []conflict.Set) (found []Change, all bool) {
	all = true
	for _, cure := range cures {
		if cure.Len() > cures[0].Len() {
			break // smaller ones do
		}
		most := perLever
		if cure.Len() > 1 {
			most = 1
		}
		changes, settled := k.least(ctx, k.base.Copy(), cure.Rules(), most)
		if len(changes) == 0 {
			// The others were found with what grows left out, which may have been too little.
			if levers, other := growingFirst(k.levers, cure.Rules()); other {
				changes, settled = k.least(ctx, k.base.Copy(), levers, most)
			}
			for _, c := range changes { // told as always
				slices.SortStableFunc(c.Steps, func(a, b Step) int { return cmp.Compare(a.Lever, b.Lever) })
			}
		}
		all = all && settled
		found = append(found, changes...)
		if len(found) >= mostChanges {
			return found[:mostChanges], all
		}
	}
	return found, all
}

// growingFirst puts those levers first with which something grows, and tells whether that is
// another order.
func growingFirst(levers []leeway.Lever, of []int) ([]int, bool) {
	first := slices.Clone(of)
	slices.SortStableFunc(first, func(a, b int) int {
		grows := func(i int) int {
			if levers[i].Ways[0].Loose != nil {
				return 0
			}
			return 1
		}
		return cmp.Compare(grows(a), grows(b))
	})
	return first, !slices.Equal(first, of)
}

// nearest makes of the change of the speed, if that alone is enough, one to the very
// nearest speed that can be had.
func (k *asker) nearest(ctx context.Context, a *Answer) {
	i := slices.IndexFunc(a.Changes, func(c Change) bool { return len(c.Steps) == 1 && k.levers[c.Steps[0].Lever].Key == "speed" })
	if i < 0 {
		return
	}
	change := &a.Changes[i]
	s := &change.Steps[0]
	if a.Extreme = k.extreme(ctx, change.Drive); a.Extreme != nil && a.Extreme.Drive != change.Drive {
		way := &k.levers[s.Lever].Ways[0]
		changed := k.base.Copy()
		change.Drive = a.Extreme.Drive
		s.By = way.Enough(change.Drive)
		way.Apply(changed, s.By)
		s.Words = way.Words(changed, change.Drive)
		change.Case = changed
		less := k.base.Copy()
		way.Apply(less, s.By-1)
		q, answer := k.exists(ctx, less)
		s.Least = q == nil && answer == conflict.Impossible
	}
}

const (
	// farOff is how many times too fast or too slow the nearest speed is from which on
	// asking for it is no small change: then parts to get are thought of before.
	farOff = 2
	// littleFrame is up to how many millimetres a larger frame is no great matter, so
	// that it is thought of before parts to get (judgement).
	littleFrame = 25
)

// better makes of the changes by which pulleys are made of discs or got, if that alone is
// enough, those to the best drive there then is, which takes no more work or parts than
// helps. Where that is not found in the time, the drive stays that was found first.
func (k *asker) better(ctx context.Context, changes []Change) {
	for i := range changes {
		c := &changes[i]
		if k.err != nil || len(c.Steps) > 1 {
			continue
		}
		s := &c.Steps[0]
		lever := &k.levers[s.Lever]
		if lever.Key != "discs" && lever.Key != "pulleys" {
			continue
		}
		way := &lever.Ways[s.Way]
		changed := k.base.Copy()
		way.Apply(changed, s.By)
		best, err := k.best(ctx, changed)
		if err != nil {
			k.err = err
		}
		if best != nil && (lever.Key == "discs" || k.toGet(best) <= k.toGet(c.Drive)) {
			c.Drive, s.Words = best, way.Words(changed, best)
		}
	}
}

// leading finds which drive leads once a change is made, of that which asks least and of another
// speed: for that many drives will do, and the nearest to what was asked is not always the best.
func (k *asker) leading(ctx context.Context, a *Answer) {
	for i := range a.Changes {
		c := &a.Changes[i]
		if k.err != nil || i > 0 && (len(c.Steps) > 1 || k.levers[c.Steps[0].Lever].Key != "speed") {
			continue
		}
		c.Best, k.err = k.best(ctx, a.Made(c))
	}
}

// slower adds, where nothing goes on the motor and more than one pulley must be got, what
// becomes of the speed with fewer: as little to get as turns at all, and that speed.
func (k *asker) slower(ctx context.Context, changes []Change) []Change {
	if len(changes) == 0 || nothingFits(k.base.Cupboard, k.base.Brief) == "" {
		return changes
	}
	c := &changes[0]
	lever := func(key string) int {
		return slices.IndexFunc(k.levers, func(l leeway.Lever) bool { return l.Key == key })
	}
	pulleys, speed := lever("pulleys"), lever("speed")
	if speed < 0 || len(c.Steps) > 1 || c.Steps[0].Lever != pulleys || k.toGet(c.Drive) < 2*k.base.Brief.Sets {
		return changes
	}
	fewer, _ := k.least(ctx, k.base.Copy(), []int{pulleys, speed}, 1)
	for _, f := range fewer {
		if k.toGet(f.Drive) < k.toGet(c.Drive) {
			changes = append(changes, f)
		}
	}
	return changes
}

// toGet is how many pulleys a drive takes of which there are too few.
func (k *asker) toGet(q *design.Proposal) int {
	n := 0
	for _, u := range q.Uses {
		if u.Kind != "pulley" {
			continue
		}
		have := 0
		for _, name := range append([]string{u.Name}, u.Also...) {
			if it := k.base.Cupboard.Item("pulley", name); it != nil {
				have += it.Count
			}
		}
		n += max(0, u.Each*k.base.Brief.Sets-have)
	}
	return n
}

// byCost puts the changes that ask least first.
func (k *asker) byCost(changes []Change) {
	cost := func(c *Change) int {
		out := 2 * int(c.Cost) // of each kind, and room between
		for i := range c.Steps {
			switch s := &c.Steps[i]; k.levers[s.Lever].Key {
			case "speed": // as far off with other steps as alone
				if off := math.Abs(math.Log(float64(c.Drive.Speed.Likely / c.Drive.Target))); off > math.Log(farOff) {
					out = max(out, 2*int(leeway.Frame)+1)
				}
			case "frame length", "frame height", "frame depth":
				if len(c.Steps) == 1 && s.By <= littleFrame {
					out = 2*int(leeway.Sets) + 1
				}
			}
		}
		return out
	}
	slices.SortStableFunc(changes, func(a, b Change) int {
		return cmp.Or(cmp.Compare(cost(&a), cost(&b)), cmp.Compare(len(a.Steps), len(b.Steps)), cmp.Compare(k.toGet(a.Drive), k.toGet(b.Drive)))
	})
}

// least finds ways to change the first of the levers by as little as will do while the
// others are set aside, and then the others in the same manner.
func (k *asker) least(ctx context.Context, c leeway.Case, levers []int, most int) (out []Change, settled bool) {
	settled = true
	lever := &k.levers[levers[0]]
	others := func(c leeway.Case) leeway.Case {
		c = c.Copy()
		for _, other := range levers[1:] {
			k.levers[other].Relax(c)
		}
		return c
	}
	for i, way := range lever.Ways {
		if way.Most < 1 || way.Last && len(out) > 0 {
			continue
		}
		if pause.Err(ctx) != nil {
			return out, false
		}
		by, q, answer, proved := k.bisect(ctx, func(apply func(leeway.Case)) leeway.Case {
			c := others(c)
			apply(c)
			return c
		}, &way)
		if q == nil {
			settled = settled && answer == conflict.Impossible
			continue
		}
		changed := c.Copy()
		way.Apply(changed, by)
		step := Step{Lever: levers[0], Way: i, Words: way.Words(changed, q), By: by, Least: proved}
		if len(levers) == 1 {
			if c := (Change{Steps: []Step{step}, Cost: lever.Cost, Drive: q, Case: changed}); !c.said(out) {
				out = append(out, c)
			}
		} else {
			rest, ok := k.least(ctx, changed, levers[1:], 1)
			settled = settled && ok
			for _, r := range rest {
				r.Steps = append([]Step{step}, r.Steps...)
				r.Cost = max(r.Cost, lever.Cost)
				k.reword(c, &r)
				out = append(out, r)
			}
		}
		if len(out) >= most {
			return out[:most], settled
		}
	}
	return out, settled
}

// said tells whether one of the others says the same: of two of which one offers more, both
// may come to the same parts.
func (c *Change) said(others []Change) bool {
	return slices.ContainsFunc(others, func(o Change) bool {
		return slices.EqualFunc(o.Steps, c.Steps, func(a, b Step) bool { return a.Words == b.Words })
	})
}

// keptFirst is in what order levers are kept where several must give: first the rules of
// good practice and what is asked for, for a drive far from it is of no use, last what is
// most easily changed (judgement).
var keptFirst = []leeway.Cost{leeway.Rule, leeway.Load, leeway.Speed, leeway.Sets, leeway.Frame, leeway.Part, leeway.Make, leeway.Words}

// several are levers to set aside together, where no one or two are enough: none of them
// can be kept if the others are. Nil if that was not settled.
func (k *asker) several(ctx context.Context) []int {
	order := make([]int, len(k.levers))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(slices.Index(keptFirst, k.levers[a].Cost), slices.Index(keptFirst, k.levers[b].Cost))
	})
	var kept conflict.Set
	for _, i := range order {
		if with := kept | conflict.Of(i); k.ask(ctx, with) == conflict.Possible {
			kept = with
		}
	}
	if pause.Err(ctx) != nil {
		return nil
	}
	all := conflict.Set(1)<<len(k.levers) - 1
	return (all &^ kept).Rules()
}

// reword says the steps of a change anew of the drive that was found with all of them, and
// for as many sets as there are once all are made.
func (k *asker) reword(c leeway.Case, change *Change) {
	c = c.Copy()
	for i := range change.Steps {
		s := &change.Steps[i]
		k.levers[s.Lever].Ways[s.Way].Apply(c, s.By)
	}
	for i := range change.Steps {
		s := &change.Steps[i]
		s.Words = k.levers[s.Lever].Ways[s.Way].Words(c, change.Drive)
	}
}

// Made is the case with a change carried out as its steps say: with as many of a part
// to get as its drive takes. How many sets are built is settled first, for that many
// take of each part.
func (a *Answer) Made(change *Change) leeway.Case {
	c := a.Case.Copy()
	for _, ofSets := range []bool{true, false} {
		for i := range change.Steps {
			s := &change.Steps[i]
			if lever := &a.Levers[s.Lever]; (lever.Cost == leeway.Sets) == ofSets {
				lever.Ways[s.Way].Make(c, s.By, change.Drive)
			}
		}
	}
	return c
}
