package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
)

// shared finds the drives of a small case for two sets whose motors' pulleys are packed
// out, with rods and sleeves as they are changed.
func shared(t *testing.T, change func(*parts.Cupboard)) *Result {
	t.Helper()
	cup, b := smallCase(sleeved)
	for i := range cup.Pulleys {
		cup.Pulleys[i].Count, cup.Pulleys[i].Bore = 9, 5
	}
	for i := range cup.Bands {
		cup.Bands[i].Count = 9
	}
	b.Sets = 2
	change(cup)
	r, err := Find(context.Background(), cup, b, Options{Keep: 3})
	require.NoError(t, err)
	return r
}

const sleeved = 0

func taken(r *Result, kind string) *Use {
	if len(r.Proposals) > 0 {
		for i, u := range r.Proposals[0].Uses {
			if u.Kind == kind {
				return &r.Proposals[0].Uses[i]
			}
		}
	}
	return nil
}

// Alike sleeves are one kind, in however many tubs; and of all that fit those count of
// which there are enough.
func TestAlikeSleevesAreOneKind(t *testing.T) {
	tube := func(name string, inner mm, count int) parts.Sleeve {
		return parts.Sleeve{Item: parts.Item{Name: name, Count: count}, Inner: inner, Outer: 5, Length: 8}
	}
	two := shared(t, func(c *parts.Cupboard) { c.Sleeves = []parts.Sleeve{tube("tube", 2, 2)} })
	require.NotNil(t, taken(two, "sleeve"))
	tubs := shared(t, func(c *parts.Cupboard) { c.Sleeves = []parts.Sleeve{tube("tub-1", 2, 1), tube("tub-2", 2, 1)} })
	use := taken(tubs, "sleeve")
	require.NotNil(t, use, "two tubs with a sleeve each")
	assert.Equal(t, []string{"tub-2"}, use.Also)
	assert.Equal(t, 2, use.Have)
	assert.Len(t, use.Places, 2)
	odd := shared(t, func(c *parts.Cupboard) { c.Sleeves = []parts.Sleeve{tube("a-odd", 1.9, 1), tube("tube", 2, 2)} })
	require.NotNil(t, taken(odd, "sleeve"), "an odd piece that comes first")
	assert.Equal(t, "tube", taken(odd, "sleeve").Name)
	assert.Equal(t, two.Proposals[0].Total, odd.Proposals[0].Total)
	none := shared(t, func(c *parts.Cupboard) { c.Sleeves = []parts.Sleeve{tube("a-odd", 1.9, 1), tube("tube", 2, 1)} })
	assert.Equal(t, NonePossible, none.Status, "each set must have the same")
}
