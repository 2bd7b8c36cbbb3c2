package report

import (
	"math"

	"findrive/internal/certificate"
)

func shortNumber(v float64) string { return certificate.Short(v) }

// finite is for figures that may have no value, such as the grip margin of a
// band that carries nothing: nil, written as null, if v is not finite.
func finite(v float64) *number {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	n := number(v)
	return &n
}

// list is the same slice, and an empty one for none, so that no list is null.
func list[T any](v []T) []T {
	if v == nil {
		return []T{}
	}
	return v
}
