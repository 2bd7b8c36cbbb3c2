package hoist

import (
	"cmp"
	"context"
	"math"
	"slices"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Ease is a change of the brief with which a hoist can be rove where none could. What is zero
// stays as it is.
type Ease struct {
	Sets  int         // hoists at once, the most there can be
	Way   Way         // AnyWay
	Load  units.Grams // the heaviest that is lifted for sure, asked for in place of the mass
	Pull  units.Newtons
	kinds int
}

// The kinds of change, those first that cost the lesson least.
const (
	fewerSets = 1 << iota
	otherWay
	lighterLoad
	greaterPull
)

// pullStep is what a greater pull is rounded up to, newtons.
const pullStep = 0.5

// eases are the changes of the brief that let something be rove, with the fewest things
// changed at once. Every reeving is worked out anew, and the change is made of what it breaks.
func eases(ctx context.Context, cup *parts.Cupboard, b *Brief) []Ease {
	best := map[int]Ease{}
	heaviest := *b
	heaviest.Mass = 0
	if each(ctx, cup, func(r Reeving) {
		if b.Cord != "" && r.Cord.Name != b.Cord {
			return
		}
		h := figures(r, b)
		take(best, &h, b, cup, 0)
		if b.Mass > 0 {
			h = figures(r, &heaviest)
			take(best, &h, &heaviest, cup, lighterLoad)
		}
	}) != nil {
		return nil
	}
	fewest := math.MaxInt
	for kinds := range best {
		fewest = min(fewest, changes(kinds))
	}
	var out []Ease
	for kinds, e := range best {
		if changes(kinds) == fewest {
			out = append(out, e)
		}
	}
	slices.SortFunc(out, func(x, y Ease) int { return cmp.Compare(x.kinds, y.kinds) })
	return out
}

// take keeps what a reeving asks for, if it is less than what another of the same kinds does.
func take(best map[int]Ease, h *Hoist, b *Brief, cup *parts.Cupboard, kinds int) {
	e := Ease{kinds: kinds}
	for _, why := range breaks(h, b, cup) {
		switch why.rule {
		case StockRule, LengthRule:
			e.kinds, e.Sets = e.kinds|fewerSets, sets(h)
			if e.Sets < 1 {
				return
			}
		case WayRule:
			e.kinds, e.Way = e.kinds|otherWay, AnyWay
		case PullRule:
			e.kinds, e.Pull = e.kinds|greaterPull, pullStep*units.Newtons(math.Ceil(float64(h.Raising.Likely/pullStep)-1e-9))
			if h.Mass <= 0 || e.Pull > pulls.Most || kinds != 0 {
				return
			}
		default:
			return
		}
	}
	if kinds&lighterLoad != 0 {
		if e.Load = WholeGrams(h.Mass); e.Load < masses.Least {
			return
		}
	}
	was, is := best[e.kinds]
	if !is || cmp.Or(cmp.Compare(e.Sets, was.Sets), cmp.Compare(e.Load, was.Load), cmp.Compare(was.Pull, e.Pull)) > 0 {
		best[e.kinds] = e
	}
}

// changes are how many kinds of change there are in a sum of them.
func changes(kinds int) int {
	n := 0
	for ; kinds > 0; kinds &= kinds - 1 {
		n++
	}
	return n
}
