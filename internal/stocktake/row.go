package stocktake

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// taking is a stock list on its way to a cupboard.
type taking struct {
	grid    *grid
	heading *heading
	opt     Options
	rows    []Row
	entries []entry
	section string // the kind that a title over the rows names
	above   string // the kind of the row above
	aboveAt int    // its number
}

// entry is a row that can be used.
type entry struct {
	row      int // index in rows
	also     []int
	kind     string
	name     string
	label    string
	location string
	count    int
	price    string
	settings []setting
	facts    []string // assumed facts that the cupboard file is to hold
}

// setting is one line of a cupboard's table; the value is as TOML has it.
type setting struct{ key, value string }

// take goes through all rows.
func (t *taking) take() {
	for i := range t.grid.rows {
		g := &t.grid.rows[i]
		r := Row{Number: g.number, First: g.first, Last: g.last, Verdict: Ignored, Words: t.wordsOf(i)}
		if g.note != "" {
			r.Remarks = append(r.Remarks, Remark{Nowhere, g.note, true, true})
		}
		if why := t.bare(i); why != "" {
			r.Bare, r.Remarks = true, append(r.Remarks, Remark{Column: Nowhere, Text: why})
			t.rows = append(t.rows, r)
			continue
		}
		e, err := t.entry(g, &r)
		var no *refused
		if errors.As(err, &no) {
			r.Remarks = []Remark{{Column: no.column, Text: no.why}}
			r.Verdict = Ignored
		}
		t.rows = append(t.rows, r)
		if err == nil {
			e.row = len(t.rows) - 1
			t.entries = append(t.entries, e)
		}
	}
	t.tubs()
	t.names()
}

// refused is why a row cannot be used.
type refused struct {
	column int
	why    string
}

func (r *refused) Error() string { return r.why }

func refuse(column int, format string, args ...any) error {
	return &refused{column, fmt.Sprintf(format, args...)}
}

// wordsOf are the words to know a row by: its name, or else its first cells.
func (t *taking) wordsOf(i int) string {
	cells := t.grid.rows[i].cells
	words := ""
	if i > t.heading.at {
		words = t.label(cells)
	}
	if words == "" {
		words = strings.Join(slices.DeleteFunc(slices.Clone(cells), func(c string) bool { return c == "" }), " ")
	}
	return cut(words, 32)
}

// cut shortens a text to so many letters.
func cut(text string, most int) string {
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return strings.TrimSpace(string([]rune(text)[:most-1])) + "…"
}

// bare says why a row has no stock in it, or "".
func (t *taking) bare(i int) string {
	g := &t.grid.rows[i]
	switch {
	case g.separator:
		return "it names what parts the columns"
	case g.blank():
		return "blank"
	case i < t.heading.at:
		return "above the headings"
	case i == t.heading.at:
		return "the headings"
	case i == t.heading.units:
		return "units of the columns"
	case slices.Equal(g.cells, t.grid.rows[t.heading.at].cells):
		return "the headings again"
	}
	var said []string
	for _, c := range g.cells {
		if c != "" {
			said = append(said, c)
		}
	}
	if isTotal(said[0]) {
		return "a total"
	}
	if len(said) == 1 && len(t.heading.list) > 2 && !strings.ContainsAny(said[0], "0123456789") {
		t.section, t.above = "", ""
		if kind, _ := kindIn(said[0]); kind != "" {
			t.section = kind
		}
		return "a title"
	}
	return ""
}

// cell is the words a row has for a field, and the column; "" if it has none.
func (t *taking) cell(cells []string, f field) (string, int) {
	if at := t.heading.column(f); at >= 0 && at < len(cells) {
		return cells[at], at
	}
	return "", t.heading.column(f)
}

// label is what all columns with names say.
func (t *taking) label(cells []string) string {
	var all []string
	for i, c := range t.heading.list {
		if c.field == labelField && i < len(cells) && cells[i] != "" {
			all = append(all, cells[i])
		}
	}
	return strings.Join(all, " ")
}

// entry makes a part of a row, or says as a *refused why it cannot be.
func (t *taking) entry(g *gridRow, r *Row) (entry, error) {
	e := entry{label: t.label(g.cells)}
	var err error
	if e.kind, err = t.kind(g, r, e.label); err != nil {
		return e, err
	}
	if e.count, err = t.count(g.cells, r, &e); err != nil {
		return e, err
	}
	location, at := t.cell(g.cells, locationField)
	if utf8.RuneCountInString(location) > tomlfile.MaxText {
		r.say(at, "too long for a place: not used")
	} else {
		e.location = location
	}
	if price, at := t.cell(g.cells, priceField); price != "" {
		if e.price = readPrice(price); e.price == "" {
			r.say(at, "%s is not a price: not used", units.Quoted(price))
		}
	}
	if err := t.settings(g.cells, r, &e); err != nil {
		return e, err
	}
	if err := t.prove(r, &e); err != nil {
		return e, err
	}
	r.Verdict = Used
	if slices.ContainsFunc(r.Remarks, func(m Remark) bool { return m.Assumes }) {
		r.Verdict = Assumed
	}
	return e, nil
}

