package supply

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/money"
	"findrive/internal/parts"
	"findrive/internal/prices"
	"findrive/internal/units"
)

// fewRods is a question in which rods are what is short: of two lengths, both on sale.
func fewRods(t *testing.T, seed uint64) *Question {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 15))
	cup := box(t, 9, 9, 6, 6)
	dowel := cup.Axles[0]
	long, short := dowel, dowel
	long.Length, long.Count = units.Millimetres(210+r.IntN(120)), r.IntN(3)
	short.Name, short.Length, short.Count = "end", units.Millimetres(100+r.IntN(40)), r.IntN(3)
	cup.Axles = []parts.AxleStock{long, short}
	list := shop(t, cup, seed)
	list.Offers = append(list.Offers, prices.Offer{Name: "ends", Kind: "axle", Part: "end", Pack: 1 + r.IntN(3), Price: 20 + 10*list.Offers[0].Price/100, Least: 1})
	q := &Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{ride(t, 3+r.IntN(4), "220 rpm")}, Mix: seed%2 == 0, InTurn: seed%3 == 0}
	if seed%4 > 1 {
		other := ride(t, 2+r.IntN(3), "240 rpm")
		other.Frame.Depth += 12 // its axles are longer
		q.Briefs = append(q.Briefs, other)
	}
	return q
}

// What is bought of rods is what a saw needs, no more and no less, over all drives there
// are; and the plan it prints can be sawn.
func TestRodsAreBoughtByCutting(t *testing.T) {
	t.Parallel()
	rodsBought := 0
	for seed := range uint64(12) {
		q := fewRods(t, seed)
		r, err := Find(context.Background(), q, Options{})
		require.NoError(t, err)
		a := listed(t, q, 1)
		all := overAll(t, a, 1)
		require.Equal(t, all.Found, r.Plan != nil, "seed %d", seed)
		if r.Plan == nil {
			continue
		}
		assert.True(t, r.Plan.Proved, "seed %d", seed)
		assert.Equal(t, all.Money, r.Plan.Money, "seed %d", seed)
		have := map[string]int{}
		for _, x := range q.Cupboard.Axles {
			have[x.Name] = x.Count
		}
		for _, b := range r.Plan.Bought {
			if b.Offer.Kind == "axle" {
				rodsBought++
				have[b.Offer.Part] += b.Packs * b.Offer.Pack
			}
		}
		var pieces []cutting.Piece
		for _, s := range r.Plan.Shares {
			for _, c := range design.CutAxles(s.Drive.Drive, q.Briefs[s.Brief]) {
				pieces = append(pieces, cutting.Piece{Length: c.Length, Count: s.Groups * c.Count})
			}
		}
		var rods []cutting.Stock
		for i := range q.Cupboard.Axles {
			x := &q.Cupboard.Axles[i]
			rods = append(rods, cutting.Stock{Name: x.Name, Length: x.Length, Count: have[x.Name]})
		}
		plan, err := cutting.Cuts(pieces, rods, cutting.Kerf)
		require.NoError(t, err, "seed %d: what was bought cannot be sawn", seed)
		left := map[string]int{}
		for name, n := range have {
			left[name] = n
		}
		for _, bar := range plan.Bars {
			left[bar.Stock]--
		}
		for _, b := range r.Plan.Bought {
			if b.Offer.Kind == "axle" {
				assert.Equal(t, left[b.Offer.Part], b.Left, "seed %d: %s", seed, b.Offer.Name)
			}
		}
	}
	assert.Greater(t, rodsBought, 4)
}

