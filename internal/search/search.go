// Package search finds the best few solutions of a problem by depth-first
// branch and bound. It knows nothing of pulleys.
//
// The best few are those first in the total order (cost, then the problem's
// own tie rule). Because the order is total there is exactly one right answer,
// and because subtrees are worked on in batches whose size does not depend on
// the machine, even the counts come out the same however many threads help.
package search

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync"
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

	// Tie compares the order of n with that of a whole solution w: negative if
	// some completion of n could come before w among equals, else not negative.
	// For a whole n it is the tie rule itself, 0 only for w itself.
	Tie(n, w N) int

	// Finish works out the whole solution n as cheaply as it can be had. It
	// need only be exact if it costs no more than limit: if it would cost more
	// it may say so by returning false. If it had to leave something under n
	// unsettled (ctx ended, or a limit on its own work was reached), open is the
	// least cost that could hide there; otherwise Unlimited.
	Finish(ctx context.Context, n N, limit Cost) (sol S, cost Cost, ok bool, open Cost)
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
	Improved int64 // times the best few changed
}

// Add adds the counts of another search.
func (s *Stats) Add(o Stats) {
	s.Nodes += o.Nodes
	s.Bounded += o.Bounded
	s.Refused += o.Refused
	s.Finished += o.Finished
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
	Threads int            // 0 means 1; the answer and the counts do not depend on it
	Watch   func(Progress) // told now and then, from one goroutine; may be nil
}

// Progress is what Watch hears between batches.
type Progress struct {
	Done, Total int // subtrees
	Best, Open  Cost
	Stats       Stats
}

const (
	// wideEnough is the number of subtrees the tree is cut into before work is
	// shared out. More makes fairer shares; fewer keeps knowledge together.
	wideEnough = 96
	// batch is how many subtrees are searched side by side with the same
	// knowledge of the best so far. It is fixed so that nothing depends on
	// the number of threads.
	batch = 4
)

// Best searches p until it is covered or ctx ends.
func Best[N, S any](ctx context.Context, p Problem[N, S], opt Options) Result[N, S] {
	s := &searcher[N, S]{p: p, keep: max(1, opt.Keep), limit: opt.Limit, inOrder: opt.InOrder}
	if s.limit == 0 {
		s.limit = Unlimited
	}
	res := Result[N, S]{Open: Unlimited}
	subtrees := s.cut(&res.Stats)

	// Invariant: best holds the first keep solutions, in the total order, of
	// every subtree before `next`.
	var best []Found[N, S]
	for next := 0; next < len(subtrees); {
		// The first subtrees are taken one by one: what they find spares
		// the others work.
		size := min(batch, next+1, len(subtrees)-next)
		share := subtrees[next : next+size]
		workers := make([]worker[N, S], size)
		run := func(i int) {
			workers[i] = worker[N, S]{searcher: s, ctx: ctx, best: slices.Clone(best), open: Unlimited}
			workers[i].explore(share[i].node, share[i].bound)
		}
		if threads := max(1, opt.Threads); threads == 1 || size == 1 {
			for i := range share {
				run(i)
			}
		} else {
			inParallel(size, threads, run)
		}
		for i := range workers {
			res.Stats.Add(workers[i].stats)
			res.Open = min(res.Open, workers[i].open)
			for _, f := range workers[i].best {
				best, _ = s.insert(best, f)
			}
		}
		next += size
		if opt.Watch != nil {
			opt.Watch(Progress{Done: next, Total: len(subtrees), Best: s.bar(best), Open: openFrom(subtrees[next:]), Stats: res.Stats})
		}
		if ctx.Err() != nil {
			res.Open = min(res.Open, openFrom(subtrees[next:]))
			break
		}
	}
	res.Best = best
	if res.Proved = res.Open > s.bar(best) || res.Open == Unlimited; res.Proved {
		res.Open = Unlimited
	}
	return res
}

// inParallel calls f(0) .. f(n-1) on at most threads goroutines.
func inParallel(n, threads int, f func(int)) {
	var wg sync.WaitGroup
	gate := make(chan struct{}, threads)
	for i := range n {
		wg.Add(1)
		gate <- struct{}{}
		go func() {
			defer wg.Done()
			f(i)
			<-gate
		}()
	}
	wg.Wait()
}

type searcher[N, S any] struct {
	p       Problem[N, S]
	keep    int
	limit   Cost
	inOrder bool
}

