package stocktake

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/parts"
	"findrive/internal/pattern"
	"findrive/internal/units"
)

// settings reads the sizes of a row: from columns of their own, then from the size,
// and what is still needed from the name.
func (t *taking) settings(cells []string, r *Row, e *entry) error {
	failed := map[string]refused{}
	for i, c := range t.heading.list {
		if i < len(cells) && brokenFormula(cells[i]) && !c.rival && (c.field == sizeField || isSize(c.field) && keys[e.kind][c.field] != "") {
			return refuse(i, "%s is a formula that went wrong: write the size", units.Quoted(cells[i]))
		}
	}
	for _, rivals := range []bool{false, true} {
		for i, c := range t.heading.list {
			if i >= len(cells) || unknown(cells[i]) || !isSize(c.field) || c.field == "" || c.field == sizeField || c.rival != rivals {
				continue
			}
			key := keys[e.kind][c.field]
			if key == "" {
				r.say(i, "of no use for %s: not used", e.kind)
				continue
			}
			t.set(r, e, key, cells[i], t.unitOf(c, cells), i, failed, "")
		}
	}
	if size, at := t.cell(cells, sizeField); !unknown(size) {
		e.words, e.size = onlyWords(size), size
		for _, p := range e.spacerSize(e.bandSize(r, at, fromSize(e.kind, size), t.unitOf(t.heading.list[at], cells))) {
			t.set(r, e, keys[e.kind][p.field], p.text, t.unitOf(t.heading.list[at], cells), at, failed, "")
			if p.whence != "" {
				e.fact(r, at, strings.ReplaceAll(keys[e.kind][p.field], "_", " "), p.whence)
			}
		}
	}
	if e.kind == "cells" {
		if w := unsafe(strings.Join(cells, " ")); w != "" {
			e.settings = slices.DeleteFunc(e.settings, func(s setting) bool { return s.key == "chemistry" })
			e.settings = append(e.settings, setting{"chemistry", quoted(w)})
		}
	}
	said := fromName(e.kind, e.label)
	if e.size == "" && onlySize.MatchString(e.label) {
		said = fromSize(e.kind, e.label)
	}
	for _, p := range said {
		key := keys[e.kind][p.field]
		if _, tried := failed[key]; !tried && !e.has(key) && !(e.kind == "band" && (key == "size") == e.has("flat_length") && (e.has("flat_length") || e.has("size"))) {
			t.set(r, e, key, p.text, "", t.heading.column(labelField), failed, fromTheName)
			if p.whence != "" {
				e.fact(r, t.heading.column(labelField), strings.ReplaceAll(key, "_", " "), p.whence)
			}
		}
	}
	t.nameDiffers(r, e)
	if word := chemistry(e.label); e.kind == "cells" && !e.has("chemistry") && word != e.label {
		t.set(r, e, "chemistry", word, "", t.heading.column(labelField), failed, fromTheName)
	}
	if e.kind == "sheet" {
		if !e.has("kind") && sheetKind(e.label) != "" {
			t.set(r, e, "kind", e.label, "", t.heading.column(labelField), failed, "kind taken from the name")
		}
	} else if word := materialIn(e.label); word != "" && keys[e.kind][materialField] != "" && !e.has("material") {
		t.set(r, e, "material", word, "", t.heading.column(labelField), failed, "material taken from the name")
	}
	for _, note := range t.remarks(cells) {
		for _, p := range fromNote(e.kind, note) {
			key := keys[e.kind][p.field]
			if _, tried := failed[key]; !tried && !e.has(key) {
				t.set(r, e, key, p.text, "", note.at, failed, strings.ReplaceAll(key, "_", " ")+" taken from the note")
			}
		}
	}
	t.fill(r, e, failed)
	return e.whole(t, failed)
}

// onlyWords are the words of a size that are no units.
func onlyWords(size string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(plainWords(size)), func(w string) bool {
		return len(w) < 3 || strings.ContainsAny(w, "0123456789") || slices.Contains(sizeWords, w)
	}), " ")
}

var sizeWords = strings.Fields("dia diam diameter long length wide width thick bore hole inch inches volts rpm min with and rev revs size number flat")

