package built_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/units"
)

// Of two signs that no one fault shows, each has its causes: what leads shows one of them, and
// what the other comes from is told apart. Signs that one fault shows have nothing apart.
func TestEachOfTwoSignsHasItsCauses(t *testing.T) {
	b := read(t, heldDrives["ride"])
	diagnosed := func(words string) *built.Diagnosis {
		d, err := built.Diagnose(context.Background(), b, built.Hear(words, b.Brief.Model), nil)
		require.NoError(t, err)
		return d
	}
	d := diagnosed("band looks too tight and it squeaks")
	assert.Equal(t, built.BandTight, d.Leading(4)[0].Fault)
	require.Len(t, d.Apart, 1)
	assert.Equal(t, built.Slips, d.Apart[0].Sign)
	assert.True(t, slices.ContainsFunc(d.Apart[0].Suspects, func(s built.Suspect) bool { return s.Fault == built.GrooveSlippery }))
	for _, words := range []string{"it squeaks", "gets hot or smells and it squeaks", "band hangs slack, it squeaks", "too slow and it squeaks"} {
		assert.Empty(t, diagnosed(words).Apart, words)
	}
}

// What a check shows of a fault stands by itself: the likelier is told first, whichever it is.
func TestTellsStandByThemselves(t *testing.T) {
	for _, c := range built.Checks() {
		for _, tell := range c.Tells {
			require.NotRegexp(t, `^if (at|on|in|not|so)\b`, tell.Says, c.Do)
		}
	}
}

// What would do about as the sound drive does is hardly a cause of a count that is said to be too
// slow; what makes up for half of the way is one wholly.
func TestCausesMoveTheCount(t *testing.T) {
	for _, c := range []struct {
		sign                built.Symptom
		due, counted, would units.RPM
		least, most         float64
	}{
		{built.TooSlow, 11.4, 9, 11.4, 0, 0.05}, {built.TooSlow, 11.4, 9, 11.1, 0, 0.05}, {built.TooSlow, 11.4, 9, 14, 0, 0.05},
		{built.TooSlow, 11.4, 9, 10, 1, 1}, {built.TooSlow, 11.4, 9, 8, 1, 1}, {built.TooSlow, 11.4, 9, 10.8, 0.1, 0.9},
		{built.TooFast, 30, 40, 30.5, 0, 0.05}, {built.TooFast, 30, 40, 38, 1, 1},
		{built.TooFast, 30, 25, 30, 1, 1}, // said to be fast and counted slow: it tells nothing
		{built.Slips, 11.4, 9, 11.4, 1, 1},
	} {
		got := built.Moves(c.sign, c.due, c.counted, c.would)
		assert.GreaterOrEqual(t, got, c.least, "%v", c)
		assert.LessOrEqual(t, got, c.most, "%v", c)
	}
}
