package cutting

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// nodeLimit ends a search that no school's workshop would ask for. Every case of
// a class's axles and strips is proved in a small part of it.
const nodeLimit = 300_000

type bar struct {
	stock int
	take  pattern
}

type answer struct {
	bars   []bar
	least  bool  // that its stock is the least is proved
	proved bool  // and that its longest remainder is the longest
	bound  int   // length of stock that is needed at least
	over   []int // pieces left over, if the stock did not yield them
}

// best answers the question: first the least length of stock, by trying the
// totals that bars can add up to from the lower bound up, then the longest
// remainder within that total, by halving over the remainders there can be.
func (q *question) best() (answer, bool) {
	if len(q.pieces) == 0 {
		return answer{least: true, proved: true}, true
	}
	simple := q.firstFit()
	wanted := counts(q.pieces)
	if len(q.stock) == 0 {
		return simple, false
	}
	s := q.search(nodeLimit)
	low := s.q.least(s.weights, wanted, counts(q.stock))
	if low < 0 {
		return simple, false
	}
	for _, total := range q.totals(low, q.length(&simple)) {
		bars, ok := s.within(wanted, total)
		if s.nodes > nodeLimit {
			if bars := q.somehow(); simple.over != nil && bars != nil {
				simple = answer{bars: bars}
				simple.sort()
			}
			simple.bound = total
			return simple, simple.over == nil
		}
		if ok {
			a := answer{bars: bars, bound: total, least: true}
			a.proved = q.longestLeft(&a)
			a.sort()
			return a, true
		}
	}
	return simple, false // every total was tried: the stock falls short
}

// length is the stock a plan begins; all there is if pieces are left over.
func (q *question) length(a *answer) int {
	sum := 0
	if a.over != nil {
		for t, k := range q.stock {
			sum += k.count * q.cost(t)
		}
		return sum
	}
	for _, b := range a.bars {
		sum += q.cost(b.stock)
	}
	return sum
}

func (a *answer) sort() {
	slices.SortStableFunc(a.bars, func(x, y bar) int {
		return cmp.Or(cmp.Compare(x.stock, y.stock), -slices.Compare(x.take, y.take))
	})
}

// longestLeft makes the plan leave the longest remainder that its total length
// of stock allows, and reports whether that is proved. A remainder is a piece
// more to be cut, so a shorter one can always be had where a longer one can.
func (q *question) longestLeft(a *answer) bool {
	left := q.remainders()
	from, _ := slices.BinarySearch(left, a.largest(q)+1)
	lo, hi := from, len(left)
	proved := true
	for lo < hi {
		mid := (lo + hi) / 2
		with := question{kerf: q.kerf, pieces: slices.Clone(q.pieces), stock: q.stock}
		size := left[mid] // its last cut is in it already
		with.want(size, 1)
		s := with.search(nodeLimit)
		bars, ok := s.within(counts(with.pieces), a.bound)
		if s.nodes > nodeLimit {
			proved, ok = false, false
		}
		if !ok {
			hi = mid
			continue
		}
		lo = mid + 1
		a.bars = without(bars, with.pieces, size, q.pieces)
	}
	return proved
}

// without takes the piece that stood for the remainder out of a plan again.
func without(bars []bar, pieces []kind, size int, own []kind) []bar {
	at := slices.IndexFunc(pieces, func(k kind) bool { return k.size == size })
	removed := false
	var out []bar
	for _, b := range bars {
		if !removed && b.take[at] > 0 {
			b.take[at]--
			removed = true
		}
		if len(own) < len(pieces) {
			b.take = slices.Delete(b.take, at, at+1)
		}
		out = append(out, b)
	}
	return out
}

// largest is the longest remainder of a plan, measured as a size.
func (a *answer) largest(q *question) int {
	longest := 0
	for _, b := range a.bars {
		longest = max(longest, q.stock[b.stock].size-b.take.size(q.pieces))
	}
	return longest
}

