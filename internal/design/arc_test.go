package design

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
)

// TestJustEnoughArcIsInTheWindow: pulleys of 10 and 40 mm, 30 mm apart, have an arc
// of just 120 degrees, for (40 - 10) / 2 is half of 30. The rule allows that, so it
// must be among the centre distances that are looked at.
func TestJustEnoughArcIsInTheWindow(t *testing.T) {
	b := &brief.Brief{Frame: brief.Frame{Length: 300, Height: 200}, Limits: brief.DefaultLimits()}
	stage := drive.Stage{Driver: &parts.Pulley{GrooveFloor: 10, Outside: 12}, Driven: &parts.Pulley{GrooveFloor: 40, Outside: 42},
		Band: &parts.Band{FlatLength: 63, Width: 1.5, Thickness: 0.9, PullFactor: 1}}
	mech := stage.Mechanics(mechanics.BandGrip().Likely)
	f, err := mech.Fit(30)
	require.NoError(t, err)
	require.Nil(t, constraints.ArcOfContact(b.Limits, &f))
	window, no := newTask(&parts.Cupboard{}, b).allowedCentres(&stage, &mech)
	require.Nil(t, no)
	require.LessOrEqual(t, window.Lo, mm(30))
	require.InDelta(t, 30, float64(window.Lo), 1e-5)
}
