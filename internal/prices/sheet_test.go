package prices_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/money"
	"findrive/internal/prices"
)

// asSheet writes a list as a sheet, without the parts it describes.
func asSheet(t *testing.T, l *prices.List, comma rune) string {
	t.Helper()
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	w.Comma = comma
	some := func(a money.Amount) string {
		if a == 0 {
			return ""
		}
		return strings.Replace(l.Currency.Plain(a), ".", map[rune]string{',': ".", ';': ","}[comma], 1)
	}
	require.NoError(t, w.Write([]string{l.Name}))
	require.NoError(t, w.Write([]string{"supplier", "offer", "kind", "part", "pack size", "pack price inc VAT", "least packs", "currency", "carriage", "free from", "minimum order", "outside (mm)", "groove floor (mm)", "groove width (mm)", "width (mm)", "bore (mm)", "material", "size", "flat length (cm)", "thickness"}))
	for _, s := range l.Suppliers {
		require.NoError(t, w.Write([]string{s.Name, "", "", "", "", "", "", l.Currency.Code, l.Currency.Plain(s.Carriage), some(s.FreeFrom), some(s.Minimum)}))
	}
	for _, o := range l.Offers {
		row := []string{strings.ToUpper(l.Suppliers[o.Supplier].Name), o.Name, o.Kind, o.Part, strconv.Itoa(o.Pack), some(o.Price), strconv.Itoa(o.Least), "", "", "", ""}
		for _, p := range l.Parts.Pulleys {
			if o.Kind == "pulley" && o.Part == p.Name {
				row = append(row, fmt.Sprint(float64(p.Outside)), fmt.Sprint(float64(p.GrooveFloor)), fmt.Sprint(float64(p.GrooveWidth)), fmt.Sprint(float64(p.Width)), fmt.Sprint(float64(p.Bore)), string(p.Material))
			}
		}
		for _, b := range l.Parts.Bands {
			if o.Kind == "band" && o.Part == b.Name {
				row = append(row, "", "", "", fmt.Sprint(float64(b.Width)), "", "", b.Size, fmt.Sprint(float64(b.FlatLength)/10), fmt.Sprintf("%v mm", float64(b.Thickness)))
			}
		}
		require.NoError(t, w.Write(row))
	}
	w.Flush()
	return out.String()
}

// A sheet and the TOML file that say the same are the same list, whatever parts the
// columns.
func TestSheetIsTheSameList(t *testing.T) {
	cup := cupboard(t)
	want, err := prices.Read("prices.toml", demo.Prices(), cup)
	require.NoError(t, err)
	for name, comma := range map[string]rune{"commas": ',', "semicolons and decimal commas": ';'} {
		t.Run(name, func(t *testing.T) {
			got, err := prices.Read("prices.csv", []byte(asSheet(t, want, comma)), cup)
			require.NoError(t, err)
			assert.Equal(t, want, got)
			piped, err := prices.Read("standard input", []byte(asSheet(t, want, comma)), cup)
			require.NoError(t, err)
			assert.Equal(t, want, piped, "a sheet is known by its first line")
		})
	}
}

const soundSheet = `supplier,kind,part,pack_size,pack_price,currency,carriage,outside,bore,least_packs
north,pulley,axle-40,10,2.80,GBP,4.95,,,
south,,pulley.new,5,1.00,,0,45 mm,4.9 mm,2
north,band,no-18,100,1.95,,4.95,,,
`

// Offers without a name are named by their parts.
func TestSheetNames(t *testing.T) {
	l, err := prices.Read("p.csv", []byte(soundSheet+"south,band,no-18,50,1.20,,,,,\n"), cupboard(t))
	require.NoError(t, err)
	var names []string
	for _, o := range l.Offers {
		names = append(names, o.Name)
	}
	assert.Equal(t, []string{"band no-18, row 4", "band no-18, row 5", "pulley axle-40", "pulley new"}, names)
	assert.Equal(t, prices.Offer{Name: "pulley new", Supplier: 1, Kind: "pulley", Part: "new", Pack: 5, Price: 100, Least: 2}, l.Offers[3])
	assert.Equal(t, 45.0, float64(l.Parts.Pulleys[0].Outside))
}

