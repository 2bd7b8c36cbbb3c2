package goals

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/units"
)

// No drive of the list is above the fastest known; each is shown as far as it keeps every rule,
// and the slopes go on to the last whole degree that a drive of the list climbs.
func TestTradeOffHoldsTheList(t *testing.T) {
	ends, taken := 0, 0
	for seed := range uint64(12) {
		cup, c := small(t, seed, Steepest)
		r, err := Find(context.Background(), cup, c, Options{Threads: 1})
		require.NoError(t, err)
		if len(r.Entries) == 0 {
			continue
		}
		trade, err := Trade(context.Background(), cup, r, Options{Threads: 1})
		require.NoError(t, err)
		require.True(t, trade.Proved)
		require.Len(t, trade.Fastest, len(trade.Slopes))
		for i, us := range trade.Entries {
			for k, u := range us {
				require.Equal(t, trade.Slopes[k], u.Slope)
				require.GreaterOrEqual(t, trade.Fastest[k].Speed, u.Speed, "seed %d, drive %d", seed, i+1)
				if trade.Fastest[k].Speed == u.Speed {
					taken++
				}
				b := *c.Brief
				b.Load.Slope = u.Slope
				require.True(t, built.FromProposal(r.Entries[i].Proposal, cup, &b).Sound(constraints.Speed), "seed %d, drive %d", seed, i+1)
			}
		}
		steepest := units.Radians(0)
		for i := range r.Entries {
			steepest = max(steepest, r.Entries[i].Score.Climbs)
		}
		require.GreaterOrEqual(t, trade.Slopes[len(trade.Slopes)-1], min(steepest, units.Degrees(30))-1e-9, "seed %d", seed)
		if int(trade.Slopes[len(trade.Slopes)-1].Degrees()+0.5)%2 == 1 {
			ends++
		}
	}
	require.Positive(t, ends)
	require.Positive(t, taken)
}
