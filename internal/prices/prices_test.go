package prices_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/money"
	"findrive/internal/parts"
	"findrive/internal/prices"
)

func cupboard(t testing.TB) *parts.Cupboard {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	return cup
}

func TestBuiltInList(t *testing.T) {
	l, err := prices.Read("prices.toml", demo.Prices(), cupboard(t))
	require.NoError(t, err)
	assert.Contains(t, l.Name, "invented")
	assert.Equal(t, "GBP", l.Currency.Code)
	require.Len(t, l.Suppliers, 2)
	assert.Equal(t, prices.Supplier{Name: "hill", Carriage: 495, FreeFrom: 4000}, l.Suppliers[0])
	assert.Equal(t, prices.Supplier{Name: "vale", Carriage: 250, Minimum: 1000}, l.Suppliers[1])
	byName := map[string]prices.Offer{}
	for _, o := range l.Offers {
		byName[o.Name] = o
	}
	assert.Equal(t, prices.Offer{Name: "pulleys-20-loose", Supplier: 1, Kind: "pulley", Part: "axle-20", Pack: 1, Price: 35, Least: 4}, byName["pulleys-20-loose"])
	assert.Equal(t, money.Amount(340), byName["pulleys-70"].Price)
	assert.Equal(t, 70.0, float64(l.Parts.Pulleys[0].Outside))
}

// The starter is sound, with its optional lines and without.
func TestStarter(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.StarterCupboard())
	require.NoError(t, err)
	_, err = prices.Read("prices.toml", demo.StarterPrices(), cup)
	require.NoError(t, err)
	full := regexp.MustCompile(`(?m)^# ([a-z_]+ = )`).ReplaceAll(demo.StarterPrices(), []byte("$1"))
	l, err := prices.Read("prices.toml", full, cup)
	require.NoError(t, err)
	assert.Equal(t, money.Amount(4000), l.Suppliers[0].FreeFrom)
}

// mend is a sound list with one line in place of another.
func mend(t *testing.T, from, to string) string {
	t.Helper()
	const sound = `name = "test"
currency = "GBP"
[supplier.north]
carriage = "4.95"
[supplier.south]
[offer.a]
part = "pulley.axle-40"
supplier = "north"
pack = 10
price = "2.80"
[offer.b]
part = "pulley.new"
supplier = "south"
pack = 5
price = "1.00"
[pulley.new]
outside = "45 mm"
groove_floor = "40 mm"
bore = "4.9 mm"
`
	require.Contains(t, sound, from)
	return strings.Replace(sound, from, to, 1)
}

