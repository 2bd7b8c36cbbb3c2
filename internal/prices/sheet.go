package prices

import (
	"bytes"
	"cmp"
	"fmt"
	"path"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// A price list as a sheet has a row for each offer. It is written out as the same list
// in TOML, one cell a line, and read as that: so both are refused for the same reasons,
// and what is wrong is told by row and column.

// isSheet reports whether a file is a sheet and not TOML: by its name, and otherwise by
// its first line.
func isSheet(name string, data []byte) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".csv", ".tsv", ".xlsx", ".xls", ".ods":
		return true
	case ".toml":
		return false
	}
	if isWorkbook(data) {
		return true
	}
	line, _, _ := bytes.Cut(bytes.TrimSpace(bytes.TrimPrefix(data, []byte("\ufeff"))), []byte("\n"))
	return len(line) > 0 && line[0] != '#' && line[0] != '[' && (!bytes.ContainsRune(line, '=') || bytes.HasPrefix(bytes.ToLower(line), []byte("sep=")))
}

// cell is a place in the sheet; column is stocktake.Nowhere for a whole row.
type cell struct{ row, column int }

// given is a value with the cell that gives it.
type given struct {
	value string
	at    cell
}

// sheet is a sheet being read.
type sheet struct {
	name     string
	title    given
	headings []string // as written
	columns  []string // what they are; empty for those not known
	units    []string // that a heading ends in, such as mm
	heads    []heading
	rows     []stocktake.CellRow
	only     string         // the supplier of all, where no column names them
	section  string         // the kind that a title over the rows names
	ofShop   bool           // its headings are a shop's own
	left     map[int]string // rows that are left out, and why
	named    map[int]string // what each row's part was taken for; none if it is nothing known
	notes    []string       // what was taken for granted
	cup      *parts.Cupboard

	currency  given
	vat       VAT
	suppliers []string                    // in the order of the sheet
	terms     map[string]map[string]given // of each supplier
	described []string                    // "pulley.new": parts with sizes
	sizes     map[string]map[string]given // of each of those
	offers    []sheetOffer
	above     string       // the supplier of the row above
	asides    []aside      // terms that rows left out say
	charges   []sheetTerms // rows that are carriage
	problems  []placed
}

type sheetOffer struct {
	called                                   string // its part, in the words of the sheet
	times                                    int    // so many times the price is that of a pack; 0 for once
	at                                       cell   // of its part
	name, supplier, part, pack, price, least given
}

// placed is a problem with its cell; its row is 0 if the whole sheet is meant.
type placed struct {
	at   cell
	text string
}

// read reads it, but for the rows that are left out.
func (s *sheet) read(data []byte) (*List, error) {
	rows, err := stocktake.Cells(data, known)
	switch {
	case err != nil:
		s.fail(cell{}, "%v", err)
	case s.findColumns(rows):
		for _, other := range stocktake.OtherSheets(data, known) {
			s.note("sheet %s is not read, for one sheet of a workbook is: save it as a list of its own if it is wanted", units.Quoted(other))
		}
		slipped := false
		for _, r := range s.rows {
			if s.left[r.Number] == "" && s.slipped(r) {
				slipped = true
			} else {
				s.readRow(r)
			}
		}
		if slipped { // what else is missing may stand in those rows
			return nil, s.err()
		}
		s.whole()
	}
	if len(s.offers) == 0 || len(s.problems) > tomlfile.MaxProblems {
		return nil, s.err()
	}
	text, from := s.toml()
	l, err := readDocument(s.name, text, s.cup)
	if problems, is := err.(tomlfile.Problems); is {
		for _, p := range problems {
			s.fail(s.placeOf(p, from), "%s", inSheet(p))
		}
	}
	if err := s.err(); err != nil {
		return nil, err
	}
	if l.Notes = s.notes; s.vat != "" {
		l.VAT = s.vat
	}
	return l, nil
}

func (s *sheet) fail(at cell, format string, args ...any) {
	s.problems = append(s.problems, placed{at, fmt.Sprintf(format, args...)})
}

// err is what is wrong, or nil.
func (s *sheet) err() error {
	if len(s.problems) == 0 {
		return nil
	}
	slices.SortStableFunc(s.problems, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.at.row, b.at.row), cmp.Compare(a.at.column, b.at.column))
	})
	var out tomlfile.Problems
	for i, p := range s.problems {
		if i == tomlfile.MaxProblems {
			return append(out, tomlfile.Problem{File: s.name, Text: fmt.Sprintf("there are %d problems more", len(s.problems)-i)})
		}
		where := tomlfile.Problem{File: s.name, Text: p.text}
		if p.at.row > 0 {
			where.Cell = fmt.Sprintf("row %d", p.at.row)
		}
		if p.at.row > 0 && p.at.column >= 0 {
			where.Cell += ", column " + stocktake.Letter(p.at.column)
			if p.at.column < len(s.headings) {
				where.Key = s.headings[p.at.column]
			}
		}
		out = append(out, where)
	}
	return out
}

