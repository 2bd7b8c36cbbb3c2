package search

import (
	"context"
	"sync"
)

// endings stop the looks at the nodes of a batch that stand behind as many finds as are
// wanted. Those before are never stopped, so that what is found does not depend on which
// node is done first.
type endings struct {
	ctx    context.Context
	wanted int // 0 or less: all are looked at
	last   int // the node with the last find that is wanted, else the last of all

	mu    sync.Mutex
	found []bool
	each  []context.Context
	stops []context.CancelFunc
}

func newEndings(ctx context.Context, nodes, wanted int) *endings {
	e := &endings{ctx: ctx, wanted: wanted, last: nodes - 1}
	if wanted <= 0 {
		return e
	}
	e.found, e.each, e.stops = make([]bool, nodes), make([]context.Context, nodes), make([]context.CancelFunc, nodes)
	for i := range nodes {
		e.each[i], e.stops[i] = context.WithCancel(ctx)
	}
	return e
}

// of is when the look at a node is to end.
func (e *endings) of(node int) context.Context {
	if e.wanted <= 0 {
		return e.ctx
	}
	return e.each[node]
}

// done notes that a node was looked at.
func (e *endings) done(node int, found bool) {
	if e.wanted <= 0 || !found {
		return
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.found[node] = true
	finds := 0
	for i, yes := range e.found {
		if finds >= e.wanted {
			e.stops[i]()
		}
		if yes {
			if finds++; finds == e.wanted {
				e.last = i
			}
		}
	}
}

// stop ends all.
func (e *endings) stop() {
	for _, stop := range e.stops {
		stop()
	}
}
