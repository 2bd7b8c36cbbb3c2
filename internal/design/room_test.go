package design

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/layout"
	"findrive/internal/units"
)

// Three shafts that the frame has room for have the angle that leastCos allows.
func TestLeastCos(t *testing.T) {
	tighter := 0
	rapid.Check(t, func(t *rapid.T) {
		mm := func(lo, hi float64, what string) units.Millimetres {
			return units.Millimetres(rapid.Float64Range(lo, hi).Draw(t, what))
		}
		a, b := mm(20, 200, "a"), mm(20, 200, "b")
		cos := rapid.Float64Range(-1, 1).Draw(t, "cos")
		third := units.Millimetres(math.Sqrt(max(0, float64(a*a+b*b-2*a*b*units.Millimetres(cos)))))
		reaches := [][]layout.Reach{make([]layout.Reach, 3)}
		reaches[0][2].Far = third + mm(0, 100, "to spare")
		s := settling{reaches: reaches}
		window := func(at units.Millimetres, what string) units.Interval[units.Millimetres] {
			return units.Interval[units.Millimetres]{Lo: at - mm(0, 15, what), Hi: at + mm(0, 15, what)}
		}
		least := s.leastCos(0, window(a, "a is off"), window(b, "b is off"))
		require.LessOrEqual(t, least, cos)
		require.GreaterOrEqual(t, least, -1.0)
		if least > -1 {
			tighter++
		}
	})
	require.Positive(t, tighter)
}
