package constraints

import (
	"fmt"

	"findrive/internal/units"
)

// EnoughStock is the stock rule: no part is used more often, over all the sets
// built at once, than the cupboard holds. Use is by one set.
func EnoughStock(name string, have, use, sets int) *Refusal {
	if use*sets <= have {
		return nil
	}
	return refuse(Stock, float64(use*sets-have)/float64(max(1, have)), func() string {
		if sets == 1 {
			return fmt.Sprintf("%s is short: a set takes %d, and the cupboard has %d", name, use, have)
		}
		there := fmt.Sprintf("there are %d", have)
		if have == 1 {
			there = "there is 1"
		}
		return fmt.Sprintf("%s is short: %d for each of %d sets makes %d, and %s", name, use, sets, use*sets, there)
	})
}

// SleevesShort is the stock rule for sleeves, broken: joints like one that takes the
// sleeve named, and others, take so many in a set, and those that fit do not reach for
// all sets.
func SleevesShort(name string, use, sets int) *Refusal {
	return refuse(Stock, 1/float64(use*sets), func() string {
		if sets == 1 {
			return fmt.Sprintf("sleeves like %s are short: a set takes %d, and those that fit are too few", name, use)
		}
		return fmt.Sprintf("sleeves like %s are short: each of %d sets takes %d, and those that fit are too few", name, sets, use)
	})
}

// sawKerf is what a junior hacksaw takes away at each cut (common practice).
const sawKerf = 1.0

// Pieces is how many axles of the given length one rod yields.
func Pieces(rod, axle units.Millimetres) int {
	return int((rod + sawKerf) / (axle + sawKerf))
}
