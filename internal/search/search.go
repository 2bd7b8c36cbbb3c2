// Package search finds the best few solutions of a problem by depth-first
// branch and bound. It knows nothing of pulleys.
//
// The best few are those first in the total order (cost, then the problem's
// own tie rule). Because the order is total there is exactly one right answer,
// and because what a node is looked at with does not depend on the machine
// (underway.go), even the counts come out the same however many threads help.
package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"findrive/internal/pause"
)

// Cost is what a solution is charged; less is better. It counts whole steps,
// so that equal is exactly equal.
type Cost int64

// Unlimited is a cost no solution reaches.
const Unlimited Cost = math.MaxInt64

// Problem describes a tree of partial solutions N and its finished solutions S.
// Its methods are called from several goroutines at once.
type Problem[N, S any] interface {
	// Root is the empty partial solution.
	Root() N

	// Whole reports whether nothing is left to choose in n.
	Whole(n N) bool

	// Branch returns the ways to make the next choice of an n that is not
	// whole. Between them they must cover every completion of n; none means
	// that n has no completion.
	Branch(n N) []N

	// Bound is never more than the cost of any completion of n; Unlimited if n
	// has none.
	Bound(n N) Cost

	// Closer looks closer at an n whose turn has come, of which nothing is wanted that
	// costs more than limit: it gives n back with what it found out, and another bound;
	// above limit it may be anything that is. What takes long belongs here and not in
	// Branch, as most nodes never come to their turn. It is 0 where there is nothing to
	// find out.
	Closer(n N, limit Cost) (N, Cost)

	// Tie compares the order of n with that of a whole solution w: negative if
	// some completion of n could come before w among equals, else not negative.
	// For a whole n it is the tie rule itself, 0 only for w itself.
	Tie(n, w N) int

	// Same tells whether two whole solutions count as one, of which only the better is
	// listed. A solution is the same as itself.
	Same(n, w N) bool

	// Finish works out the whole solution n as cheaply as it can be had. It
	// need only be exact if it costs no more than limit: if it would cost more
	// it may say that there is none. What takes long it may do bit by bit.
	Finish(ctx context.Context, n N, limit Cost) Finished[S]
}

// Finished is what came of working out a whole solution.
type Finished[S any] struct {
	Solution S
	Cost     Cost // Unlimited if there is none
	// Open is, if something had to be left unsettled (ctx ended, or a limit on its own work
	// was reached), the least cost that could hide there; otherwise Unlimited.
	Open Cost
	// Left is, if it is to be asked again, what may cost less being done with first, the least
	// that the rest may cost; otherwise Unlimited. Each time something must be done with.
	Left Cost
}

// Found is one solution.
type Found[N, S any] struct {
	Node     N
	Solution S
	Cost     Cost
}

// Stats counts the work done.
type Stats struct {
	Nodes    int64 // partial solutions looked at
	Bounded  int64 // discarded because nothing under them could be among the best
	Refused  int64 // discarded because nothing under them is possible at all
	Finished int64 // whole solutions worked out
	Visits   int64 // times one was worked at: it may be done bit by bit
	Improved int64 // times the best few changed
}

// Add adds the counts of another search.
func (s *Stats) Add(o Stats) {
	s.Nodes += o.Nodes
	s.Bounded += o.Bounded
	s.Refused += o.Refused
	s.Finished += o.Finished
	s.Visits += o.Visits
	s.Improved += o.Improved
}

// Result is what a search came to.
type Result[N, S any] struct {
	Best []Found[N, S] // at most k, best first
	// Proved is true if nothing left unseen could change Best: it is then the
	// answer, and if it is empty there is none.
	Proved bool
	// Open is the least cost anything unseen could still have when the search
	// was stopped early; Unlimited when Proved.
	Open  Cost
	Stats Stats
}

// Options steer a search. The zero value searches for the single best on one
// thread.
type Options struct {
	Keep  int  // how many of the best to keep; 0 means 1
	Limit Cost // ignore solutions that cost more; 0 means Unlimited
	// InOrder looks at branches in the order the problem gives them instead of the
	// most promising first. That is quicker if very many solutions cost the same
	// and the problem branches in the order of its tie rule: once enough are found
	// the rest of equal cost lose the tie unseen.
	InOrder bool
	// Enough ends the search when so many are found; 0 is only when it is covered. What
	// stands behind those in the order in which nodes are looked at is not waited for, and
	// counts as open.
	Enough  int
	Threads int // 0 means 1; the answer and the counts do not depend on it
	// Watch is told now and then, while no node is looked at; may be nil.
	Watch func(Progress)
}

// Progress is what Watch hears.
type Progress struct {
	Best, Open Cost
	Stats      Stats
}

// Best searches p until it is covered or ctx ends.
func Best[N, S any](ctx context.Context, p Problem[N, S], opt Options) Result[N, S] {
	return BestBesides(ctx, p, nil, opt)
}

// BestBesides is Best where some solutions are known already: as many as are kept at most,
// best first, and no two the same. They count as found.
func BestBesides[N, S any](ctx context.Context, p Problem[N, S], known []Found[N, S], opt Options) Result[N, S] {
	s := &searcher[N, S]{p: p, keep: max(1, opt.Keep), limit: opt.Limit, inOrder: opt.InOrder}
	if s.limit == 0 {
		s.limit = Unlimited
	}
	return s.underWay(ctx, known, opt).run(opt.Threads)
}

