package report

import (
	"fmt"
	"math"
	"strconv"
)

// figures is how many significant digits a number of the certificate has.
const figures = 9

// number is a figure of the certificate.
type number float64

// MarshalJSON writes at most nine significant digits. A figure that is not
// finite is an error: none of the certificate's plain numbers may be.
func (n number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("a figure of the certificate is %v", v)
	}
	return []byte(shortNumber(v)), nil
}

func shortNumber(v float64) string {
	s := strconv.FormatFloat(v, 'g', figures, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

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
