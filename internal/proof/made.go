package proof

import (
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// pulleysFrom lists the pulleys of a row from a stage on.
func (r *row) pulleysFrom(stage int) []*parts.Pulley {
	var out []*parts.Pulley
	for _, p := range r.pairs[stage:r.hd.stages] {
		out = append(out, &r.pulleys[p.driver].Part, &r.pulleys[p.driven].Part)
	}
	return out
}

// newlyMade is what is charged for the kinds of pulley to make that stage i has and none
// after it.
func (r *row) newlyMade(i int) points {
	w := r.brief.Weights
	return score.Made(w, making.Different(r.pulleysFrom(i))) - score.Made(w, making.Different(r.pulleysFrom(i+1)))
}

// enoughDiscs reports whether a group may cut the discs of a row, and the sheets take
// those of all.
func (r *row) enoughDiscs() bool { return making.Enough(r.cup, r.pulleysFrom(0), r.brief.Sets) == nil }
