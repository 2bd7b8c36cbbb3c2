package stocktake

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"findrive/internal/parts"
	"findrive/internal/pattern"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// taking is one sheet on its way to a cupboard.
type taking struct {
	list    int // which of the lists it is
	grid    *grid
	tables  []*heading
	heading *heading // of the table of the row at hand
	opt     Options
	axle    units.Millimetres // that bores are for, if nothing says what they are; 0 if that is not known
	rows    []Row
	entries []entry
	asks    []string // about rows
	named   naming   // the kind that the name of the sheet is
	section *naming  // the kind that a title over the rows names
	left    int      // the row below it that names another kind; 0 if all fit
	above   naming   // the kind of the row above
	aboveAt int      // its number
	away    string   // the title that says that the rows under it are not in the cupboard
	perhaps bool     // whether they still stand under it is not plain
}

// entry is a row that can be used.
type entry struct {
	at       Place // list and index of its row
	also     []Place
	kind     string
	name     string
	label    string
	words    string // what its size says besides figures and units
	size     string // what its size says
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
	next := 0
	for i := range t.grid.rows {
		if next < len(t.tables) && i == t.tables[next].at {
			t.heading, t.section, t.left, t.above = t.tables[next], t.tables[next].above, 0, naming{}
			switch {
			case t.heading.away != "":
				t.under(t.heading.away)
			case t.heading.title == "":
				t.perhaps = true
			}
			next++
		}
		g := &t.grid.rows[i]
		r := Row{Number: g.number, First: g.first, Last: g.last, Table: max(next-1, 0), Verdict: Ignored, Words: t.wordsOf(i)}
		if g.note != "" {
			r.Remarks = append(r.Remarks, Remark{Nowhere, g.note, true, true})
		}
		if t.heading == nil && stockAbove(g) {
			r.Remarks = append(r.Remarks, Remark{Column: Nowhere, Text: "it stands above the first row of headings: write headings over it, with words such as name, size, bore, qty"})
			t.rows = append(t.rows, r)
			continue
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
			r.Verdict, r.Kind, r.NoPart = Ignored, e.kind, no.noPart
			r.Size, _ = t.cell(g.cells, sizeField)
			r.Count, _ = t.cell(g.cells, countField)
			r.Others = t.others(g.cells)
		}
		t.rows = append(t.rows, r)
		if err == nil {
			e.at = Place{t.list, len(t.rows) - 1}
			t.entries = append(t.entries, e)
		}
	}
}

// others are the cells of a row under its other columns of sizes.
func (t *taking) others(cells []string) []Other {
	var out []Other
	for i, c := range t.heading.list {
		if i >= len(cells) || cells[i] == "" || c.field == "" || c.field == sizeField || c.rival || !isSize(c.field) {
			continue
		}
		heading := stockWords[c.field][0]
		if c.unit != "" {
			heading += " (" + c.unit + ")"
		}
		out = append(out, Other{heading, cells[i]})
	}
	return out
}

// refused is why a row cannot be used.
type refused struct {
	column int
	why    string
	noPart bool // it is nothing that a cupboard file has a place for
}

func (r *refused) Error() string { return r.why }

func refuse(column int, format string, args ...any) error {
	return &refused{column: column, why: fmt.Sprintf(format, args...)}
}

// wordsOf are the words to know a row by: its name, or else its first cells.
func (t *taking) wordsOf(i int) string {
	cells := t.grid.rows[i].cells
	words := ""
	if t.heading != nil && i > t.heading.at {
		words = t.label(cells)
	}
	if words == "" {
		words = strings.Join(saidIn(cells), " ")
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
	case t.heading == nil || i < t.heading.at:
		return "above the headings"
	case i == t.heading.at:
		return "the headings"
	case i == t.heading.units:
		return "units of the columns"
	case sameCells(g.cells, t.grid.rows[t.heading.at].cells):
		return "the headings again"
	}
	said := saidIn(g.cells)
	if isTotal(said[0]) {
		return "a total"
	}
	if len(said) != 1 {
		return ""
	}
	next := t.nextSaid(i)
	aboveHeadings := next < len(t.grid.rows) && (t.isTable(next) || sameCells(t.grid.rows[next].cells, t.grid.rows[t.heading.at].cells))
	if aboveHeadings || len(t.heading.list) > 2 && !strings.ContainsAny(said[0], "0123456789") || isAway(said[0]) && t.mayTitle(g.cells) {
		n := kindOver(said[0])
		t.section, t.left, t.above = &n, 0, naming{}
		if t.mayTitle(g.cells) {
			t.under(said[0])
		}
		return "a title"
	}
	return ""
}

// stockAbove reports whether a row above all headings seems to be one of stock, whose own
// headings were not known for such.
func stockAbove(g *gridRow) bool {
	figures := 0
	for _, c := range g.cells {
		if isBare(c) {
			figures++
		}
	}
	return !g.separator && figures >= 2 && len(saidIn(g.cells)) >= 3
}

