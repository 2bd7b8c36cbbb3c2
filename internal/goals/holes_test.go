package goals

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/units"
)

// TestHoles has drives that need better holes than the rules ask told apart, and dropped
// rules of this program said.
func TestHoles(t *testing.T) {
	apart := 0
	for _, kind := range []Kind{ExactTime, Turns, Steepest, Heaviest} {
		for seed := range uint64(3) {
			cup, c := small(t, seed, kind)
			free, err := Find(context.Background(), cup, c, Options{Keep: 1})
			require.NoError(t, err)
			c.Rules.Holes = 4
			held, err := Find(context.Background(), cup, c, Options{Keep: 1})
			require.NoError(t, err)
			require.Equal(t, design.ProvedBest, held.Status, "what can enter with fine holes is not said to be unable to")
			if held.Fine {
				continue
			}
			first := &held.Entries[0]
			assert.GreaterOrEqual(t, first.Proposal.Forgives, units.Millimetres(4)-1e-9)
			// A design that bears holes further out has other spacings at the ends of its ruler, and
			// may even be the better for it.
			if held.Finer != nil {
				apart++
				assert.Less(t, held.Finer.step, first.step)
				assert.LessOrEqual(t, free.Entries[0].step, held.Finer.step)
			} else {
				assert.GreaterOrEqual(t, free.Entries[0].step, first.step)
			}
		}
	}
	assert.Positive(t, apart, "the cases must be worth testing")
}

// TestAnyStart has a time that every drive needs more than a fifth of to get away: it can
// be entered all the same, and the answer says so.
func TestAnyStart(t *testing.T) {
	relaxed := 0
	for seed := range uint64(6) {
		cup, c := small(t, seed, ExactTime)
		c.Time = 3
		r, err := Find(context.Background(), cup, c, Options{Keep: 1})
		require.NoError(t, err)
		if r.AnyStart {
			relaxed++
			require.NotEmpty(t, r.Entries)
		}
	}
	assert.Positive(t, relaxed, "the cases must be worth testing")
}
