package supply

import (
	"context"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
)

// Short is a kind of part of which counting alone says that there are too few, and of which
// the list sells none.
type Short struct {
	Kind   string
	Name   string // of the one part that every set of some briefs takes; empty for any of the kind
	Wanted int    // at least, by all groups that need it at one time
	Have   int    // axles: as many as the rods make
}

// Fewer is for how many groups at a time there may be enough for all that counting alone
// says there is too little of, for one brief; 0 if for none, or nothing is short, or there
// are several briefs.
func (r *Result) Fewer() int {
	if len(r.Short) == 0 || len(r.Question.Briefs) != 1 {
		return 0
	}
	groups := r.Question.Briefs[0].Sets
	fewest := groups
	for _, s := range r.Short {
		fewest = min(fewest, groups*s.Have/s.Wanted)
	}
	return fewest
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
				have[i] = max(have[i], j.pieces(i))
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

// never finds the briefs of which not even one set can be built with all that there is and
// all that is sold.
func (a *asker) never(ctx context.Context, r *Result) error {
	for i, j := range a.jobs {
		if len(j.drives) > 0 {
			continue
		}
		have := a.had(nil)
		for k, p := range a.parts {
			if p.onSale {
				have[k] = plenty
			}
		}
		for k, r := range a.rods {
			if at := len(a.parts) + k; r.onSale {
				have[at] = max(have[at], j.most[r.part])
			}
		}
		first := len(r.Never) == 0
		if first {
			a.account = nil
		}
		is, err := a.any(ctx, j, j.from(have, 1), 1, j.brief.Tolerance)
		if err != nil {
			return err
		}
		if is == no {
			r.Never, r.None = append(r.Never, i), true
		}
		if first {
			r.Account = a.account
		}
	}
	r.Searches = a.searches
	return nil
}

// proved are the parts that every set of some briefs was proved to take, of which there are
// too few and none is sold.
func (a *asker) proved() []Short {
	var out []Short
	for i, p := range a.parts {
		if p.onSale {
			continue
		}
		s := Short{Kind: p.kind, Name: p.name}
		for _, j := range a.jobs {
			each := 0
			for _, n := range j.none {
				if n.tolerance >= j.brief.Tolerance && n.caps[i] != plenty && onlyPart(n.caps, i) {
					each = max(each, n.caps[i]+1)
				}
			}
			if want := each * j.groups; a.q.InTurn && !a.goes[i] {
				s.Wanted = max(s.Wanted, want)
			} else {
				s.Wanted += want
			}
			s.Have = max(s.Have, j.pieces(i))
		}
		if s.Wanted > s.Have {
			out = append(out, s)
		}
	}
	return out
}

// onlyPart is whether a proof speaks of one part only.
func onlyPart(caps []int, part int) bool {
	for i, n := range caps {
		if i != part && n != plenty {
			return false
		}
	}
	return true
}
