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
	var all []parts.Disc
	for _, p := range pulleys {
		if p.Made != nil {
			all = append(all, repeated(p.Made.Pieces(), sets)...)
		}
	}
	_, err := Nest(cup.Sheets, all)
	return constraints.SheetForDiscs(err)
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
