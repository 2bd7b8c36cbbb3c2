package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
)

// TestHangRefusesEarly: where there is one axle of the rod that pulleys sit on, and the
// other rod is too thin for them, no arrangement of two stages is gone into.
func TestHangRefusesEarly(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
	require.NoError(t, err)
	b.Sets, b.Making.DrillOut = 1, false
	for i := range cup.Axles {
		if a := &cup.Axles[i]; a.Diameter == 5 {
			a.Count, a.Length = 1, 150 // one axle, no more
		}
	}
	for i := range cup.Sleeves {
		cup.Sleeves[i].Count = 0
	}
	for i := range cup.Pulleys {
		if p := &cup.Pulleys[i]; p.Bore == 3.9 {
			p.Count = 0
		}
	}
	r, err := Exists(context.Background(), cup, b, Options{})
	require.NoError(t, err)
	assert.Equal(t, NonePossible, r.Status)
	assert.Zero(t, r.Stats.Finished)
	assert.Less(t, r.Stats.Nodes, int64(2000))
}
