package constraints

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/units"
)

// At 120 degrees half the difference of the diameters is half the centre distance.
func TestArcCentreMin(t *testing.T) {
	l := brief.Limits{ArcMin: units.Radians(2 * math.Pi / 3)}
	require.InDelta(t, 40, float64(ArcCentreMin(l, 20, 60)), 1e-9)
	require.InDelta(t, 40, float64(ArcCentreMin(l, 60, 20)), 1e-9)
	require.Zero(t, ArcCentreMin(l, 30, 30))
}
