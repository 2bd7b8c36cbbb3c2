package stocktake

import (
	"errors"
	"fmt"
	"strings"

	"findrive/internal/units"
)

// findTables finds the rows of headings of a stock list, each of which begins a new
// table, and settles what their columns are.
func findTables(g *grid, opt Options) ([]*heading, error) {
	var found []*heading
	seen := 0
	for i := range g.rows {
		r := &g.rows[i]
		if r.blank() || r.separator {
			continue
		}
		if seen++; len(found) == 0 && seen > looked {
			break
		}
		if !isHeading(r.cells, len(found) == 0) || len(found) > 0 && sameCells(r.cells, g.rows[found[len(found)-1].at].cells) {
			continue
		}
		h := &heading{at: i, units: -1, end: len(g.rows)}
		for _, cell := range r.cells {
			h.list = append(h.list, columnOf(cell, stockWords))
		}
		if len(found) > 0 {
			last := found[len(found)-1]
			if last.end = i; last.at == i-1 { // headings of two rows
				h.under(last)
				found = found[:len(found)-1]
			}
		}
		found = append(found, h)
	}
	if len(found) == 0 {
		h, err := findHeading(g, stockWords)
		if err != nil {
			return nil, err
		}
		h.unsettle()
		found = append(found, h)
	}
	from := 0
	for _, h := range found {
		h.findUnits(g)
		h.insideIsID()
		h.unnamed(g)
		h.typesAreNames(g)
		h.namesByKinds(g)
		h.titles(g, from)
		from = h.at + 1
		h.kindsOver()
		h.settle()
		h.findWidth(g)
		h.findCounts(g, opt)
		h.askSizes()
	}
	return found, nil
}

// under reads headings of which the row above has a word for several: Stock over Sept and
// July.
func (h *heading) under(above *heading) {
	over := ""
	for i := range h.list {
		if i < len(above.list) && above.list[i].heading != "" {
			over = above.list[i].heading
		}
		if c := h.list[i]; c.field == "" && over != "" && c.heading != "" {
			if both := columnOf(over+" "+c.heading, stockWords); both.field != "" {
				h.list[i] = both
			}
		}
	}
}

// mayBeData are headings that stand in rows of stock as well: a long shaft in a box.
var mayBeData = map[string]bool{"long": true, "wide": true, "thick": true, "flat": true, "ok": true, "good": true, "working": true, "each": true, "shaft": true, "spindle": true, "hole": true, "cells": true, "batteries": true,
	"pieces": true, "stock": true, "have": true, "no": true, "number": true, "total": true, "left": true, "boxes": true, "bags": true, "packets": true, "packs": true}

// isHeading reports whether a row names columns and holds no figures: at least two that
// are known, one of them of more than names and places; below the first headings one that
// is no word for stock as well, or four that are all known.
func isHeading(cells []string, first bool) bool {
	said, all, telling := 0, 0, false
	if onlyUnits(cells) {
		return false
	}
	for _, c := range cells {
		if c == "" {
			continue
		}
		said++
		if isFigure(c) || strings.HasPrefix(c, "-") || strings.HasPrefix(c, "£") {
			return false
		}
		f, _, _ := lookUp(c, stockWords)
		if f != "" {
			all++
		}
		if !first && mayBeData[plainWords(c)] {
			continue
		}
		telling = telling || f == countField || f == goodField || f == packsField || f != "" && isSize(f)
	}
	known := knownIn(cells, stockWords)
	const enough = 4
	telling = telling || all == said && all >= enough
	return telling && known >= 2 && 2*all >= said
}

// onlyUnits reports whether a row has units of columns and nothing else.
func onlyUnits(cells []string) bool {
	for _, c := range cells {
		if _, is := unitWord(c); c != "" && !is {
			return false
		}
	}
	return true
}

func sameCells(a, b []string) bool {
	return strings.EqualFold(strings.Join(a, "\x00"), strings.Join(b, "\x00"))
}