// of is what a row says under a column.
func (s *sheet) of(r stocktake.CellRow, column string) given {
	i := slices.Index(s.columns, column)
	at := cell{r.Number, i}
	if i < 0 {
		return given{"", cell{r.Number, stocktake.Nowhere}}
	}
	if i >= len(r.Cells) {
		return given{"", at}
	}
	text := r.Cells[i]
	if column != supplierColumn && column != partColumn && column != offerColumn {
		text = decimalComma.ReplaceAllString(text, "$1.$2$3")
	}
	if unit := s.units[i]; unit != "" && slices.Contains(sizes, column) && bareNumber.MatchString(text) {
		text += " " + unit
	}
	return given{text, at}
}

// bare reports whether a row says nothing of an offer: a title, the headings again, a total.
// The kind that a title names is that of the rows below it.
func (s *sheet) bare(r stocktake.CellRow) bool {
	var said []string
	for _, c := range r.Cells {
		if c != "" {
			said = append(said, c)
		}
	}
	if slices.Equal(r.Cells, s.headings) || stocktake.IsTotal(said[0]) {
		return true
	}
	if kind := stocktake.KindOver(said[0]); len(said) == 1 && kind != "" && !strings.ContainsAny(said[0], "0123456789") {
		s.section = kind
		return true
	}
	return false
}

// slipped reports whether a comma in a name has moved what is behind it one cell on, and says so.
func (s *sheet) slipped(r stocktake.CellRow) bool {
	at := s.slippedAt(r)
	if at < 0 {
		return false
	}
	s.named[r.Number] = r.Cells[at]
	s.fail(cell{r.Number, at}, `found %s where it cannot stand: a name or a price with a comma in it must be in quote marks, such as "large, red"; for anything else write a heading above it, or leave it out`, units.Quoted(r.Cells[at]))
	return true
}

// slippedAt is the cell to which a comma has moved what stands there, or -1.
func (s *sheet) slippedAt(r stocktake.CellRow) int {
	at := -1
	if !r.Commas {
		return at
	}
	if i := slices.Index(s.columns, kindColumn); i > 0 && i+1 < len(r.Cells) && stocktake.KindOver(r.Cells[i]) == "" && slices.Contains(Kinds(), r.Cells[i+1]) {
		at = i
	}
	for i := len(s.headings); i < len(r.Cells) && at < 0; i++ {
		if r.Cells[i] != "" {
			at = i
		}
	}
	return at
}

// readRow reads what one row says.
func (s *sheet) readRow(r stocktake.CellRow) {
	switch {
	case s.left[r.Number] != "":
		s.readAside(r)
		return
	case s.bare(r):
		return
	case s.isCarriage(r):
		s.readCharge(r)
		return
	}
	for i, c := range r.Cells {
		if c != "" && (i >= len(s.headings) || s.headings[i] == "") {
			s.fail(cell{r.Number, i}, "found %s under no heading: write one above it, or leave it out", units.Quoted(c))
		}
	}
	supplier := s.supplier(r)
	if supplier.value == "" {
		s.fail(supplier.at, "write which supplier it is")
		return
	}
	supplier.value = s.readTerms(r, supplier)
	s.above = supplier.value
	if c := s.of(r, currencyColumn); c.value != "" {
		switch {
		case s.currency.value == "":
			s.currency = c
		case s.currency.value != c.value:
			s.fail(c.at, "found %s in a list whose currency is %s (row %d): a list has one currency", units.Quoted(c.value), s.currency.value, s.currency.at.row)
		}
	}
	o := sheetOffer{name: s.of(r, offerColumn), supplier: supplier, part: s.of(r, partColumn), pack: s.of(r, packColumn), least: s.of(r, leastColumn)}
	if o.part.value == "" {
		if o.pack.value+s.of(r, priceColumn).value+s.of(r, eachColumn).value+o.least.value+o.name.value != "" {
			s.fail(o.part.at, "which part is it? write a name of the cupboard, such as axle-40")
		}
		return // a row that only has the terms of a supplier
	}
	o.at, o.called = o.part.at, o.part.value
	said := s.findPart(r, &o)
	s.pricing(r, &o, said)
	s.describe(r, o.part)
	s.offers = append(s.offers, o)
}

// supplier is who sells what a row offers: the one above, where cells were merged.
func (s *sheet) supplier(r stocktake.CellRow) given {
	supplier := s.of(r, supplierColumn)
	switch {
	case s.only != "":
		supplier.value = s.only
	case supplier.value == "" && s.above != "" && s.of(r, partColumn).value != "":
		supplier.value = s.above
		s.note("row %d: no supplier: taken to be %s, as in the row above", r.Number, supplier.value)
	}
	return supplier
}

