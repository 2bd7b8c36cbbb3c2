package constraints

import "findrive/internal/units"

// figure writes a number with three significant digits.
func figure[Q ~float64](v Q) string { return units.Significant(float64(v), 3) }

// apart writes a value and the limit it misses so that they look different: with
// one decimal more if they round to the same, and in words if that is not enough.
// "50 %, and the most is 50 %" would help nobody.
func apart[Q ~float64](value, limit Q, decimals int) (is, must string) {
	for d := decimals; d <= decimals+1; d++ {
		is, must = units.Decimals(float64(value), d), units.Decimals(float64(limit), d)
		if is != must {
			return is, must
		}
	}
	must = units.Decimals(float64(limit), decimals)
	if value > limit {
		return "just over " + must, must
	}
	return "just under " + must, must
}