// unsettle undoes settle, so that it can be done again when more is known.
func (h *heading) unsettle() {
	for i := range h.list {
		if h.list[i].rival {
			h.list[i].rival, h.list[i].note = false, ""
		}
	}
}

// titles looks for the kind of a table in the rows of one cell above it, the nearest
// first, down to the row from.
func (h *heading) titles(g *grid, from int) {
	for i := h.at - 1; i >= from; i-- {
		r := &g.rows[i]
		if r.blank() || r.separator {
			continue
		}
		said := saidIn(r.cells)
		if len(said) != 1 {
			return
		}
		if h.title == "" {
			h.title = said[0]
		}
		n := kindOver(said[0])
		if n.away && h.away == "" {
			h.away = said[0]
		}
		if !n.none() && h.above == nil {
			h.above = &n
		}
	}
}

// saidIn are the cells that say something.
func saidIn(cells []string) []string {
	var out []string
	for _, c := range cells {
		if c != "" {
			out = append(out, c)
		}
	}
	return out
}

// insideIsID takes ID for the inside diameter where another column is the outside; elsewhere
// it is as likely the number of the item.
func (h *heading) insideIsID() {
	for i, c := range h.list {
		if plain, unit := bareHeading(plainWords(c.heading)); plain == "id" && c.field == "" && (h.column(outsideField) >= 0 || h.column(outerField) >= 0) {
			h.list[i].field, h.list[i].unit, h.list[i].note = innerField, unit, "beside an outside diameter: taken for the inside one"
		}
	}
}

// unnamed takes a first column without a heading for the names.
func (h *heading) unnamed(g *grid) {
	if h.list[0].heading != "" || h.column(labelField) >= 0 {
		return
	}
	for i := h.at + 1; i < h.end; i++ {
		if c := g.rows[i].cells; len(c) > 1 && c[0] != "" && !isFigure(c[0]) {
			h.list[0].field, h.list[0].note = labelField, "no heading: taken for the names"
			return
		}
	}
}

// typesAreNames takes a column headed type, or the like, for the names where no column
// has them and nothing in it is a kind: under the title Motors, hobby and geared are.
func (h *heading) typesAreNames(g *grid) {
	at := h.column(kindField)
	if at < 0 || h.column(labelField) >= 0 {
		return
	}
	for i := h.at + 1; i < h.end; i++ {
		if c := g.rows[i].cells; at < len(c) && c[at] != "" && len(saidIn(c)) > 1 { // no title
			if n := kindIn(c[at]); n.kind != "" || n.other {
				return
			}
		}
	}
	h.list[at].field, h.list[at].note = labelField, "nothing in it is a kind: taken for the names"
}

// kindsOver takes a heading that is a kind, such as Pulley, for the names of parts of it,
// where no other column has their names or kinds. Two such headings are two tables side
// by side.
func (h *heading) kindsOver() {
	if h.column(kindField) >= 0 || h.column(labelField) >= 0 {
		return
	}
	var at []int
	for i, c := range h.list {
		if c.field == "" && c.heading != "" {
			if n := kindIn(c.heading); n.kind != "" && !n.loosely {
				at = append(at, i)
			}
		}
	}
	if len(at) == 1 {
		n := kindIn(h.list[at[0]].heading)
		c := &h.list[at[0]]
		c.field, c.note = labelField, "each row is of this kind"
		h.above = &n
	}
}

// namesByKinds takes a column whose heading is not known for the names, where no column has
// names or kinds: the one of which most cells name a kind.
func (h *heading) namesByKinds(g *grid) {
	if h.column(kindField) >= 0 || h.column(labelField) >= 0 {
		return
	}
	best, most := Nowhere, 0
	for k, c := range h.list {
		if c.field != "" || c.heading == "" {
			continue
		}
		named, said := 0, 0
		for i := h.at + 1; i < h.end; i++ {
			if row := g.rows[i].cells; k < len(row) && row[k] != "" && len(saidIn(row)) > 1 {
				said++
				if kindIn(row[k]).kind != "" {
					named++
				}
			}
		}
		if 2*named > said && named > most {
			best, most = k, named
		}
	}
	if best >= 0 {
		h.list[best].field, h.list[best].note = labelField, "taken for the names, for most of them name a part"
	}
}

