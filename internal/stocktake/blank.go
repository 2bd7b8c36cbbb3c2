package stocktake

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// CountRow is one part to be counted.
type CountRow struct {
	Where, Kind, Name, Size string
	Last                    int // the count of last time
}

// CountRows are the parts of a cupboard in the order in which they are found there: by
// place, those without one last; then by kind and name.
func CountRows(cup *parts.Cupboard) []CountRow {
	var out []CountRow
	cup.Recounted(func(kind string, it *parts.Item) int {
		out = append(out, CountRow{Where: it.Location, Kind: kind, Name: it.Name, Size: sizeIn(cup, kind, it.Name), Last: it.Count})
		return it.Count
	})
	slices.SortStableFunc(out, func(a, b CountRow) int {
		if (a.Where == "") != (b.Where == "") {
			return cmp.Compare(b.Where, a.Where)
		}
		return cmp.Compare(a.Where, b.Where)
	})
	return out
}

// sizeIn says by its sizes which part it is.
func sizeIn(cup *parts.Cupboard, kind, name string) string {
	mm := func(v units.Millimetres) string { return units.Decimals(float64(v), 2) }
	switch kind {
	case "pulley":
		return sizeOfNamed(cup.Pulleys, name, func(p *parts.Pulley) (string, string) {
			return p.Name, fmt.Sprintf("%s mm across, bore %s mm", mm(p.Outside), mm(p.Bore))
		})
	case "band":
		return sizeOfNamed(cup.Bands, name, func(b *parts.Band) (string, string) {
			return b.Name, fmt.Sprintf("%s × %s mm flat", mm(b.FlatLength), mm(b.Width))
		})
	case "motor":
		return sizeOfNamed(cup.Motors, name, func(m *parts.Motor) (string, string) {
			return m.Name, fmt.Sprintf("%s V", units.Decimals(float64(m.Rated), 2))
		})
	case "cells":
		return sizeOfNamed(cup.Holders, name, func(h *parts.CellHolder) (string, string) {
			return h.Name, fmt.Sprintf("for %d, %s", h.Cells, h.Chemistry)
		})
	case "axle":
		return sizeOfNamed(cup.Axles, name, func(a *parts.AxleStock) (string, string) {
			return a.Name, fmt.Sprintf("%s mm, rods of %s mm", mm(a.Diameter), mm(a.Length))
		})
	case "sleeve":
		return sizeOfNamed(cup.Sleeves, name, func(s *parts.Sleeve) (string, string) {
			return s.Name, fmt.Sprintf("%s mm inside, %s mm outside", mm(s.Inner), mm(s.Outer))
		})
	case "spacer":
		return sizeOfNamed(cup.Spacers, name, func(s *parts.Spacer) (string, string) {
			return s.Name, fmt.Sprintf("bore %s mm, %s mm thick", mm(s.Bore), mm(s.Thickness))
		})
	case "wheel":
		return sizeOfNamed(cup.Wheels, name, func(w *parts.Wheel) (string, string) {
			return w.Name, fmt.Sprintf("%s mm across, bore %s mm", mm(w.Diameter), mm(w.Bore))
		})
	case "drum":
		return sizeOfNamed(cup.Drums, name, func(d *parts.Drum) (string, string) {
			return d.Name, fmt.Sprintf("%s mm across, bore %s mm", mm(d.Diameter), mm(d.Bore))
		})
	case "block":
		return sizeOfNamed(cup.Blocks, name, func(b *parts.Block) (string, string) {
			return b.Name, fmt.Sprintf("sheaves: %d of %s mm", b.Sheaves, mm(b.Outside))
		})
	case "sheet":
		return sizeOfNamed(cup.Sheets, name, func(s *parts.SheetStock) (string, string) {
			return s.Name, fmt.Sprintf("%s, %s mm, %s x %s mm", s.Kind, mm(s.Thickness), mm(s.Length), mm(s.Width))
		})
	case "cord":
		return sizeOfNamed(cup.Cords, name, func(c *parts.Cord) (string, string) {
			return c.Name, fmt.Sprintf("%s mm, %s m long", mm(c.Diameter), units.Decimals(float64(c.Length)/1000, 2))
		})
	}
	return ""
}