// readTerms is the supplier's name as it stands first in the sheet, capital letters
// being no matter, and notes what the row says about it.
func (s *sheet) readTerms(r stocktake.CellRow, from given) string {
	supplier := from.value
	i := slices.IndexFunc(s.suppliers, func(other string) bool { return strings.EqualFold(other, supplier) })
	if i < 0 {
		s.suppliers = append(s.suppliers, supplier)
		s.terms[supplier] = map[string]given{supplierColumn: from}
	} else {
		supplier = s.suppliers[i]
	}
	for _, term := range terms {
		now := s.of(r, term)
		if now.value == "" {
			continue
		}
		if before, is := s.terms[supplier][term]; is && before.value != now.value {
			s.fail(now.at, "found %s, but row %d has %s for %s: a supplier has one %[5]s: write the same in all its rows", units.Quoted(now.value), before.at.row, units.Quoted(before.value), units.Quoted(supplier), term)
			continue
		}
		if _, is := s.terms[supplier][term]; !is {
			s.terms[supplier][term] = now
		}
	}
	return supplier
}

// needWhole refuses what is no whole number, and takes 1 for it.
func (s *sheet) needWhole(g *given, must bool, hint string) {
	switch {
	case g.value == "" && !must:
		return
	case g.value == "":
		s.fail(g.at, "%s", hint)
	case !whole.MatchString(g.value):
		s.fail(g.at, "found %s, a whole number is needed: %s", units.Quoted(g.value), hint)
	default:
		return
	}
	g.value = "1"
}

// describe notes the sizes that a row gives for its part.
func (s *sheet) describe(r stocktake.CellRow, part given) {
	kind, _, _ := strings.Cut(part.value, ".")
	if !slices.Contains(Kinds(), kind) {
		return // refused as an offer
	}
	for _, size := range sizes {
		now := s.of(r, size)
		if now.value == "" || size == "size" && s.sizeWords(r) != "" {
			continue
		}
		if s.sizes[part.value] == nil {
			s.sizes[part.value] = map[string]given{partColumn: part}
			s.described = append(s.described, part.value)
		}
		if before, is := s.sizes[part.value][size]; is && before.value != now.value {
			s.fail(now.at, "found %s, but row %d has %s for the same part: write the same in both", units.Quoted(now.value), before.at.row, units.Quoted(before.value))
		} else if !is {
			s.sizes[part.value][size] = now
		}
	}
}

// whole checks what no row can be asked for.
func (s *sheet) whole() {
	if len(s.offers) == 0 && len(s.problems) == 0 {
		s.fail(cell{}, "there is no offer: a row for each, with a part and what a pack costs, is needed")
	}
	if len(s.offers) > MostOffers {
		s.fail(cell{}, "there are %d offers, the most is %d", len(s.offers), MostOffers)
	}
	if s.currency.value == "" {
		s.currency = s.moneySeen()
	}
	switch {
	case s.currency.value != "" || len(s.rows) == 0:
	case !slices.Contains(s.columns, currencyColumn):
		s.currency = given{"GBP", cell{}}
		s.note("nothing says what money it is: taken as GBP")
	default:
		s.fail(cell{s.rows[0].Number, slices.Index(s.columns, currencyColumn)}, "the currency is missing: write for example GBP in the first row")
	}
	s.settleTerms()
	for _, name := range s.suppliers {
		if _, is := s.terms[name][terms[0]]; is {
			continue
		}
		if !slices.Contains(s.columns, terms[0]) {
			s.terms[name][terms[0]] = given{"0", cell{}}
			if s.hasCharges() {
				s.note("no row says what carriage %s asks: it is left out of all sums", units.Quoted(name))
			}
			continue
		}
		others := slices.DeleteFunc(slices.Clone(s.suppliers), func(n string) bool { _, is := s.terms[n][terms[0]]; return !is })
		hint := ""
		if near := tomlfile.Nearest(name, others); near != "" {
			hint = fmt.Sprintf(", or did you mean %q?", near)
		}
		s.fail(s.terms[name][supplierColumn].at, "no row says what carriage %s asks: write it in one of its rows, 0 if it is free%s", units.Quoted(name), hint)
	}
	s.nameOffers()
}

// nameOffers names the offers that the sheet does not: by their parts, and by their rows
// where there are several of one part.
func (s *sheet) nameOffers() {
	of := map[string]int{}
	for _, o := range s.offers {
		of[o.part.value]++
	}
	rows := map[string]int{}
	for i := range s.offers {
		o := &s.offers[i]
		if o.name.value == "" {
			o.name = given{strings.Replace(o.part.value, ".", " ", 1), o.at}
			if of[o.part.value] > 1 {
				o.name.value += fmt.Sprintf(", row %d", o.at.row)
			}
		}
		if row, is := rows[o.name.value]; is {
			s.fail(o.name.at, "row %d has an offer named %s already: give each a name of its own", row, units.Quoted(o.name.value))
			o.name.value += fmt.Sprintf(", row %d", o.at.row)
		}
		rows[o.name.value] = o.at.row
	}
}