// InParallel calls f(0) .. f(n-1) on at most threads goroutines.
func InParallel(n, threads int, f func(int)) {
	if threads <= 1 || n == 1 {
		for i := range n {
			f(i)
		}
		return
	}
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(threads, n) {
		wg.Go(func() {
			for i := int(next.Add(1)); i <= n; i = int(next.Add(1)) {
				f(i - 1)
			}
		})
	}
	wg.Wait()
}

type searcher[N, S any] struct {
	p       Problem[N, S]
	keep    int
	limit   Cost
	inOrder bool
}

// looked is a node that has been looked at, and what came of it: its branches, or the
// solution that it is.
type looked[N, S any] struct {
	branches *opened[N]
	solution Found[N, S]
	found    bool
	open     Cost // the least that was left unsettled in it
	left     Cost // the least of what is still to be looked at in it
	stats    Stats
}

// look branches a node of some bound, or works it out if it is whole. Nothing is wanted of it
// that costs more than bar.
func (s *searcher[N, S]) look(ctx context.Context, of *opened[N], bar Cost) (l looked[N, S]) {
	l.open, l.left = Unlimited, Unlimited
	n, bound := of.node, of.bound
	if !of.begun {
		n, bound = s.p.Closer(n, bar)
	}
	switch {
	case bound <= bar:
	case pause.Err(ctx) != nil:
		l.open = of.bound // it may have been stopped half way
		return l
	case bound == Unlimited:
		l.stats.Refused++
		return l
	default:
		l.stats.Bounded++
		return l
	}
	if !s.p.Whole(n) {
		l.branches = s.open(s.p.Branch(n), &l.stats)
		if pause.Err(ctx) != nil {
			l.open = of.bound // it may have been stopped half way
		}
		return l
	}
	if !of.begun {
		of.node, of.begun = n, true
		l.stats.Finished++
	}
	l.stats.Visits++
	f := s.p.Finish(ctx, n, bar)
	l.open, l.left, l.found, l.solution = f.Open, f.Left, f.Cost <= s.limit && f.Cost < Unlimited, Found[N, S]{n, f.Solution, f.Cost}
	return l
}

// open bounds nodes, drops the impossible, and lists the rest: the most promising first, or if
// they are in order as the problem gave them. Equals stay in that order.
func (s *searcher[N, S]) open(nodes []N, stats *Stats) *opened[N] {
	out := make([]opened[N], 0, len(nodes))
	for _, n := range nodes {
		stats.Nodes++
		b := s.p.Bound(n)
		switch {
		case b == Unlimited:
			stats.Refused++
		case b > s.limit:
			stats.Bounded++
		default:
			out = append(out, opened[N]{node: n, bound: b})
		}
	}
	if !s.inOrder {
		slices.SortStableFunc(out, func(a, b opened[N]) int { return cmp.Compare(a.bound, b.bound) })
	}
	return linked(out)
}

// bar is the cost a newcomer may not exceed.
func (s *searcher[N, S]) bar(best []Found[N, S]) Cost {
	if len(best) < s.keep {
		return s.limit
	}
	return best[len(best)-1].Cost
}

// worth is what a completion of a node may cost to be of use, where a newcomer may cost as
// much as bar: less than the last of the best where it comes after that, and of a whole
// solution that is the same as one of the best, only what comes before that is.
func (s *searcher[N, S]) worth(n N, bar Cost, best []Found[N, S]) Cost {
	if s.p.Whole(n) {
		for i := range best {
			if s.p.Same(n, best[i].Node) {
				if bar = min(bar, best[i].Cost); s.p.Tie(n, best[i].Node) > 0 {
					bar = min(bar, best[i].Cost-1)
				}
				return bar
			}
		}
	}
	if last := len(best) - 1; last+1 == s.keep && s.p.Tie(n, best[last].Node) >= 0 {
		bar = min(bar, best[last].Cost-1)
	}
	return bar
}

// hopeless reports whether nothing under n can be among the best: it would cost
// more than the last of them, or the same and lose the tie.
func (s *searcher[N, S]) hopeless(n N, bound Cost, best []Found[N, S]) bool {
	bar := s.bar(best)
	if bound != bar || len(best) < s.keep {
		return bound > bar
	}
	return s.p.Tie(n, best[len(best)-1].Node) >= 0
}

// insert puts f where it belongs and keeps the list no longer than asked. Of solutions
// that count as one the better stays.
func (s *searcher[N, S]) insert(best []Found[N, S], f Found[N, S]) ([]Found[N, S], bool) {
	before := func(b Found[N, S]) bool {
		return f.Cost < b.Cost || f.Cost == b.Cost && s.p.Tie(f.Node, b.Node) < 0
	}
	if i := slices.IndexFunc(best, func(b Found[N, S]) bool { return s.p.Same(f.Node, b.Node) }); i >= 0 {
		if !before(best[i]) {
			return best, false
		}
		best = slices.Delete(best, i, i+1)
	}
	at := slices.IndexFunc(best, before)
	if at < 0 {
		at = len(best)
	}
	if at >= s.keep {
		return best, false
	}
	best = slices.Insert(best, at, f)
	return best[:min(len(best), s.keep)], true
}
