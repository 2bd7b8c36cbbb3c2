package supply

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestServeStopped: stopped as any of its searches begins, what is said to be served can be
// built of the cupboard, and what is served in the end lies within what is said.
func TestServeStopped(t *testing.T) {
	t.Parallel()
	cup, b := box(t, 9, 9, 3, 3), ride(t, 9, "220 rpm")
	whole, err := Serve(context.Background(), cup, b, 0, Options{})
	require.NoError(t, err)
	require.Equal(t, whole.Most, whole.Served)
	require.Greater(t, len(whole.Shares), 1)
	require.Greater(t, whole.Searches, 4)
	partly := 0
	for end := range whole.Searches + 1 {
		ctx, stop := context.WithCancel(context.Background())
		begun := 0
		r, err := Serve(ctx, cup, b, 0, Options{Limit: func(ctx context.Context) (context.Context, context.CancelFunc) {
			if begun++; begun > end {
				stop()
			}
			return context.WithCancel(ctx)
		}})
		stop()
		require.NoError(t, err)
		name := fmt.Sprintf("stopped in search %d", end)
		assert.LessOrEqual(t, r.Served, whole.Served, name)
		assert.GreaterOrEqual(t, r.Most, whole.Served, name)
		used, have := map[Piece]int{}, map[Piece]int{}
		for _, p := range r.Stock {
			have[Piece{p.Kind, p.Name, 0}] = p.Pieces
		}
		served := 0
		for _, s := range r.Shares {
			served += s.Groups
			for _, p := range s.Takes {
				used[Piece{p.Kind, p.Name, 0}] += s.Groups * p.Pieces
			}
		}
		assert.Equal(t, r.Served, served, name)
		for p, n := range used {
			assert.LessOrEqual(t, n, have[p], "%s: %s", name, p.Name)
		}
		if len(r.Weighed) > 0 {
			assert.Positive(t, r.Served, name)
		}
		if r.Served > 0 && r.Served < whole.Served {
			partly++
		}
	}
	assert.Positive(t, partly, "some must be stopped short")
}
