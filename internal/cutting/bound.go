package cutting

import (
	"cmp"
	"slices"
)

// A weighting gives each kind of piece a worth. If no bar of stock type t can
// hold more than yield[t] of it, then bars that hold all pieces have yields that
// add up to at least the worth of all pieces: a lower bound on stock that holds
// for whatever remains to be cut, whoever chose the worths.
type weighting struct {
	worth []int
	yield []int // of one bar of each stock type
	order []int // stock types, the most yield for its length first
}

// steps are the whole shares into which a bar is divided to weigh pieces by how
// many of them fit: the dual feasible functions u(k) of Fekete and Schepers (New
// classes of fast lower bounds for bin packing problems, Mathematical
// Programming 91, 2001) with k + 1 = steps.
const steps = 14

// weightings are worths that tend to give good bounds: the length itself; for
// each stock length, its (k+1)th part as the unit, rounded down; and the worths
// of the linear relaxation.
func (q *question) weightings() []weighting {
	var out []weighting
	add := func(worth []int) {
		w := weighting{worth: worth}
		if slices.Max(worth) <= 0 || slices.ContainsFunc(out, func(o weighting) bool { return slices.Equal(o.worth, worth) }) {
			return
		}
		for _, s := range q.stock {
			_, yield := mostOf(q.pieces, worth, s.size)
			w.yield = append(w.yield, yield)
		}
		for t := range q.stock {
			w.order = append(w.order, t)
		}
		slices.SortStableFunc(w.order, func(a, b int) int {
			return cmp.Compare(w.yield[b]*q.cost(a), w.yield[a]*q.cost(b))
		})
		out = append(out, w)
	}
	of := func(worth func(size int) int) {
		list := make([]int, len(q.pieces))
		for i, p := range q.pieces {
			list[i] = worth(p.size)
		}
		add(list)
	}
	of(func(size int) int { return size })
	if worth := q.relaxedWorth(); worth != nil {
		add(worth)
	}
	for _, s := range q.stock {
		for k := 1; k < steps; k++ {
			of(func(size int) int {
				// u(k): x(k+1) whole keeps x, else it is rounded down to a kth.
				if size*(k+1)%s.size == 0 {
					return size * (k + 1) / s.size * k
				}
				return size * (k + 1) / s.size * (k + 1)
			})
			of(func(size int) int { return size * (k + 1) / s.size })
		}
	}
	return out
}

// least is a lower bound on the length of stock, chosen among what is left of
// each type, that the remaining pieces need; -1 if there is not enough at all.
func (q *question) least(ws []weighting, wanted, stock []int) int {
	bound := 0
	for i := range ws {
		w := &ws[i]
		need := 0
		for k, n := range wanted {
			need += n * w.worth[k]
		}
		c := q.cover(w, stock, need)
		if c < 0 {
			return -1
		}
		bound = max(bound, c)
	}
	return bound
}

// cover is the least length of stock whose yields reach need if bars could be
// cut up, rounded up; -1 if all stock together does not reach it.
func (q *question) cover(w *weighting, stock []int, need int) int {
	total := 0
	for _, t := range w.order {
		yield, cost := w.yield[t], q.cost(t)
		switch {
		case need <= 0:
			return total
		case yield == 0:
			return -1
		case stock[t]*yield < need:
			need -= stock[t] * yield
			total += stock[t] * cost
		default:
			return total + need/yield*cost + (need%yield*cost+yield-1)/yield
		}
	}
	if need > 0 {
		return -1
	}
	return total
}
