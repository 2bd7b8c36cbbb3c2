package allot

import (
	"slices"
	"sort"

	"findrive/internal/pause"
)

// orBetter makes a plan one of so many of each choice if that is better.
func (plan *Plan) orBetter(p *Problem, counts []int) {
	served, cost := 0, p.cost(counts)
	for _, n := range counts {
		served += n
	}
	if served > plan.Served || served == plan.Served && cost < plan.Cost {
		plan.Counts, plan.Served, plan.Cost = counts, served, cost
	}
}

// known is Known for all choices there are now.
func (p *Problem) known() []int {
	counts := make([]int, len(p.Choices))
	copy(counts, p.Known)
	return counts
}

// quick is a plan that is found without a search: the choice that goes furthest by itself,
// the cheapest of those, and then of the others, cheapest first, as many as the rest makes.
// It is short of choices if ctx has ended, but not empty if one group can be served.
func (s *sharing) quick() []int {
	counts := make([]int, len(s.Choices))
	at, most := -1, 0
	for i := range s.choices {
		if n := s.mostOf(counts, i); n > most {
			at, most = i, n
		}
		// Where one choice alone is allowed, which one is all there is to find.
		if most == s.Groups || most > 0 && s.Different != 1 && pause.Err(s.ctx) != nil {
			break
		}
	}
	if at < 0 {
		return counts
	}
	counts[s.choices[at].at] = most
	for i, different := 0, 1; i < len(s.choices) && different < s.Different && pause.Err(s.ctx) == nil; i++ {
		if i == at {
			continue
		}
		if n := s.mostOf(counts, i); n > 0 {
			counts[s.choices[i].at] = n
			different++
		}
	}
	return counts
}

// mostOf is how many of a choice a plan can hold beside what it holds of the others.
func (s *sharing) mostOf(counts []int, choice int) int {
	c := &s.choices[choice]
	room := s.Groups
	for _, n := range counts {
		room -= n
	}
	for part, t := range c.Takes {
		if t == 0 {
			continue
		}
		left := s.Stock[part]
		for i, n := range counts {
			left -= n * s.Choices[i].Takes[part]
		}
		room = min(room, left/t)
	}
	if s.Fits == nil || room == 0 {
		return room
	}
	return sort.Search(room, func(k int) bool { // the first that does not fit, less one
		more := slices.Clone(counts)
		more[c.at] = k + 1
		return !s.Fits(more)
	})
}
