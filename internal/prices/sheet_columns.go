package prices

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"findrive/internal/pattern"
	"findrive/internal/stocktake"
)

// The columns of a sheet.
const (
	supplierColumn = "supplier"
	offerColumn    = "offer"
	kindColumn     = "kind"
	partColumn     = "part"
	packColumn     = "pack_size"
	priceColumn    = "pack_price"
	eachColumn     = "price_each"
	leastColumn    = "least_packs"
	currencyColumn = "currency"
	noteColumn     = "note" // not read
)

// terms are the columns that say something about a supplier.
var terms = []string{"carriage", "free_from", "minimum_order"}

// sizes are the columns that describe a part that is not in the cupboard: the keys of
// the cupboard's tables.
var sizes = []string{
	"outside", "groove_floor", "groove_width", "bore", "width", "material", "groove", "size", "flat_length", "thickness", "stretch_limit", "rated",
	"free_speed", "free_current", "stall_torque", "stall_current", "shaft_diameter", "shaft_length", "mass", "cells", "chemistry", "diameter", "length", "inner", "outer",
}

// alsoCalled are other names for columns, as lists of shops and schools have them (common
// practice).
var alsoCalled = map[string]string{
	"from": supplierColumn, "shop": supplierColumn, "seller": supplierColumn, "vendor": supplierColumn, "trader": supplierColumn, "store": supplierColumn, "sold_by": supplierColumn, "company": supplierColumn,
	"item": partColumn, "description": partColumn, "product": partColumn, "article": partColumn, "name": partColumn, "item_description": partColumn, "part_name": partColumn, "what": partColumn,
	"type": kindColumn, "category": kindColumn,
	"pack": packColumn, "pieces": packColumn, "pack_qty": packColumn, "pack_quantity": packColumn, "qty_per_pack": packColumn, "quantity_per_pack": packColumn, "per_pack": packColumn,
	"pieces_per_pack": packColumn, "pcs": packColumn, "pcs_per_pack": packColumn, "qty": packColumn, "quantity": packColumn, "in_a_pack": packColumn, "pk": packColumn, "pkt": packColumn, "sold_in": packColumn, "sold_as": packColumn, "unit_of_sale": packColumn, "unit": packColumn, "per": packColumn, "packs_of": packColumn, "pack_of": packColumn,
	"price": priceColumn, "cost": priceColumn, "price_per_pack": priceColumn, "price_each_pack": priceColumn, "price_a_pack": priceColumn, "each_pack": priceColumn, "pack_cost": priceColumn, "cost_per_pack": priceColumn,
	"unit_price": eachColumn, "price_per_piece": eachColumn, "price_per_unit": eachColumn, "cost_each": eachColumn, "unit_cost": eachColumn, "each": eachColumn,
	"least": leastColumn, "minimum_packs": leastColumn, "min_packs": leastColumn, "min_qty": leastColumn, "min_order_qty": leastColumn, "minimum_order_qty": leastColumn, "moq": leastColumn,
	"postage": "carriage", "delivery": "carriage", "delivery_cost": "carriage", "delivery_charge": "carriage", "shipping": "carriage", "p_p": "carriage", "p_and_p": "carriage", "postage_and_packing": "carriage", "postage_packing": "carriage", "carriage_charge": "carriage", "carriage_and_packing": "carriage", "postage_charge": "carriage", "shipping_charge": "carriage",
	"free_carriage_from": "free_from", "free_delivery_from": "free_from", "free_delivery_over": "free_from", "free_over": "free_from",
	"min_order": "minimum_order", "least_order": "minimum_order",
	"notes": noteColumn, "comment": noteColumn, "comments": noteColumn, "remarks": noteColumn, "code": noteColumn, "ref": noteColumn, "cat_no": noteColumn, "catalogue_no": noteColumn,
	"product_code": noteColumn, "item_code": noteColumn, "item_no": noteColumn, "link": noteColumn, "page": noteColumn, "colour": noteColumn, "date": noteColumn, "vat": noteColumn, "vat_rate": noteColumn, "vat_amount": noteColumn, "net": noteColumn, "net_total": noteColumn, "line_total": noteColumn, "line_price": noteColumn, "total": noteColumn, "total_price": noteColumn, "gross": noteColumn, "availability": noteColumn, "brand": noteColumn,
}

