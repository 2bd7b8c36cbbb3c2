package design

import (
	"cmp"
	"slices"
	"sync"

	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/units"
)

// listing is the states of a pair of pulleys at a hole error, worked out as far as they have
// been asked for: the cheaper first, as most arrangements are done with before a dear one
// could be of use.
type listing struct {
	mu       sync.Mutex
	upTo     score.Points // those that cost no more are listed
	states   []*state     // in the order of clusters
	clusters map[listed]*cluster
}

// listed are some of the states of a listing: from first up to, not including, end.
type listed struct{ first, end int }

// pairAt is a pair of pulleys and how far holes may be out of place.
type pairAt struct {
	driver, driven int
	bears          units.Millimetres
}

// mostListings is of how many pairs at most the states are kept, which bounds memory.
const mostListings = 4000

// listingOf is the states of a stage's pulleys at a hole error, as far as they have been listed.
func (t *task) listingOf(on *onStage, bears units.Millimetres) *listing {
	l := &listing{upTo: -1, clusters: map[listed]*cluster{}}
	if t.pins != nil {
		return l // what is asked of a stage may be asked of no other
	}
	key := pairAt{on.driver, on.driven, bears}
	t.mu.Lock()
	defer t.mu.Unlock()
	if known := t.listings[key]; known != nil {
		return known
	}
	if len(t.listings) >= mostListings {
		clear(t.listings)
	}
	t.listings[key] = l
	return l
}

// within is how many states cost no more than a limit; false if the search was stopped before
// they were all listed.
func (t *task) within(l *listing, on *onStage, bears units.Millimetres, limit score.Points) (int, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if limit >= unsettled/2 {
		limit = unsettled // who wants all wants no more if less has been charged besides
	}
	if limit > l.upTo {
		anywhere := *on
		if t.pins == nil {
			anywhere.far = t.longestCentre() + t.halfStep
		}
		var more []*state
		for _, o := range t.options(&anywhere, limit) {
			more = append(more, t.marks(o, bears, l.upTo, limit)...)
		}
		if t.stopped() {
			return 0, false // some may be missing
		}
		l.states, l.upTo = append(l.states, inClusters(more)...), limit
	}
	return sortedUpTo(l.states, limit), true
}

// sortedUpTo is how many of some states, the cheaper first, cost no more than a limit.
func sortedUpTo(states []*state, limit score.Points) int {
	at, _ := slices.BinarySearchFunc(states, limit, func(s *state, limit score.Points) int {
		if s.cost <= limit {
			return -1
		}
		return 1
	})
	return at
}

// of is the cluster of some states; nil of none.
func (l *listing) of(some listed) *cluster {
	if some.first == some.end {
		return nil
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	c := l.clusters[some]
	if c == nil {
		c = joined(l.states[some.first:some.end])
		l.clusters[some] = c
	}
	return c
}

// inClusters puts states in the order of clusters: the cheaper first, then open before crossed,
// then those that pull less.
func inClusters(states []*state) []*state {
	slices.SortStableFunc(states, func(a, b *state) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), parts.CompareBool(a.crossed, b.crossed), cmp.Compare(a.hubAt(0), b.hubAt(0)))
	})
	return states
}
