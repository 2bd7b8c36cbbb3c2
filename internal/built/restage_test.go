package built_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/parts"
)

const oneStage = `
name = "ride"
model = "ride on an upright axle"
speed = "SPEED"
load = {mass = "100 g"}
drive = {motor = "m", cells = "one", holes = [["63 mm", "40 mm"], ["127 mm", "40 mm"]]}
stage.1 = {driver = "small", driven = "large", band = "b90", axle = "dowel"}
`

const framed = `frame = {length = "200 mm", height = "80 mm", depth = "80 mm"}
`

const gears = `
pulley.small = {outside = "9 mm", groove_floor = "6 mm", bore = "2 mm", count = 4}
pulley.spindle = {outside = "14 mm", groove_floor = "11 mm", bore = "4.9 mm", count = 4}
pulley.large = {outside = "40 mm", groove_floor = "36 mm", bore = "4.9 mm", count = LARGE}
band.b63 = {flat_length = "63 mm", width = "1.5 mm", count = 20}
band.b90 = {flat_length = "90 mm", width = "1.5 mm", count = 20}
motor.m = {rated = "3 V", free_speed = "5200 rpm", stall_torque = "2.4 mN.m", count = 1}
cells.one = {cells = 1, count = 1}
axle.dowel = {diameter = "5 mm", length = "300 mm", count = 10}
`

func tooFast(t *testing.T, speed, frame, large string) *built.Advice {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", []byte(strings.Replace(gears, "LARGE", large, 1)))
	require.NoError(t, err)
	b, err := built.Read("drive.toml", []byte(strings.Replace(oneStage, "SPEED", speed, 1)+frame), cup)
	require.NoError(t, err)
	a, err := built.Advise(context.Background(), b, built.TooFast)
	require.NoError(t, err)
	require.True(t, a.Shows())
	return a
}

// Where no change slows a drive enough, one of more stages that does is found, as few more
// as will do; by the plain route it keeps every rule in its frame.
func TestMoreStages(t *testing.T) {
	for _, c := range []struct {
		speed, says string
		stages      int
	}{{"50 rpm", "another stage: small to large with band", 2}, {"20 rpm", "2 more stages: small to large with band", 3}} {
		a := tooFast(t, c.speed, framed, "4")
		require.Nil(t, a.Cure())
		require.NotNil(t, a.Staged, c.speed)
		assert.True(t, strings.HasPrefix(a.Staged.Steps[0], c.says), a.Staged.Steps[0])
		after := a.Staged.After.Build
		assert.Len(t, after.Drive.Stages, c.stages)
		assert.True(t, after.Framed)
		assert.True(t, after.Sound())
		w, err := built.Work(after)
		require.NoError(t, err)
		assert.Zero(t, w.Broken())
		for _, f := range w.Findings {
			assert.False(t, f.Rule == constraints.Speed && f.Broken)
		}
		assert.Empty(t, a.Enough)
	}
}

// No stage is made of pulleys that are not there, beyond those in the drive; and without a
// frame nothing is said about where a stage would go.
func TestMoreStagesOnlyOfWhatThereIs(t *testing.T) {
	assert.Nil(t, tooFast(t, "20 rpm", framed, "0").Staged)
	assert.Nil(t, tooFast(t, "50 rpm", "", "4").Staged)
}
