package design_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/layout"
	"findrive/internal/parts"
)

// Pinned to what one of the best drives is, a search finds that drive again and proves
// it the best of its kind; pinned to its holes as well it moves none of them.
func TestPinsFindTheSameDrives(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	ctx := context.Background()
	all, err := design.Find(ctx, cup, b, design.Options{Keep: 6})
	require.NoError(t, err)
	for i := range all.Proposals {
		p := &all.Proposals[i]
		d := p.Drive
		pins := &design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages), Output: d.Stages[len(d.Stages)-1].Driven.Name}
		for k := range d.Stages {
			s := &d.Stages[k]
			pins.Each = append(pins.Each, design.StagePins{Driver: s.Driver.Name, Driven: s.Driven.Name, Band: s.Band.Name, Use: &s.Use, Crossed: &s.Crossed, Axle: d.Axles[k].Name})
		}
		r, err := design.Find(ctx, cup, b, design.Options{Keep: 1, Pins: pins})
		require.NoError(t, err)
		require.Equal(t, design.ProvedBest, r.Status)
		assert.Equal(t, p.Total, r.Proposals[0].Total)
		assert.Equal(t, d, r.Proposals[0].Drive)

		for k := range d.Positions {
			pins.Holes = append(pins.Holes, &d.Positions[k])
		}
		r, err = design.Exists(ctx, cup, b, design.Options{Pins: pins})
		require.NoError(t, err)
		require.Len(t, r.Proposals, 1)
		assert.Equal(t, d.Positions, r.Proposals[0].Drive.Positions)

		pins.Holes = []*layout.Point{{X: 0, Y: 0}}
		pins.Holes = append(pins.Holes, make([]*layout.Point, len(d.Stages))...)
		r, err = design.Exists(ctx, cup, b, design.Options{Pins: pins})
		require.NoError(t, err)
		assert.Equal(t, design.NonePossible, r.Status, "a motor in the corner has no room")
	}
}

// What nobody has is not found, whatever is pinned.
func TestPinsThatCannotBe(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	for _, pins := range []design.Pins{{Motor: "none"}, {Holder: "none"}, {Output: "none"}, {Stages: 4},
		{Each: []design.StagePins{{Band: "none"}}}, {Each: []design.StagePins{{}, {}, {}, {Driver: "axle-10"}}},
		{Holes: make([]*layout.Point, 2)}} {
		r, err := design.Exists(context.Background(), cup, b, design.Options{Pins: &pins})
		require.NoError(t, err)
		assert.Equal(t, design.NonePossible, r.Status, "%+v", pins)
		assert.Empty(t, r.Proposals)
	}
}
