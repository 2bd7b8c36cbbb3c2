package certificate

import (
	"fmt"
	"math"
	"strconv"
)

// Figures is how many significant digits a number of the certificate has.
const Figures = 9

// Number is a figure of the certificate, in the unit that its key names.
type Number float64

// MarshalJSON writes at most nine significant digits. A figure that is not
// finite is an error: none of the certificate's plain numbers may be.
func (n Number) MarshalJSON() ([]byte, error) {
	v := float64(n)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("a figure of the certificate is %v", v)
	}
	return []byte(Short(v)), nil
}

// Short writes a number with at most nine significant digits.
func Short(v float64) string {
	s := strconv.FormatFloat(v, 'g', Figures, 64)
	if s == "-0" {
		return "0"
	}
	return s
}
