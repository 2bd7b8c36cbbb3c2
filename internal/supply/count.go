package supply

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
)

// Short is a kind of part of which counting alone says that there are too few, and of which
// the list sells none.
type Short struct {
	Kind   string
	Wanted int // at least, by all groups that need it at one time
	Have   int // axles: as many as the rods make
}

// counted are the kinds of which every drive takes some, of which there are too few, and
// which cannot be bought. That needs no search.
func (a *asker) counted() []Short {
	var out []Short
	for _, kind := range []string{"motor", "cells", "wheel", "drum", "pulley", "band", "axle"} {
		s := Short{Kind: kind}
		have := make([]int, len(a.parts))
		sold := false
		for _, j := range a.jobs {
			each := 1
			switch {
			case kind == "wheel" && j.brief.Model != brief.Vehicle, kind == "drum" && j.brief.Model != brief.Lift:
				continue
			case kind == "wheel":
				each = design.MostTaken("wheel", 1)
			}
			if want := each * j.groups; a.q.InTurn && !slices.Contains(consumed, kind) {
				s.Wanted = max(s.Wanted, want)
			} else {
				s.Wanted += want
			}
			for i, p := range a.parts {
				if p.kind != kind || j.most[i] == 0 || kind == "cells" && !j.cellsAllowed(p.name) {
					continue
				}
				sold = sold || p.onSale
				have[i] = max(have[i], p.stock*j.yield[i])
			}
		}
		for _, n := range have {
			s.Have += n
		}
		if s.Wanted > s.Have && !sold {
			out = append(out, s)
		}
	}
	return out
}
