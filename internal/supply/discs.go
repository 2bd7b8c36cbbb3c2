package supply

import (
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/making"
	"findrive/internal/parts"
)

// Pulleys that can be made of discs are parts like others, but that all of them come from
// the same sheets. What these take is settled by laying the discs of all groups, as what
// rods make is by cutting: see rods.go. A made pulley is made for its drive and does not
// come back, so that each brief of a term makes its own.

// offer puts the pulleys that can be made for all groups among the parts there are, and
// lists them.
func (s *shelf) offer(q *Question, together *parts.Cupboard) []parts.Pulley {
	made := making.Shared(together, q.Briefs)
	if len(made) == 0 {
		together.Discs = nil
		return nil
	}
	together.Pulleys = slices.Concat(together.Pulleys, made)
	groups := 0
	for _, b := range q.Briefs {
		groups += b.Sets
	}
	s.sheetsShort = !making.Plenty(together, made, groups)
	return made
}

// madeOf makes a pulley one of those that can be made, if it is.
func (p *part) madeOf(made []parts.Pulley) {
	for i := range made {
		if made[i].Name == p.name {
			p.made, p.stock = &made[i], made[i].Count
		}
	}
}

// sawnOfSheet lists the pulleys that are made among what one set takes of each part. It is
// nothing where the sheets take all.
func (s *shelf) sawnOfSheet(takes []int) []sawn {
	var out []sawn
	if !s.sheetsShort {
		return nil
	}
	for i, n := range takes {
		if n > 0 && s.parts[i].made != nil {
			out = append(out, sawn{part: i, count: n})
		}
	}
	return out
}

// several is what of a list is made of discs.
func (s *shelf) several(list []sawn) []making.Several {
	var out []making.Several
	for _, w := range list {
		if p := s.parts[w.part].made; p != nil && w.count > 0 {
			out = append(out, making.Several{Pulley: p, Count: w.count})
		}
	}
	return out
}

// reach tells whether the sheets take the discs of what is listed.
func (s *shelf) reach(list []sawn) bool {
	return !s.sheetsShort || making.Reach(s.together, s.several(list))
}

// mostBeside is how many of a pulley of discs one of n sets may take beside others.
func (s *shelf) mostBeside(part int, others []sawn, n, most int) int {
	for most > 0 && !s.reach(append(slices.Clone(others), sawn{part: part, count: n * most})) {
		most--
	}
	return most
}

// capMade caps pulleys of discs at what is taken.
func (s *shelf) capMade(caps, takes []int) {
	for i := range s.parts {
		if s.parts[i].made != nil {
			caps[i] = takes[i]
		}
	}
}

// sheetsBeside are the sheets that the discs of others leave whole.
func (s *shelf) sheetsBeside(others []sawn) []parts.SheetStock {
	pieces, err := making.Laid(s.together, s.several(others))
	if err != nil {
		return nil
	}
	out := slices.Clone(s.together.Sheets)
	for _, p := range pieces {
		for i := range out {
			if out[i].Name == p.Sheet.Name {
				out[i].Count--
			}
		}
	}
	return out
}

// areas puts what discs take of sheets into a sharing out, which bounds it: how they lie
// settles it.
func (s *shelf) areas(p *allot.Problem, choices []choice) {
	if !s.sheetsShort {
		return
	}
	for k := range s.together.Sheets {
		sheet := &s.together.Sheets[k]
		taken := false
		takes := make([]int, len(choices))
		for i, c := range choices {
			for at, n := range c.takes {
				if s.parts[at].made == nil || n == 0 {
					continue
				}
				for _, d := range s.parts[at].made.Made.Pieces() {
					if d.Sheet == sheet.Name {
						takes[i] += n * int(making.Area(&d))
						taken = true
					}
				}
			}
		}
		if !taken {
			continue
		}
		p.Stock = append(p.Stock, int(math.Ceil(making.Room(sheet))))
		for i := range p.Choices {
			p.Choices[i].Takes = append(p.Choices[i].Takes, takes[i])
		}
	}
}