// mayTitle reports whether the only words of a row stand where titles and names do.
func (t *taking) mayTitle(cells []string) bool {
	at := slices.IndexFunc(cells, func(c string) bool { return c != "" })
	if at >= len(t.heading.list) {
		return false
	}
	f := t.heading.list[at].field
	return at == 0 || f == kindField || f == labelField
}

// nextSaid is the index of the next row with words.
func (t *taking) nextSaid(i int) int {
	for i++; i < len(t.grid.rows) && t.grid.rows[i].blank(); i++ {
	}
	return i
}

func (t *taking) isTable(i int) bool {
	return slices.ContainsFunc(t.tables, func(h *heading) bool { return h.at == i })
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
	if t.heading.refuse != "" {
		return e, refuse(Nowhere, "%s", t.heading.refuse)
	}
	if column, why := t.heading.shifted(t.grid, g); why != "" {
		return e, refuse(column, "%s", why)
	}
	t.unheaded(g.cells, r)
	if at := t.crossedOut(g); at >= 0 {
		return e, refuse(at, "%s is crossed out", units.Quoted(cut(g.cells[at], 40)))
	}
	for _, i := range g.struck {
		if i < len(g.cells) {
			g.cells[i] = "" // a note that holds no longer
		}
	}
	if err := t.here(r, &e); err != nil {
		return e, err
	}
	var err error
	if e.kind, err = t.kind(g, r, &e); err != nil {
		return e, err
	}
	for _, i := range g.merged {
		if f := t.heading.list[min(i, len(t.heading.list)-1)].field; f == countField || f == goodField || f == packsField {
			return e, refuse(i, "%s", errMerged.Error())
		}
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
	t.price(g.cells, r, &e)
	if err := t.settings(g.cells, r, &e); err != nil {
		return e, err
	}
	t.notesDiffer(g.cells, r, &e)
	if err := t.prove(r, &e); err != nil {
		return e, err
	}
	r.Verdict = Used
	if slices.ContainsFunc(r.Remarks, func(m Remark) bool { return m.Assumes }) {
		r.Verdict = Assumed
	}
	return e, nil
}

// crossedOut is a column of use whose cell is crossed out, or Nowhere.
func (t *taking) crossedOut(g *gridRow) int {
	for _, i := range g.struck {
		if i < len(t.heading.list) && i < len(g.cells) && g.cells[i] != "" && t.heading.list[i].field != "" && t.heading.list[i].field != unusedField {
			return i
		}
	}
	return Nowhere
}

// unheaded says which cells of a row stand under no heading.
func (t *taking) unheaded(cells []string, r *Row) {
	for i, c := range cells {
		if c != "" && (i >= len(t.heading.list) || t.heading.list[i].heading == "" && t.heading.list[i].field == "") {
			r.say(i, "%s stands under no heading: not used", units.Quoted(cut(c, 40)))
		}
	}
}

func (r *Row) say(column int, format string, args ...any) {
	r.Remarks = append(r.Remarks, Remark{Column: column, Text: fmt.Sprintf(format, args...)})
}

// assume notes what a part rests on. What is slight is no reason to rank a drive
// lower, and is not written into the cupboard file.
func (r *Row) assume(column int, slight bool, text string) {
	r.Remarks = append(r.Remarks, Remark{Column: column, Text: text, Assumes: true, Slight: slight})
}

// fact notes what a part rests on in the report, and in the cupboard file, where it
// begins with what it is about.
func (e *entry) fact(r *Row, column int, about, text string) {
	r.assume(column, false, text)
	e.facts = append(e.facts, about+": "+text)
}

// kind is what kind of part a row is of: as its own column says, or its name, or the
// title over it, or the row above, where cells were merged, or the name of the sheet.
func (t *taking) kind(g *gridRow, r *Row, e *entry) (string, error) {
	said, at := t.cell(g.cells, kindField)
	n, byLabel := kindIn(said), kindIn(e.label)
	where := at
	if n.kind == "" {
		n.other = n.other || byLabel.other
		if byLabel.kind != "" {
			n, where = byLabel, t.heading.column(labelField)
		}
	} else if byLabel.other && byLabel.kind == "" && (n.kind != "sheet" || sheetKind(e.label) == "") && !slices.Contains(keptIn, plainWords(e.label)) {
		e.fact(r, where, "kind", fmt.Sprintf("taken to be %s, but its name is %s", n.kind, units.Quoted(cut(e.label, 40))))
	}
	t.underTitle(&n, said == "", g, r)
	from := &n
	switch {
	case n.kind != "":
	case n.other:
		t.above, t.aboveAt = naming{other: true}, g.number
		return "", &refused{max(at, Nowhere), noPlace(said + " " + e.label), true}
	case said != "":
		t.above = naming{other: true}
		return "", refuse(at, "%s is no kind of part known here: write pulley, band, motor, cells, axle, sleeve, spacer, wheel, drum, block, cord or sheet", units.Quoted(said))
	case t.section != nil && t.section.kind != "" && t.left == 0:
		from = t.section
		r.assume(Nowhere, true, "its kind is that of the title above it")
	case t.left > 0 && t.sizedAs(t.section.kind, g.cells, e.label):
		from = t.section
		e.fact(r, Nowhere, "kind", fmt.Sprintf("its sizes are those of %s, as the title further above says", from.kind))
	case t.section != nil && t.section.other:
		return "", &refused{Nowhere, fmt.Sprintf("the cupboard file has no place for what is under %s", units.Quoted(cut(t.section.words, 40))), true}
	case at >= 0 && t.above.other:
		return "", refuse(at, "no kind, and row %d above it is nothing that a cupboard file has a place for", t.aboveAt)
	case at >= 0 && t.above.kind != "":
		r.assume(at, false, fmt.Sprintf("no kind: taken to be %s, as in row %d", t.above.kind, t.aboveAt))
		t.above, t.aboveAt = naming{kind: t.above.kind}, g.number
		return t.above.kind, nil
	case t.section == nil && t.named.kind != "":
		from = &t.named
		if t.grid.workbook {
			r.assume(Nowhere, true, "its kind is that of the name of the sheet")
		} else {
			e.fact(r, Nowhere, "kind", fmt.Sprintf("its kind is that of the name of the file, %s", units.Quoted(cut(from.words, 40))))
		}
	case t.section == nil && t.named.other:
		return "", refuse(Nowhere, "the cupboard file has no place for what is under %s", units.Quoted(cut(t.named.words, 40)))
	case t.left > 0:
		return "", refuse(at, "it does not say what kind of part it is, and from row %d on not all is what the title %s says", t.left, units.Quoted(cut(t.section.words, 40)))
	default:
		return "", refuse(at, "it does not say what kind of part it is")
	}
	if from.several {
		return "", refuse(where, "%s names several kinds of part: write a row for each", units.Quoted(cut(from.words, 40)))
	}
	if from.loosely {
		e.fact(r, where, "kind", fmt.Sprintf("%s taken to be %s", units.Quoted(cut(from.words, 40)), from.kind))
	}
	t.above, t.aboveAt = naming{kind: from.kind}, g.number
	return from.kind, nil
}

// underTitle holds what a row itself names against the title over it. A title rules the rows
// below it only while they fit: from the first that names another kind, those that name none
// must have its sizes, until one names the kind of the title again.
func (t *taking) underTitle(n *naming, byName bool, g *gridRow, r *Row) {
	if t.section == nil || t.section.kind == "" || n.none() {
		return
	}
	if n.kind == "wheel" && t.section.kind == "pulley" && t.left == 0 && byName && !n.several && !onRoad.MatchString(n.words) {
		n.kind, n.loosely = "pulley", false
		r.assume(Nowhere, true, fmt.Sprintf("a wheel under the title %s: taken to be a pulley", units.Quoted(cut(t.section.words, 40))))
	}
	switch {
	case n.kind == t.section.kind:
		t.left = 0
	case n.kind != "" && t.left == 0:
		t.left = g.number
		r.say(Nowhere, "%s by its own words, though it stands under the title %s", n.kind, units.Quoted(cut(t.section.words, 40)))
	}
}

// sizedAs reports whether a row has all sizes without which there is no part of a kind.
func (t *taking) sizedAs(kind string, cells []string, label string) bool {
	has := map[string]bool{}
	for i, c := range t.heading.list {
		if i < len(cells) && !unknown(cells[i]) && isSize(c.field) {
			has[keys[kind][c.field]] = true
		}
	}
	said := fromName(kind, label)
	if size, _ := t.cell(cells, sizeField); !unknown(size) {
		said = append(said, fromSize(kind, size)...)
	}
	for _, p := range said {
		has[keys[kind][p.field]] = true
	}
	if kind == "band" {
		return has["size"] || has["flat_length"] && has["width"]
	}
	return !slices.ContainsFunc(needs[kind], func(need [2]string) bool { return !has[need[0]] })
}

// onRoad are words for a wheel that is no pulley wheel, whatever it is kept with.
var onRoad = pattern.Must(`(?i)\b(?:road|car|buggy|vehicles?|trucks?|trolleys?|toy|cart|tyres?|tyred)\b`)

var (
	cutsDiscs = pattern.Must(`(?i)\b(?:scissors|compass(?:es)?|(?:craft|hobby) kni(?:fe|ves)|hole saws?|laser cutters?)\b`)
	forDiscs  = pattern.Must(`(?i)\b(?:card|cardboard|plywood|mdf)\b`)
)

// noPlace says of a thing that is no part why it is not used, and where it goes if pulleys can be
// made of it or with it.
func noPlace(words string) string {
	switch {
	case cutsDiscs.MatchString(words):
		return "no part; if discs are cut with it, write it into the cupboard file, as [cutter.NAME]"
	case forDiscs.MatchString(words):
		return "no part as it stands; if discs are cut of it, write sheet as its kind, and its thickness, length and width"
	}
	return "the cupboard file has no place for such things"
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
			if keys[e.kind][c.field] == key && !c.rival {
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
