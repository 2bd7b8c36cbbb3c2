package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

// Of drives that are possible Exists finds as many as are asked for, or all that there
// are, whichever is fewer.
func TestExistsFindsSoMany(t *testing.T) {
	ctx := context.Background()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	for _, keep := range []int{0, 1, 2, 5} {
		r, err := Exists(ctx, cup, b, Options{Keep: keep})
		require.NoError(t, err)
		require.Equal(t, ProvedBest, r.Status)
		require.Len(t, r.Proposals, max(1, keep))
	}

	best, err := Find(ctx, cup, b, Options{Keep: 1})
	require.NoError(t, err)
	d := best.Proposals[0].Drive
	pins := &Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages)}
	for i := range d.Stages {
		pins.Each = append(pins.Each, StagePins{Driver: d.Stages[i].Driver.Name, Driven: d.Stages[i].Driven.Name})
	}
	r, err := Exists(ctx, cup, b, Options{Keep: 2, Pins: pins})
	require.NoError(t, err)
	require.Equal(t, ProvedBest, r.Status)
	require.Len(t, r.Proposals, 1, "one arrangement is one drive")

	// The same drive comes out of a search that leaves out what is dearer than it.
	again, err := Find(ctx, cup, b, Options{AtMost: best.Proposals[0].Total})
	require.NoError(t, err)
	require.Equal(t, best.Proposals[0].Drive, again.Proposals[0].Drive)
	for _, p := range again.Proposals {
		require.Equal(t, best.Proposals[0].Total, p.Total)
	}
	none, err := Find(ctx, cup, b, Options{AtMost: best.Proposals[0].Total - 1})
	require.NoError(t, err)
	require.Equal(t, NonePossible, none.Status)
}
