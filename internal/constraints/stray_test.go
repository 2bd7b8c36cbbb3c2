package constraints_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/units"
)

// A hole that is out of place keeps half of the wood that is asked for round it.
func TestHoleMayStray(t *testing.T) {
	b := &brief.Brief{Limits: brief.DefaultLimits(), Making: brief.Making{DrillFrame: true}, Frame: brief.Frame{Length: 250, Height: 120, Sheet: 4}}
	stray := func(x, y units.Millimetres) float64 { return float64(constraints.HoleMayStray(b, x, y, 5)) }
	round := (5 + b.Limits.RunningFit + b.Limits.HoleWall) / 2
	for _, c := range []struct{ x, y, edge units.Millimetres }{{100, 60, 60}, {9, 60, 9}, {240, 60, 10}, {100, 112, 8}, {100, 5, 5}} {
		assert.InDelta(t, float64(c.edge-round), stray(c.x, c.y), 1e-9, "%v", c)
	}
	assert.Zero(t, stray(1, 60))
	b.Frame.Strip, b.Frame.Sheet = 10, 0
	assert.InDelta(t, float64(5-round), stray(100, 60), 1e-9)
	b.Making.DrillFrame = false
	assert.True(t, math.IsInf(stray(100, 60), 1))
}
