package mechanics_test

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Runs from rest against SciPy's general-purpose integrator; see
// testdata/run/reference.py, which made the values.
func TestFromRestAgainstAnIntegrator(t *testing.T) {
	data, err := os.ReadFile("../../testdata/run/reference.json")
	require.NoError(t, err)
	var file struct {
		Runs []struct {
			Name             string
			Push             [][2]float64
			Resistance, Mass float64
			Distance         float64
			Time, End        float64
		}
	}
	require.NoError(t, json.Unmarshal(data, &file))
	require.NotEmpty(t, file.Runs)
	for _, c := range file.Runs {
		t.Run(c.Name, func(t *testing.T) {
			var push mechanics.Push
			for i := range c.Push[1:] {
				a, b := c.Push[i], c.Push[i+1]
				push = append(push, mechanics.PushPiece{From: units.MetresPerSecond(a[0]), To: units.MetresPerSecond(b[0]),
					AtFrom: units.Newtons(a[1]), AtTo: units.Newtons(b[1]), Moved: units.Grams(c.Mass)})
			}
			run, ok := mechanics.FromRest(push, units.Newtons(c.Resistance), units.Millimetres(c.Distance))
			require.True(t, ok)
			require.InEpsilon(t, c.Time, float64(run.Time), 1e-6)
			require.InEpsilon(t, c.End, float64(run.End), 1e-6)
		})
	}
}

// Under a steady push the school formulas hold: t = sqrt(2 s m / F) and v² = 2 a s.
func TestFromRestUnderASteadyPush(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		force := rapid.Float64Range(0.01, 5).Draw(t, "force")
		grams := rapid.Float64Range(50, 2000).Draw(t, "grams")
		metres := rapid.Float64Range(0.1, 20).Draw(t, "metres")
		push := mechanics.Push{{To: 1000, AtFrom: units.Newtons(force), AtTo: units.Newtons(force), Moved: units.Grams(grams)}}
		run, ok := mechanics.FromRest(push, 0, units.Millimetres(1000*metres))
		require.True(t, ok)
		a := force / (grams / 1000)
		require.InEpsilon(t, math.Sqrt(2*metres/a), float64(run.Time), 1e-6)
		require.InEpsilon(t, math.Sqrt(2*a*metres), float64(run.End), 1e-6)
	})
}

// More push is never slower, and more resistance never faster.
func TestFromRestIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top := rapid.Float64Range(0.2, 3).Draw(t, "top")
		force := rapid.Float64Range(0.1, 2).Draw(t, "force")
		resistance := rapid.Float64Range(0, 0.05).Draw(t, "resistance")
		more := rapid.Float64Range(1, 2).Draw(t, "more")
		push := func(times float64) mechanics.Push {
			return mechanics.Push{{To: units.MetresPerSecond(top), AtFrom: units.Newtons(times * force), AtTo: units.Newtons(resistance), Moved: 300}}
		}
		run, ok := mechanics.FromRest(push(1), units.Newtons(resistance), 3000)
		require.True(t, ok)
		stronger, ok := mechanics.FromRest(push(more), units.Newtons(resistance), 3000)
		require.True(t, ok)
		require.LessOrEqual(t, float64(stronger.Time), float64(run.Time)*(1+1e-9))
		require.GreaterOrEqual(t, float64(run.Time), 3/top*(1-1e-9), "never faster than at its top speed all the way")
	})
}

func TestFromRestThatNeverGetsAway(t *testing.T) {
	_, ok := mechanics.FromRest(mechanics.Push{{To: 1, AtFrom: 0.1, AtTo: 0, Moved: 200}}, 0.2, 1000)
	require.False(t, ok)
	_, ok = mechanics.FromRest(nil, 0, 1000)
	require.False(t, ok)
}
