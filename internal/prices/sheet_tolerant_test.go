package prices_test

import (
	"archive/zip"
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/prices"
)

// ours is a cupboard whose parts shops call by their sizes.
func ours(t testing.TB) *parts.Cupboard {
	cup, err := parts.Read("c.toml", []byte(`schema = 1
[pulley.red]
outside = "40 mm"
bore = "4.9 mm"
[pulley.blue]
outside = "30 mm"
bore = "4.9 mm"
[pulley.blue-loose]
outside = "30 mm"
bore = "5.1 mm"
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
[axle.thin]
diameter = "5 mm"
length = "300 mm"
[cells.box]
cells = 2
`))
	require.NoError(t, err)
	return cup
}

// offersOf are the offers of a list, one a line: kind.part, pieces, price, least packs.
func offersOf(l *prices.List) []string {
	var out []string
	for _, o := range l.Offers {
		out = append(out, fmt.Sprintf("%s: %s.%s %d for %s", l.Suppliers[o.Supplier].Name, o.Kind, o.Part, o.Pack, l.Currency.Format(o.Price)))
	}
	return out
}

// A list as shops and schools write it, without a column of our own.
func TestTolerantSheet(t *testing.T) {
	l, err := prices.Read("shops.csv", []byte(`Catalogue prices, autumn;;;
Supplier;Item;Pack qty;Price inc VAT
Hill;"Pulley 40 mm, 4.9 mm bore";10 pcs;£2,80
;Blue;pack of 5;85p
Vale;Rubber bands 63 x 1.5 mm;100;1.95 per pack
Vale;Dowel 5 mm x 300 mm;each;35p
Vale;Battery box 2 x AA (pack of 4);;£3.00
Vale;Pulley 55 mm, 5 mm bore;10;0,30 each
Total;;;
`), ours(t))
	require.NoError(t, err)
	assert.Equal(t, []string{
		"Vale: axle.thin 1 for £0.35", "Vale: band.short 100 for £1.95", "Vale: cells.box 4 for £3.00", "Vale: pulley.Pulley 55 mm, 5 mm bore 10 for £3.00", "Hill: pulley.blue 5 for £0.85", "Hill: pulley.red 10 for £2.80",
	}, offersOf(l))
	assert.Equal(t, 5.0, float64(l.Parts.Pulleys[0].Bore))
	assert.Equal(t, []string{
		"column D, Price inc VAT is taken for what a pack costs, where a cell does not say each",
		"no column says what carriage costs: it is left out of all sums; write it in a column carriage, 0 if it is free",
		`row 3: "Pulley 40 mm, 4.9 mm bore" is taken for pulley.red of the cupboard, the only one of such sizes`,
		"row 4: no supplier: taken to be Hill, as in the row above",
		`row 4: "Blue" is taken for pulley.blue of the cupboard`,
		`row 5: "Rubber bands 63 x 1.5 mm" is taken for band.short of the cupboard, the only one of such sizes`,
		`row 6: "Dowel 5 mm x 300 mm" is taken for axle.thin of the cupboard, the only one of such sizes`,
		`row 7: "Battery box 2 x AA (pack of 4)" is taken for cells.box of the cupboard, the only one of such sizes`,
		"row 8: 0.30 each is taken for a pack of 10",
	}, l.Notes)
}

