package report

import (
	"cmp"
	"fmt"
	"slices"

	"findrive/internal/ideas"
)

// purchase is what one model lacks for all groups, and the models that all groups could
// build if the cupboard had that as well.
type purchase struct {
	words  string
	pieces map[string]int // by kind and name
	serves int
}

// missingMost is what the cupboard has too little of for the models as a whole, what serves
// most models first, then what is fewest parts. The models are built one after another, so a
// part that is there for one is there for all.
func missingMost(r *ideas.Result) []purchase {
	var all []purchase
	for i := range r.Answers {
		a := &r.Answers[i]
		if a.Kind != ideas.FewerSets {
			continue
		}
		short := shortOf(r.Cupboard, a)
		pieces := map[string]int{}
		for _, l := range short {
			pieces[l.part] = l.more
		}
		all = append(all, purchase{words: shortfall(short), pieces: pieces})
	}
	for i := range all {
		for j := range all {
			if all[i].covers(&all[j]) {
				all[i].serves++
			}
		}
	}
	slices.SortStableFunc(all, func(a, b purchase) int {
		return cmp.Or(cmp.Compare(b.serves, a.serves), cmp.Compare(len(a.pieces), len(b.pieces)))
	})
	return slices.CompactFunc(all, func(a, b purchase) bool { return a.words == b.words })
}

// covers reports whether a purchase has all that another is.
func (p *purchase) covers(other *purchase) bool {
	for part, n := range other.pieces {
		if p.pieces[part] < n {
			return false
		}
	}
	return true
}

// missing writes what would serve most models, where one purchase serves several.
func (p *page) missing(r *ideas.Result) {
	all := missingMost(r)
	if len(all) == 0 || all[0].serves < 2 {
		return
	}
	p.blank()
	p.heading("What would serve most models, built one after another")
	const most = 3
	for _, b := range all[:min(most, len(all))] {
		p.hang(0, 2, fmt.Sprintf("- %s: then %s more for all groups, as above.", b.words, count(b.serves, "model")))
	}
}
