package mechanics

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/units"
)

// How the pulls of both runs grow at rest is how they do under a small pull, open and crossed,
// to a larger pulley and to a smaller one.
func TestGrowthAtRest(t *testing.T) {
	for name, floors := range map[string][2]units.Millimetres{"to a larger": {8, 40}, "to an equal": {20, 20}, "to a smaller": {40, 8}} {
		for _, crossed := range []bool{false, true} {
			s := classroomStage()
			s.DriverFloor, s.DrivenFloor, s.Crossed = floors[0], floors[1], crossed
			f, err := s.Fit(54)
			require.NoError(t, err, name)
			l := s.Loading(&f)
			greatest, _ := s.Grip(f)
			small := greatest / 10_000
			at, ok := s.Load(f, small)
			require.True(t, ok, name)
			require.InDelta(t, float64((at.Tight+at.Slack-2*f.Pull)/small), l.GrowthAtRest(), 1e-3, "%s, crossed %v", name, crossed)
		}
	}
	s := classroomStage()
	s.Friction = 0
	f, err := s.Fit(54)
	require.NoError(t, err)
	l := s.Loading(&f)
	require.Zero(t, l.GrowthAtRest(), "it carries nothing")
}
