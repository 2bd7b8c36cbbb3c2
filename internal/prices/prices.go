// Package prices reads a price list: who sells what, in packs of how many, for how
// much, and what carriage costs. It reads bytes, never files.
package prices

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/money"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
)

// List is a price list. Suppliers and offers are in the order of their names, so that
// the order of the file never matters.
type List struct {
	Name      string
	Currency  money.Currency
	Suppliers []Supplier // at least 1, at most MostSuppliers
	Offers    []Offer    // at least 1
	// Parts are those that the list describes because they are not in the cupboard.
	// Their counts mean nothing.
	Parts *parts.Cupboard
	VAT   VAT // of the prices
	// Notes are sentences about what was taken for granted in a list that is a sheet.
	Notes []string
	// Unread is how many of its rows may offer a part and could not be read: an order without
	// them may cost more than one with them.
	Unread int
}

// VAT is what a list says of value added tax in its prices.
type VAT string

// What a list can say.
const (
	VATIncluded VAT = "included"
	VATNot      VAT = "not included"
	VATNotSaid  VAT = "not said"
)

// Supplier is who sells.
type Supplier struct {
	Name     string
	Carriage money.Amount // for an order, however large
	FreeFrom money.Amount // goods worth so much are carried for nothing; 0 for never
	Minimum  money.Amount // the least that goods of an order must come to; 0 for none
}

// Offer is a pack of one part at one supplier.
type Offer struct {
	Name       string
	Supplier   int    // in List.Suppliers
	Kind, Part string // as in parts.Cupboard.Item
	Pack       int    // pieces in a pack, at least 1
	Price      money.Amount
	Least      int // packs that must be taken, if any are; at least 1
}

// The most of one list: far above what a school compares.
const (
	MostSuppliers = 8
	MostOffers    = 400
	mostPack      = 100_000
	mostLeast     = 100
	// mostPrice is the most that the least packs of an offer cost together, and
	// mostMinimum the most that a supplier asks an order to come to, in the smallest coin.
	mostPrice   money.Amount = 1_000_000
	mostMinimum money.Amount = 200_000
)

// Kinds are the kinds of part that a price list may offer: those that drives take
// from the stock.
func Kinds() []string {
	return []string{"pulley", "band", "motor", "cells", "axle", "sleeve", "wheel", "drum"}
}

// Read reads a price list for a cupboard, in TOML or as a sheet with a row for each
// offer: the parts offered are in the cupboard, or the list describes them as a cupboard
// would, without a count. name is the file's name in messages. The error is
// tomlfile.Problems.
func Read(name string, data []byte, cup *parts.Cupboard) (*List, error) {
	if isSheet(name, data) {
		return readSheet(name, data, cup)
	}
	return readDocument(name, data, cup)
}

// readDocument reads a price list in TOML.
func readDocument(name string, data []byte, cup *parts.Cupboard) (*List, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	root.Whole("schema", 1, 1, 1)
	l := &List{Name: root.Text("name", name)}
	l.Currency = readCurrency(root)
	l.VAT = VAT(root.Choice("vat", string(VATNotSaid), string(VATIncluded), string(VATNot), string(VATNotSaid)))
	l.Parts = parts.ReadTables(root)
	l.checkParts(root, cup)
	suppliers := l.readSuppliers(root)
	l.readOffers(root, cup, suppliers)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return l, nil
}

func readCurrency(root *tomlfile.Table) money.Currency {
	root.Need("currency", `"GBP"`)
	code := root.Text("currency", "GBP")
	c, err := money.Of(code)
	if err != nil && root.Good("currency") {
		root.Fail("currency", "%v", err)
	}
	return c
}

// checkParts refuses what has no place in the description of a part that is for sale.
func (l *List) checkParts(root *tomlfile.Table, cup *parts.Cupboard) {
	for _, kind := range []string{"spacer", "block", "cord"} {
		root.Refuse(kind, "a price list offers no %ss: it can offer %s", kind, strings.Join(Kinds(), ", "))
	}
	for _, kind := range Kinds() {
		for _, name := range l.Parts.Names(kind) {
			t := root.Table(kind).Table(name)
			t.Refuse("count", "a price list counts packs: leave the count out here, and write pack = in an [offer.NAME] table")
			t.Refuse("price", "the price belongs to the pack: write it in an [offer.NAME] table")
			if cup.Item(kind, name) != nil && !parts.SameSizes(cup, l.Parts, kind, name) {
				t.Fail("", "the cupboard has a %s %q of other sizes: give this one another name, or leave its description out if it is the same part", kind, name)
			}
		}
	}
}

