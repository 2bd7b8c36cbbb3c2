package mechanics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/units"
)

// The handbooks' approximation for far axles, from memory: half the circumferences and
// the two hypotenuses over centre distance and diameter.
func TestQuarterTwistLengthAgainstHandbooks(t *testing.T) {
	for _, p := range [][3]float64{{10, 30, 80}, {10, 30, 200}, {13, 13, 52}, {80, 9, 178}, {50, 50, 400}} {
		d, e, c := p[0], p[1], p[2]
		handbook := math.Pi/2*(d+e) + math.Hypot(c, d) + math.Hypot(c, e)
		got := QuarterTwistLength(units.Millimetres(d), units.Millimetres(e), units.Millimetres(c))
		assert.InEpsilon(t, handbook, float64(got), 0.005, "%v", p)
		assert.Equal(t, got, QuarterTwistLength(units.Millimetres(e), units.Millimetres(d), units.Millimetres(c)))
	}
}

// The shortest way round one pulley from a point beside it, found by trying the corners of
// a tight cord one by one, is what the formula has for that pulley.
func TestQuarterTwistLengthByPullingACordTight(t *testing.T) {
	const r, c = 25.0, 110.0
	// The pulley's middle is at (r, 0); the cord comes from (0, c) down to (0, 0), goes
	// round below, and back to (0, c).
	shortest := math.Inf(1)
	for a := 0.0; a < math.Pi/2; a += 1e-4 { // where it leaves, above the horizontal
		x, y := r+r*math.Cos(a), r*math.Sin(a)
		// Between here and the point the cord must not cut the pulley.
		nearest := math.Abs((0-x)*(0-y)-(r-x)*(c-y)) / math.Hypot(x, c-y)
		if nearest >= r-1e-4 {
			shortest = min(shortest, r*(math.Pi+a)+math.Hypot(x, c-y))
		}
	}
	one := float64(QuarterTwistLength(2*r, 1e-9, c)) - c
	assert.InDelta(t, shortest, one, 0.02)
}
