package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/score"
	"findrive/internal/search"
)

// givingUp is the search for arrangements where the work allowed does not settle one of them.
type givingUp struct {
	problem
	on    *drivePulleys
	least search.Cost // of its designs
}

// drivePulleys are the parts that an arrangement of one stage is known by.
type drivePulleys struct{ motor, cells, driver, driven string }

func (g givingUp) Finish(ctx context.Context, n node, limit search.Cost) search.Finished[*candidate] {
	a := g.arrange(&n)
	is := drivePulleys{g.motors[a.head.motor].Part.Name, g.holders[a.head.holder].Part.Name, g.pulleys[a.driver[0]].Part.Name, g.pulleys[a.driven[0]].Part.Name}
	if is != *g.on {
		return g.problem.Finish(ctx, n, limit)
	}
	out := search.Finished[*candidate]{Cost: search.Unlimited, Open: search.Unlimited, Left: search.Unlimited}
	if g.least <= limit {
		out.Open = g.least
	}
	return out
}

// Where an arrangement is not settled under a low ceiling, later ones do not cover it: what is said
// to be open costs no more than it, and all others are listed.
func TestWhatIsNotSettledStaysOpen(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range uint64(60) {
		cup, b := smallCase(seed)
		opt := Options{Keep: 10, Threads: 2}
		full, err := Find(context.Background(), cup, b, opt)
		require.NoError(t, err)
		for k := range min(3, len(full.Proposals)) {
			missing := &full.Proposals[k]
			d := missing.Drive
			on := drivePulleys{d.Motor.Name, d.Holder.Name, d.Stages[0].Driver.Name, d.Stages[0].Driven.Name}
			tk := taskFor(context.Background(), cup, b, opt)
			r, err := tk.find(context.Background(), opt, func(ceiling search.Cost) tree {
				return givingUp{tk.upTo(ceiling), &on, search.Cost(missing.Total)}
			})
			require.NoError(t, err)
			require.Equal(t, StoppedEarly, r.Status, "seed %d", seed)
			require.LessOrEqual(t, r.Open, missing.Total, "seed %d, without drive %d", seed, k+1)
			want, got := []score.Points{}, []score.Points{}
			for i := range full.Proposals {
				if i != k {
					want = append(want, full.Proposals[i].Total)
				}
			}
			for i := range r.Proposals {
				got = append(got, r.Proposals[i].Total)
			}
			require.Equal(t, want, got[:len(want)], "seed %d, without drive %d", seed, k+1)
			tried++
		}
	}
	require.Greater(t, tried, 20)
}
