package assembly_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
)

// The search holds the space inside clear of the floor, so no part of a vehicle's frame may
// hang below it; and what joins its sides is clear of the wheels' own axle.
func TestNothingOfAVehicleHangsBelowItsFrame(t *testing.T) {
	vehicles := 0
	hold := func(b *certificate.Brief, p *certificate.Proposal, name any) {
		o, err := assembly.Of(b, p)
		require.NoError(t, err, name)
		if b.Model != "vehicle" {
			return
		}
		vehicles++
		f := &o.Frame
		assert.Zero(t, f.Below, name)
		for _, at := range f.Joiners {
			assert.GreaterOrEqual(t, float64(at.Y-f.Strip/2), 0.0, name)
		}
		pieces, height := 0.0, 0.0
		for _, k := range f.Pieces {
			switch q := &o.Parts[k]; q.Name {
			case "upright":
				height = float64(q.Length)
			case "rail", "top and bottom", "top":
				pieces++
				assert.InDelta(t, float64(f.Length-2*f.Strip), float64(q.Length), 1e-9, "between the uprights: %v", name)
			}
		}
		if f.OfStrip {
			assert.InDelta(t, float64(f.Height), height, 1e-9, "an upright is as high as the side: %v", name)
			assert.GreaterOrEqual(t, pieces, 4.0, name)
		}
	}
	for name, c := range examples(t) {
		hold(&c.Brief, &c.Proposals[0], name)
	}
	for seed := range uint64(600) {
		b, p := assemblytest.Drive(seed)
		hold(b, p, seed)
	}
	assert.Greater(t, vehicles, 50)
}

// A rail so low that the bottom strip has no room under it closes the side.
func TestALowRailClosesAVehiclesSide(t *testing.T) {
	c := examples(t)["buggy.json"]
	for rail, bottoms := range map[certificate.Number]string{20: "top and bottom", 12: "top"} {
		b, p := c.Brief, c.Proposals[0]
		b.Frame.Rails = []certificate.Number{rail, 60}
		o, err := assembly.Of(&b, &p)
		require.NoError(t, err)
		var names []string
		for _, k := range o.Frame.Pieces {
			names = append(names, o.Parts[k].Name)
		}
		assert.Contains(t, names, bottoms, "rail at %g mm", float64(rail))
	}
}
