package selection

import (
	"cmp"
	"context"
	"slices"

	"findrive/internal/pause"
)

// Solve finds the cheapest drives. It stops early when ctx ends; the answer then
// says that nothing is proved. The error is not nil if the question makes no sense.
//
// Limits of cost are tried one after another, each twice as far from the least
// possible as the one before. Under a limit very few stages are of any use, and they
// are found without making the others; when enough drives cost less than the limit,
// they are the cheapest.
func Solve(ctx context.Context, q *Question) (*Answer, error) {
	if err := q.check(); err != nil {
		return nil, err
	}
	r := makeReady(q)
	f := &finder{ready: r, ctx: ctx, keep: cmp.Or(q.Keep, 10), options: map[optionKey]*optionList{}}
	least, most := unlimited, cost(0)
	var levels []*level
	for k := 1; k <= q.MostStages; k++ {
		v, ceiling, ok := f.newLevel(k)
		if !ok {
			break // not enough pulleys, and deeper ones need more
		}
		levels = append(levels, v)
		least, most = min(least, v.floor), max(most, ceiling)
	}
	for slack := max(1, r.perPoint/1_000_000); len(levels) > 0; slack *= 2 {
		limit := least + slack
		f.best, f.limit = f.best[:0], limit
		for _, v := range levels {
			if v.floor < f.limit && pause.Err(ctx) == nil {
				v.search(limit)
			}
		}
		if pause.Err(ctx) != nil {
			return f.answer(false), nil
		}
		if len(f.best) == f.keep || limit > most {
			break
		}
	}
	return f.answer(true), nil
}

// finder keeps the cheapest drives found under a limit.
type finder struct {
	*ready
	ctx     context.Context
	keep    int
	limit   cost // what a drive must cost less than: the limit, or the dearest kept
	best    []found
	options map[optionKey]*optionList
}

// found is a drive in indices of sizes.
type found struct {
	cost   cost
	stages []foundStage
}

type foundStage struct {
	driver, driven, band int16
	centre               int32 // steps of the grid
}

func (f *finder) add(d found) {
	at, _ := slices.BinarySearchFunc(f.best, d.cost, func(a found, c cost) int { return cmp.Compare(a.cost, c+1) })
	f.best = slices.Insert(f.best, at, d)
	if len(f.best) > f.keep {
		f.best = f.best[:f.keep]
	}
	if len(f.best) == f.keep {
		f.limit = f.best[f.keep-1].cost
	}
}
