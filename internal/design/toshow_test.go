package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/search"
)

// Where it was asked whether there is any drive, and there is, a search that is stopped before it
// has found one shows that, at what it costs.
func TestAStoppedSearchHasADriveToShow(t *testing.T) {
	shown := 0
	for seed := range uint64(10) {
		cup, b := cases.Make(cases.Cupboard(), cases.JustIn, seed)
		opt := Options{Keep: 3, Threads: 2}
		tk := taskFor(context.Background(), cup, b, opt)
		none, _ := tk.none(context.Background(), opt)
		require.False(t, none)
		if tk.toShow == nil {
			continue // not settled
		}
		shown++
		stopped, stop := context.WithCancel(context.Background())
		stop()
		r, err := tk.find(stopped, opt, tk.under)
		require.NoError(t, err)
		require.Equal(t, StoppedEarly, r.Status)
		require.Len(t, r.Proposals, 1)
		require.Equal(t, tk.toShow.Cost, search.Cost(r.Proposals[0].Total))
		require.Positive(t, r.Proposals[0].Total)

		opt.AtMost = r.Proposals[0].Total - 1
		dear := taskFor(context.Background(), cup, b, opt)
		_, _ = dear.none(context.Background(), opt)
		require.Nil(t, dear.toShow, "it costs more than is asked for")
	}
	require.Greater(t, shown, 5)
}
