package hoist

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/parts"
)

// What is said to help does: with the brief changed so something can be rove, and as many
// hoists at once as were said; with one more there is nothing.
func TestEasesHelp(t *testing.T) {
	eased := 0
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		r := Find(context.Background(), cup, b, Options{})
		require.Equal(t, r.Status != NonePossible, len(r.Hoists) > 0)
		if len(r.Hoists) > 0 {
			require.Empty(t, r.Eases)
			return
		}
		for _, e := range r.Eases {
			eased++
			now := with(b, e)
			require.NotEmpty(t, Find(context.Background(), cup, now, Options{Keep: 1}).Hoists, "%+v", e)
			if e.kinds == fewerSets {
				now.Sets++
				require.Empty(t, Find(context.Background(), cup, now, Options{Keep: 1}).Hoists, "%+v", e)
			}
		}
	})
	assert.Positive(t, eased)
}

// with is a brief as a change makes it.
func with(b *Brief, e Ease) *Brief {
	now := *b
	if e.Sets > 0 {
		now.Sets = e.Sets
	}
	if e.Way != "" {
		now.Way = e.Way
	}
	if e.Load > 0 {
		now.Mass = e.Load
	}
	if e.Pull > 0 {
		now.Pull = e.Pull
	}
	return &now
}

// Where blocks and cord both are too few for all groups, fewer hoists are named.
func TestFewerHoists(t *testing.T) {
	cup, err := parts.Read("c.toml", []byte("[block.single]\nsheaves = 1\nsheave = \"30 mm\"\ncount = 4\n[cord.kite]\ndiameter = \"1 mm\"\nlength = \"10 m\"\ncount = 1\n"))
	require.NoError(t, err)
	b := &Brief{Mass: 200, Lift: 400, Beam: 800, Hook: 60, Pull: 4, Way: Down, StandOff: 500, Sets: 12}
	r := Find(context.Background(), cup, b, Options{})
	require.Equal(t, NonePossible, r.Status)
	assert.Equal(t, []Ease{{Sets: 4, kinds: fewerSets}}, r.Eases)
}