func TestMistakes(t *testing.T) {
	cup := cupboard(t)
	_, err := prices.Read("p.toml", []byte(mend(t, "[supplier.south]", "[supplier.south]")), cup)
	require.NoError(t, err)
	for _, c := range []struct{ name, from, to, want string }{
		{"no currency", `currency = "GBP"`, ``, `p.toml: currency is missing: write for example currency = "GBP"`},
		{"unknown currency", `"GBP"`, `"pounds"`, `p.toml:2:12: currency: found "pounds", the three capital letters of a currency are needed`},
		{"mixed currencies", `"2.80"`, `"2.80 EUR"`, `p.toml:10:9: offer.a.price: found "2.80 EUR" in a list whose currency is GBP: a list has one currency`},
		{"mixed by sign", `"2.80"`, `"$2.80"`, `offer.a.price: found "$2.80" in a list whose currency is GBP`},
		{"negative price", `"2.80"`, `"-2.80"`, `p.toml:10:9: offer.a.price: found "-2.80", an amount cannot be below 0`},
		{"free of charge", `"2.80"`, `"0.00"`, `offer.a.price: found "0.00", it must be at least £0.01`},
		{"price as a number", `"2.80"`, `2.80`, `offer.a.price: money must stand in quotes, so that it is read to the penny: write for example price = "2.80"`},
		{"too many digits", `"2.80"`, `"2.805"`, `offer.a.price: found "2.805", an amount such as "2.80" is needed`},
		{"decimal comma", `"2.80"`, `"2,80"`, `offer.a.price: found "2,80", an amount such as "2.80" is needed`},
		{"no price", `price = "2.80"`, ``, `p.toml:6:2: offer.a: price is missing: write for example price = "2.80"`},
		{"negative carriage", `"4.95"`, `"-1"`, `p.toml:4:12: supplier.north.carriage: found "-1", an amount cannot be below 0`},
		{"zero pack", `pack = 10`, `pack = 0`, `p.toml:9:8: offer.a.pack: 0 in a pack is nothing to buy: write how many pieces are in one pack`},
		{"negative pack", `pack = 10`, `pack = -1`, `offer.a.pack: -1 is out of range: it must be from 1 to 100000`},
		{"half a pack", `pack = 10`, `pack = 0.5`, `offer.a.pack: found 0.5, a whole number without quotes is needed`},
		{"zero least packs", `pack = 10`, "pack = 10\nleast_packs = 0", `offer.a.least_packs: 0 packs are none: leave least_packs out if one pack can be had`},
		{"unknown kind", `"pulley.axle-40"`, `"puley.axle-40"`, `p.toml:7:8: offer.a.part: "puley" is no kind of part that a list can offer (it can be pulley, band, motor, cells, axle, sleeve, wheel, drum), did you mean "pulley"?`},
		{"no kind", `"pulley.axle-40"`, `"axle-40"`, `offer.a.part: found "axle-40", a kind and a name with a point between them are needed`},
		{"unknown part", `"pulley.axle-40"`, `"pulley.axle-45"`, `offer.a.part: there is no pulley "axle-45" in the cupboard, and this list does not describe one: write its sizes under [pulley.axle-45], did you mean "pulley.axle-`},
		{"kind never offered", `[pulley.new]`, "[cord.string]\ndiameter = \"2 mm\"\nlength = \"5 m\"\n[pulley.new]", `p.toml:16:2: cord: a price list offers no cords`},
		{"unknown supplier", `supplier = "north"`, `supplier = "nroth"`, `p.toml:8:12: offer.a.supplier: found "nroth", which is not known here, did you mean "north"?`},
		{"supplier left out", `supplier = "north"`, ``, `p.toml:6:2: offer.a: supplier is missing: write for example supplier = "north"`},
		{"count of a part", `outside = "45 mm"`, "outside = \"45 mm\"\ncount = 3", `p.toml:18:1: pulley.new.count: a price list counts packs`},
		{"other sizes", `[pulley.new]`, "[pulley.axle-50]\noutside = \"51 mm\"\ngroove_floor = \"46 mm\"\nbore = \"4.9 mm\"\n[pulley.new]", `p.toml:16:2: pulley.axle-50: the cupboard has a pulley "axle-50" of other sizes`},
		{"size missing", `outside = "45 mm"`, ``, `pulley.new: outside is missing`},
		{"unknown key", `pack = 10`, "pack = 10\npak = 3", `p.toml:10:1: offer.a.pak: this key is not known here, did you mean "pack"?`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := prices.Read("p.toml", []byte(mend(t, c.from, c.to)), cup)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err = prices.Read("p.toml", []byte(mend(t, `"GBP"`, `"Pounds"`)), cup)
	require.NotContains(t, err.Error(), "an amount such as", "a slip in the currency makes none of the prices wrong")
	_, err = prices.Read("p.toml", []byte("currency = \"GBP\"\n"), cup)
	require.ErrorContains(t, err, "there is no supplier")
	require.ErrorContains(t, err, "there is no offer")
}

// A part that is described just as the cupboard has it is the same part.
func TestSamePartTwice(t *testing.T) {
	_, err := prices.Read("p.toml", []byte(mend(t, "[pulley.new]", `[pulley.axle-50]
outside = "50 mm"
groove_floor = "46 mm"
groove_width = "3.5 mm"
width = "7 mm"
bore = "4.9 mm"
material = "plastic"
[pulley.new]`)), cupboard(t))
	require.NoError(t, err)
}

func FuzzRead(f *testing.F) {
	f.Add(demo.Prices())
	cup := cupboard(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := prices.Read("p.toml", data, cup)
		if (l == nil) == (err == nil) {
			t.Fatal("either a list or an error")
		}
		if err != nil {
			return
		}
		sound(t, l, cup)
	})
}

// sound fails if a list that was read is none.
func sound(t *testing.T, l *prices.List, cup *parts.Cupboard) {
	t.Helper()
	for _, s := range l.Suppliers {
		if s.Carriage < 0 || s.FreeFrom < 0 || s.Minimum < 0 || max(s.Carriage, s.FreeFrom, s.Minimum) > money.Most {
			t.Fatalf("%+v", s)
		}
	}
	if len(l.Suppliers) == 0 || len(l.Suppliers) > prices.MostSuppliers || len(l.Offers) == 0 {
		t.Fatal("suppliers and offers")
	}
	for _, o := range l.Offers {
		if o.Price < 1 || o.Price > money.Most || o.Pack < 1 || o.Least < 1 || o.Supplier < 0 || o.Supplier >= len(l.Suppliers) {
			t.Fatalf("%+v", o)
		}
		if cup.Item(o.Kind, o.Part) == nil && l.Parts.Item(o.Kind, o.Part) == nil {
			t.Fatalf("%+v: no such part", o)
		}
	}
}