func TestSheetMistakes(t *testing.T) {
	cup := cupboard(t)
	for _, c := range []struct{ name, from, to, want string }{
		{"no headings", "supplier,kind,part,pack_size,pack_price,currency,carriage,outside,bore,least_packs\n", "", "p.csv: no row of headings was found: write one above the offers, such as supplier, part, pack_size, pack_price, currency, carriage"},
		{"a column missing", "pack_price", "note", "p.csv: row 1: there is no column pack_price"},
		{"a column misspelt", "pack_price", "pack_prize", `p.csv: row 1, column E: pack_prize: this column is not known here, did you mean "pack_price"?`},
		{"a column twice", "outside,bore", "bore,bore", "p.csv: row 1, column I: bore: there is a column bore already"},
		{"no currency", "GBP", "", "p.csv: row 2, column F: currency: the currency is missing: write for example GBP in the first row"},
		{"mixed currencies", "1.00,,0", "1.00,EUR,0", `p.csv: row 3, column F: currency: found "EUR" in a list whose currency is GBP (row 2): a list has one currency`},
		{"mixed by sign", "2.80", "$2.80", `p.csv: row 2, column E: pack_price: found "$2.80" in a list whose currency is GBP`},
		{"unknown currency", "GBP", "pounds", `p.csv: row 2, column F: currency: found "pounds", the three capital letters of a currency are needed`},
		{"negative price", "2.80", "-2.80", `p.csv: row 2, column E: pack_price: found "-2.80", an amount cannot be below 0`},
		{"free of charge", "2.80", "0.00", `p.csv: row 2, column E: pack_price: found "0.00", it must be at least £0.01`},
		{"too many digits", "2.80", "2.805", `p.csv: row 2, column E: pack_price: found "2.805", an amount such as "2.80" is needed`},
		{"no price", "2.80", "", `p.csv: row 2, column E: pack_price: write what a pack costs`},
		{"negative carriage", "4.95,,,\nsouth", "-1,,,\nsouth", `p.csv: row 2, column G: carriage: found "-1", an amount cannot be below 0`},
		{"two carriages", "1.95,,4.95", "1.95,,5.95", `p.csv: row 4, column G: carriage: found "5.95", but row 2 has "4.95" for "north": a supplier has one carriage`},
		{"no carriage", ",0,45 mm", ",,45 mm", `p.csv: row 3, column A: supplier: no row says what carriage "south" asks: write it in one of its rows, 0 if it is free`},
		{"zero pack", ",10,", ",0,", "p.csv: row 2, column D: pack_size: 0 in a pack is nothing to buy: write how many pieces are in one pack"},
		{"negative pack", ",10,", ",-1,", "p.csv: row 2, column D: pack_size: -1 is out of range: it must be from 1 to 100000"},
		{"half a pack", ",10,", ",0.5,", `p.csv: row 2, column D: pack_size: found "0.5", a whole number is needed: write how many pieces are in one pack`},
		{"no pack", ",10,", ",,", `p.csv: row 2, column D: pack_size: write how many pieces are in one pack`},
		{"zero least packs", "4.9 mm,2", "4.9 mm,0", "p.csv: row 3, column J: least_packs: 0 packs are none: leave least_packs out if one pack can be had"},
		{"unknown kind", "north,pulley", "north,puley", `p.csv: row 2, column C: part: "puley" is no kind of part that a list can offer (it can be pulley, band, motor, cells, axle, sleeve, wheel, drum), did you mean "pulley"?`},
		{"no kind", "north,pulley,axle-40", "north,,thingummy", `p.csv: row 2, column C: part: found "thingummy", a kind and a name with a point between them are needed`},
		{"unknown part", "axle-40", "axle-45", `p.csv: row 2, column C: part: there is no pulley "axle-45" in the cupboard, and this list does not describe one: give its sizes in columns of their own, such as outside and bore, did you mean "pulley.axle-`},
		{"no supplier", "north,pulley", ",pulley", "p.csv: row 2, column A: supplier: write which supplier it is"},
		{"no part", "axle-40", "", "p.csv: row 2, column C: part: which part is it?"},
		{"other sizes", "2.80,GBP,4.95,,", "2.80,GBP,4.95,41 mm,4.9 mm", `p.csv: row 2, column C: part: the cupboard has a pulley "axle-40" of other sizes`},
		{"size missing", "45 mm", "", "p.csv: row 3, column C: part: outside is missing: write for example 20 mm in a column outside"},
		{"a size of another kind", "1.95,,4.95,,", "1.95,,4.95,3 mm,", "p.csv: row 4, column H: outside: this key is not known here"},
		{"under no heading", "4.9 mm,2", "4.9 mm,2,free gift", `p.csv: row 3, column K: found "free gift" where it cannot stand: a name or a price with a comma in it must be in quote marks, such as "large, red"; for anything else write a heading above it`},
		{"no offer", "north,pulley,axle-40,10,2.80,GBP,4.95,,,\nsouth,,pulley.new,5,1.00,,0,45 mm,4.9 mm,2\nnorth,band,no-18,100,1.95,,4.95,,,\n", "", "p.csv: there is no offer"},
		{"a workbook", "supplier,kind", "PK\x03\x04", "p.csv: this workbook is damaged, or locked with a password"},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, soundSheet, c.from)
			_, err := prices.Read("p.csv", []byte(strings.Replace(soundSheet, c.from, c.to, 1)), cup)
			require.ErrorContains(t, err, c.want)
		})
	}
}

