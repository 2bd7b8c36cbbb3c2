package built_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
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
