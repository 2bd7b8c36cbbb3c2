package built_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
)

// Every question is answered in a sentence about every sound drive, with no answer that
// is the same for all.
func TestEveryQuestionIsAnswered(t *testing.T) {
	for name, text := range sound {
		w, err := built.Work(read(t, text))
		require.NoError(t, err)
		for _, q := range built.Questions() {
			r := built.Ask(w, q)
			assert.NotEmpty(t, r.Short, "%s: %s", name, q)
			assert.NotEmpty(t, r.Says, "%s: %s", name, q)
			for _, s := range append(r.Says, r.Short) {
				assert.Regexp(t, `[.?]$`, s)
				assert.NotContains(t, s, "..", "%s: %s", name, q)
				assert.NotContains(t, s, "NaN")
			}
		}
	}
}

// No one or two other pulleys make a sound drive that is faster than the fastest and stands
// no oftener, and the fastest keeps to what was allowed.
func TestFastestAgainstTryingPulleys(t *testing.T) {
	for _, name := range []string{"carousel", "buggy", "crane"} {
		b := read(t, sound[name])
		w, err := built.Work(b)
		require.NoError(t, err)
		then := built.Ask(w, built.Fastest).Then
		require.NotNil(t, then, name)
		assert.True(t, then.Build.Sound(constraints.Speed), name)
		assert.GreaterOrEqual(t, float64(then.Speed.Likely), float64(w.Speed.Likely), name)
		sure := w.Speed.Low > 0
		if sure {
			assert.Positive(t, float64(then.Speed.Low), name)
		}
		assert.LessOrEqual(t, then.Build.Drive.Holder.Cells, b.Drive.Holder.Cells)
		assert.Equal(t, b.Drive.Motor.Name, then.Build.Drive.Motor.Name)
		n, list, tried := len(b.Drive.Stages), b.Cupboard.Pulleys, 0
		put := func(d *drive.Drive, place, k int) {
			if place%2 == 0 {
				d.Stages[place/2].Driver = &list[k]
			} else {
				d.Stages[place/2].Driven = &list[k]
			}
		}
		for one := range 2 * n {
			for two := range one + 1 {
				for i := range list {
					for k := range list {
						o := b.With(func(d *drive.Drive) { put(d, one, i); put(d, two, k) })
						if o.Sound(constraints.Speed) && (!sure || design.SpeedRangeOf(o.Drive, o.Brief).Low > 0) {
							tried++
							assert.LessOrEqual(t, float64(o.SpeedUnder(drive.Conditions{})), 1.006*float64(then.Speed.Likely), name)
						}
					}
				}
			}
		}
		assert.Positive(t, tried)
	}
}
