package built_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/parts"
)

// TestWrite holds a drive that is written and read again, beside an empty cupboard, to
// the same workings.
func TestWrite(t *testing.T) {
	for name, text := range sound {
		for _, more := range []string{"", "\nframe = {length = \"300 mm\", height = \"200 mm\", depth = \"90 mm\"}", "\nframe = {length = \"300 mm\", height = \"200 mm\", depth = \"90 mm\", motor_at = [\"250 mm\", \"60 mm\"]}\nlimits = {grip_min = 1.7}"} {
			for _, condition := range []parts.Condition{"", parts.Fresh, parts.Used} {
				b := read(t, text+more)
				holder := *b.Drive.Holder
				holder.Condition = condition
				motor := *b.Drive.Motor
				motor.VoltsLeast, motor.VoltsMost = 1.5, 6
				b.Drive.Holder, b.Drive.Motor = &holder, &motor
				again, err := built.Read("again.toml", b.Write("from a test\nof two lines"), &parts.Cupboard{})
				require.NoError(t, err, "%s: %s", name, b.Write(""))
				assert.Equal(t, motor.VoltsMost, again.Drive.Motor.VoltsMost, name)
				assert.Equal(t, motor.VoltsLeast, again.Drive.Motor.VoltsLeast, name)
				one, err := built.Work(b)
				require.NoError(t, err)
				two, err := built.Work(again)
				require.NoError(t, err)
				assert.InEpsilon(t, float64(one.Speed.Likely), float64(two.Speed.Likely), 1e-9, name)
				assert.InEpsilon(t, float64(one.Speed.High), float64(two.Speed.High), 1e-9, name)
				assert.Equal(t, one.InFrame, two.InFrame, name)
				for i := range one.Findings {
					assert.Equal(t, one.Findings[i].Rule, two.Findings[i].Rule)
					assert.Equal(t, one.Findings[i].Broken, two.Findings[i].Broken, one.Findings[i].Says)
				}
			}
		}
	}
}

// What is asked of a drive is written down whole: every limit, and which way a cord leaves.
func TestWriteKeepsWhatIsAsked(t *testing.T) {
	for _, way := range []string{"up", "down", "left", "right"} {
		b := read(t, strings.Replace(sound["crane"], "mass =", "cord_leaves = \""+way+"\", mass =", 1))
		b.Brief.Limits = brief.Limits{
			FittedStretchMin: 1.03, FittedStretchMax: 1.53, ComfortStretchMin: 1.12, ComfortStretchMax: 1.37, IdealStretch: 1.22, RunningStretchMax: 1.9, ArcMin: 2, ArcWarn: 2.25,
			GripMin: 1.3, GripStartMin: 1.1, StartMin: 1.6, RunMin: 2.1, KeptSpeedMin: 0.4, ContinuousShare: 0.26, Clearance: 3, LaneGap: 3, HoleWall: 3, RunningFit: 0.6, SectionRatio: 5, HoleError: 3,
		}
		again, err := built.Read("again.toml", b.Write(""), &parts.Cupboard{})
		require.NoError(t, err)
		assert.Equal(t, b.Brief.Load, again.Brief.Load)
		asked, got := b.Brief.Limits, again.Brief.Limits
		assert.InDelta(t, float64(asked.ArcMin), float64(got.ArcMin), 1e-9)
		assert.InDelta(t, float64(asked.ArcWarn), float64(got.ArcWarn), 1e-9)
		got.ArcMin, got.ArcWarn = asked.ArcMin, asked.ArcWarn
		assert.Equal(t, asked, got)
	}
}

// TestHoles has drives that lie aslant.
func TestHoles(t *testing.T) {
	b := read(t, `
model = "ride on an upright axle"
load = {mass = "150 g"}
drive = {motor = "slow", cells = "one", holes = [["30 mm", "50 mm"], ["120 mm", "120 mm"], ["150.5 mm", "157 mm"]]}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-16", axle = "dowel-5"}`)
	assert.InDelta(t, 114.0175, float64(b.Drive.Centre(0)), 1e-4) // hypot(90, 70)
	assert.InDelta(t, 47.9505, float64(b.Drive.Centre(1)), 1e-4)  // hypot(30.5, 37)
	for holes, says := range map[string]string{
		`[["30 mm", "50 mm"], ["120 mm", "120 mm"]]`:                     "there are 2 holes, and 3 are needed",
		`[["30 mm", "50 mm"], ["120 mm"], ["150 mm", "157 mm"]]`:         "two lengths are needed",
		`[["30 mm", "50 mm"], ["30 mm", "50 mm"], ["150 mm", "157 mm"]]`: "two axles cannot stand so near",
		`[["30 mm", "50 m"], ["30 mm", "50 mm"], ["150 mm", "157 mm"]]`:  "from below",
	} {
		_, err := built.Read("drive.toml", []byte(`
model = "ride on an upright axle"
load = {mass = "150 g"}
drive = {motor = "slow", cells = "one", holes = `+holes+`}
stage.1 = {driver = "motor-6", driven = "disc-80", band = "no-24", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-16", axle = "dowel-5"}`), b.Cupboard)
		assert.ErrorContains(t, err, says)
	}
}
