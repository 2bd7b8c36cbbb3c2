package cutting

import (
	"slices"

	"findrive/internal/units"
)

// Kerf is what a junior hacksaw takes away at each cut (common practice). Whatever counts
// rods without being told another saw counts with this one.
const Kerf units.Millimetres = 1

// Enough tells whether all pieces can be cut from the stock. It is exact for pieces of
// one or two lengths, as the axles of a class are; for more lengths it is as sure as
// Cuts. A length or count that makes no sense is never enough.
func Enough(pieces []Piece, stock []Stock, kerf units.Millimetres) bool {
	q, err := newQuestion(pieces, stock, kerf)
	return err == nil && q.enough()
}

// MostSets is the most times, up to a limit, that all pieces of a set can be cut from the
// stock.
func MostSets(set []Piece, stock []Stock, kerf units.Millimetres, limit int) int {
	lo, hi := 0, limit+1
	for hi-lo > 1 {
		n := (lo + hi) / 2
		times := slices.Clone(set)
		for i := range times {
			times[i].Count *= n
		}
		if Enough(times, stock, kerf) {
			lo = n
		} else {
			hi = n
		}
	}
	return lo
}

func (q *question) enough() bool {
	pieces, stock := 0, 0
	for _, p := range q.pieces {
		pieces += p.size * p.count
	}
	for _, s := range q.stock {
		if s.size >= q.shortest() {
			stock += s.size * s.count
		}
	}
	switch {
	case pieces > stock:
		return false
	case q.firstFit().over == nil:
		return true
	case len(q.pieces) <= 2:
		return len(q.pieces) == 2 && q.twoLengths()
	}
	return q.somehow() != nil
}

// somehow is bars for all pieces, however many it takes; nil if there are none, or too much
// work is needed to find them.
func (q *question) somehow() []bar {
	s, stock := q.search(nodeLimit), counts(q.stock)
	total := 0
	for t, n := range stock {
		total += n * q.cost(t)
	}
	bars, ok := s.within(counts(q.pieces), total)
	if !ok {
		return nil
	}
	return bars
}

// shortest is the size of the shortest piece; pieces come longest first.
func (q *question) shortest() int {
	if len(q.pieces) == 0 {
		return 0
	}
	return q.pieces[len(q.pieces)-1].size
}

// twoLengths settles pieces of two lengths, bar by bar: the most short pieces that can be
// cut beside each number of long ones.
func (q *question) twoLengths() bool {
	long, short := q.pieces[0], q.pieces[1]
	most := make([]int, long.count+1) // by long pieces cut; -1 where so many cannot be
	for i := range most {
		most[i] = -1
	}
	most[0] = 0
	for _, s := range q.stock {
		for range min(s.count, long.count+short.count) {
			// From the most on, so that a bar is not cut twice.
			for i := long.count; i >= 0; i-- {
				best := -1
				for n := 0; n <= i && n*long.size <= s.size; n++ {
					if before := most[i-n]; before >= 0 {
						best = max(best, before+(s.size-n*long.size)/short.size)
					}
				}
				most[i] = best
			}
			if most[long.count] >= short.count {
				return true
			}
		}
	}
	return false
}