func (l *List) readSuppliers(root *tomlfile.Table) (names []string) {
	names, tables := root.Named("supplier")
	for i, t := range tables {
		s := Supplier{Name: names[i]}
		s.Carriage = l.amount(t, "carriage", 0)
		s.FreeFrom = l.amount(t, "free_from", 1)
		s.Minimum = l.amount(t, "minimum_order", 0)
		if s.Minimum > mostMinimum {
			t.Fail("minimum_order", "%s is more than an order of rubber bands comes to: the most is %s", l.Currency.Format(s.Minimum), l.Currency.Format(mostMinimum))
		}
		t.Close()
		l.Suppliers = append(l.Suppliers, s)
	}
	switch {
	case len(names) > MostSuppliers:
		root.Fail("supplier", "there are %d suppliers, the most is %d", len(names), MostSuppliers)
	case len(names) == 0 && !root.Has("supplier"):
		root.Fail("", "there is no supplier: write for example [supplier.north] and carriage = %q under it", l.Currency.Plain(495))
	}
	return names
}

func (l *List) readOffers(root *tomlfile.Table, cup *parts.Cupboard, suppliers []string) {
	names, tables := root.Named("offer")
	for i, t := range tables {
		o := Offer{Name: names[i]}
		t.Need("part", `"pulley.axle-40"`)
		o.Kind, o.Part = l.readPart(t, cup)
		if len(suppliers) != 1 {
			t.Need("supplier", `"north"`)
		}
		o.Supplier = readSupplier(t, suppliers)
		t.Need("pack", "10")
		if t.IsZero("pack") {
			t.Offer("pack")
			t.Fail("pack", "0 in a pack is nothing to buy: write how many pieces are in one pack")
		} else {
			o.Pack = t.Whole("pack", 1, 1, mostPack)
		}
		t.Need("price", fmt.Sprintf("%q", l.Currency.Plain(280)))
		o.Price = l.amount(t, "price", 1)
		if t.IsZero("least_packs") {
			t.Offer("least_packs")
			t.Fail("least_packs", "0 packs are none: leave least_packs out if one pack can be had")
		} else {
			o.Least = t.Whole("least_packs", 1, 1, mostLeast)
		}
		if all := o.Price * money.Amount(o.Least); t.Good("price", "least_packs") && all > mostPrice {
			t.Fail("price", "%s for the least that can be had is more than a school pays: the most is %s", l.Currency.Format(all), l.Currency.Format(mostPrice))
		}
		t.Close()
		l.Offers = append(l.Offers, o)
	}
	switch {
	case len(names) > MostOffers:
		root.Fail("offer", "there are %d offers, the most is %d", len(names), MostOffers)
	case len(names) == 0 && !root.Has("offer"):
		root.Fail("", "there is no offer: write for example [offer.pulleys] and, under it, part, supplier, pack and price")
	}
}

// amount is an amount of money of at least so much; 0 if the key is not there.
func (l *List) amount(t *tomlfile.Table, key string, least money.Amount) money.Amount {
	if t.Has(key) && !t.IsText(key) {
		t.Offer(key)
		t.Fail(key, "money must stand in quotes, so that it is read to the penny: write for example %s = %q", key, l.Currency.Plain(280))
		return least
	}
	text := t.Text(key, "")
	if !t.Has(key) || !t.Good(key) {
		return 0
	}
	a, err := l.Currency.Parse(text)
	switch {
	case err != nil:
		t.Fail(key, "%v", err)
	case a < least:
		t.Fail(key, "found %q, it must be at least %s: leave it out if there is none", text, l.Currency.Format(least))
	}
	return a
}

func readSupplier(t *tomlfile.Table, suppliers []string) int {
	if !t.Has("supplier") {
		t.Offer("supplier")
		return 0
	}
	if len(suppliers) == 0 {
		t.Offer("supplier") // that there is none is said once, for the whole list
		return 0
	}
	return max(0, slices.Index(suppliers, t.Choice("supplier", suppliers[0], suppliers...)))
}

// readPart is the kind and the name of the part offered.
func (l *List) readPart(t *tomlfile.Table, cup *parts.Cupboard) (kind, name string) {
	text := t.Text("part", "")
	if !t.Has("part") || !t.Good("part") {
		return "", ""
	}
	kind, name, dot := strings.Cut(text, ".")
	switch {
	case !dot || name == "":
		t.Fail("part", "found %q, a kind and a name with a point between them are needed, such as \"pulley.axle-40\"", text)
	case !slices.Contains(Kinds(), kind):
		hint := ""
		if near := tomlfile.Nearest(kind, Kinds()); near != "" {
			hint = fmt.Sprintf(", did you mean %q?", near)
		}
		t.Fail("part", "%q is no kind of part that a list can offer (it can be %s)%s", kind, strings.Join(Kinds(), ", "), hint)
	case cup.Item(kind, name) == nil && l.Parts.Item(kind, name) == nil:
		known := append(cup.Names(kind), l.Parts.Names(kind)...)
		hint := ""
		if near := tomlfile.Nearest(name, known); near != "" {
			hint = fmt.Sprintf(", did you mean %q?", kind+"."+near)
		}
		t.Fail("part", "there is no %s %q in the cupboard, and this list does not describe one: write its sizes under [%s]%s", kind, name, text, hint)
	}
	return kind, name
}
