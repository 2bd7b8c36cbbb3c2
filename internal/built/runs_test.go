package built_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/units"
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

// A model that was counted turning has a closed circuit and its bands on, and does not stand: none
// of that is named, unless it is told besides that it stops or what is loose.
func TestWhatWasCountedTurningTurns(t *testing.T) {
	b := read(t, heldDrives["ride"])
	w, err := built.Work(b)
	require.NoError(t, err)
	for _, c := range []struct {
		words string
		times float64 // of what is due
		open  bool
	}{
		{"", 1, false}, {"", 1.5, false}, {"", 0.5, false}, {"too slow", 0.6, false},
		{"it stops now and then", 0.6, true}, {"a wire is loose", 0.6, true},
	} {
		heard := []built.Hearing(nil)
		if c.words != "" {
			heard = built.Hear(c.words, b.Brief.Model)
			require.NotEmpty(t, heard, c.words)
		}
		d, err := built.Diagnose(context.Background(), b, heard, []built.Count{{Turns: w.Speed.Likely * units.RPM(c.times), Sigma: 0.05}})
		require.NoError(t, err)
		require.NotEmpty(t, d.Suspects)
		var open bool
		for _, s := range d.Suspects {
			open = open || s.Fault == built.CircuitOpen
			if c.words == "" {
				assert.NotContains(t, []built.Fault{built.BandOff, built.ShortCircuit}, s.Fault, "%v", c)
				assert.Less(t, s.Share, 1.0)
			}
		}
		assert.Equal(t, c.open, open, "%v", c)
		if c.words == "" && c.times == 1 { // what changes nothing about the speed does not lead
			assert.NotEqual(t, built.LeadsSwapped, d.Suspects[0].Fault)
		}
	}
}

// A count that is far faster than with any one thing wrong is of something else: no fault is named,
// but for what is told besides.
func TestBeyondWhatAnyFaultDoes(t *testing.T) {
	b := read(t, heldDrives["ride"])
	w, err := built.Work(b)
	require.NoError(t, err)
	for _, c := range []struct {
		words  string
		times  float64
		beyond bool
	}{{"", 1, false}, {"", 3, false}, {"far too fast", 100, true}, {"", 100, true}, {"it squeaks", 100, true}, {"", 0.01, false}} {
		heard := []built.Hearing(nil)
		if c.words != "" {
			heard = built.Hear(c.words, b.Brief.Model)
		}
		d, err := built.Diagnose(context.Background(), b, heard, []built.Count{{Turns: w.Speed.Likely * units.RPM(c.times), Sigma: 0.05}})
		require.NoError(t, err)
		assert.Equal(t, c.beyond, d.Beyond, "%v", c)
		assert.Equal(t, !c.beyond || c.words == "it squeaks", len(d.Suspects) > 0, "%v", c)
		assert.Equal(t, len(d.Suspects) > 0, len(d.Checks) > 0, "%v", c)
	}
}
