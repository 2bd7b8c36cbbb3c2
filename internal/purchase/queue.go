package purchase

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"

	"findrive/internal/money"
	"findrive/internal/pause"
)

// search is the state of Least.
type search struct {
	*Problem
	ctx     context.Context
	basket  *basket
	queue   nodes
	made    int
	best    Plan
	buyable []int  // parts that are on offer
	used    []bool // parts that some choice takes
	sharing *sharing
	// costOpen is true if what the best purchase makes was not looked at to the end.
	costOpen bool
}

// node stands for all purchases of at least need and at most most pieces of each part.
type node struct {
	need, most []int // most is nil for no limit
	packs      []int // the cheapest purchase of at least need, and
	bought     []int // the pieces in it
	money      money.Amount
	at         int // in the order of making
}

func (n *node) mostOf(part int) int {
	if n.most == nil {
		return unlimited
	}
	return n.most[part]
}

// nodes is a heap: the cheapest first, of those the one made first.
type nodes []node

func (h nodes) Len() int { return len(h) }
func (h nodes) Less(i, j int) bool {
	return cmp.Or(cmp.Compare(h[i].money, h[j].money), cmp.Compare(h[i].at, h[j].at)) < 0
}
func (h nodes) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *nodes) Push(x any)   { *h = append(*h, x.(node)) }
func (h *nodes) Pop() any {
	old := *h
	n := old[len(old)-1]
	*h = old[:len(old)-1]
	return n
}

func newSearch(ctx context.Context, p *Problem) *search {
	s := &search{Problem: p, ctx: ctx, basket: newBasket(p), used: make([]bool, len(p.Stock)), sharing: newSharing(ctx, p)}
	for part := range p.Stock {
		if len(s.basket.of[part]) > 0 {
			s.buyable = append(s.buyable, part)
		}
	}
	for _, c := range p.Choices {
		for r, n := range c.Takes {
			if n > 0 {
				s.used[p.Rows[r].Part] = true
			}
		}
	}
	s.best.Packs, s.best.Counts = make([]int, len(p.Offers)), make([]int, len(p.Choices))
	return s
}

// push queues a node unless it is dearer than the best plan, or cannot be bought.
func (s *search) push(n node) {
	limit := money.Amount(math.MaxInt64)
	if s.best.Found {
		limit = s.best.Money
	}
	packs, paid, ok := s.basket.cheapest(n.need, limit)
	if !ok {
		return
	}
	n.packs, n.money, n.at = packs, paid, s.made
	n.bought = make([]int, len(s.Stock))
	for o, k := range packs {
		n.bought[s.Offers[o].Part] += k * s.Offers[o].Pack
	}
	s.made++
	heap.Push(&s.queue, n)
}

func (s *search) pop() node { return heap.Pop(&s.queue).(node) }

func (s *search) stopped() bool { return pause.Err(s.ctx) != nil || s.made > mostNodes }

// byPrice sorts parts by the least price of a piece, the cheapest first.
func (s *search) byPrice(parts []int) {
	slices.SortStableFunc(parts, func(a, b int) int {
		return cmp.Compare(s.basket.perPiece[a], s.basket.perPiece[b])
	})
}

// firstGuess is a first plan: task by task the one choice, for all its groups, that costs
// the least money with what is bought for the tasks before.
func (s *search) firstGuess() {
	counts := make([]int, len(s.Choices))
	takes := make([]int, len(s.Rows))
	var packs []int
	var paid money.Amount
	var cost int64
	for t, task := range s.Tasks {
		at := -1
		var with []int
		for c := range s.Choices {
			if s.Choices[c].Task != t {
				continue
			}
			sum := clone(takes)
			for r, n := range s.Choices[c].Takes {
				sum[r] += n * task.Groups
			}
			bag, m, ok := s.basket.cheapest(s.need(sum), math.MaxInt64)
			if ok && (at < 0 || m < paid || m == paid && s.Choices[c].Cost < s.Choices[at].Cost) {
				at, packs, paid, with = c, bag, m, sum
			}
		}
		if at < 0 {
			return
		}
		counts[at] = task.Groups
		cost += s.Choices[at].Cost * int64(task.Groups)
		takes = with
	}
	if len(s.Tasks) > 0 {
		s.best.Found, s.best.Counts, s.best.Packs, s.best.Money, s.best.Cost = true, counts, packs, paid, cost
	}
}

// need is how many pieces of each part must be bought for what is taken of the rows.
func (s *search) need(takes []int) []int {
	need := make([]int, len(s.Stock))
	for r, n := range takes {
		row := s.Rows[r]
		need[row.Part] = max(need[row.Part], (n+row.Scale-1)/row.Scale-s.Stock[row.Part])
	}
	return need
}
