package recheck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestPathOfKnownBelts has cases that need no formula: equal pulleys, and a band
// crossed at right angles.
func TestPathOfKnownBelts(t *testing.T) {
	length, span, arc1, arc2 := path(100, 20, 20, false)
	require.InDelta(t, 200+40*math.Pi, length, 1e-12)
	require.InDelta(t, 100, span, 1e-12)
	require.InDelta(t, math.Pi, arc1, 1e-12)
	require.InDelta(t, math.Pi, arc2, 1e-12)

	// Radii 1 and 1 at sqrt 2 · 2 apart: the strands cross at right angles, each
	// is 2 long and each arc is three quarters of a turn.
	length, span, arc1, arc2 = path(2*math.Sqrt2, 1, 1, true)
	require.InDelta(t, 4+3*math.Pi, length, 1e-12)
	require.InDelta(t, 2, span, 1e-12)
	require.InDelta(t, 1.5*math.Pi, arc1, 1e-12)
	require.InDelta(t, arc1, arc2, 1e-12)
}

// TestStrandsTouchBothPulleys wants strands at right angles to the radii they
// end on, as long as path says.
func TestStrandsTouchBothPulleys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		r1, r2, crossed := draw("r1", 1, 60), draw("r2", 1, 60), rapid.Bool().Draw(t, "crossed")
		a := vector{draw("x", -100, 100), draw("y", -100, 100)}
		way := draw("way", 0, 2*math.Pi)
		c := r1 + r2 + draw("gap", 0.5, 200)
		b := a.plus(vector{math.Cos(way), math.Sin(way)}.by(c))
		_, span, _, _ := path(c, r1, r2, crossed)
		for i, s := range strands(a, b, r1, r2, crossed) {
			run := s.to.minus(s.from)
			require.InDelta(t, span, run.size(), 1e-6)
			require.InDelta(t, r1, distance(a, s.from), 1e-9)
			require.InDelta(t, r2, distance(b, s.to), 1e-9)
			require.InDelta(t, 0, run.dot(s.from.minus(a)), 1e-6*span*r1)
			require.InDelta(t, 0, run.dot(s.to.minus(b)), 1e-6*span*r2)
			left := b.minus(a).left().dot(s.from.minus(a)) > 0
			require.Equal(t, i == 0, left, "the first strand leaves on the left")
		}
	})
}

func TestStretchAtInvertsStress(t *testing.T) {
	r := rubber{0.09, 0.125}
	for s := 1.0; s < 6; s += 0.01 {
		require.InEpsilon(t, s, r.stretchAt(r.stress(s)), 1e-12)
	}
}

// TestSlidingArcAgainstSteps integrates the arc in small steps of angle instead:
// the pull grows by m dtheta, and each step holds r dtheta / s.
func TestSlidingArcAgainstSteps(t *testing.T) {
	r := rubber{0.09, 0.125}
	for _, c := range [][2]float64{{1.02, 1.9}, {1.2, 1.3}, {1.3, 1.31}} {
		const steps = 20000
		whole := math.Log(r.stress(c[1]) / r.stress(c[0]))
		var sum float64
		for i := range steps {
			sum += whole / steps / r.stretchAt(r.stress(c[0])*math.Exp(whole*(float64(i)+0.5)/steps))
		}
		require.InEpsilon(t, sum, r.restOnSlidingArc(c[0], c[1]), 1e-7)
	}
}
