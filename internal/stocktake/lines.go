package stocktake

import (
	"strings"

	"findrive/internal/pattern"
)

// A list without columns has a part on each line, as people type one into a telephone: "12 x 40mm
// pulleys, 4mm hole", "dowel 5mm x 300mm (30)". It is read as if how many there are stood in a
// column of its own.

var (
	// lineBegins is how many there are before a thing, and lineEnds behind it.
	lineBegins = pattern.Must(`(?i)^(\d{1,4})(?:\s*[x×]\s*|\s+(?:off|of|nr\.?|pcs|pieces)\s+|\s+)(\S.*)$`)
	lineEnds   = pattern.Must(`(?i)^(.*?\S)(?:\s*[,;:=\t]\s*|\s+[-–—]\s+|\s*\(\s*[x×]?\s*|\s+[x×]\s*)(\d{1,4})\s*(?:off|pcs|pieces)?\s*\)?$`)
	bullet     = pattern.Must(`^[-*•]\s*`)
	// unitFirst is a unit of the number before it, so that this is no number of pieces.
	unitFirst = pattern.Must(`(?i)^(?:mm|cm|m|in|inch(?:es)?|"|v|volts?|rpm|aaa?|cells?|rev|teeth|tooth|ohms?|ma|amps?|a)\b`)
	byCross   = pattern.Must(`(?i)^\s*[x×]`)
	endsInAny = pattern.Must(`(?i)(?:\d|mm|cm|\bm|"|in|inch)$`)
)

// inLines is a text that has no headings as a list of one part on each line; nil if most lines do
// not name a part, and a figure with it, or have as many columns as each other.
func (columns *grid) inLines(data []byte) *grid {
	wide, rows := map[int]int{}, saidRows(columns)
	for i := range columns.rows {
		cells := columns.rows[i].cells
		if n := len(cells); n > 2 || n == 2 && (isBare(cells[0]) || isBare(cells[1])) {
			if wide[n]++; 2*wide[n] > rows {
				return nil // of which it can be asked what they are
			}
		}
	}
	text, how, err := decode(data)
	if err != nil {
		return nil
	}
	g := &grid{lines: true}
	if how != "" {
		g.how = append(g.how, how)
	}
	g.how = append(g.how, "no columns: each line read as one part, with how many at its beginning or end")
	said, named := 0, 0
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) > MaxRows {
		return nil
	}
	for i, line := range lines {
		r := gridRow{first: i + 1, last: i + 1}
		if line = bullet.ReplaceAllString(strings.TrimSpace(line), ""); line != "" {
			var count string
			said++
			if kindIn(line).kind != "" && hasFigure.MatchString(line) {
				named++
			}
			if line, count, r.note = countOnLine(line); len(line) > MaxCell {
				return nil
			}
			r.cells, r.width = []string{line, count}, 2
		}
		g.add(r)
	}
	if 2*named <= said {
		return nil
	}
	// Three headings, so that a line alone may be a title.
	g.rows = append([]gridRow{{cells: []string{AskedItem, AskedCount, AskedNone}, width: 3}}, g.rows...)
	return g
}

// withoutColumns takes the headings that were put over lines out of the rows, and the columns out
// of what is said of them.
func (t *taking) withoutColumns() {
	t.rows = t.rows[1:]
	for i := range t.entries {
		t.entries[i].at.Row--
	}
	for i := range t.rows {
		for k := range t.rows[i].Remarks {
			t.rows[i].Remarks[k].Column = Nowhere
		}
	}
}

// countOnLine is a line without how many there are, that number, and what was taken for it; the
// last two are empty if that is not plain.
func countOnLine(line string) (thing, count, note string) {
	begins, ends := lineBegins.FindStringSubmatch(line), lineEnds.FindStringSubmatch(line)
	if begins != nil && !countsBefore(begins[2]) {
		begins = nil
	}
	if ends != nil && byCross.MatchString(strings.TrimPrefix(line, ends[1])) && endsInAny.MatchString(ends[1]) {
		ends = nil // 5mm x 300
	}
	switch {
	case begins != nil && ends == nil:
		return strings.ReplaceAll(begins[2], "\t", ", "), begins[1], `"` + begins[1] + `" at its beginning taken for how many`
	case ends != nil && begins == nil:
		return strings.ReplaceAll(ends[1], "\t", ", "), ends[2], `"` + ends[2] + `" at its end taken for how many`
	}
	return strings.ReplaceAll(line, "\t", ", "), "", ""
}

// countsBefore tells whether a number before a thing is that of its pieces: not where it has a
// unit, or is one side of a size by x.
func countsBefore(thing string) bool {
	kind := kindIn(thing).kind
	if kind == "cells" && (unitFirst.MatchString(thing) || hasFigure.MatchString(thing[:1])) {
		return len(fromName(kind, thing)) > 0 // 10 x 2AA, but not 2 x AA
	}
	if unitFirst.MatchString(thing) {
		return false
	}
	return !hasFigure.MatchString(thing[:1]) || severalOf.MatchString(thing) // 12 x 40 mm pulleys, but not 5 x 300 mm dowel
}

// severalOf are words for more than one of what has one size, so that a number by x is not another.
var severalOf = pattern.Must(`(?i)\b(?:pulleys|wheels|reels|motors)\b`)
