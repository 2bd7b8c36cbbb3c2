package units

import (
	"math"
	"strconv"
	"strings"
)

// Decimals writes a number with at most so many decimals and no idle zeros.
func Decimals(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// HalfDown is a length down to half a millimetre, as what holes may be off is said.
func HalfDown(v Millimetres) Millimetres { return Millimetres(math.Floor(float64(v)*2+1e-6)) / 2 }

// Turns writes a number of turns as one says it: two figures, whole ones from 10 up, to the
// nearest 50 from 1000.
func Turns(v float64) string {
	switch {
	case v >= 1000:
		return Decimals(math.Round(v/50)*50, 0)
	case v >= 9.95:
		return Decimals(v, 0)
	}
	return Significant(v, 2)
}

// Significant writes a number rounded to so many significant digits, without an
// exponent; 0 for one that is not finite.
func Significant(v float64, digits int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	decimals := digits - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if decimals >= 0 {
		return Decimals(v, decimals)
	}
	step := math.Pow10(-decimals)
	return Decimals(math.Round(v/step)*step, 0)
}
