package making

import (
	"findrive/internal/constraints"
	"findrive/internal/parts"
)

// Discs counts the discs that the made pulleys of one set take.
func Discs(pulleys []*parts.Pulley) int {
	n := 0
	for _, p := range pulleys {
		if p.Made != nil {
			n += p.Made.Count()
		}
	}
	return n
}

// Different counts the kinds of made pulley of one set, each once: what is charged for.
func Different(pulleys []*parts.Pulley) int {
	n := 0
	for i, p := range pulleys {
		if p.Made != nil && !containsName(pulleys[:i], p.Name) {
			n++
		}
	}
	return n
}

func containsName(list []*parts.Pulley, name string) bool {
	for _, p := range list {
		if p.Name == name {
			return true
		}
	}
	return false
}

// Enough is the stock rule for the made pulleys of a drive: no group cuts more discs than
// the cupboard says, and the sheets take the discs of all sets, as Nest lays them.
func Enough(cup *parts.Cupboard, pulleys []*parts.Pulley, sets int) *constraints.Refusal {
	n := Discs(pulleys)
	if n == 0 || cup.Discs == nil { // made already, for all that is known
		return nil
	}
	if no := constraints.DiscsOfAGroup(n, cup.Discs.Most); no != nil {
		return no
	}
	return constraints.SheetForDiscs(reach(cup.Sheets, SeveralOf(pulleys, sets)))
}

// Sets is for how many sets the sheets take the made pulleys of a drive, from sets, for
// which they do, up to plenty.
func Sets(cup *parts.Cupboard, pulleys []*parts.Pulley, sets int) int {
	lo, hi := sets, manySets*sets+1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; Enough(cup, pulleys, mid) == nil {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Several is how many of a pulley are to be made.
type Several struct {
	Pulley *parts.Pulley
	Count  int
}

// SeveralOf counts the made pulleys of so many sets of a drive, each kind once.
func SeveralOf(pulleys []*parts.Pulley, sets int) []Several { return AddedAll(nil, pulleys, sets) }

// AddedAll is a list with the made pulleys of so many sets of a drive.
func AddedAll(list []Several, pulleys []*parts.Pulley, sets int) []Several {
	for _, p := range pulleys {
		if p.Made != nil {
			list = Added(list, Several{p, sets})
		}
	}
	return list
}

// Added is a list with more of a pulley, or one pulley more.
func Added(list []Several, more Several) []Several {
	for i := range list {
		if list[i].Pulley.Name == more.Pulley.Name {
			list[i].Count += more.Count
			return list
		}
	}
	return append(list, more)
}

// Reach reports whether the sheets of a cupboard take the discs of pulleys for groups that
// build different drives. What they take they take with fewer.
func Reach(cup *parts.Cupboard, list []Several) bool { return fits(cup.Sheets, list) }

// SheetReaches is Reach for what is cut from one kind of sheet alone.
func SheetReaches(sheet *parts.SheetStock, list []Several) bool {
	rows, large := rowsOf(sheet, sizesOf(sheet.Name, list))
	return large == 0 && goOn(sheet, rows)
}

// Plenty reports whether the sheets surely take whatever of some pulleys so many groups may
// make: even if every disc were as large as the largest from its sheet.
func Plenty(cup *parts.Cupboard, pulleys []parts.Pulley, groups int) bool {
	largest := map[string]mm{}
	for i := range pulleys {
		for _, d := range pulleys[i].Made.Pieces() {
			largest[d.Sheet] = max(largest[d.Sheet], d.Diameter)
		}
	}
	for i := range cup.Sheets {
		s := &cup.Sheets[i]
		if d := largest[s.Name]; d > 0 && s.Count*along(s.Length, d)*along(s.Width, d) < groups*cup.Discs.Most {
			return false
		}
	}
	return true
}

// along is how many discs of one size lie side by side along an edge.
func along(length, disc mm) int { return int((length - 2*edge + across + nearly) / (disc + across)) }
