package prices

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// A list of a shop, in its own words, has rows that no drive needs, that may mean several
// parts, or whose price is to be asked for. They are left out and said to be; a list in our
// own words, which someone wrote for us, is refused until it is put right.

// readSheet reads a price list that is a sheet.
func readSheet(name string, data []byte, cup *parts.Cupboard) (*List, error) {
	left := map[int]string{}
	var first error
	for {
		s := &sheet{name: name, cup: cup, left: left, named: map[int]string{}, terms: map[string]map[string]given{}, sizes: map[string]map[string]given{}}
		l, err := s.read(data)
		if err == nil {
			l.Notes = append(l.Notes, saidLeft(left)...)
			for _, why := range left {
				if why != noPart {
					l.Unread++
				}
			}
			return l, nil
		}
		if first == nil {
			first = err
		}
		if !s.ofShop || !s.leaveOut() {
			return nil, first
		}
	}
}

// leaveOut leaves out the rows that are wrong, each for its first mistake. It is false if
// there is none such, or if no offer would be left.
func (s *sheet) leaveOut() bool {
	had := len(s.left)
	for _, p := range s.problems {
		offered := slices.ContainsFunc(s.rows, func(r stocktake.CellRow) bool { return r.Number == p.at.row })
		if !offered || s.left[p.at.row] != "" || s.ofSupplier(p.at.column) {
			continue
		}
		text := p.text
		if i := p.at.column; i >= 0 && i < len(s.headings) {
			text = fmt.Sprintf("column %s, %s: %s", stocktake.Letter(i), s.headings[i], text)
		}
		if s.named[p.at.row] == "" {
			text = noPart
		}
		s.left[p.at.row] = text
	}
	return len(s.left) > had && slices.ContainsFunc(s.offers, func(o sheetOffer) bool { return s.left[o.at.row] == "" })
}

// ofSupplier reports whether a column says what holds of more than its row.
func (s *sheet) ofSupplier(column int) bool {
	if column < 0 || column >= len(s.columns) {
		return false
	}
	c := s.columns[column]
	return c == supplierColumn || c == currencyColumn || slices.Contains(terms, c)
}

// noPart is why most rows of a shop's list are left out; they are said together.
const noPart = "name no part that drives are made of"

// saidLeft are sentences about rows that are left out.
func saidLeft(left map[int]string) []string {
	var out, other []string
	var rows []int
	for row := range left {
		rows = append(rows, row)
	}
	slices.Sort(rows)
	for _, row := range rows {
		if left[row] == noPart {
			other = append(other, fmt.Sprint(row))
		} else {
			out = append(out, fmt.Sprintf("row %d: %s: not used", row, left[row]))
		}
	}
	switch {
	case len(other) == 1:
		out = append(out, fmt.Sprintf("row %s: names no part that drives are made of: not used", other[0]))
	case len(other) > 1:
		out = append(out, fmt.Sprintf("rows %s: %s: not used", strings.Join(other, ", "), noPart))
	}
	return out
}

// quotation takes the quantities of a quotation or an order, which has sums of its lines,
// for how many are wanted: none of them is a pack.
func (s *sheet) quotation() {
	sum := slices.IndexFunc(s.headings, func(h string) bool {
		switch plainHeading(h) {
		case "line_total", "total", "total_price", "net", "net_total", "line_price", "amount", "extended_price", "sum":
			return true
		}
		return false
	})
	at := slices.Index(s.columns, packColumn)
	if sum < 0 || at < 0 {
		return
	}
	switch plainHeading(s.headings[at]) {
	case "qty", "quantity", "no", "number", "pieces", "pcs":
		s.columns[at] = ""
		s.note("column %s, %s, is taken for how many are wanted, for column %s, %s, has sums: it is not read", stocktake.Letter(at), s.headings[at], stocktake.Letter(sum), s.headings[sum])
	}
	if s.vat == "" && slices.ContainsFunc(s.headings, func(h string) bool { return strings.HasPrefix(plainHeading(h), "net") }) {
		s.vat = VATNot
		s.note("prices are taken to be without VAT, for sums are net: what is to pay comes to more")
	}
}

// plainHeading is a heading in small letters, with _ for each run of other signs.
func plainHeading(text string) string {
	return strings.Trim(notLetter.ReplaceAllString(strings.ToLower(text), "_"), "_")
}

// sizeWords is what a column of sizes says of a part besides its name; empty if it is a
// band's trade number, which is a size by itself. A bare number of another part is a size in a
// shop's list.
func (s *sheet) sizeWords(r stocktake.CellRow) string {
	size := s.of(r, "size").value
	if !whole.MatchString(size) {
		return size
	}
	if kind := s.kindOf(r); s.ofShop && kind != "" && kind != "band" {
		return size
	}
	return ""
}

// kindOf is the kind that a row names, or the title over it; empty if neither does.
func (s *sheet) kindOf(r stocktake.CellRow) string {
	d, err := stocktake.Describe(s.of(r, kindColumn).value, s.of(r, partColumn).value, "")
	if err != nil || d.Kind == "" {
		return s.section
	}
	return d.Kind
}

// differs says why a part that is called so is not the one, if the sizes that stand beside
// its name are others.
func differs(cup *parts.Cupboard, f found, words, size string) string {
	d, err := stocktake.Describe(f.kind, "", size)
	if err != nil || d.Kind != f.kind || len(d.Keys) == 0 || has(cup, f.kind, f.name, d.Values) {
		return ""
	}
	return fmt.Sprintf("%s is %s.%s of the cupboard, which has other sizes than %s", units.Quoted(words), f.kind, f.name, units.Quoted(size))
}

// nearColumn is the column that a heading is a misspelling of; empty if there is none. A
// short word is like many.
func nearColumn(heading string) string {
	known := slices.Concat(columns(), []string{"price", "pack"})
	const short = 7
	if len(heading) <= short {
		if len(heading) < 4 {
			return ""
		}
		return tomlfile.NearestWithin(heading, known, 1)
	}
	return tomlfile.Nearest(heading, known)
}