// remainders lists what can be left of a bar of any type after cutting at least
// one piece, ascending, each once: from the sums that pieces can add up to.
func (q *question) remainders() []int {
	longest := q.stock[0].size
	sums := make([]bool, longest+1)
	sums[0] = true
	for _, p := range q.pieces {
		for range min(p.count, longest/p.size) {
			for at := longest; at >= p.size; at-- {
				sums[at] = sums[at] || sums[at-p.size]
			}
		}
	}
	var out []int
	for _, s := range q.stock {
		for sum := 1; sum < s.size; sum++ {
			if sums[sum] {
				out = append(out, s.size-sum)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// totals lists the lengths from low to high that whole bars can add up to.
func (q *question) totals(low, high int) []int {
	sums := map[int]bool{0: true}
	for t, k := range q.stock {
		next := map[int]bool{}
		for s := range sums {
			for n := 0; n <= k.count && s+n*q.cost(t) <= high; n++ {
				next[s+n*q.cost(t)] = true
			}
		}
		sums = next
	}
	var out []int
	for s := range sums {
		if s >= low {
			out = append(out, s)
		}
	}
	slices.Sort(out)
	return out
}

// search looks for plans of one question. What it learns about a rest of pieces
// and stock holds for every total, so it is kept.
type search struct {
	q       *question
	weights []weighting
	limit   int
	nodes   int
	fails   map[string]int // the greatest budget within which a rest cannot be cut
	bars    []bar
	key     []byte
}

func (q *question) search(limit int) *search {
	return &search{q: q, weights: q.weightings(), limit: limit, fails: map[string]int{}}
}

// within finds bars for all wanted pieces of no more than the total length.
func (s *search) within(wanted []int, total int) ([]bar, bool) {
	s.bars = nil
	if s.fit(slices.Clone(wanted), counts(s.q.stock), total) {
		return s.bars, true
	}
	return nil, false
}

// fit cuts the longest piece that is left from a bar of each type in turn. That
// bar may be taken full: pieces that would still fit it can be moved to it from
// the bars they are in.
func (s *search) fit(wanted, stock []int, budget int) bool {
	first := slices.IndexFunc(wanted, func(n int) bool { return n > 0 })
	if first < 0 {
		return true
	}
	if s.nodes++; s.nodes > s.limit {
		return false
	}
	need := s.q.least(s.weights, wanted, stock)
	if need < 0 || need > budget {
		return false
	}
	key := s.keyOf(wanted, stock)
	if failed, known := s.fails[key]; known && budget <= failed {
		return false
	}
	for t := range stock {
		if stock[t] == 0 || s.q.cost(t) > budget || s.q.stock[t].size < s.q.pieces[first].size {
			continue
		}
		stock[t]--
		found := false
		fillings(s.q.pieces, wanted, s.q.stock[t].size, first, true, func(p pattern) bool {
			take(wanted, p, -1)
			s.bars = append(s.bars, bar{t, p})
			if s.fit(wanted, stock, budget-s.q.cost(t)) {
				found = true
				return false
			}
			s.bars = s.bars[:len(s.bars)-1]
			take(wanted, p, 1)
			return s.nodes <= s.limit
		})
		if found {
			return true
		}
		stock[t]++
	}
	if s.nodes <= s.limit {
		s.fails[key] = budget
	}
	return false
}

func (s *search) keyOf(wanted, stock []int) string {
	s.key = s.key[:0]
	for _, n := range wanted {
		s.key = binary.AppendUvarint(s.key, uint64(n))
	}
	for _, n := range stock {
		s.key = binary.AppendUvarint(s.key, uint64(n))
	}
	return string(s.key)
}

func take(wanted []int, p pattern, sign int) {
	for i, n := range p {
		wanted[i] += sign * n
	}
}

func counts(list []kind) []int {
	out := make([]int, len(list))
	for i, k := range list {
		out[i] = k.count
	}
	return out
}

// firstFit is the plan of someone in a hurry: longest pieces first, each from the
// first bar with room, else from the shortest new one that holds it.
func (q *question) firstFit() answer {
	var a answer
	room := []int{}
	stock := counts(q.stock)
	for i, k := range q.pieces {
		first := 0 // bars before it have no room for another of this size
		for range k.count {
			for first < len(room) && room[first] < k.size {
				first++
			}
			at := first
			if at == len(room) {
				at = -1
				for t := len(stock) - 1; t >= 0; t-- {
					if stock[t] > 0 && q.stock[t].size >= k.size {
						stock[t]--
						at = len(room)
						room = append(room, q.stock[t].size)
						a.bars = append(a.bars, bar{t, make(pattern, len(q.pieces))})
						break
					}
				}
			}
			if at < 0 {
				if a.over == nil {
					a.over = make([]int, len(q.pieces))
				}
				a.over[i]++
				continue
			}
			room[at] -= k.size
			a.bars[at].take[i]++
		}
	}
	return a
}