// nameDiffers notes where a name has another size than the columns have.
func (t *taking) nameDiffers(r *Row, e *entry) {
	name := e.label
	if m := goesWith.FindStringIndex(name); m != nil {
		name = name[:m[0]]
	}
	for _, p := range fromName(e.kind, name) {
		key := keys[e.kind][p.field]
		if flat, _, known := parts.TradeSize(p.text); key == "size" && known && e.has("flat_length") {
			// Makers differ by a twentieth; a tenth is another size.
			if have := e.length("flat_length"); have < flat*0.9 || have > flat*1.1 {
				e.fact(r, t.heading.column(labelField), "flat length", fmt.Sprintf("the name says No. %s, which is %s, and the list has %s", p.text, units.Lengths.Format(flat), units.Lengths.Format(have)))
			}
			continue
		}
		a, err := value(e.kind, key, p.text, "")
		if err != nil || key == "" {
			continue
		}
		for _, s := range e.settings {
			if s.key == key && s.value != a.text {
				words := strings.ReplaceAll(key, "_", " ")
				e.fact(r, t.heading.column(labelField), words, fmt.Sprintf("the name says %s, and the %s of the list is %s", strings.Trim(a.text, `"`), words, strings.Trim(s.value, `"`)))
			}
		}
	}
}

var goesWith = pattern.Must(`(?i)\b(?:for|fits?|to|with|takes|on|from)\b`)

// unitOf is the unit of a column: that of its heading, or else of a column of units in the
// row.
func (t *taking) unitOf(c column, cells []string) string {
	if c.unit != "" {
		return c.unit
	}
	said, _ := t.cell(cells, unitField)
	unit, _ := unitWord(said)
	return unit
}

// bandSize settles what a bare number of a band is: its trade number, or how long it is
// laid flat. With a width it is a length, unless the trade's band of that number is as
// wide; without one it is a number. Either is noted, for nothing says so.
func (e *entry) bandSize(r *Row, at int, said []piece, unit string) []piece {
	if e.kind != "band" || len(said) != 1 || said[0].field != numberField || !said[0].bare {
		return said
	}
	number := said[0].text
	width := e.length("width")
	_, usual, known := parts.TradeSize(number)
	like := known && width > usual*0.75 && width < usual*1.25
	switch {
	case unit != "", width > 0 && !like:
		said[0].field = flatField
		if unit == "" {
			e.fact(r, at, "flat length", fmt.Sprintf("%s taken as its length laid flat in mm, and not as a trade number", number))
			said[0].text += " mm"
		}
	default:
		e.fact(r, at, "size", fmt.Sprintf("%s taken as a trade number, and not as mm", number))
	}
	return said
}

// spacerSize puts the one size of a washer whose bore has a column of its own to its
// outside.
func (e *entry) spacerSize(said []piece) []piece {
	if e.kind == "spacer" && len(said) == 1 && said[0].field == boreField && e.has("bore") && !e.has("outside") {
		said[0].field = outsideField
	}
	return said
}

// onlySize is a name that is nothing but a size of two sides or more: "80 x 1.5", under Bands.
var onlySize = pattern.Must(`(?i)^` + numberIn + `\s*` + unitIn + `?(?:\s*(?:x|×)\s*` + numberIn + `\s*` + unitIn + `?)+$`)

// fromNote is what a note in a column of notes says of a part that people write there: what the
// packet says of a motor, and the hole of a pulley, wheel or drum.
func fromNote(kind string, note remark) []piece {
	switch {
	case !note.free:
		return nil
	case kind == "motor":
		return fromName(kind, note.text)
	case !hubKind(kind), mixture.MatchString(note.text), rangeIn.MatchString(note.text), someOf.MatchString(note.text), len(aLength.FindAllString(note.text, -1)) != 1:
		return nil
	}
	text := fractions.Replace(note.text)
	if m := goesOn.FindStringIndex(text); m != nil {
		text = text[:m[0]]
	}
	if m := boreIn.FindStringSubmatch(text); m != nil {
		return []piece{{field: boreField, text: m[1] + m[2]}}
	}
	return nil
}

// fromTheName is noted once for all that a name says.
const fromTheName = "sizes taken from the name"

// has reports whether a key has a value.
func (e *entry) has(key string) bool {
	return slices.ContainsFunc(e.settings, func(s setting) bool { return s.key == key })
}

// length is the length that a key has; 0 if it has none.
func (e *entry) length(key string) units.Millimetres {
	for _, s := range e.settings {
		if s.key == key {
			v, err := units.Lengths.Parse(strings.Trim(s.value, `"`))
			if err != nil {
				return 0
			}
			return v
		}
	}
	return 0
}