// findWidth finds how many cells most rows of a table have in the file.
func (h *heading) findWidth(g *grid) {
	often := map[int]int{}
	for i := h.at; i < h.end; i++ {
		if w := g.rows[i].width; w > 0 {
			often[w]++
			if often[w] > often[h.width] || often[w] == often[h.width] && w < h.width {
				h.width = w
			}
		}
	}
}

// askSizes asks about headings that are one letter off a size.
func (h *heading) askSizes() {
	for i, c := range h.list {
		if strings.Contains(c.note, "if that is meant") {
			h.asks = append(h.asks, fmt.Sprintf("What is column %s, %s? %s.", Letter(i), c.heading, units.Capital(c.note)))
		}
	}
}

// shifted says why a row of a text seems to have been pushed to the right, and the
// column that shows it; the reason is empty if it does not.
func (h *heading) shifted(g *grid, r *gridRow) (column int, why string) {
	if g.workbook {
		return Nowhere, ""
	}
	cause := "put it under a heading, or take it out"
	if g.comma == ',' {
		cause = "a decimal comma without quote marks (write \"4,9\" or 4.9) is the usual reason"
	}
	named := len(h.list)
	for named > 0 && h.list[named-1].heading == "" {
		named--
	}
	for i := named; i < len(r.cells); i++ {
		if r.cells[i] != "" {
			return i, fmt.Sprintf("%q stands beyond the headings: %s", cut(r.cells[i], 40), cause)
		}
	}
	if g.comma != ',' {
		return Nowhere, ""
	}
	if w := g.rows[h.at].width; r.width > w && h.width == w {
		return Nowhere, fmt.Sprintf("it has %d cells and the headings %d: %s", r.width, w, cause)
	}
	for i, c := range r.cells {
		switch {
		case !isBare(c):
		case h.list[i].field == unusedField && isRemark(h.list[i].heading):
			return i, fmt.Sprintf("a bare %s as a note: %s", c, cause)
		case h.list[i].field == locationField && h.placesAreWords(g, i):
			return i, fmt.Sprintf("%s is no place like those of the other rows: %s", c, cause)
		}
	}
	return Nowhere, ""
}

// isBare reports whether a cell is a figure and nothing else.
func isBare(cell string) bool { return cell != "" && strings.Trim(cell, "0123456789.") == "" }

func isRemark(heading string) bool {
	switch plainWords(heading) {
	case "notes", "note", "comments", "comment", "remarks":
		return true
	}
	return false
}

// placesAreWords reports whether most places of a table are words and not figures.
func (h *heading) placesAreWords(g *grid, column int) bool {
	words, figures := 0, 0
	for i := h.at + 1; i < h.end; i++ {
		if c := g.rows[i].cells; column < len(c) && c[column] != "" {
			if isBare(c[column]) {
				figures++
			} else {
				words++
			}
		}
	}
	return words > figures
}

// priceList reports whether a list is one of prices and not of stock.
func priceList(tables []*heading) error {
	for _, h := range tables {
		if h.column(countField) >= 0 || h.column(goodField) >= 0 || h.column(packsField) >= 0 {
			return nil
		}
	}
	for _, h := range tables {
		supplier, price := false, h.column(priceField) >= 0
		for _, c := range h.list {
			plain := plainWords(c.heading)
			supplier = supplier || strings.HasPrefix(plain, "supplier")
			price = price || strings.Contains(plain, "price")
		}
		if supplier && price {
			return errors.New("this is a price list, for no column says how many there are: it goes to findrive shop, with -p")
		}
	}
	return nil
}
