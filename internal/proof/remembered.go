package proof

import "math"

// remembered keeps what loaded stages were found to do. Boxes that share an end ask it
// the same again and again: two in three times the answer is still here. It has room
// for so many answers, and a new one takes the place of an old one that happens to lie
// in its way, so it never grows.
type remembered struct {
	ends  uint64 // made so far: their numbers
	table []struct {
		of   *end
		pull float64
		answer
	}
}

const rememberedBits = 15

// carrying is what end e does at an effective pull.
func (r *remembered) carrying(e *end, pull float64) answer {
	if r.table == nil {
		r.table = make([]struct {
			of   *end
			pull float64
			answer
		}, 1<<rememberedBits)
	}
	const mix = 0x9e3779b97f4a7c15 // 2^64 over the golden ratio, spreads what it multiplies
	h := math.Float64bits(pull) + e.number*mix
	h = (h ^ h>>32) * mix
	place := &r.table[h>>(64-rememberedBits)]
	if place.of != e || place.pull != pull {
		place.of, place.pull, place.answer = e, pull, e.loaded(pull)
	}
	return place.answer
}
