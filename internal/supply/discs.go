package supply

import (
	"context"
	"slices"

	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/purchase"
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
	if s.sheetsShort = !making.Plenty(together, made, groups); s.sheetsShort {
		s.measures = making.Measures(together, made)
	}
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
func (j *job) sawnOfSheet(takes []int) []sawn {
	var out []sawn
	if !j.sheetsShort {
		return nil
	}
	for i, n := range takes {
		if n > 0 && j.parts[i].made != nil {
			out = append(out, sawn{part: i, count: n, turn: j.turn})
		}
	}
	return out
}

// several is what of a list is made of discs, turn by turn.
func (s *shelf) several(list []sawn) [][]making.Several {
	var out [][]making.Several
	for _, w := range list {
		if p := s.parts[w.part].made; p != nil && w.count > 0 {
			for len(out) <= w.turn {
				out = append(out, nil)
			}
			out[w.turn] = append(out[w.turn], making.Several{Pulley: p, Count: w.count})
		}
	}
	return out
}

// reach tells whether the sheets take the discs of what is listed: all together, or, in
// turn, each brief's from sheets of their own.
func (s *shelf) reach(list []sawn) bool {
	if !s.sheetsShort {
		return true
	}
	turns := s.several(list)
	if len(turns) < 2 {
		return len(turns) == 0 || making.Reach(s.together, turns[0])
	}
	for i := range s.together.Sheets {
		sheet := &s.together.Sheets[i]
		left := sheet.Count
		for _, of := range turns {
			left -= making.SheetsFor(sheet, of)
		}
		if left < 0 {
			return false
		}
	}
	return true
}

// mostBeside is how many of a pulley of discs, up to a number, one of so many sets may take
// beside others.
func (s *shelf) mostBeside(sets sawn, others []sawn, most int) int {
	fits := func(each int) bool {
		more := sets
		more.count *= each
		return s.reach(append(slices.Clone(others), more))
	}
	for most > 0 && !fits(most) {
		most--
	}
	return most
}

// sheetsCut is how many of each kind of sheet the discs of some shares take.
func (a *asker) sheetsCut(shares []Share) []int {
	out := make([]int, len(a.together.Sheets))
	turns := make([][]making.Several, len(a.jobs))
	for _, s := range shares {
		turn := a.jobs[s.Brief].turn
		turns[turn] = making.AddedAll(turns[turn], s.Drive.Drive.Pulleys(), s.Groups)
	}
	for _, of := range turns {
		for k := range out {
			out[k] += making.SheetsFor(&a.together.Sheets[k], of)
		}
	}
	return out
}

// onlyHoped looks for a drive that takes no more than caps and, of pulleys of discs, no more
// than is hoped for. Each of these by itself may be made as often as caps say, but not all of
// a drive. Where there is none that hope was in vain, and why is noted.
func (a *asker) onlyHoped(ctx context.Context, j *job, caps, takes []int, tolerance float64) (answer, error) {
	for i := range a.parts {
		if a.parts[i].made != nil {
			caps[i] = takes[i]
		}
	}
	is, err := a.ask(ctx, j, caps, tolerance)
	if err == nil && is == no {
		err = a.refute(ctx, j, caps, tolerance)
	}
	return is, err
}

// sheetsBeside are the sheets that the discs of others leave whole.
func (s *shelf) sheetsBeside(others []sawn) []parts.SheetStock {
	out := slices.Clone(s.together.Sheets)
	for i := range out {
		for _, of := range s.several(others) {
			out[i].Count -= making.SheetsFor(&s.together.Sheets[i], of)
		}
		out[i].Count = max(out[i].Count, 0)
	}
	return out
}

// thousandths of thousandths of a sheet are what measures are counted in.
const thousandths = 1_000_000

// room is the m-th limit on what discs take of sheets, which bounds a sharing out; how they
// lie settles it.
func (s *shelf) room(m int) int { return thousandths * int(s.measures[m].Room()) }

// measuring puts the limits into a purchase, as parts that are not for sale.
func (s *shelf) measuring(p *purchase.Problem, choices []choice) {
	for m := range s.measures {
		p.Rows = append(p.Rows, purchase.Row{Part: len(p.Stock), Scale: 1})
		p.Stock = append(p.Stock, s.room(m))
		for i, c := range choices {
			p.Choices[i].Takes = append(p.Choices[i].Takes, s.measured(m, c.takes))
		}
	}
}

// measured is what of the m-th limit a set takes.
func (s *shelf) measured(m int, takes []int) int {
	sum := 0
	for at, n := range takes {
		if n > 0 && s.parts[at].made != nil {
			sum += n * int(thousandths*s.measures[m].Takes(s.parts[at].made))
		}
	}
	return sum
}