// sizeOfNamed is what say tells of the part of that name, after its name; empty if there is
// none.
func sizeOfNamed[P any](list []P, name string, say func(*P) (string, string)) string {
	for i := range list {
		if n, size := say(&list[i]); n == name {
			return size
		}
	}
	return ""
}

// blankRows are how many rows a sheet for a cupboard that is not known has for each
// kind, and which of its sizes there are columns for.
var blankRows = []struct {
	Kind    string
	Rows    int
	Columns []field
}{
	{"pulley", 10, []field{outsideField, floorField, boreField}},
	{"band", 6, []field{numberField, flatField, widthField}},
	{"motor", 2, []field{voltsField, freeField}},
	{"cells", 3, []field{cellsField, chemField}},
	{"axle", 4, []field{diameterField, lengthField}},
	{"wheel", 2, []field{diameterField, boreField}},
	{"sleeve", 2, []field{innerField, outerField}},
	{"spacer", 2, []field{boreField, outsideField, thickField}},
}

// BlankKind is a kind of part on a blank sheet: a table of its own on paper.
type BlankKind struct {
	Kind    string
	Rows    int
	Columns []string // what to measure, in words with the unit
}

// BlankKinds are the tables of a blank sheet.
func BlankKinds() []BlankKind {
	var out []BlankKind
	for _, b := range blankRows {
		k := BlankKind{Kind: b.Kind, Rows: b.Rows}
		for _, f := range b.Columns {
			k.Columns = append(k.Columns, f.measured())
		}
		out = append(out, k)
	}
	return out
}

// measured is a field with the unit in which it is measured. Read knows these words.
func (f field) measured() string {
	switch f {
	case voltsField:
		return "volts"
	case freeField:
		return "free speed rpm"
	case numberField, cellsField, chemField:
		return f.words()
	}
	return f.words() + " mm"
}

// CountCSV writes a count sheet for a spreadsheet: that of a cupboard, to be filled in
// and given to Back; or, without one, a blank one, to be filled in and given to Read.
// It begins with a byte order mark, which office programs need. The error is from w.
func CountCSV(w io.Writer, cup *parts.Cupboard) error {
	if _, err := io.WriteString(w, "\ufeff"); err != nil {
		return err
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	var rows [][]string
	if cup != nil {
		rows = append(rows, []string{"where", "kind", "part", "size", "last time", "count", "of these damaged", "notes"})
		for _, c := range CountRows(cup) {
			rows = append(rows, []string{inSheet(c.Where), c.Kind, inSheet(c.Name), c.Size, fmt.Sprint(c.Last), "", "", ""})
		}
		return out.WriteAll(rows)
	}
	var columns []field
	for _, b := range blankRows {
		for _, f := range b.Columns {
			if !slices.Contains(columns, f) {
				columns = append(columns, f)
			}
		}
	}
	head := []string{"kind", "name"}
	for _, f := range columns {
		head = append(head, f.measured())
	}
	rows = append(rows, append(head, "count", "damaged", "where", "notes"))
	for _, b := range blankRows {
		for range b.Rows {
			rows = append(rows, append([]string{b.Kind}, make([]string, len(rows[0])-1)...))
		}
	}
	return out.WriteAll(rows)
}

// inSheet keeps a spreadsheet from running words as a formula: an apostrophe goes in
// front of what begins like one (common practice). Reading takes it off again.
func inSheet(words string) string {
	if words != "" && (words[0] == '=' || words[0] == '+' || words[0] == '-' || words[0] == '@') {
		return "'" + words
	}
	return words
}
