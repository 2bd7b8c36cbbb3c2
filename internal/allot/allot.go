// Package allot shares a stock out among groups that may build different things:
// as many groups as can be, then at the least cost. It is exact, by branch and
// bound, and knows nothing of pulleys.
package allot

import (
	"cmp"
	"context"
	"slices"
	"sort"

	"findrive/internal/pause"
	"findrive/internal/search"
)

// Choice is one thing a group may build.
type Choice struct {
	Cost  int64 // of one, 0 or more
	Takes []int // of each part of the stock by one, 0 or more; as long as the stock
}

// Problem is what is to be shared out.
type Problem struct {
	Groups  int
	Stock   []int // of each part
	Choices []Choice
	// Fits tells whether the stock makes so many of each choice, where adding up what they
	// take does not tell: it depends on the parts listed in Joint only, and what fits does
	// so with fewer of any. Nil if adding up is all.
	Fits  func(counts []int) bool
	Joint []int
	// Another is the cost of each different choice after the first, 0 or more.
	Another int64
	// Different is how many different choices a plan may hold at most; 0 for any number.
	Different int
	// Known is a plan that is known to do: how many of each choice, of the first ones if it
	// is shorter. What comes out is no worse, even if there is no time to look for another.
	Known []int
}

// Plan is a sharing out.
type Plan struct {
	Counts []int // of each choice
	Served int   // groups, the sum of Counts
	Cost   int64
	// Proved is true if no plan serves more groups and none that serves as many
	// costs less; of those equal in both it is the one with more of the cheapest
	// choice, and so on. If false, ctx ended first and the plan is the best so far.
	Proved bool
	// AtMost is how many groups any plan serves at most: proved.
	AtMost int
}

// mostNodes is how many partial plans are looked at before the search gives up with what
// it has.
const mostNodes = 400_000

// Best is the best plan.
func Best(ctx context.Context, p *Problem) Plan {
	s := newSharing(ctx, p)
	found := s.look(search.Options{})
	plan := Plan{Counts: make([]int, len(p.Choices)), Proved: found.Proved, AtMost: p.Groups}
	if !found.Proved {
		plan.AtMost -= int(min(int64(found.Open)/s.unmet, int64(p.Groups)))
	}
	if len(found.Best) > 0 {
		for i, n := range found.Best[0].Solution {
			plan.Counts[s.choices[i].at] = n
			plan.Served += n
		}
		plan.Cost = p.cost(plan.Counts)
	}
	if !plan.Proved {
		plan.orBetter(p, p.known())
		plan.orBetter(p, s.quick())
	}
	if plan.AtMost = max(plan.AtMost, plan.Served); plan.Proved {
		plan.AtMost = plan.Served
	}
	return plan
}

// All tells whether some plan serves all groups, which is less work than finding the best. It is
// false too if that was not settled.
func All(ctx context.Context, p *Problem) bool {
	s := newSharing(ctx, p)
	return len(s.look(search.Options{Limit: search.Cost(s.unmet - 1), Enough: 1}).Best) > 0
}

// look searches until so much has been looked at. It is stopped while no node is looked at, so
// that what is found is the same on any machine.
func (s *sharing) look(opt search.Options) search.Result[*state, []int] {
	ctx, stop := context.WithCancel(s.ctx)
	defer stop()
	opt.Watch = func(so search.Progress) {
		if so.Stats.Nodes > mostNodes {
			stop()
		}
	}
	return search.Best(ctx, s, opt)
}

func (p *Problem) cost(counts []int) int64 {
	var sum int64
	different := 0
	for i, n := range counts {
		sum += int64(n) * p.Choices[i].Cost
		if n > 0 {
			different++
		}
	}
	return sum + p.Another*int64(max(0, different-1))
}

// sharing is the tree: how many build the first choice, then the second, and so
// on. Choices come cheapest first.
type sharing struct {
	Problem
	ctx     context.Context
	choices []choice
	scarce  []int // the parts of which there may be too little
	unmet   int64 // cost of a group that goes without: more than any plan's
}

type choice struct {
	Choice
	at int // in Problem.Choices
}

type state struct {
	next   int // choice to be settled
	counts []int
	left   []int // of the stock
	served int
	used   int // different choices
	cost   int64
}

func newSharing(ctx context.Context, p *Problem) *sharing {
	s := &sharing{Problem: *p, ctx: ctx}
	for part, have := range p.Stock {
		most := 0
		for _, c := range p.Choices {
			most = max(most, c.Takes[part])
		}
		if most*p.Groups > have || slices.Contains(p.Joint, part) {
			s.scarce = append(s.scarce, part)
		}
	}
	dearest := int64(0)
	for i, c := range p.Choices {
		s.choices = append(s.choices, choice{c, i})
		dearest = max(dearest, c.Cost)
	}
	s.unmet = (dearest+p.Another)*int64(p.Groups+1) + 2 // one less is still a limit
	if s.Different == 0 {
		s.Different = len(p.Choices)
	}
	slices.SortStableFunc(s.choices, func(a, b choice) int { return cmp.Compare(a.Cost, b.Cost) })
	s.choices = slices.DeleteFunc(s.choices, func(c choice) bool { return s.beaten(c) })
	return s
}