func (r *Row) say(column int, format string, args ...any) {
	r.Remarks = append(r.Remarks, Remark{Column: column, Text: fmt.Sprintf(format, args...)})
}

// assume notes what a part rests on. What is slight is no reason to rank a drive
// lower, and is not written into the cupboard file.
func (r *Row) assume(column int, slight bool, text string) {
	r.Remarks = append(r.Remarks, Remark{Column: column, Text: text, Assumes: true, Slight: slight})
}

// kind is what kind of part a row is of: as its own column says, or its name, or the
// title over it, or the row above, where cells were merged.
func (t *taking) kind(g *gridRow, r *Row, label string) (string, error) {
	said, at := t.cell(g.cells, kindField)
	kind, other := kindIn(said)
	if kind == "" {
		byLabel, otherLabel := kindIn(label)
		kind, other = byLabel, (other || otherLabel) && byLabel == ""
	}
	switch {
	case kind != "":
	case other:
		return "", refuse(max(at, Nowhere), "the cupboard file has no place for such things")
	case said != "":
		return "", refuse(at, "%s is no kind of part known here: write pulley, band, motor, cells, axle, sleeve, spacer, wheel, drum, block or cord", units.Quoted(said))
	case t.section != "":
		kind = t.section
		r.assume(Nowhere, true, "its kind is that of the title above it")
	case t.above != "" && at >= 0:
		kind = t.above
		r.assume(at, false, fmt.Sprintf("no kind: taken to be %s, as in row %d", kind, t.aboveAt))
	default:
		return "", refuse(at, "it does not say what kind of part it is")
	}
	t.above, t.aboveAt = kind, g.number
	return kind, nil
}

// count is how many good ones there are.
func (t *taking) count(cells []string, r *Row, e *entry) (int, error) {
	text, at := t.cell(cells, countField)
	good, goodAt := t.cell(cells, goodField)
	bad, badAt := t.cell(cells, damagedField)
	if good != "" {
		text, at, bad = good, goodAt, ""
	}
	if unknown(text) {
		if !unknown(bad) {
			return 0, refuse(at, "no count, only that of the damaged ones")
		}
		r.assume(at, false, "no count: taken as 1")
		e.facts = append(e.facts, "count taken as 1")
		return 1, nil
	}
	c, err := readCount(text, t.opt.Lots)
	if err != nil {
		return 0, refuse(at, "%s", err.Error())
	}
	if c.none {
		return 0, refuse(at, "there are none")
	}
	if c.assumed != "" {
		r.assume(at, false, c.assumed)
		e.facts = append(e.facts, fmt.Sprintf("count taken as %d (the list says %s)", c.n, units.Quoted(text)))
	}
	n := c.n - c.damaged
	if !unknown(bad) {
		d, err := readCount(bad, 0)
		switch {
		case err != nil:
			return 0, refuse(badAt, "%s", err.Error())
		case d.n > n:
			return 0, refuse(badAt, "%d damaged are more than there are, %d", d.n, n)
		case d.assumed != "":
			r.assume(badAt, false, d.assumed)
		}
		n -= d.n
	}
	if n == 0 {
		return 0, refuse(at, "all of them are damaged")
	}
	return n, nil
}

// unknown reports whether a cell says nothing.
func unknown(cell string) bool {
	switch strings.ToLower(cell) {
	case "", "?", "??", "???", "n/a", "na", "unknown", "not known", "tbc", "tba", "don't know", "dont know", ".", "…", "...", "-", "–", "—", "#n/a", "#ref!", "#value!", "#div/0!", "#name?":
		return true
	}
	return false
}

// settings reads the sizes of a row: from columns of their own, then from the size,
// and what is still needed from the name.
func (t *taking) settings(cells []string, r *Row, e *entry) error {
	failed := map[string]refused{}
	for i, c := range t.heading.list {
		if i >= len(cells) || unknown(cells[i]) {
			continue
		}
		switch c.field {
		case "", unusedField, idField, kindField, labelField, locationField, countField, goodField, damagedField, priceField, sizeField:
			continue
		}
		key := keys[e.kind][c.field]
		if key == "" {
			r.say(i, "of no use for %s: not used", e.kind)
			continue
		}
		t.set(r, e, key, cells[i], c.unit, i, failed, "")
	}
	if size, at := t.cell(cells, sizeField); !unknown(size) {
		for _, p := range fromSize(e.kind, size) {
			t.set(r, e, keys[e.kind][p.field], p.text, t.heading.list[at].unit, at, failed, "")
		}
	}
	if e.kind == "cells" {
		if w := unsafe(strings.Join(cells, " ")); w != "" {
			e.settings = slices.DeleteFunc(e.settings, func(s setting) bool { return s.key == "chemistry" })
			e.settings = append(e.settings, setting{"chemistry", quoted(w)})
		}
	}
	for _, p := range fromName(e.kind, e.label) {
		key := keys[e.kind][p.field]
		if _, tried := failed[key]; !tried && !e.has(key) && !(e.kind == "band" && (key == "size") == e.has("flat_length") && (e.has("flat_length") || e.has("size"))) {
			t.set(r, e, key, p.text, "", t.heading.column(labelField), failed, fromTheName)
		}
	}
	if word := chemistry(e.label); e.kind == "cells" && !e.has("chemistry") && word != e.label {
		t.set(r, e, "chemistry", word, "", t.heading.column(labelField), failed, fromTheName)
	}
	if t.opt.FreeSpeed > 0 && e.kind == "motor" && !e.has("free_speed") {
		e.settings = append(e.settings, setting{"free_speed", quoted(units.Turnings.Format(t.opt.FreeSpeed))})
		r.assume(t.heading.column(freeField), false, fmt.Sprintf("no free speed: taken as %s, as --free-speed says", units.Turnings.Format(t.opt.FreeSpeed)))
		e.facts = append(e.facts, "free speed taken as "+units.Turnings.Format(t.opt.FreeSpeed))
	}
	if t.opt.Bore > 0 && !e.has("bore") && (e.kind == "pulley" || e.kind == "wheel" || e.kind == "drum") {
		e.settings = append(e.settings, setting{"bore", quoted(units.Lengths.Format(t.opt.Bore))})
		r.assume(t.heading.column(boreField), false, fmt.Sprintf("no bore: taken as %s, as --bore says", units.Lengths.Format(t.opt.Bore)))
		e.facts = append(e.facts, "bore taken as "+units.Lengths.Format(t.opt.Bore))
	}
	return e.whole(t, failed)
}

