package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
)

// What is left of a box holds all of its designs up to a cost, and what has been shaved off costs
// more than that: else all that is left would be worked out one by one.
func TestWhatIsShavedOffCostsMore(t *testing.T) {
	t.Parallel()
	shaved := 0
	for _, seed := range []uint64{1062188, 1068001, 1068002, 1068003, 1068004, 1068005} {
		cup, b, err := cases.Ordinary(seed)
		require.NoError(t, err)
		task := taskFor(context.Background(), cup, b, Options{Keep: Usual})
		_, err = task.find(context.Background(), Options{Keep: Usual, Threads: 1}, task.under)
		require.NoError(t, err)
		for _, r := range task.rows {
			for i := range r.branches {
				for k := range r.branches[i].boxes {
					of := &r.branches[i].boxes[k].left
					if of.beyond < unsettled {
						shaved++
						require.Greater(t, of.beyond, of.under, "seed %d", seed)
					}
				}
			}
		}
	}
	require.Positive(t, shaved)
}