type subtree[N any] struct {
	node  N
	bound Cost
	depth int // choices made
}

func openFrom[N any](rest []subtree[N]) Cost {
	open := Unlimited
	for i := range rest {
		open = min(open, rest[i].bound)
	}
	return open
}

// cut opens the tree from the root until it has fallen into enough subtrees to
// share out.
func (s *searcher[N, S]) cut(stats *Stats) []subtree[N] {
	open := []subtree[N]{{node: s.p.Root(), bound: s.p.Bound(s.p.Root())}}
	stats.Nodes++
	if open[0].bound > s.limit {
		stats.Refused++
		return nil
	}
	for len(open) < wideEnough {
		i := s.next(open)
		if i < 0 {
			break
		}
		children := s.children(s.p.Branch(open[i].node), open[i].depth+1, stats)
		open = slices.Concat(open[:i], children, open[i+1:])
		s.sort(open)
	}
	return open
}

// next is the subtree to open next, so that the shares are fair: the most
// promising, or if they are in order the one with the most left to choose; -1 if
// all are whole.
func (s *searcher[N, S]) next(open []subtree[N]) int {
	at := -1
	for i := range open {
		if s.p.Whole(open[i].node) {
			continue
		}
		if !s.inOrder {
			return i
		}
		if at < 0 || open[i].depth < open[at].depth {
			at = i
		}
	}
	return at
}

// children bounds a node's branches, drops the impossible, and sorts the rest;
// equals stay in the order the problem gave them.
func (s *searcher[N, S]) children(nodes []N, depth int, stats *Stats) []subtree[N] {
	out := make([]subtree[N], 0, len(nodes))
	for _, n := range nodes {
		stats.Nodes++
		b := s.p.Bound(n)
		switch {
		case b == Unlimited:
			stats.Refused++
		case b > s.limit:
			stats.Bounded++
		default:
			out = append(out, subtree[N]{n, b, depth})
		}
	}
	s.sort(out)
	return out
}

// sort puts the most promising subtrees first, unless the problem's own order is
// asked for.
func (s *searcher[N, S]) sort(trees []subtree[N]) {
	if !s.inOrder {
		slices.SortStableFunc(trees, func(a, b subtree[N]) int { return cmp.Compare(a.bound, b.bound) })
	}
}

// bar is the cost a newcomer may not exceed.
func (s *searcher[N, S]) bar(best []Found[N, S]) Cost {
	if len(best) < s.keep {
		return s.limit
	}
	return best[len(best)-1].Cost
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

// insert puts f where it belongs and keeps the list no longer than asked.
func (s *searcher[N, S]) insert(best []Found[N, S], f Found[N, S]) ([]Found[N, S], bool) {
	at := len(best)
	for i, b := range best {
		tie := s.p.Tie(f.Node, b.Node)
		if tie == 0 && f.Cost == b.Cost {
			return best, false // the same solution, carried over from an earlier batch
		}
		if f.Cost < b.Cost || (f.Cost == b.Cost && tie < 0) {
			at = i
			break
		}
	}
	if at >= s.keep {
		return best, false
	}
	best = slices.Insert(best, at, f)
	return best[:min(len(best), s.keep)], true
}

type worker[N, S any] struct {
	*searcher[N, S]
	ctx   context.Context
	best  []Found[N, S]
	stats Stats
	open  Cost // least bound left unexplored because ctx ended
}

// explore covers the subtree under n.
//
// Invariant: every whole solution under a node already left is either in best,
// or comes after the last of best in the total order, or lies under a node
// whose bound has been noted in open.
func (w *worker[N, S]) explore(n N, bound Cost) {
	if w.ctx.Err() != nil {
		w.open = min(w.open, bound)
		return
	}
	if w.hopeless(n, bound, w.best) {
		w.stats.Bounded++
		return
	}
	if w.p.Whole(n) {
		w.finish(n)
		return
	}
	for _, c := range w.children(w.p.Branch(n), 0, &w.stats) {
		w.explore(c.node, c.bound)
	}
}

func (w *worker[N, S]) finish(n N) {
	w.stats.Finished++
	sol, cost, ok, open := w.p.Finish(w.ctx, n, w.bar(w.best))
	w.open = min(w.open, open)
	if !ok || cost > w.limit {
		return
	}
	var improved bool
	if w.best, improved = w.insert(w.best, Found[N, S]{n, sol, cost}); improved {
		w.stats.Improved++
	}
}
