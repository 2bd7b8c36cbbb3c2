package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/certificate"
)

// Rods of two lengths are both sawn from, and taken from where each is kept.
func TestRodsOfTwoLengths(t *testing.T) {
	c := saved(t, "three-stages")
	p := &c.Proposals[0]
	stock := p.Axles[0].Stock
	for i := range p.Axles {
		require.Equal(t, stock, p.Axles[i].Stock)
	}
	inner, output := p.Axles[0].Length, p.Axles[len(p.Axles)-1].Length
	require.Less(t, inner, output)
	for i := range p.Uses {
		if p.Uses[i].Kind == "axle" {
			p.Uses[i].Places = []certificate.Place{
				{Name: stock, Location: "rack", Length: output + 2, Count: 1},
				{Name: "short ends", Location: "box", Length: inner + 2, Count: 2},
			}
		}
	}
	how := DefaultOptions()
	how.Sets = 1
	set, err := New(c, 1, how)
	require.NoError(t, err)
	lines, err := set.kit()
	require.NoError(t, err)
	took := map[string]int{}
	for _, l := range lines {
		if l.unit == "rod" {
			took[l.place+" "+l.item] = l.total
		}
	}
	assert.Equal(t, map[string]int{"rack " + stock: 1, "box short ends": 2}, took)
}
