package dotplot_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/dotplot"
)

// An axis holds what it is over, has neither few nor many figures, and each is at a whole
// number of steps from 0.
func TestOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0, 1000).Draw(t, "low")
		high := low + rapid.Float64Range(0.2, 3000).Draw(t, "more")
		a := dotplot.Over(low, high, "turns")
		require.LessOrEqual(t, a.Low, low)
		require.GreaterOrEqual(t, a.High, high)
		require.GreaterOrEqual(t, a.Low, 0.0)
		figures := (a.High - a.Low) / a.Step
		require.InDelta(t, math.Round(figures), figures, 1e-6)
		require.GreaterOrEqual(t, figures, 3.0)
		require.LessOrEqual(t, figures, 16.0)
		require.InDelta(t, math.Round(a.Low/a.Step), a.Low/a.Step, 1e-6)
		require.InDelta(t, 10, float64(a.At(a.Low, 10, 90)), 1e-9)
		require.InDelta(t, 90, float64(a.At(a.High, 10, 90)), 1e-9)
	})
	require.Equal(t, dotplot.Over(0, 60, ""), dotplot.Over(0, 0, ""))
}