// beaten is whether another choice does in every plan what c does, no dearer: it
// takes no more of any scarce part. Of two that are alike the earlier stays. (A
// plan may hold both; then it may as well hold more of the one, and fewer
// different choices cost less.)
func (s *sharing) beaten(c choice) bool {
	for i, o := range s.Choices {
		if i == c.at || o.Cost > c.Cost {
			continue
		}
		alike, no := o.Cost == c.Cost, false
		for _, part := range s.scarce {
			no = no || o.Takes[part] > c.Takes[part]
			alike = alike && o.Takes[part] == c.Takes[part]
		}
		if !no && (!alike || i < c.at) {
			return true
		}
	}
	return false
}

// room is how many of a choice the rest of the stock makes.
func (s *sharing) room(n *state, c *choice) int {
	if n.used == s.Different {
		return 0
	}
	room := s.Groups - n.served
	for _, part := range s.scarce {
		if t := c.Takes[part]; t > 0 {
			room = min(room, n.left[part]/t)
		}
	}
	return room
}

func (s *sharing) Root() *state {
	return &state{counts: make([]int, len(s.choices)), left: slices.Clone(s.Stock)}
}

func (s *sharing) Whole(n *state) bool { return n.next == len(s.choices) || n.served == s.Groups }

func (s *sharing) Branch(n *state) []*state {
	c := &s.choices[n.next]
	var out []*state
	for k := s.most(n, c); k >= 0; k-- {
		m := &state{next: n.next + 1, counts: slices.Clone(n.counts), left: slices.Clone(n.left), served: n.served + k, used: n.used, cost: n.cost + int64(k)*c.Cost}
		m.counts[n.next] = k
		for part, t := range c.Takes {
			m.left[part] -= k * t
		}
		if k > 0 {
			m.used++
		}
		out = append(out, m)
	}
	return out
}

// most is how many of a choice there can be: with what fits fewer do too. If it is stopped
// they may be too few, which the search counts as open.
func (s *sharing) most(n *state, c *choice) int {
	room := s.room(n, c)
	if s.Fits == nil {
		return room
	}
	counts := slices.Clone(n.counts)
	fits := func(k int) bool {
		counts[n.next] = k
		return pause.Err(s.ctx) == nil && s.fits(counts)
	}
	if room == 0 || fits(room) {
		return room
	}
	return sort.Search(room, func(k int) bool { return k > 0 && !fits(k) }) - 1
}

// fits asks the problem about counts in the order of the search.
func (s *sharing) fits(counts []int) bool {
	all := make([]int, len(s.Choices))
	for i, n := range counts {
		all[s.choices[i].at] = n
	}
	return s.Fits(all)
}

// Bound lets every choice that is left have the rest of the stock to itself, but
// no more of them together than any one scarce part allows.
func (s *sharing) Bound(n *state) search.Cost {
	want := s.Groups - n.served
	rest := s.choices[n.next:]
	if want == 0 || len(rest) == 0 {
		return s.total(n.cost, want, n.used)
	}
	rooms := make([]int, len(rest))
	for i := range rest {
		rooms[i] = s.room(n, &rest[i])
	}
	largest := slices.Clone(rooms)
	slices.SortFunc(largest, func(a, b int) int { return b - a })
	could := 0
	for _, room := range largest[:min(len(largest), s.Different-n.used)] {
		could = min(want, could+room)
	}
	for _, part := range s.scarce {
		least := -1
		for i := range rest {
			if t := rest[i].Takes[part]; rooms[i] > 0 && (least < 0 || t < least) {
				least = t
			}
		}
		if least > 0 {
			could = min(could, n.left[part]/least)
		}
	}
	cost := n.cost
	for i, need := 0, could; need > 0; i++ { // cheapest first
		k := min(need, rooms[i])
		cost += int64(k) * rest[i].Cost
		need -= k
	}
	different := n.used
	for i, need := 0, could; need > 0; i++ {
		need -= largest[i]
		different++
	}
	return s.total(cost, want-could, different)
}

// Closer finds nothing out.
func (s *sharing) Closer(n *state, _ search.Cost) (*state, search.Cost) { return n, 0 }

func (s *sharing) total(cost int64, without, different int) search.Cost {
	return search.Cost(cost + s.unmet*int64(without) + s.Another*int64(max(0, different-1)))
}

// Same tells a plan from every other: none is left out for another.
func (s *sharing) Same(n, w *state) bool { return n == w }

// Tie puts more of an earlier choice first.
func (s *sharing) Tie(n, w *state) int {
	for i := range s.choices {
		switch {
		case i >= n.next && !s.Whole(n):
			return -1
		case n.counts[i] != w.counts[i]:
			return w.counts[i] - n.counts[i]
		}
	}
	return 0
}

func (s *sharing) Finish(_ context.Context, n *state, _ search.Cost) search.Finished[[]int] {
	return search.Finished[[]int]{Solution: n.counts, Cost: s.total(n.cost, s.Groups-n.served, n.used), Open: search.Unlimited, Left: search.Unlimited}
}
