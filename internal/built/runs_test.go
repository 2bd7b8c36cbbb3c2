package built_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
)

// TestRunsWhereItShouldStand has a crane that lifts what by its file it cannot: nothing that
// would make it weaker is named.
func TestRunsWhereItShouldStand(t *testing.T) {
	b := read(t, `
model = "lift"
speed = "60 mm/s"
load = {mass = "400 g", drum = "spool-16"}
drive = {motor = "slow", cells = "two"}
stage.1 = {driver = "motor-6", driven = "disc-60", band = "no-19", centre = "67 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-18", centre = "74 mm", axle = "dowel-5"}`)
	alone, stop := context.WithCancel(context.Background())
	stop()
	d, err := built.Diagnose(alone, b, built.Hear("too slow", b.Brief.Model), []built.Count{{Turns: 60, Timed: true, Sigma: 0.03}})
	require.NoError(t, err)
	assert.True(t, d.Runs)
	for _, s := range d.Suspects {
		assert.Positive(t, float64(s.Would), s.Fault)
	}
}