// A single rod of 300 mm gives an axle of 138 mm and one of 153 mm: nothing is bought.
func TestNoRodIsBoughtThatTheSawDoesNotNeed(t *testing.T) {
	for _, c := range []struct{ length, packs int }{{292, 0}, {291, 1}} {
		cup, err := parts.Read("cupboard.toml", demo.Cupboard())
		require.NoError(t, err)
		cup.Axles = slices.DeleteFunc(cup.Axles, func(a parts.AxleStock) bool { return a.Name != "dowel-5" })
		list, err := prices.Read("prices.toml", []byte("currency = \"GBP\"\n[supplier.a]\ncarriage = \"0\"\n[offer.dowel]\npart = \"axle.dowel-5\"\nsupplier = \"a\"\npack = 1\nprice = \"0.40\"\n"), cup)
		require.NoError(t, err)
		b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
		require.NoError(t, err)
		b.Frame.Depth, b.Frame.Sheet, b.Frame.Strip, b.MaxStages = 120, 4, 0, 2
		cup.Axles[0].Length, cup.Axles[0].Count = units.Millimetres(c.length), b.Sets
		require.EqualValues(t, 138, drive.AxleLength(b))
		require.EqualValues(t, 153, drive.OutputAxleLength(b, nil, nil))
		r, err := Find(context.Background(), &Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{b}, Mix: true}, Options{})
		require.NoError(t, err)
		require.NotNil(t, r.Plan, fmt.Sprint(c))
		assert.True(t, r.Plan.Proved)
		bought := 0
		for _, p := range r.Plan.Bought {
			bought += p.Packs
		}
		if c.packs == 0 {
			assert.Zero(t, bought, "%d mm", c.length)
		} else {
			assert.Positive(t, bought, "%d mm", c.length)
		}
	}
}

// Rods of 250 mm yield two axles between stages and one with wheels: each of five sets can have
// its axles of them, and all together cannot. A drive whose axles are of another rod, of which
// there is enough, is looked for then, and what it takes is bought.
func TestRodsForAllAndNotForEach(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", []byte(`
[pulley.tiny]
outside = "7 mm"
groove_floor = "4.5 mm"
bore = "2 mm"
count = 9
[pulley.oak-30]
outside = "30 mm"
groove_floor = "25 mm"
bore = "4 mm"
width = "10 mm"
material = "wood"
count = 7
[pulley.oak-52]
outside = "52 mm"
groove_floor = "46 mm"
bore = "4 mm"
width = "10 mm"
material = "wood"
count = 11
[band.a]
flat_length = "70 mm"
width = "1.5 mm"
count = 11
[band.b]
flat_length = "95 mm"
width = "1.5 mm"
count = 13
[motor.kit]
rated = "3 V"
free_speed = "7000 rpm"
stall_torque = "20 g.cm"
count = 10
[cells.pair]
cells = 2
chemistry = "alkaline"
count = 9
[axle.d5]
diameter = "5 mm"
length = "400 mm"
count = 9
[axle.d4]
diameter = "4 mm"
length = "250 mm"
count = 8
[wheel.tyre]
diameter = "60 mm"
bore = "4 mm"
width = "10 mm"
count = 24
`))
	require.NoError(t, err)
	b, err := brief.ReadFor("brief.toml", []byte(`
model = "vehicle"
speed = "1 m in 4 s"
tolerance = "30 %"
sets = 5
[load]
mass = "350 g"
[frame]
length = "300 mm"
height = "70 mm"
depth = "90 mm"
`), cup)
	require.NoError(t, err)
	list, err := prices.Read("prices.toml", []byte(`
currency = "GBP"
[supplier.north]
carriage = "2.95"
[offer.twenty]
part = "pulley.twenty"
pack = 10
price = "2.00"
[pulley.twenty]
outside = "20 mm"
bore = "5 mm"
`), cup)
	require.NoError(t, err)
	for _, mix := range []bool{false, true} {
		r, err := Find(context.Background(), &Question{Cupboard: cup, List: list, Briefs: []*brief.Brief{b}, Mix: mix}, Options{})
		require.NoError(t, err)
		require.NotNil(t, r.Plan, "mix %v", mix)
		assert.Equal(t, money.Amount(495), r.Plan.Money)
		assert.True(t, r.Plan.Proved)
	}
}
