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
	ctx       context.Context
	basket    *basket
	queue     nodes
	made      int // so many nodes
	mostNodes int
	best      Plan
	buyable   []int  // parts that are on offer
	used      []bool // parts that some choice takes
	sharing   *sharing
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
	s := &search{Problem: p, ctx: ctx, mostNodes: mostNodes, basket: newBasket(p), used: make([]bool, len(p.Stock)), sharing: newSharing(ctx, p)}
	for part := range p.Stock {
		if len(s.basket.of[part]) > 0 {
			s.buyable = append(s.buyable, part)
		}
	}
	for _, c := range p.Choices {
		for r, n := range c.Takes {
			switch {
			case n == 0:
			case p.Rows[r].Part >= 0:
				s.used[p.Rows[r].Part] = true
			default:
				for _, part := range p.Joint {
					s.used[part] = true
				}
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

func (s *search) stopped() bool { return pause.Err(s.ctx) != nil || s.made > s.mostNodes }

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
		if packs, paid = s.fitting(takes, packs, paid); packs == nil {
			return
		}
		s.best.Found, s.best.Counts, s.best.Packs, s.best.Money, s.best.Cost = true, counts, packs, paid, cost
	}
}

// mostGuesses is how much more of the joint parts a first plan tries to buy, piece by
// piece.
const mostGuesses = 60

// fitting is a purchase with enough of the joint parts too for what is taken of the rows,
// by more and more of each that is sold, the cheapest first; nil if none was found.
func (s *search) fitting(takes, packs []int, paid money.Amount) ([]int, money.Amount) {
	if s.Fits == nil {
		return packs, paid
	}
	var taken, sold []int
	for r, row := range s.Rows {
		if row.Part < 0 {
			taken = append(taken, takes[r])
		}
	}
	fits := func(packs []int) bool {
		have := clone(s.Stock)
		for o, k := range packs {
			have[s.Offers[o].Part] += k * s.Offers[o].Pack
		}
		return s.Fits(taken, have)
	}
	for _, part := range s.Joint {
		if len(s.basket.of[part]) > 0 {
			sold = append(sold, part)
		}
	}
	s.byPrice(sold)
	if fits(packs) {
		return packs, paid
	}
	for _, part := range sold {
		for more := 1; more <= mostGuesses; more++ {
			need := s.need(takes)
			need[part] += more
			if bag, m, ok := s.basket.cheapest(need, math.MaxInt64); ok && fits(bag) {
				return bag, m
			}
		}
	}
	return nil, 0
}

// need is how many pieces of each part must be bought for what is taken of the rows.
func (s *search) need(takes []int) []int {
	need := make([]int, len(s.Stock))
	for r, n := range takes {
		row := s.Rows[r]
		if row.Part < 0 {
			continue
		}
		need[row.Part] = max(need[row.Part], (n+row.Scale-1)/row.Scale-s.Stock[row.Part])
	}
	return need
}