var (
	bracketed = pattern.Must(`^(.*?)\s*[(\[]([^()\[\]]*)[)\]]$`)
	notLetter = pattern.Must(`[^\pL\pN]+`)
	withVAT   = pattern.Must(`_?\b?(?:inc|incl|including|with|inclusive_of)_(?:vat|tax)$`)
	lessVAT   = pattern.Must(`_?\b?(?:ex|exc|excl|excluding|without|before|net_of|plus)_(?:vat|tax)$`)
	signed    = pattern.Must(`[£€$]|\b[A-Z]{3}\b`)
)

// heading is what the heading of a column says.
type heading struct {
	column string // what it stands for, known or not
	unit   string // it ends in, such as mm
	// vat is "with" or "without" where a price says so.
	vat string
	// money is the sign or the letters of a currency; may be empty.
	money string
}

// columnOf is what a heading stands for.
func columnOf(text string) heading {
	var h heading
	if m := bracketed.FindStringSubmatch(text); m != nil {
		switch word := plainHeading(m[2]); {
		case withVAT.MatchString("_" + word), lessVAT.MatchString("_" + word), word == "net", word == "gross":
			text = m[1] + " " + m[2]
		default:
			text, h.unit = m[1], m[2]
		}
	}
	if isMoney(h.unit) {
		h.money, h.unit = h.unit, ""
	}
	if m := signed.FindString(text); isMoney(m) && len(text) > len(m) {
		h.money, text = m, strings.Replace(text, m, " ", 1)
	}
	h.column = plainHeading(text)
	switch {
	case withVAT.MatchString(h.column):
		h.column, h.vat = strings.Trim(withVAT.ReplaceAllString(h.column, ""), "_"), "with"
	case lessVAT.MatchString(h.column):
		h.column, h.vat = strings.Trim(lessVAT.ReplaceAllString(h.column, ""), "_"), "without"
	default:
		h.netOrGross()
	}
	if other := alsoCalled[h.column]; other != "" {
		h.column = other
	}
	return h
}

// netOrGross reads the word for it before or behind one for a price: sums are called so too, and
// are no prices.
func (h *heading) netOrGross() {
	for _, said := range [][2]string{{"net", "without"}, {"gross", "with"}} {
		for _, rest := range []string{strings.TrimPrefix(h.column, said[0]+"_"), strings.TrimSuffix(h.column, "_"+said[0])} {
			is := cmp.Or(alsoCalled[rest], rest)
			if rest != h.column && (is == priceColumn || is == eachColumn) {
				h.column, h.vat = is, said[1]
				return
			}
		}
	}
}

// isMoney reports whether a text is a sign of money, or the letters of one of the usual
// currencies.
func isMoney(text string) bool {
	switch text {
	case "£", "€", "$", "GBP", "EUR", "USD", "AUD", "NZD", "CAD", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "JPY", "INR", "ZAR", "SGD":
		return true
	}
	return false
}

func columns() []string {
	return slices.Concat([]string{supplierColumn, offerColumn, kindColumn, partColumn, packColumn, priceColumn, eachColumn, leastColumn, currencyColumn, noteColumn}, terms, sizes)
}

// known is how many columns of a price list a row names.
func known(cells []string) int {
	n := 0
	for _, c := range cells {
		if slices.Contains(columns(), columnOf(c).column) {
			n++
		}
	}
	return n
}

// findColumns finds the row with the headings; what stands above it is a title. It is
// false if the rows under it cannot be read.
func (s *sheet) findColumns(rows []stocktake.CellRow) bool {
	at, most := -1, 1
	for i, r := range rows {
		if n := known(r.Cells); n > most {
			at, most = i, n
		}
	}
	if at < 0 {
		s.fail(cell{}, "no row of headings was found: write one above the offers, such as supplier, part, pack_size, pack_price, currency, carriage")
		return false
	}
	if at > 0 {
		first := slices.IndexFunc(rows[0].Cells, func(c string) bool { return c != "" })
		s.title = given{rows[0].Cells[first], cell{rows[0].Number, first}}
		s.section = stocktake.KindOver(rows[at-1].Cells[0])
	}
	s.headings, s.rows = rows[at].Cells, rows[at+1:]
	for i, text := range s.headings {
		s.addColumn(text, cell{rows[at].Number, i})
	}
	s.oneOfTwoPrices()
	s.quotation()
	s.lacking(rows[at].Number)
	return len(s.problems) == 0
}

