package supply

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/prices"
)

// What counting alone settles is said without a search, and only what it does settle.
func TestCountingAlone(t *testing.T) {
	for _, c := range []struct {
		name   string
		motors int
		sets   []int
		inTurn bool
		sold   int // offers of the list
		want   []Short
	}{
		{"14 motors wanted, 10 there", 10, []int{14}, false, 4, []Short{{"motor", "", 14, 10}}},
		{"two briefs share them", 10, []int{6, 6}, false, 4, []Short{{"motor", "", 12, 10}}},
		{"one after another they do", 10, []int{6, 6}, true, 4, nil},
		{"the list sells them", 10, []int{14}, false, 8, nil},
		{"enough", 14, []int{14}, false, 4, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			cup := box(t, c.motors, 40, 40, 40)
			cup.Axles[0].Count = 40
			list := shop(t, cup, 1)
			list = &prices.List{Name: list.Name, Currency: list.Currency, Suppliers: list.Suppliers, Offers: list.Offers[:c.sold], Parts: list.Parts}
			q := &Question{Cupboard: cup, List: list, InTurn: c.inTurn}
			for _, n := range c.sets {
				q.Briefs = append(q.Briefs, ride(t, n, "220 rpm"))
			}
			assert.Equal(t, c.want, newAsker(q, Options{}).counted())
			if c.want == nil {
				return
			}
			r, err := Find(context.Background(), q, Options{})
			require.NoError(t, err)
			assert.True(t, r.None)
			assert.Zero(t, r.Searches)
			whole, err := find(context.Background(), q, Options{})
			require.NoError(t, err)
			assert.True(t, whole.None, "the search says so too")
		})
	}
}
