package supply

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
)

// noTime stops a search as it begins.
func noTime(ctx context.Context) (context.Context, context.CancelFunc) {
	ctx, stop := context.WithCancel(ctx)
	stop()
	return ctx, stop
}

// Without time to rank drives the number served and the least money are proved all the
// same; that a drive is the best is not.
func TestSettledWithoutRanking(t *testing.T) {
	t.Parallel()
	b := ride(t, 4, "220 rpm")
	cup := box(t, 9, 9, 9, 9)
	cup.Axles[0].Count = 9
	s, err := Serve(context.Background(), cup, b, 0, Options{Rank: noTime})
	require.NoError(t, err)
	assert.Equal(t, 4, s.Served)
	assert.Equal(t, 4, s.Most)
	assert.False(t, s.FewestPoints)
	assert.False(t, s.Stopped)

	for seed := range uint64(4) {
		q := fewRods(t, seed)
		q.Briefs = []*brief.Brief{ride(t, 4, "220 rpm")}
		ranked, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		short, err := Find(context.Background(), q, Options{Rank: noTime})
		require.NoError(t, err)
		require.Equal(t, ranked.Plan != nil, short.Plan != nil, "seed %d", seed)
		if ranked.Plan != nil {
			assert.True(t, short.Plan.Proved, "seed %d", seed)
			assert.Equal(t, ranked.Plan.Money, short.Plan.Money, "seed %d", seed)
		}
	}
}
