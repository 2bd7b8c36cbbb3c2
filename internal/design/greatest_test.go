package design

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// greatest finds the end of a thing whatever it is told about the room left, and
// with few questions if that is smooth.
func TestGreatest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.Float64Range(0.01, 99).Draw(t, "end")
		bend := rapid.Float64Range(-0.4, 0.4).Draw(t, "bend")
		misled := rapid.SampledFrom([]string{"no", "nothing told", "nonsense", "too much room", "no number"}).Draw(t, "misled")
		asked := 0
		got := greatest(100, func(x float64) (float64, bool) {
			asked++
			room := (1 - x/end) * (1 + bend*x/end)
			switch misled {
			case "nothing told":
				room = 1
			case "nonsense":
				room = math.Sin(1e6 * x)
			case "too much room":
				room += 0.1
			case "no number":
				room = math.NaN()
			}
			return room, x <= end
		})
		require.InDelta(t, end, got, 1e-12)
		require.LessOrEqual(t, got, end)
		if misled == "no" {
			require.LessOrEqual(t, asked, 40)
		}
		require.Less(t, asked, mostProbes)
	})
	never := func(float64) (float64, bool) { return 0, false }
	always := func(float64) (float64, bool) { return 1, true }
	assert.Zero(t, greatest(100, never))
	assert.Equal(t, 100.0, greatest(100, always))
}