// A name with a comma in it is kept whole in quote marks; without them the one thing that is wrong
// is said, and not what comes of it.
func TestNamesWithCommas(t *testing.T) {
	cup := cupboard(t)
	const head = "supplier,offer,kind,part,pack_size,pack_price,currency,carriage\n"
	l, err := prices.Read("p.csv", []byte(head+"hill,\"wheels, large\",pulley,axle-40,10,2.80,GBP,3.00\nhill,small,band,no-18,10,2.80,,\n"), cup)
	require.NoError(t, err)
	assert.Equal(t, "wheels, large", l.Offers[1].Name)
	for where, row := range map[string]string{"column C: kind: found \"large\"": "hill,wheels, large,pulley,axle-40,10,2.80,GBP", "column I: found \"3.00\"": "hill,a,pulley,axle-40,red,10,2.80,GBP,3.00"} {
		_, err := prices.Read("p.csv", []byte(head+row+"\nhill,small,band,no-18,10,2.80,,\n"), cup)
		assert.EqualError(t, err, "p.csv: row 2, "+where+` where it cannot stand: a name or a price with a comma in it must be in quote marks, such as "large, red"; for anything else write a heading above it, or leave it out`)
	}
	l, err = prices.Read("p.csv", []byte("shop,item,pack,price\nhill,Pulley axle 40, 5 mm bore,10,2.80\nhill,Band no 18,10,1.80\n"), cup)
	require.NoError(t, err)
	assert.Len(t, l.Offers, 1)
	assert.Contains(t, strings.Join(l.Notes, "\n"), `row 2: found "2.80" where it cannot stand`)
}

// What is wrong with a list is told all at once, in the order of its cells.
func TestSheetMistakesTogether(t *testing.T) {
	_, err := prices.Read("p.csv", []byte("supplier,offer,kind,part,pack_size,pack_price,currency,carriage\nhill,a,pulley,axle-40,0,-1,GBP,3.00\nhlil,a,band,no-81,x,1.00,,\n"), cupboard(t))
	assert.EqualError(t, err, `p.csv: row 2, column E: pack_size: 0 in a pack is nothing to buy: write how many pieces are in one pack
p.csv: row 2, column F: pack_price: found "-1", an amount cannot be below 0: write it without the -
p.csv: row 3, column A: supplier: no row says what carriage "hlil" asks: write it in one of its rows, 0 if it is free, or did you mean "hill"?
p.csv: row 3, column B: offer: row 2 has an offer named "a" already: give each a name of its own
p.csv: row 3, column D: part: there is no band "no-81" in the cupboard, and this list does not describe one: give its sizes in columns of their own, such as outside and bore, did you mean "band.no-18"?
p.csv: row 3, column E: pack_size: found "x", a whole number is needed: write how many pieces are in one pack`)
}

func FuzzReadSheet(f *testing.F) {
	f.Add([]byte(soundSheet))
	f.Add([]byte("\xef\xbb\xbfinvented\n\nSupplier;Offer;Part;Pack;Price;Currency;Carriage;Outside (mm);Bore (mm);Cells\nhill;\"a \"\"b\"\"\";pulley.new;007;2,80;GBP;0;45;4,9;\nhill;c;cells.three;5;1,5;;;;;03\n"))
	f.Add([]byte("supplier\tkind\tpart\tpack_size\tpack_price\tcurrency\tcarriage\nh\xe4ll\tband\tno-18\t99999999999\t\xa32.80\tGBP\t\"3\n"))
	held, err := filepath.Glob("testdata/held/*.csv")
	require.NoError(f, err)
	for _, list := range held {
		data, err := os.ReadFile(list)
		require.NoError(f, err)
		f.Add(data)
	}
	cup := cupboard(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := prices.Read("p.csv", data, cup)
		if (l == nil) == (err == nil) {
			t.Fatal("either a list or an error")
		}
		if err != nil {
			if strings.Contains(err.Error(), "quotes") && !bytes.Contains(data, []byte("quotes")) {
				t.Fatalf("a sheet has no quotes to write: %v", err)
			}
			return
		}
		sound(t, l, cup)
	})
}

// A bare number under Size is a size of what is no band.
func TestBareSizes(t *testing.T) {
	l, err := prices.Read("p.csv", []byte("Supplier;Item;Size;Pack;Price\nHill;Pulley 90 mm, 4 mm bore;90;10;7,20\nHill;Rubber band;16;100;1,95\n"), ours(t))
	require.NoError(t, err)
	require.Len(t, l.Parts.Pulleys, 1)
	assert.Equal(t, 90.0, float64(l.Parts.Pulleys[0].Outside))
	assert.Equal(t, "16", l.Parts.Bands[0].Size)
	assert.Contains(t, l.Notes, "row 2: 90 under Size has no unit: taken as mm")
	_, err = prices.Read("p.csv", []byte("Supplier;Item;Size;Pack;Price\nHill;Pulley 40 mm, 4 mm bore;90;10;7,20\n"), ours(t))
	require.Error(t, err, "which of the two it is, nobody knows")
}
