package built_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// In a frame of any size, with the motor anywhere, a drive is said to fit exactly when
// the plain check of the layout passes in some order of lanes, and what is said of the
// edges is what a ruler would measure.
func TestFrameAgainstTheLayout(t *testing.T) {
	fitted, refused := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		length, height := rapid.IntRange(170, 320).Draw(rt, "length"), rapid.IntRange(75, 160).Draw(rt, "height")
		depth := rapid.IntRange(30, 120).Draw(rt, "depth")
		if rapid.Bool().Draw(rt, "roomy") {
			length, height, depth = 320, 160, 120
		}
		x, y := rapid.IntRange(5, 60).Draw(rt, "x"), rapid.IntRange(30, height-30).Draw(rt, "y")
		b := read(t, sound["carousel"]+fmt.Sprintf(`
[frame]
length = "%d mm"
height = "%d mm"
depth = "%d mm"
motor_at = ["%d mm", "%d mm"]
`, length, height, depth, x, y))
		w, err := built.Work(b)
		require.NoError(rt, err)

		fits := false
		at := w.InFrame.Holes
		require.Equal(rt, layout.Point{X: units.Millimetres(x), Y: units.Millimetres(y)}, at[0])
		widths := []units.Millimetres{}
		for _, s := range b.Drive.Stages {
			widths = append(widths, max(s.Driver.Width, s.Driven.Width))
		}
		for _, plan := range layout.LanePlans(len(widths), widths, constraints.MotorAlong(b.Drive.Motor, b.Drive.Stages[0].Driver), b.Brief.Limits.LaneGap, b.Brief.Frame.Depth) {
			p := design.LayoutProblem(b.Drive, b.Brief, plan, 0)
			p.Grid = layout.Grid{Pitch: 1e-3}
			fits = fits || len(layout.Check(p, at)) == 0
		}
		broken := false
		for _, f := range w.Findings {
			broken = broken || f.Broken && (f.Rule == constraints.Room || f.Rule == constraints.Depth)
		}
		assert.Equal(rt, fits, !broken)
		if fits {
			fitted++
		} else {
			refused++
		}
		right := units.Millimetres(math.Inf(1))
		for i, s := range b.Drive.Stages {
			right = min(right, b.Brief.Frame.Length-at[i].X-s.Driver.Outside/2, b.Brief.Frame.Length-at[i+1].X-s.Driven.Outside/2)
		}
		right = min(right, b.Brief.Frame.Length-at[0].X-b.Drive.Motor.BodyWidth/2)
		assert.InDelta(rt, float64(right), float64(w.InFrame.Right.Room), 1e-9)
		if at := w.InFrame.Otherwise; at != nil {
			for i := range b.Drive.Stages {
				d := math.Hypot(float64(at[i+1].X-at[i].X), float64(at[i+1].Y-at[i].Y))
				assert.InDelta(rt, float64(b.Drive.Centre(i)), d, 1, "the centre distances stay")
			}
		}
	})
	assert.Positive(t, fitted)
	assert.Positive(t, refused)
}

// Where the file does not say where the motor is, the drive is put where it fits if
// there is such a place.
func TestFrameFindsThePlace(t *testing.T) {
	for _, test := range []struct {
		frame string
		fits  bool
	}{
		{`{length = "190 mm", height = "84 mm", depth = "60 mm"}`, true},
		{`{length = "188 mm", height = "84 mm", depth = "60 mm"}`, false},
		{`{length = "240 mm", height = "78 mm", depth = "60 mm"}`, false},
		{`{length = "240 mm", height = "78 mm", depth = "60 mm", overhang = "1 mm"}`, true},
		{`{length = "240 mm", height = "120 mm", depth = "60 mm", rails = ["20 mm", "60 mm"]}`, true},
		{`{length = "240 mm", height = "120 mm", depth = "60 mm", rails = ["20 mm", "100 mm"]}`, false},
	} {
		b := read(t, "frame = "+test.frame+"\n"+sound["carousel"])
		w, err := built.Work(b)
		require.NoError(t, err)
		assert.Equal(t, test.fits, w.Broken() == 0, test.frame)
	}
}
