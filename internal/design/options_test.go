package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
)

// Letting go of what has been worked out, however often, changes neither the drives nor
// the counts.
func TestLettingGoChangesNothing(t *testing.T) {
	for _, family := range []cases.Family{cases.Varied, cases.TightFrame, cases.JustOut} {
		cup, b := cases.Make(cases.Size{Pulleys: 6, Bands: 5, Stages: 2}, family, 2)
		found := func(mostOptions, mostEnds int64) *Result {
			opt := Options{Keep: 10, Threads: 2}
			tk := taskFor(t.Context(), cup, b, opt)
			tk.mostOptions, tk.mostEnds = mostOptions, mostEnds
			r, err := tk.find(context.Background(), opt, tk.under)
			require.NoError(t, err)
			return r
		}
		kept := found(mostOptions, mostEnds)
		for _, most := range [][2]int64{{mostOptions, 10}, {40, mostEnds}, {0, 0}} {
			require.Equal(t, kept, found(most[0], most[1]), "%s %v", family, most)
		}
	}
}
