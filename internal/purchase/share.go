package purchase

import (
	"cmp"
	"context"
	"encoding/binary"
	"slices"
)

// mostSteps is how many ways to share out are looked at for one purchase.
const mostSteps = 400_000

// sharing finds who builds what from given parts.
type sharing struct {
	*Problem
	ctx     context.Context
	byTask  [][]int // choices of each task, cheapest first
	most    []int   // that can be taken of each row by all tasks
	scratch []byte
}

func newSharing(ctx context.Context, p *Problem) *sharing {
	s := &sharing{Problem: p, ctx: ctx, byTask: make([][]int, len(p.Tasks)), most: make([]int, len(p.Rows))}
	for c, choice := range p.Choices {
		s.byTask[choice.Task] = append(s.byTask[choice.Task], c)
	}
	for t, list := range s.byTask {
		slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(p.Choices[a].Cost, p.Choices[b].Cost) })
		for r := range p.Rows {
			most := 0
			for _, c := range list {
				most = max(most, p.Choices[c].Takes[r])
			}
			s.most[r] += most * p.Tasks[t].Groups
		}
	}
	return s
}

// shareOut is one question put to sharing.
type shareOut struct {
	*sharing
	scarce []int   // rows of which there may be too little
	lists  [][]int // choices of each task that are not beaten by others
	// leastTake[t][i][r] is the least that choices i and later of task t take of scarce
	// row r, leastCost[t][i] the least they cost.
	leastTake [][][]int
	leastCost [][]int64
	// Of all tasks after t.
	laterTake [][]int
	laterCost []int64
	seen      map[string][]spent
	steps     int
	counts    []int
	best      []int
	limit     int64 // the best has this cost; nothing as dear is looked for
	first     bool  // the first plan will do
	gaveUp    bool
}

// spent is what it took to come to a state.
type spent struct {
	cost int64
	used int
}

// share is the plan of least cost, below limit, for so many of each part, or the first
// that is found; nil if there is none. settled is false if that was not found out.
func (s *search) share(caps []int, limit int64, first bool) (counts []int, cost int64, settled bool) {
	q := &shareOut{sharing: s.sharing, seen: map[string][]spent{}, counts: make([]int, len(s.Choices)), limit: limit, first: first}
	left := []int{}
	for r, row := range s.Rows {
		room := unlimited
		if caps[row.Part] < unlimited {
			room = caps[row.Part] * row.Scale
		}
		if q.most[r] > room {
			q.scarce = append(q.scarce, r)
			left = append(left, room)
		}
	}
	if !q.prepare() {
		return nil, 0, true
	}
	q.fill(0, 0, q.Tasks[0].Groups, left, spent{})
	return q.best, q.limit, !q.gaveUp
}

// prepare is false if some task has no choice.
func (q *shareOut) prepare() bool {
	tasks := len(q.Tasks)
	q.lists, q.leastTake, q.leastCost = make([][]int, tasks), make([][][]int, tasks), make([][]int64, tasks)
	q.laterTake, q.laterCost = make([][]int, tasks+1), make([]int64, tasks+1)
	q.laterTake[tasks] = make([]int, len(q.scarce))
	if tasks == 0 {
		return false
	}
	for t := tasks - 1; t >= 0; t-- {
		for _, c := range q.byTask[t] {
			if !slices.ContainsFunc(q.lists[t], func(o int) bool { return q.beats(o, c) }) {
				q.lists[t] = append(q.lists[t], c)
			}
		}
		list := q.lists[t]
		if len(list) == 0 {
			return false
		}
		q.leastTake[t], q.leastCost[t] = make([][]int, len(list)), make([]int64, len(list))
		for i := len(list) - 1; i >= 0; i-- {
			c := &q.Choices[list[i]]
			q.leastTake[t][i] = make([]int, len(q.scarce))
			q.leastCost[t][i] = c.Cost
			for k, r := range q.scarce {
				q.leastTake[t][i][k] = c.Takes[r]
				if i+1 < len(list) {
					q.leastTake[t][i][k] = min(q.leastTake[t][i][k], q.leastTake[t][i+1][k])
				}
			}
			if i+1 < len(list) {
				q.leastCost[t][i] = min(c.Cost, q.leastCost[t][i+1])
			}
		}
		n := q.Tasks[t].Groups
		q.laterTake[t] = make([]int, len(q.scarce))
		for k := range q.scarce {
			q.laterTake[t][k] = q.laterTake[t+1][k] + n*q.leastTake[t][0][k]
		}
		q.laterCost[t] = q.laterCost[t+1] + int64(n)*q.leastCost[t][0]
	}
	return true
}

// beats is whether o, no dearer, takes no more than c of any scarce row: then no plan
// needs c.
func (q *shareOut) beats(o, c int) bool {
	for _, r := range q.scarce {
		if q.Choices[o].Takes[r] > q.Choices[c].Takes[r] {
			return false
		}
	}
	return q.Choices[o].Cost <= q.Choices[c].Cost
}

// fill lets so many groups of task t build its choices i and later, and then the other
// tasks. It is false if no more need be looked at.
func (q *shareOut) fill(t, i, groups int, left []int, so spent) bool {
	for groups == 0 {
		if t+1 == len(q.Tasks) {
			if so.cost < q.limit {
				q.best, q.limit = clone(q.counts), so.cost
			}
			return !q.first || q.best == nil
		}
		t, i, groups, so.used = t+1, 0, q.Tasks[t+1].Groups, 0
	}
	q.steps++
	if q.steps > mostSteps || q.steps%1024 == 0 && q.ctx.Err() != nil {
		q.gaveUp = true
		return false
	}
	if i == len(q.lists[t]) {
		return true
	}
	if so.cost+int64(groups)*q.leastCost[t][i]+q.laterCost[t+1] >= q.limit {
		return true
	}
	for k := range q.scarce {
		if left[k] < groups*q.leastTake[t][i][k]+q.laterTake[t+1][k] {
			return true
		}
	}
	if q.known(t, i, groups, left, so) {
		return true
	}
	c := q.lists[t][i]
	choice := &q.Choices[c]
	room := groups
	for k, r := range q.scarce {
		if n := choice.Takes[r]; n > 0 {
			room = min(room, (left[k]-q.laterTake[t+1][k])/n)
		}
	}
	if !q.Mix && room < groups {
		room = 0
	}
	rest := make([]int, len(left))
	for n := room; n >= 0; n-- {
		if !q.Mix && n > 0 && n < groups {
			n = 0
		}
		for k, r := range q.scarce {
			rest[k] = left[k] - n*choice.Takes[r]
		}
		next := spent{so.cost + int64(n)*choice.Cost, so.used}
		if n > 0 {
			if next.used > 0 {
				next.cost += q.Another
			}
			next.used++
		}
		q.counts[c] = n
		if !q.fill(t, i+1, groups-n, rest, next) {
			q.counts[c] = 0
			return false
		}
	}
	q.counts[c] = 0
	return true
}

// known is whether the same state was come to before for no more.
func (q *shareOut) known(t, i, groups int, left []int, so spent) bool {
	key := q.scratch[:0]
	for _, v := range append([]int{t, i, groups}, left...) {
		key = binary.AppendVarint(key, int64(v))
	}
	q.scratch = key
	before := q.seen[string(key)]
	for _, b := range before {
		if b.cost <= so.cost && min(b.used, 1) <= min(so.used, 1) {
			return true
		}
	}
	q.seen[string(key)] = append(before, so)
	return false
}
