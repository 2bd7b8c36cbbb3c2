package measure_test

import (
	"fmt"
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