// addColumn notes what one column is.
func (s *sheet) addColumn(text string, here cell) {
	h := columnOf(text)
	s.ofShop = s.ofShop || h.column == partColumn && !strings.EqualFold(strings.TrimSpace(text), partColumn)
	switch {
	case text == "":
	case !slices.Contains(columns(), h.column):
		if near := nearColumn(h.column); near != "" {
			s.fail(here, "this column is not known here, did you mean %q?", near)
		} else {
			s.note("column %s, %s, is not known here and is not read", stocktake.Letter(here.column), text)
		}
		h.column = ""
	case h.column == noteColumn:
	case slices.Contains(s.columns, h.column) && h.column == priceColumn && h.vat != s.heads[slices.Index(s.columns, h.column)].vat:
		// With VAT and without: settled when all are known.
	case slices.Contains(s.columns, h.column):
		s.fail(here, "there is a column %s already: leave one of the two out", h.column)
		h.column = ""
	}
	s.columns, s.units, s.heads = append(s.columns, h.column), append(s.units, h.unit), append(s.heads, h)
}

// oneOfTwoPrices takes the price with VAT, which is what is paid, where there are both.
func (s *sheet) oneOfTwoPrices() {
	var prices []int
	for i, c := range s.columns {
		if c == priceColumn || c == eachColumn {
			prices = append(prices, i)
		}
	}
	taken := -1
	for _, i := range prices {
		if s.heads[i].vat == "with" || taken < 0 {
			taken = i
		}
	}
	for _, i := range prices {
		if i != taken && s.columns[i] == s.columns[taken] {
			s.note("column %s, %s, is not read: the price is that in column %s, %s", stocktake.Letter(i), s.headings[i], stocktake.Letter(taken), s.headings[taken])
			s.columns[i] = ""
		}
	}
	if taken >= 0 && s.columns[taken] == priceColumn && !strings.Contains(strings.ToLower(s.headings[taken]), "pack") && slices.Contains(s.columns, packColumn) {
		s.note("column %s, %s is taken for what a pack costs, where a cell does not say each", stocktake.Letter(taken), s.headings[taken])
	}
	if taken >= 0 && s.heads[taken].vat == "with" {
		s.vat = VATIncluded
	}
	if taken >= 0 && s.heads[taken].vat == "without" {
		s.vat = VATNot
		s.note("prices are without VAT, as column %s, %s says: what is to pay comes to more", stocktake.Letter(taken), s.headings[taken])
	}
}

// lacking says which columns are missing. Those that a list of one shop leaves out are
// taken for granted, which is noted.
func (s *sheet) lacking(row int) {
	has := func(column string) bool { return slices.Contains(s.columns, column) }
	if !has(partColumn) {
		s.fail(cell{row, stocktake.Nowhere}, "there is no column %s: write it among the headings of the first row", partColumn)
	}
	if !has(priceColumn) && !has(eachColumn) {
		s.fail(cell{row, stocktake.Nowhere}, "there is no column %s: write it among the headings of the first row", priceColumn)
	}
	if i := slices.Index(s.columns, packColumn); i >= 0 && !strings.Contains(strings.ToLower(s.headings[i]), "pack") {
		s.note("column %s, %s is taken for how many are in a pack, not for how many are wanted", stocktake.Letter(i), s.headings[i])
	}
	if !has(packColumn) {
		s.note("no column says how many are in a pack: where the part does not say so, a price is that of one")
	}
	if !has(supplierColumn) {
		s.only = "the supplier"
		s.note("no column names a supplier: all is taken to come from one, called %q", s.only)
	}
	if !has(terms[0]) && !s.hasCharges() {
		s.note("no column says what carriage costs: it is left out of all sums; write it in a column %s, 0 if it is free", terms[0])
	}
}

func (s *sheet) note(format string, args ...any) {
	s.notes = append(s.notes, fmt.Sprintf(format, args...))
}
