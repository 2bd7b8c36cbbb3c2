package purchase

import (
	"cmp"
	"context"
	"encoding/binary"
	"slices"

	"findrive/internal/pause"
)

// mostSteps is how many ways to share out are looked at for one purchase, and
// mostOfAll for all of a search.
const (
	mostSteps = 100_000
	mostOfAll = 4_000_000
)

// sharing finds who builds what from given parts.
type sharing struct {
	*Problem
	ctx       context.Context
	byTask    [][]int // choices of each task, cheapest first
	most      []int   // that can be taken of each row by all tasks
	sets      [][]int // each row by itself, then those of Together
	least     []int   // that all tasks take of each set, whatever they build
	scratch   []byte
	all       int // steps of all questions, and how many there may be
	mostOfAll int
}

func newSharing(ctx context.Context, p *Problem) *sharing {
	s := &sharing{Problem: p, ctx: ctx, mostOfAll: mostOfAll, byTask: make([][]int, len(p.Tasks)), most: make([]int, len(p.Rows))}
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
	for r := range p.Rows {
		if p.Rows[r].Part >= 0 {
			s.sets = append(s.sets, []int{r})
		}
	}
	s.sets = append(s.sets, p.Together...)
	s.least = make([]int, len(s.sets))
	for i, set := range s.sets {
		for t, list := range s.byTask {
			least := unlimited
			for _, c := range list {
				sum := 0
				for _, r := range set {
					sum += p.Choices[c].Takes[r]
				}
				least = min(least, sum)
			}
			if len(list) > 0 {
				s.least[i] += least * p.Tasks[t].Groups
			}
		}
	}
	return s
}

// short is the parts of a set of rows of which there is too little whatever is built and
// however much there is of all else; nil if there is no such set. Of several it is the one
// with the fewest parts.
func (s *search) short(caps []int) map[int]bool {
	var found []int
	for i, set := range s.sharing.sets {
		if s.sharing.least[i] == 0 || found != nil && len(set) >= len(found) {
			continue
		}
		room := 0
		for _, r := range set {
			room += min(s.sharing.most[r], caps[s.Rows[r].Part]*s.Rows[r].Scale)
		}
		if room < s.sharing.least[i] {
			found = set
		}
	}
	if found == nil {
		return nil
	}
	parts := map[int]bool{}
	for _, r := range found {
		if row := s.Rows[r]; caps[row.Part]*row.Scale < s.sharing.most[r] { // more of it can be used
			parts[row.Part] = true
		}
	}
	return parts
}

// shareOut is one question put to sharing.
type shareOut struct {
	*sharing
	caps   []int
	free   []int   // rows of no part, by their places among scarce
	scarce []int   // rows of which there may be too little, and those of no part
	joint  [][]int // sets of rows of which there may be too little together
	takes  [][]int // what each choice takes of the scarce rows, then of the sets
	lists  [][]int // choices of each task that are not beaten by others
	// leastTake[t][i][k] is the least that choices i and later of task t take of the k-th
	// of takes, leastCost[t][i] the least they cost.
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
	q := &shareOut{sharing: s.sharing, caps: caps, seen: map[string][]spent{}, counts: make([]int, len(s.Choices)), limit: limit, first: first}
	left := []int{}
	rooms := make([]int, len(s.Rows))
	for r, row := range s.Rows {
		if rooms[r] = q.most[r]; row.Part < 0 {
			q.free = append(q.free, len(q.scarce))
			q.scarce = append(q.scarce, r)
			left = append(left, rooms[r])
			continue
		}
		if caps[row.Part] < unlimited && caps[row.Part]*row.Scale < q.most[r] {
			rooms[r] = caps[row.Part] * row.Scale
			q.scarce = append(q.scarce, r)
			left = append(left, rooms[r])
		}
	}
	for _, set := range s.Together {
		room, most := 0, 0
		for _, r := range set {
			room, most = room+rooms[r], most+q.most[r]
		}
		if room < most {
			q.joint = append(q.joint, set)
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
	rows := len(q.scarce) + len(q.joint)
	q.laterTake[tasks] = make([]int, rows)
	q.takes = make([][]int, len(q.Choices))
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
			q.leastTake[t][i] = make([]int, rows)
			q.leastCost[t][i] = c.Cost
			takes := make([]int, 0, rows)
			for _, r := range q.scarce {
				takes = append(takes, c.Takes[r])
			}
			for _, set := range q.joint {
				sum := 0
				for _, r := range set {
					sum += c.Takes[r]
				}
				takes = append(takes, sum)
			}
			q.takes[list[i]] = takes
			for k := range takes {
				q.leastTake[t][i][k] = takes[k]
				if i+1 < len(list) {
					q.leastTake[t][i][k] = min(q.leastTake[t][i][k], q.leastTake[t][i+1][k])
				}
			}
			if i+1 < len(list) {
				q.leastCost[t][i] = min(c.Cost, q.leastCost[t][i+1])
			}
		}
		n := q.Tasks[t].Groups
		q.laterTake[t] = make([]int, rows)
		for k := range rows {
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
	q.all++
	if q.steps > mostSteps || q.all > q.mostOfAll || q.steps%1024 == 0 && pause.Err(q.ctx) != nil {
		q.gaveUp = true
		return false
	}
	if i == len(q.lists[t]) {
		return true
	}
	if so.cost+int64(groups)*q.leastCost[t][i]+q.laterCost[t+1] >= q.limit {
		return true
	}
	for k := range left {
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
	for k, n := range q.takes[c] {
		if n > 0 {
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
		for k, m := range q.takes[c] {
			rest[k] = left[k] - n*m
		}
		next := spent{so.cost + int64(n)*choice.Cost, so.used}
		if n > 0 {
			if next.used > 0 {
				next.cost += q.Tasks[t].Another
			}
			next.used++
		}
		if n > 0 && !q.fits(rest) {
			continue
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

// fits asks the problem about what is taken when so much is left.
func (q *shareOut) fits(left []int) bool {
	if q.Fits == nil {
		return true
	}
	taken := make([]int, len(q.free))
	for i, k := range q.free {
		taken[i] = q.most[q.scarce[k]] - left[k]
	}
	return q.Fits(taken, q.caps)
}

// known is whether the same state was come to before for no more.
func (q *shareOut) known(t, i, groups int, left []int, so spent) bool {
	key := q.scratch[:0]
	for _, v := range append([]int{t, i, groups}, left[:len(q.scarce)]...) {
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
