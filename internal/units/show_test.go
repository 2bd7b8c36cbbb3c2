package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestNumbersAreWrittenAsPeopleDo(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{Decimals(1.50, 2), "1.5"}, {Decimals(2, 3), "2"}, {Decimals(-0.001, 2), "0"}, {Decimals(1200, 0), "1200"},
		{Significant(5234, 3), "5230"}, {Significant(0.04444, 3), "0.0444"}, {Significant(20, 3), "20"},
		{Significant(-7.126, 3), "-7.13"}, {Significant(0, 3), "0"}, {Significant(math.Inf(1), 3), "0"}, {Significant(math.NaN(), 3), "0"},
	} {
		assert.Equal(t, c.want, c.got)
	}
}

func TestHalfDown(t *testing.T) {
	for v, want := range map[Millimetres]Millimetres{0.49: 0, 0.5: 0.5, 1.57: 1.5, 1.9999999: 2, 2.4: 2} {
		assert.InDelta(t, float64(want), float64(HalfDown(v)), 1e-12, "%v", v)
	}
}