// set reads one cell for one key, unless the key has its value already.
func (t *taking) set(r *Row, e *entry, key, text, unit string, column int, failed map[string]refused, whence string) {
	words := strings.ReplaceAll(key, "_", " ")
	if isDate(text) {
		failed[key] = refused{column: column, why: fmt.Sprintf("%s is a date, which a spreadsheet makes of what looks like one: write the %s again", units.Quoted(text), words)}
		return
	}
	a, err := value(e.kind, key, text, unit)
	if err == nil && otherUnit(e.kind, key, text, unit, a) {
		err = fmt.Errorf("%s would be %s, by the unit over it: is it in mm? write the unit", units.Quoted(text), strings.Trim(a.text, `"`))
	}
	had := slices.IndexFunc(e.settings, func(s setting) bool { return s.key == key })
	if err != nil {
		if had < 0 {
			failed[key] = refused{column: column, why: err.Error()}
			r.say(column, "%s: not used", err.Error())
		} else {
			e.fact(r, column, words, err.Error()+": not used")
		}
		return
	}
	if had >= 0 {
		if e.settings[had].value != a.text {
			e.fact(r, column, words, fmt.Sprintf("says %s for the %s, which is %s by its own column: not used", strings.Trim(a.text, `"`), words, strings.Trim(e.settings[had].value, `"`)))
		}
		return
	}
	e.settings = append(e.settings, setting{key, a.text})
	delete(failed, key)
	if column >= 0 && t.heading.list[column].rival {
		e.fact(r, column, words, "taken from a second column for it")
	}
	if whence != "" {
		if !slices.ContainsFunc(r.Remarks, func(m Remark) bool { return m.Text == whence }) {
			r.assume(column, true, whence)
		}
	}
	for _, note := range a.assumed {
		e.fact(r, column, words, note)
	}
	if farOut(e.kind, key, e.length(key)) {
		e.fact(r, column, words, fmt.Sprintf("%s is hardly usual: measure it again", strings.Trim(a.text, `"`)))
	}
	if a.unit != "" {
		r.assume(column, true, "no unit: taken as "+a.unit)
	}
}

var dateHere = pattern.Must(`(?i)^(?:\d{4}-\d{2}-\d{2}(?: .*)?|\d{1,2}[-/ ](?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*(?:[-/ ]\d{2,4})?|(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*[-/ ]\d{2,4}|\d{1,2}[/.]\d{1,2}[/.]\d{2,4})$`)

// isDate reports whether a cell is a date, as spreadsheets make them of 3-10 or 5/8.
func isDate(cell string) bool { return dateHere.MatchString(cell) }

// whole refuses a part that lacks what it cannot be without.
func (e *entry) whole(t *taking, failed map[string]refused) error {
	lacking := needs[e.kind]
	if e.kind == "band" && !e.has("size") {
		lacking = [][2]string{{"flat_length", "length laid flat, or trade number"}, {"width", "width"}}
	}
	for _, need := range lacking {
		if e.has(need[0]) {
			continue
		}
		if f, ok := failed[need[0]]; ok {
			return &f
		}
		if f, ok := failed["size"]; ok && e.kind == "band" {
			return &f
		}
		at := Nowhere
		for f, key := range keys[e.kind] {
			if c := t.heading.column(f); key == need[0] && (at < 0 || c >= 0 && c < at) {
				at = c
			}
		}
		hint := ""
		switch bare := bareHole.FindStringSubmatch(e.label); {
		case need[0] == "bore" && hubKind(e.kind) && bare != nil:
			return refuse(at, "no bore: the %s of its name has no unit: write %[1]s mm, if that is so", bare[2])
		case need[0] == "bore" && e.kind != "spacer":
			hint = ": measure it, or say --bore 5mm to take 5 mm for all without one"
		case need[0] == "free_speed" && e.geared():
			hint = ": it has a gearbox, so count how fast the shaft that comes out of that turns, and write it in a column free speed, and in a column stall torque what holds that shaft still"
		case need[0] == "free_speed":
			hint = ": count it, look on the packet, or say --free-speed 6000rpm to take that for all without one"
		case !t.opt.Usual && isUsual(e.kind, need[0], e):
			hint = ": measure it, or say --assume usual"
		}
		return refuse(at, "no %s%s", need[1], hint)
	}
	return nil
}
