package proof

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// A part of the space for which the checker's own work does not reach is open, whatever the proof
// says of it: to the end, and already in the one in which it runs out.
func TestWhatTheCheckerDoesNotSettleIsOpen(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.MaxStages, b.Frame.Pitch = 2, 10
	found, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1, Threads: 1})
	require.NoError(t, err)
	require.Len(t, found.Proposals, 1)
	p := &found.Proposals[0]
	l, err := ListedOf(p.Drive, p.Total, p.Bears, 0)
	require.NoError(t, err)
	data, err := Record(context.Background(), cup, b, 1, []Listed{l})
	require.NoError(t, err)
	whole, err := Check(context.Background(), data, cup, b)
	require.NoError(t, err)
	for _, share := range []int{100, 10, 2} {
		r, err := openProof(data)
		require.NoError(t, err)
		all := spaces(cup, b)
		ranking, err := rank(context.Background(), all, 1, r.list)
		require.NoError(t, err)
		require.NoError(t, r.legend(legend(all)))
		c := &checker{reader: r}
		w := newWalk(context.Background(), ranking, c)
		w.left = whole.Nodes / share
		require.NoError(t, w.spaces(all))
		require.Positive(t, c.open, "with a share of %d of the work", share)
		require.LessOrEqual(t, c.open, r.lines)
	}
}
