package built_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/built"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

// Every mistake is told at once, with the nearest name.
func TestMistakes(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	_, err = built.Read("drive.toml", []byte(`
model = "lift"
sped = "1 m/s"
[drive]
motor = "hoby"
[load]
mass = "50 g"
[stage.1]
driver = "motor-6"
driven = "axle-04"
band = "no-19"
centre = 60
[stage.3]
driver = "axle-10"
driven = "axle-30"
band = "no-19"
centre = "60 mm"
axle = "dowel-5"
use = "twice"
`), cup)
	require.Error(t, err)
	assert.Equal(t, []string{
		`drive.toml:3:1: sped: this key is not known here, did you mean "speed"?`,
		`drive.toml:4:2: drive: cells is missing: write for example cells = "one"`,
		`drive.toml:5:9: drive.motor: found "hoby", which is not in the cupboard, did you mean "hobby"?`,
		`drive.toml:8:2: stage.1: axle is missing: write for example axle = "dowel-4"`,
		`drive.toml:10:10: stage.1.driven: found "axle-04", which is not in the cupboard, did you mean "axle-40"?`,
		`drive.toml:12:10: stage.1.centre: 60 has no unit: write "60 mm"`,
		`drive.toml:13:2: stage.3: the stages must be [stage.1], from the motor, to at most [stage.4], none left out`,
		`drive.toml:19:7: stage.3.use: found "twice", which is not known here; it can be single, looped twice or two side by side`,
	}, strings.Split(err.Error(), "\n"))
}

// Parts that the file describes itself come before those of the cupboard, also in
// what the drive may be changed with.
func TestOwnParts(t *testing.T) {
	b := read(t, strings.Replace(sound["carousel"], `"motor-6"`, `"sleeve-pulley"`, 1)+`
[pulley.sleeve-pulley]
outside = "9 mm"
groove_floor = "6 mm"
bore = "2 mm"
[band.no-24]
flat_length = "150 mm"
width = "1.5 mm"
`)
	assert.Equal(t, "sleeve-pulley", b.Drive.Stages[0].Driver.Name)
	assert.InDelta(t, 150, float64(b.Drive.Stages[0].Band.FlatLength), 0)
	assert.Equal(t, "sleeve-pulley", b.Cupboard.Item("pulley", "sleeve-pulley").Name)
	w, err := built.Work(b)
	require.NoError(t, err)
	assert.Equal(t, built.Turns, w.Stops)
}

func TestDemoAndStarter(t *testing.T) {
	b := read(t, string(demo.Drive()))
	w, err := built.Work(b)
	require.NoError(t, err)
	assert.Equal(t, 1, w.Broken(), "the example goes too fast, and that is all")
	cup, err := parts.Read("cupboard.toml", demo.StarterCupboard())
	require.NoError(t, err)
	b, err = built.Read("drive.toml", demo.StarterDrive(), cup)
	require.NoError(t, err)
	w, err = built.Work(b)
	require.NoError(t, err)
	for _, f := range w.Findings {
		assert.False(t, f.Broken, f.Says)
	}
}

// Whatever is built is worked out without a crash, every figure is a number, and a
// drive that turns has a speed within its own range.
func TestWorkAnything(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	rapid.Check(t, func(r *rapid.T) {
		var text strings.Builder
		text.WriteString("model = \"ride on a level axle\"\nspeed = \"10 rpm\"\nload = {mass = \"100 g\"}\ndrive = {motor = \"slow\", cells = \"one\"}\n")
		for i := range rapid.IntRange(1, 4).Draw(r, "stages") {
			pulley := func(what string) string { return cup.Pulleys[rapid.IntRange(0, len(cup.Pulleys)-1).Draw(r, what)].Name }
			out, err := json.Marshal(rapid.SampledFrom([]string{"open", "crossed"}).Draw(r, "run"))
			require.NoError(t, err)
			text.WriteString("[stage." + string(rune('1'+i)) + "]\ndriver = \"" + pulley("driver") + "\"\ndriven = \"" + pulley("driven") +
				"\"\nband = \"" + cup.Bands[rapid.IntRange(0, len(cup.Bands)-1).Draw(r, "band")].Name + "\"\naxle = \"dowel-5\"\nrun = " + string(out) +
				"\ncentre = \"" + rapid.SampledFrom([]string{"2 mm", "20 mm", "40 mm", "60 mm", "100 mm", "2000 mm"}).Draw(r, "centre") + "\"\n" +
				"lies = \"" + rapid.SampledFrom([]string{"right", "left", "up", "down"}).Draw(r, "lies") + "\"\n")
		}
		b, err := built.Read("drive.toml", []byte(text.String()), cup)
		require.NoError(t, err)
		w, err := built.Work(b)
		require.NoError(t, err)
		if w.Stops == built.Turns {
			assert.Positive(t, w.Speed.Likely)
			assert.LessOrEqual(t, w.Speed.Low, w.Speed.Likely)
			assert.GreaterOrEqual(t, w.Speed.High, w.Speed.Likely)
		} else {
			assert.Zero(t, w.Speed.Likely)
		}
	})
}