// What cells of such lists come to: the offer, or why it is refused.
func TestTolerantCells(t *testing.T) {
	for _, c := range []struct{ name, head, row, offer, note, fails string }{
		{name: "plain", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for £2.80"},
		{name: "pence", row: "hill,red,10,85p", offer: "hill: pulley.red 10 for £0.85"},
		{name: "few pence", row: "hill,red,10,5 p", offer: "hill: pulley.red 10 for £0.05"},
		{name: "many pence", row: "hill,red,10,120p", offer: "hill: pulley.red 10 for £1.20"},
		{name: "a decimal comma", row: `hill,red,10,"2,80"`, offer: "hill: pulley.red 10 for £2.80"},
		{name: "the sign behind", row: `hill,red,10,"2,80 £"`, offer: "hill: pulley.red 10 for £2.80"},
		{name: "another currency by its sign", row: `hill,red,10,"2,80 €"`, offer: "hill: pulley.red 10 for €2.80"},
		{name: "per pack", row: "hill,red,10,£2.80 per pack", offer: "hill: pulley.red 10 for £2.80"},
		{name: "a bag", row: "hill,red,10,£2.80/bag", offer: "hill: pulley.red 10 for £2.80"},
		{name: "each", row: "hill,red,10,28p each", offer: "hill: pulley.red 10 for £2.80", note: "row 2: £0.28 each is taken for a pack of 10"},
		{name: "each, of one", row: "hill,red,1,28p each", offer: "hill: pulley.red 1 for £0.28"},
		{name: "for so many", row: "hill,red,,£2.80 for 10", offer: "hill: pulley.red 10 for £2.80"},
		{name: "for as many", row: "hill,red,10,£2.80 for 10", offer: "hill: pulley.red 10 for £2.80"},
		{name: "for others", row: "hill,red,20,£2.80 for 10", fails: `"£2.80 for 10" is for 10, and the pack is one of 20: which is it?`},
		{name: "so many at so much", row: "hill,red,10,3 @ 40", fails: `found "3 @ 40", an amount such as "2.80" is needed`},
		{name: "two for five, or five for two", row: "hill,red,,2 for 5", fails: "write how many pieces are in one pack"},
		{name: "several packs", row: "hill,red,2 packs of 10,2.80", fails: `found "2 packs of 10", a whole number is needed`},
		{name: "a dozen", row: "hill,red,1 doz,2.80", offer: "hill: pulley.red 12 for £2.80"},
		{name: "pence in pounds", row: "hill,red,10,.95", offer: "hill: pulley.red 10 for £0.95"},
		{name: "per pack of so many", row: "hill,red,,2.40 per pack of 10", offer: "hill: pulley.red 10 for £2.40"},
		{name: "with VAT in the cell", row: "hill,red,10,£2.80 inc VAT", offer: "hill: pulley.red 10 for £2.80"},
		{name: "pieces", row: "hill,red,10 pieces,2.80", offer: "hill: pulley.red 10 for £2.80"},
		{name: "pcs", row: "hill,red,10pcs.,2.80", offer: "hill: pulley.red 10 for £2.80"},
		{name: "a pack of", row: "hill,red,pack of 10,2.80", offer: "hill: pulley.red 10 for £2.80"},
		{name: "roughly", row: "hill,red,about 10,2.80", fails: `found "about 10", a whole number is needed: write how many pieces are in one pack`},
		{name: "a date", row: "hill,red,03-Oct,2.80", fails: `found "03-Oct", a whole number is needed`},
		{name: "no pack", row: "hill,red,,2.80", fails: "write how many pieces are in one pack"},
		{name: "words for a price", row: "hill,red,10,ask", fails: `found "ask", an amount such as "2.80" is needed`},
		{name: "two prices in a cell", row: "hill,red,10,2.80-3.20", fails: `found "2.80-3.20", an amount such as "2.80" is needed`},
		{name: "a pack in the name", row: "hill,\"Rubber bands 63 x 1.5 mm, pack of 100\",,1.95", offer: "hill: band.short 100 for £1.95"},
		{name: "another pack than in the name", row: "hill,\"Rubber bands 63 x 1.5 mm, pack of 100\",50,1.95", fails: `found "50", but the part is called "Rubber bands 63 x 1.5 mm, pack of 100", which is a pack of 100: which is it?`},
		{name: "capitals", row: "hill,RED,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: `row 2: "RED" is taken for pulley.red of the cupboard`},
		{name: "the kind before the name", row: "hill,Pulley red,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: `row 2: "Pulley red" is taken for pulley.red of the cupboard`},
		{name: "by what it is made of", row: "hill,Plastic pulley 40 mm,10,2.80", offer: "hill: pulley.red 10 for £2.80"},
		{name: "made of something else", row: "hill,\"Wooden pulley 40 mm, 4.9 mm bore\",10,2.80", offer: "hill: pulley.Wooden pulley 40 mm, 4.9 mm bore 10 for £2.80"},
		{name: "two that fit", row: "hill,Pulley 30 mm,10,2.80", fails: `"Pulley 30 mm" cannot be told: it may be blue, blue-loose: write which`},
		{name: "none that fits, and not described", row: "hill,Pulley 35 mm,10,2.80", fails: "bore is missing"},
		{name: "a thing that only sounds like one", row: "hill,Gear wheel 40 mm,10,2.80", fails: "a kind and a name with a point between them are needed"},
		{name: "a new part by its words", row: "hill,\"Pulley 55 mm, 5 mm bore\",10,2.80", offer: "hill: pulley.Pulley 55 mm, 5 mm bore 10 for £2.80"},
		{name: "a size that is rough", row: "hill,Pulley about 35ish,10,2.80", fails: "there is no pulley"},
		{name: "without VAT", head: "Supplier,Item,Pack size,Price ex VAT", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: "prices are without VAT, as column D, Price ex VAT says: what is to pay comes to more"},
		{name: "with and without", head: "Supplier,Item,Pack size,Price (ex VAT),Price (inc. VAT)", row: "hill,red,10,2.80,3.36", offer: "hill: pulley.red 10 for £3.36", note: "column D, Price (ex VAT), is not read: the price is that in column E, Price (inc. VAT)"},
		{name: "net", head: "Supplier,Item,Pack size,Price net", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: "prices are without VAT, as column D, Price net says: what is to pay comes to more"},
		{name: "net in brackets", head: "Supplier,Item,Pack size,Price (net)", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: "prices are without VAT, as column D, Price (net) says: what is to pay comes to more"},
		{name: "net of one", head: "Supplier,Item,Pack size,Net unit price", row: "hill,red,10,0.28", offer: "hill: pulley.red 10 for £2.80", note: "row 2: 0.28 each is taken for a pack of 10"},
		{name: "net and with", head: "Supplier,Item,Pack size,Net price,Price inc VAT", row: "hill,red,10,2.80,3.36", offer: "hill: pulley.red 10 for £3.36", note: "column D, Net price, is not read: the price is that in column E, Price inc VAT"},
		{name: "gross and net", head: "Supplier,Item,Pack size,Gross price,Net price", row: "hill,red,10,3.36,2.80", offer: "hill: pulley.red 10 for £3.36", note: "column E, Net price, is not read: the price is that in column D, Gross price"},
		{name: "the price of one", head: "Supplier,Item,Pack size,Unit price (£)", row: "hill,red,10,0.28", offer: "hill: pulley.red 10 for £2.80", note: "row 2: 0.28 each is taken for a pack of 10"},
		{name: "money in the heading", head: "Supplier,Item,Pack size,Price (€)", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for €2.80"},
		{name: "money by its letters", head: "Supplier,Item,Pack size,Price CHF", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for 2.80 CHF"},
		{name: "nothing says what money", row: "hill,red,10,2.80", offer: "hill: pulley.red 10 for £2.80", note: "nothing says what money it is: taken as GBP"},
		{name: "no pack and no word of one", head: "Supplier,Item,Price", row: "hill,red,28p", offer: "hill: pulley.red 1 for £0.28", note: "no column says how many are in a pack: where the part does not say so, a price is that of one"},
		{name: "a quantity", head: "Supplier,Item,Qty,Price", row: "hill,red,10,£2.80", offer: "hill: pulley.red 10 for £2.80", note: "column C, Qty is taken for how many are in a pack, not for how many are wanted"},
		{name: "no supplier", head: "Item,Pack size,Price", row: "red,10,£2.80", offer: "the supplier: pulley.red 10 for £2.80", note: `no column names a supplier: all is taken to come from one, called "the supplier"`},
		{name: "a column that is not known", head: "Supplier,Item,Pack size,Price,Shelf life", row: "hill,red,10,£2.80,3 years", offer: "hill: pulley.red 10 for £2.80", note: "column E, Shelf life, is not known here and is not read"},
		{name: "a column misspelt", head: "Supplier,Item,Pack size,Prise", row: "hill,red,10,£2.80", fails: `this column is not known here, did you mean "price"?`},
		{name: "carriage misspelt", head: "Supplier,Item,Pack size,Price,Cariage", row: "hill,red,10,£2.80,3.00", fails: `this column is not known here, did you mean "carriage"?`},
		{name: "delivery", head: "Supplier,Item,Pack size,Price,Delivery", row: "hill,red,10,£2.80,£3.00", offer: "hill: pulley.red 10 for £2.80"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.head == "" {
				c.head = "Supplier,Item,Pack qty,Price"
			}
			l, err := prices.Read("p.csv", []byte(c.head+"\n"+c.row+"\n"), ours(t))
			if c.fails != "" {
				require.ErrorContains(t, err, c.fails)
				return
			}
			require.NoError(t, err)
			assert.Equal(t, []string{c.offer}, offersOf(l))
			if c.note != "" {
				assert.Contains(t, l.Notes, c.note)
			}
		})
	}
}

// A title over rows gives them their kind.
func TestTolerantTitles(t *testing.T) {
	l, err := prices.Read("p.csv", []byte("Item,Pack,Price\nDowels,,\n5 mm x 300 mm,10,£2.00\nPulleys,,\n\"40 mm, 4.9 mm bore\",10,£3.00\n"), ours(t))
	require.NoError(t, err)
	assert.Equal(t, []string{"the supplier: axle.thin 10 for £2.00", "the supplier: pulley.red 10 for £3.00"}, offersOf(l))
}

// A workbook is read as it is.
func TestPriceWorkbook(t *testing.T) {
	var book bytes.Buffer
	z := zip.NewWriter(&book)
	f, err := z.Create("content.xml")
	require.NoError(t, err)
	cells := func(all ...string) string {
		out := ""
		for _, c := range all {
			out += "<table:table-cell office:value-type=\"string\"><text:p>" + c + "</text:p></table:table-cell>"
		}
		return "<table:table-row>" + out + "</table:table-row>"
	}
	_, err = f.Write([]byte(`<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>` +
		`<table:table table:name="Notes">` + cells("ask first") + `</table:table><table:table table:name="Prices">` +
		cells("Supplier", "Item", "Pack", "Price") + cells("hill", "red", "10", "£2.80") + `</table:table><table:table table:name="Vale">` +
		cells("Item", "Price") + cells("red", "30p") + `</table:table></office:spreadsheet></office:body></office:document-content>`))
	require.NoError(t, err)
	require.NoError(t, z.Close())
	for _, name := range []string{"p.ods", "standard input"} {
		l, err := prices.Read(name, book.Bytes(), ours(t))
		require.NoError(t, err)
		assert.Equal(t, []string{"hill: pulley.red 10 for £2.80"}, offersOf(l))
		assert.Contains(t, l.Notes, `sheet "Vale" is not read, for one sheet of a workbook is: save it as a list of its own if it is wanted`)
	}
}

// Of a list in a shop's words, rows that cannot be used are left out and said; a list in our
// own words is put right first.
func TestRowsLeftOut(t *testing.T) {
	rows := "hill,red,10,2.80\nhill,Pulley 30 mm,10,2.80\nhill,glue,1,2.80\n"
	l, err := prices.Read("p.csv", []byte("Supplier,Item,Pack,Price\n"+rows), ours(t))
	require.NoError(t, err)
	assert.Equal(t, []string{"hill: pulley.red 10 for £2.80"}, offersOf(l))
	assert.Subset(t, l.Notes, []string{`row 3: column B, Item: "Pulley 30 mm" cannot be told: it may be blue, blue-loose: write which: not used`, "row 4: names no part that drives are made of: not used"})
	assert.Equal(t, 1, l.Unread, "glue is no part")
	_, err = prices.Read("p.csv", []byte("Supplier,Part,Pack,Price\n"+rows), ours(t))
	require.ErrorContains(t, err, `p.csv: row 3, column B: Part: "Pulley 30 mm" cannot be told`)
	require.ErrorContains(t, err, `p.csv: row 4, column B: Part: found "glue"`)
	_, err = prices.Read("p.csv", []byte("Supplier,Item,Pack,Price,Carriage\n"+rows+"hill,blue,10,2.80,1.00\nhill,blue,5,1.80,2.00\n"), ours(t))
	require.ErrorContains(t, err, "a supplier has one carriage", "what holds of more than a row is never left out")
}

// carriageOf is what suppliers ask for carriage.
func carriageOf(l *prices.List) map[string]string {
	out := map[string]string{}
	for _, s := range l.Suppliers {
		out[s.Name] = l.Currency.Plain(s.Carriage)
	}
	return out
}

// What a row says of its supplier holds, whatever becomes of the part in it.
func TestTermsOfRowsLeftOut(t *testing.T) {
	const head = "Supplier;Item;Size;Pack;Price;Carriage\n"
	l, err := prices.Read("p.csv", []byte(head+"Hill;glue;;1;2,00;4,95\nHill;red;;10;2,80;\nVale;blue;;10;p.o.a.;\nVale;red;;5;1,90;0\nDale;glue;;1;1,00;\n"), ours(t))
	require.NoError(t, err)
	assert.Equal(t, map[string]string{"Hill": "4.95", "Vale": "0.00"}, carriageOf(l), "and of Dale nothing is offered")
	l, err = prices.Read("p.csv", []byte(head+"Hill;red;;10;2,80;3,00\nVale;glue;;1;2,00;1,50\n;blue;;10;1,80;\n"), ours(t))
	require.NoError(t, err)
	assert.Equal(t, []string{"Vale: pulley.blue 10 for £1.80", "Hill: pulley.red 10 for £2.80"}, offersOf(l), "the row above is Vale's, though it is left out")
	assert.Equal(t, map[string]string{"Hill": "3.00", "Vale": "1.50"}, carriageOf(l))
	_, err = prices.Read("p.csv", []byte(head+"Hill;red;;10;2,80;3,00\nVale;blue;;10;1,80;\n"), ours(t))
	require.ErrorContains(t, err, `no row says what carriage "Vale" asks`)
}

// A row of carriage is the carriage of its supplier.
func TestRowsOfCarriage(t *testing.T) {
	for _, c := range []struct {
		name, list string
		want       map[string]string
		note       string
	}{
		{"one supplier", "Item,Pack,Price\nred,10,2.80\nCarriage,,4.95\n", map[string]string{"the supplier": "4.95"}, `row 3: 4.95 is taken for the carriage of an order from "the supplier"`},
		{"words for it", "Supplier,Item,Pack,Price\nhill,red,10,2.80\n,Postage & packing,1,£3.50\n", map[string]string{"hill": "3.50"}, `row 3: £3.50 is taken for the carriage of an order from "hill"`},
		{"free", "Supplier,Item,Pack,Price\nhill,red,10,2.80\nhill,Delivery,,free\n", map[string]string{"hill": "0.00"}, ""},
		{"of each", "Supplier,Item,Pack,Price\nhill,red,10,2.80\nHill,P&P,,3.00\nvale,blue,10,2.80\nvale,Shipping,,4.00\n", map[string]string{"hill": "3.00", "vale": "4.00"}, ""},
		{"of one of two", "Supplier,Item,Pack,Price\nhill,red,10,2.80\nhill,Carriage,,3.00\nvale,blue,10,2.80\n", map[string]string{"hill": "3.00", "vale": "0.00"}, `no row says what carriage "vale" asks: it is left out of all sums`},
		{"whose it is not said", "Supplier,Item,Pack,Price\nhill,red,10,2.80\nvale,blue,10,2.80\n,Carriage,,3.00\n", map[string]string{"hill": "0.00", "vale": "0.00"}, "row 4: which supplier asks for this carriage? write it in the row: not used"},
		{"a column says otherwise", "Supplier,Item,Pack,Price,Postage\nhill,red,10,2.80,2.00\nhill,Carriage,,3.00,\n", map[string]string{"hill": "2.00"}, "row 3: carriage of 3.00: not used, for row 2 has 2.00"},
		{"a column that is empty", "Supplier,Item,Pack,Price,Postage\nhill,red,10,2.80,\nhill,Carriage,,3.00,\n", map[string]string{"hill": "3.00"}, ""},
		{"no price", "Supplier,Item,Pack,Price\nhill,red,10,2.80\nhill,Carriage,,\n", map[string]string{"hill": "0.00"}, "row 3: column B, Item: what it costs is not said: write it, 0 if it is free: not used"},
		{"in our own words", "supplier,part,pack_size,pack_price\nhill,pulley.red,10,2.80\nhill,carriage,,3.00\n", map[string]string{"hill": "3.00"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := prices.Read("p.csv", []byte(c.list), ours(t))
			require.NoError(t, err)
			assert.Equal(t, c.want, carriageOf(l))
			if c.note != "" {
				assert.Contains(t, l.Notes, c.note)
			}
		})
	}
}

// A name with other sizes beside it is another part.
func TestNameWithOtherSizes(t *testing.T) {
	_, err := prices.Read("p.csv", []byte("Item,Size,Pack,Price\nPulley red,50 mm,10,2.80\n"), ours(t))
	require.ErrorContains(t, err, `"Pulley red" is pulley.red of the cupboard, which has other sizes than "50 mm"`)
}

// Of a part that lies in two tubs it is no matter which is bought.
func TestTubsOfTheLike(t *testing.T) {
	cup := ours(t)
	for i := range cup.Pulleys {
		if cup.Pulleys[i].Name == "blue" {
			other := cup.Pulleys[i]
			other.Name = "azure, by the window"
			cup.Pulleys = append(cup.Pulleys, other)
		}
	}
	l, err := prices.Read("p.csv", []byte("Supplier,Item,Pack,Price,Carriage\nhill,\"Pulley 30 mm, 4.9 mm bore\",10,2.80,1.00\n"), cup)
	require.NoError(t, err)
	assert.Equal(t, []string{"hill: pulley.blue 10 for £2.80"}, offersOf(l))
}
