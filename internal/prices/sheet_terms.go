package prices

import (
	"slices"
	"strings"

	"findrive/internal/stocktake"
	"findrive/internal/units"
)

// What a supplier asks for is mostly in columns, and is read with the rows. Some lists have a row
// for it, as a shop's bill has; and a row of which nothing is offered may still say it.

// aside is what a row that is left out says of its supplier.
type aside struct {
	supplier, term string
	said           given
}

// sheetTerms is a row that is carriage, and no part.
type sheetTerms struct {
	supplier string // may be empty
	price    given
}

// isCarriage reports whether what a row offers is carriage.
func (s *sheet) isCarriage(r stocktake.CellRow) bool {
	part := s.of(r, partColumn).value
	return part != "" && columnOf(part).column == terms[0]
}

// hasCharges reports whether rows of carriage are used.
func (s *sheet) hasCharges() bool {
	return slices.ContainsFunc(s.rows, func(r stocktake.CellRow) bool { return s.left[r.Number] == "" && s.isCarriage(r) })
}

// readCharge notes what a row of carriage says.
func (s *sheet) readCharge(r stocktake.CellRow) {
	price := s.of(r, priceColumn)
	if price.value == "" {
		price = s.of(r, eachColumn)
	}
	s.named[r.Number] = terms[0]
	switch amount := readPrice(price.value).amount; {
	case amount == "":
		s.fail(s.of(r, partColumn).at, "what it costs is not said: write it, 0 if it is free")
		return
	case strings.EqualFold(amount, "free"):
		price.value = "0"
	default:
		price.value = amount
	}
	supplier := s.of(r, supplierColumn).value
	if s.only != "" {
		supplier = s.only
	}
	s.charges = append(s.charges, sheetTerms{supplier, price})
}

// readAside notes what a row that is left out says of its supplier: that holds of its other rows.
func (s *sheet) readAside(r stocktake.CellRow) {
	supplier := s.of(r, supplierColumn).value
	if supplier == "" {
		supplier = s.above
	}
	if s.only != "" {
		supplier = s.only
	}
	if supplier == "" || s.slippedAt(r) >= 0 {
		return
	}
	s.above = supplier
	for _, term := range terms {
		if said := s.of(r, term); said.value != "" {
			s.asides = append(s.asides, aside{supplier, term, said})
		}
	}
}

// settleTerms gives suppliers what rows that are left out and rows of carriage say of them, where
// nothing else does.
func (s *sheet) settleTerms() {
	called := func(name string) string {
		if i := slices.IndexFunc(s.suppliers, func(other string) bool { return strings.EqualFold(other, name) }); i >= 0 {
			return s.suppliers[i]
		}
		return ""
	}
	for _, a := range s.asides {
		if name := called(a.supplier); name != "" && s.terms[name][a.term].value == "" {
			s.terms[name][a.term] = a.said
		}
	}
	for _, c := range s.charges {
		name := called(c.supplier)
		if c.supplier == "" && len(s.suppliers) == 1 {
			name = s.suppliers[0]
		}
		before, said := s.terms[name][terms[0]]
		switch {
		case c.supplier == "" && name == "":
			s.fail(cell{c.price.at.row, stocktake.Nowhere}, "which supplier asks for this carriage? write it in the row")
		case name == "":
			s.note("row %d: carriage of %s, of whom nothing is offered: not used", c.price.at.row, units.Quoted(c.supplier))
		case said:
			s.note("row %d: carriage of %s: not used, for row %d has %s", c.price.at.row, c.price.value, before.at.row, before.value)
		default:
			s.terms[name][terms[0]] = c.price
			s.note("row %d: %s is taken for the carriage of an order from %s", c.price.at.row, c.price.value, units.Quoted(name))
		}
	}
}