// fromTheName is noted once for all that a name says.
const fromTheName = "sizes taken from the name"

// has reports whether a key has a value.
func (e *entry) has(key string) bool {
	return slices.ContainsFunc(e.settings, func(s setting) bool { return s.key == key })
}

// set reads one cell for one key, unless the key has its value already.
func (t *taking) set(r *Row, e *entry, key, text, unit string, column int, failed map[string]refused, whence string) {
	a, err := value(e.kind, key, text, unit)
	if err != nil {
		failed[key] = refused{column, err.Error()}
		if !e.has(key) {
			r.say(column, "%s: not used", err.Error())
		}
		return
	}
	if had := slices.IndexFunc(e.settings, func(s setting) bool { return s.key == key }); had >= 0 {
		if e.settings[had].value != a.text {
			r.say(column, "says %s for the %s, which is %s by its own column: not used", strings.Trim(a.text, `"`), strings.ReplaceAll(key, "_", " "), strings.Trim(e.settings[had].value, `"`))
		}
		return
	}
	e.settings = append(e.settings, setting{key, a.text})
	if whence != "" {
		if !slices.ContainsFunc(r.Remarks, func(m Remark) bool { return m.Text == whence }) {
			r.assume(column, true, whence)
		}
	}
	for _, note := range a.assumed {
		r.assume(column, false, note)
		e.facts = append(e.facts, strings.ReplaceAll(key, "_", " ")+": "+note)
	}
	if a.unit != "" {
		r.assume(column, true, "no unit: taken as "+a.unit)
	}
}

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
		switch {
		case need[0] == "bore" && e.kind != "spacer":
			hint = ": measure it, or say --bore 5mm to take 5 mm for all without one"
		case need[0] == "free_speed":
			hint = ": count it, look on the packet, or say --free-speed 6000rpm to take that for all without one"
		}
		return refuse(at, "no %s%s", need[1], hint)
	}
	return nil
}

// prove puts a part to the reader of cupboard files: what that refuses is refused,
// and what it assumes is noted.
func (t *taking) prove(r *Row, e *entry) error {
	cup, err := parts.Read("", []byte("["+e.kind+".x]\n"+e.lines()))
	var problems tomlfile.Problems
	if errors.As(err, &problems) {
		p := problems[0]
		_, key, _ := strings.Cut(strings.TrimPrefix(p.Key, e.kind+"."), ".")
		at := Nowhere
		for i, c := range t.heading.list {
			if keys[e.kind][c.field] == key {
				at = i
			}
		}
		return refuse(at, "%s", p.Text)
	}
	if err != nil {
		return refuse(Nowhere, "%s", err.Error())
	}
	if it := cup.Item(e.kind, "x"); it != nil {
		for _, a := range it.Assumed {
			r.assume(Nowhere, false, a)
		}
	}
	return nil
}

// readPrice is a price as a cupboard file has it, without its currency; "" if it is
// none.
func readPrice(cell string) string {
	text := strings.ReplaceAll(strings.TrimSpace(strings.ToLower(cell)), " ", "")
	pence := strings.HasSuffix(text, "p")
	text = strings.Trim(text, "£$€pabcdefghijklmnopqrstuvwxyz")
	text = strings.Replace(text, ",", ".", 1)
	whole, part, _ := strings.Cut(text, ".")
	if whole == "" || strings.Trim(whole+part, "0123456789") != "" || len(whole) > 6 || len(part) > 2 {
		return ""
	}
	if pence {
		if part != "" || len(whole) > 4 {
			return ""
		}
		for len(whole) < 3 {
			whole = "0" + whole
		}
		return whole[:len(whole)-2] + "." + whole[len(whole)-2:]
	}
	if part == "" {
		return whole
	}
	return whole + "." + part
}
