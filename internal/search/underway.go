package search

import (
	"context"
	"slices"
	"sync"

	"findrive/internal/pause"
)

// How a search is shared among threads. Neither number depends on the machine, so that nothing
// that is found does.
const (
	// ahead is how many nodes are looked at side by side: each with what was known when the
	// one so many before it was done. More would keep more threads busy, and look at more that
	// what comes before would have ruled out. It is tried out (scripts/performance ordinary).
	ahead = 12
	// between is how many nodes are looked at from one time to the next that Watch is told.
	between = 64
)

// underWay is a search that several threads carry on together. Nodes are sent out to be looked at
// in order, and what came of them is taken in in the same order.
//
// Invariant: every whole solution is either among the best, or comes after the last of these in
// the total order, or lies under a node that is still open or whose bound has been noted in
// Result.Open.
type underWay[N, S any] struct {
	*searcher[N, S]
	ctx    context.Context // ends too once enough is found
	stop   context.CancelFunc
	enough int
	watch  func(Progress)

	mu      sync.Mutex
	changed *sync.Cond
	first   *opened[N] // of those that are still to be looked at or are out, in order
	out     []*sent[N, S]
	waiting []*sent[N, S] // those that are out and that no thread has taken up
	since   int           // nodes sent out since Watch was told
	res     Result[N, S]
	over    bool
}

// opened is a node that has still to be looked at, or taken in.
type opened[N any] struct {
	node  N
	bound Cost
	out   bool // being looked at
	begun bool // it is whole and has been worked out in part
	done  bool
	next  *opened[N]
}

// linked lists nodes; nil if there are none.
func linked[N any](nodes []opened[N]) *opened[N] {
	if len(nodes) == 0 {
		return nil
	}
	for i := range len(nodes) - 1 {
		nodes[i].next = &nodes[i+1]
	}
	return &nodes[0]
}

// sent is a node that is out to be looked at, and what came of it once it is back.
type sent[N, S any] struct {
	*opened[N]
	bar  Cost
	came looked[N, S]
	back bool
}

func (s *searcher[N, S]) underWay(ctx context.Context, known []Found[N, S], opt Options) *underWay[N, S] {
	u := &underWay[N, S]{searcher: s, ctx: ctx, stop: func() {}, enough: opt.Enough, watch: opt.Watch, res: Result[N, S]{Best: slices.Clone(known), Open: Unlimited}}
	if opt.Enough > 0 {
		u.ctx, u.stop = context.WithCancel(ctx)
	}
	u.changed = sync.NewCond(&u.mu)
	u.first = s.open([]N{s.p.Root()}, &u.res.Stats)
	u.over = u.first == nil || pause.Err(ctx) != nil
	return u
}

// run carries the search on to its end.
func (u *underWay[N, S]) run(threads int) Result[N, S] {
	defer u.stop()
	InParallel(max(1, threads), threads, func(int) { u.work() })
	u.res.Open = min(u.res.Open, u.least())
	if u.res.Proved = u.res.Open > u.bar(u.res.Best) || u.res.Open == Unlimited; u.res.Proved {
		u.res.Open = Unlimited
	}
	return u.res
}

// work is what each thread does.
func (u *underWay[N, S]) work() {
	u.mu.Lock()
	defer u.mu.Unlock()
	for u.goOn() {
		if len(u.waiting) == 0 {
			u.changed.Wait()
			continue
		}
		next := u.waiting[0]
		u.waiting = u.waiting[1:]
		u.lookAt(next)
		next.back = true
	}
}

// lookAt looks at a node while others go on. It ends with the lock held, even by a panic, which
// could not be caught otherwise.
func (u *underWay[N, S]) lookAt(one *sent[N, S]) {
	u.mu.Unlock()
	defer u.mu.Lock()
	one.came = u.look(u.ctx, one.opened, one.bar)
}

// goOn takes in what is back and sends out what may be looked at next; false once the search is over.
func (u *underWay[N, S]) goOn() bool {
	defer u.changed.Broadcast()
	for !u.over {
		u.send()
		switch {
		case len(u.out) == 0:
			u.since = 0
			if u.watch != nil {
				u.watch(Progress{Best: u.bar(u.res.Best), Open: min(u.res.Open, u.least()), Stats: u.res.Stats})
			}
			u.over = u.next() == nil || pause.Err(u.ctx) != nil
		case u.out[0].back:
			u.take(u.out[0])
			u.out = u.out[1:]
		default:
			return true
		}
	}
	return false
}

// send sends nodes out as far as there are any and not too many are out.
func (u *underWay[N, S]) send() {
	for len(u.out) < ahead && u.since < between && pause.Err(u.ctx) == nil {
		next := u.next()
		if next == nil {
			return
		}
		if u.hopeless(next.node, next.bound, u.res.Best) {
			u.res.Stats.Bounded++
			next.done = true
			continue
		}
		next.out = true
		one := &sent[N, S]{opened: next, bar: u.worth(next.node, u.bar(u.res.Best), u.res.Best)}
		u.out, u.waiting = append(u.out, one), append(u.waiting, one)
		u.since++
	}
}

// take takes in what came of a node. Its branches stand where it stood.
func (u *underWay[N, S]) take(one *sent[N, S]) {
	came := &one.came
	u.res.Stats.Add(came.stats)
	u.res.Open = min(u.res.Open, came.open)
	if came.found {
		var improved bool
		if u.res.Best, improved = u.insert(u.res.Best, came.solution); improved {
			u.res.Stats.Improved++
		}
	}
	if one.out, one.done = false, came.left == Unlimited; !one.done {
		one.bound = max(one.bound, came.left)
	}
	if last := came.branches; last != nil {
		for last.next != nil {
			last = last.next
		}
		one.next, last.next = came.branches, one.next
	}
	if u.enough > 0 && len(u.res.Best) >= u.enough { // those that are out count as if they had not been looked at
		u.over = true
		u.stop()
	}
}

// next is the first node that is neither done nor out; nil if there is none. What is done is
// dropped on the way.
func (u *underWay[N, S]) next() *opened[N] {
	at := &u.first
	for *at != nil {
		switch n := *at; {
		case n.done:
			*at = n.next
		case n.out:
			at = &n.next
		default:
			return n
		}
	}
	return nil
}

// least is the least that what is still open can cost.
func (u *underWay[N, S]) least() Cost {
	cost := Unlimited
	for n := u.first; n != nil; n = n.next {
		if !n.done {
			cost = min(cost, n.bound)
		}
	}
	return cost
}
