package measure_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/measure"
)

// TestCountedAgain has a model counted in one lesson and, its cells a little lower, in the
// next: the second count is taken in, with what was remembered of the first, and other models
// that the file remembers stay in it.
func TestCountedAgain(t *testing.T) {
	b := build(t, fast)
	plain, err := measure.Learn(b, nil)
	require.NoError(t, err)
	n := plain.Output.Before.Likely
	first, err := measure.Learn(b, []measure.Reading{turns(t, fmt.Sprintf("%.2f turns in 120 s", 2*n)), turns(t, fmt.Sprintf("%.2f turns in 120 s", 2*n))})
	require.NoError(t, err)
	cup, err := b.Cupboard.Calibrate("learned.toml", first.Calibration())
	require.NoError(t, err)
	again, err := measure.Learn(b.Calibrated(cup), []measure.Reading{turns(t, fmt.Sprintf("%.2f turns in 120 s", 0.96*2*n))})
	require.NoError(t, err)
	assert.Zero(t, again.Questioned())
	assert.Less(t, again.Output.Before.Share, 0.06, "it starts from what is remembered")
	assert.InDelta(t, 0.96*n, again.Output.After.Likely, 0.02*n)

	other := build(t, slow)
	next, err := measure.Learn(other.Calibrated(cup), []measure.Reading{turns(t, "36 turns in 30 s")})
	require.NoError(t, err)
	both, err := b.Cupboard.Calibrate("learned.toml", next.Calibration())
	require.NoError(t, err)
	assert.Len(t, both.Remembered, 2)
}

// TestNothingLearnedIsLost has a motor and a band learned of, and then another model counted
// with what was learned: the new file still has both, as they were.
func TestNothingLearnedIsLost(t *testing.T) {
	b := build(t, fast)
	n := 110.0
	hung, err := measure.ReadHung("no-18: 100 g to 130 mm", b.Cupboard.Bands)
	require.NoError(t, err)
	first, err := measure.Learn(b, []measure.Reading{turns(t, fmt.Sprintf("%.2f turns in 120 s", 2*n)), hung})
	require.NoError(t, err)
	require.Zero(t, first.Questioned())
	cup, err := b.Cupboard.Calibrate("learned.toml", first.Calibration())
	require.NoError(t, err)
	other := build(t, strings.Replace(fast, `"hobby"`, `"slow"`, 1)).Calibrated(cup)
	for range 3 { // and again: it stays the same
		next, err := measure.Learn(other, []measure.Reading{turns(t, "25 turns in 30 s")})
		require.NoError(t, err)
		require.Zero(t, next.Questioned(), next.Output)
		all, err := b.Cupboard.Calibrate("learned.toml", next.Calibration())
		require.NoError(t, err)
		for i, m := range all.Motors {
			if m.Name == "hobby" {
				assert.Equal(t, cup.Motors[i], m)
			}
		}
		for i, band := range all.Bands {
			assert.InDelta(t, cup.Bands[i].PullFactor, band.PullFactor, 1e-4, band.Name)
			assert.Equal(t, cup.Bands[i].Calibrated, band.Calibrated, band.Name)
		}
		assert.Len(t, all.Remembered, 2)
		other = other.Calibrated(all)
	}
}
