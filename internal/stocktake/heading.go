package stocktake

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode/utf8"

	"findrive/internal/tomlfile"
)

// heading is the row with the names of the columns, and what is known of its table.
type heading struct {
	at    int // its index in the grid's rows
	units int // that of a row of units under it; -1 if there is none
	end   int // the index after that of the last row of its table
	list  []column
	width int // how many cells most rows of the table have in the file

	above  *naming  // the kind that a title right above it, or a heading, names
	title  string   // the title right above it; empty if there is none
	away   string   // the title above it that says that its rows are not in the cupboard
	counts []int    // columns that may be the count, if there are several
	picked bool     // the user says which column is the count
	asks   []string // what the user is to say about the columns
	refuse string   // why no row of it can be used; empty if they can
}

// column is what a column was taken for.
type column struct {
	heading string
	field   field // empty if its name is not known
	unit    string
	note    string
	rank    int  // of its name among those for the field
	rival   bool // another column is taken for the field
	guessed bool // its name is one letter off the word for the field
}

// looked is how many rows are looked at for the headings.
const looked = 40

// headingUnits are units that a heading may end in, in plain words, and as units
// are written.
var headingUnits = []struct{ words, unit string }{
	{"g cm", "g.cm"}, {"gf cm", "g.cm"}, {"gcm", "g.cm"}, {"mn m", "mN.m"}, {"mnm", "mN.m"}, {"n mm", "N.mm"},
	{"mm", "mm"}, {"cm", "cm"}, {"millimetres", "mm"}, {"millimeters", "mm"}, {"centimetres", "cm"}, {"inches", "in"}, {"inch", "in"}, {"in", "in"}, {"m", "m"},
	{"volts", "V"}, {"v", "V"}, {"rpm", "rpm"}, {"ma", "mA"}, {"amps", "A"}, {"a", "A"},
}

// findHeading finds the row in which most words are known.
func findHeading(g *grid, known words) (*heading, error) {
	best, most := -1, 1
	seen := 0
	for i := range g.rows {
		if g.rows[i].blank() || g.rows[i].separator {
			continue
		}
		if seen++; seen > looked {
			break
		}
		if n := knownIn(g.rows[i].cells, known); n > most {
			best, most = i, n
		}
	}
	if best < 0 {
		if seen == 0 {
			return nil, errors.New("the file is empty")
		}
		return nil, fmt.Errorf("no row of headings was found in the first %d rows: write one above the list, with words such as kind, name, size, bore, qty, location", looked)
	}
	h := &heading{at: best, units: -1, end: len(g.rows)}
	for _, cell := range g.rows[best].cells {
		h.list = append(h.list, columnOf(cell, known))
	}
	h.settle()
	h.findUnits(g)
	return h, nil
}

// headed tells whether a grid has a row of headings.
func (g *grid) headed() bool {
	_, err := findTables(g, Options{})
	return err == nil
}

// stockOrKit is how many columns of a list of stock or of a kit a row names.
func stockOrKit(cells []string) int { return max(knownIn(cells, stockWords), knownIn(cells, kitWords)) }

// knownIn is how many different fields a row names.
func knownIn(cells []string, known words) int {
	fields := map[field]bool{}
	for _, c := range cells {
		if f, _, _ := lookUp(c, known); f != "" && f != unusedField {
			fields[f] = true
		}
	}
	return len(fields)
}

// lookUp is the field that a heading names, its unit, and the rank of the word;
// the field is empty if it is not known.
func lookUp(cell string, known words) (f field, unit string, rank int) {
	if utf8.RuneCountInString(cell) > tomlfile.MaxName {
		return "", "", 0
	}
	plain := plainWords(strings.ReplaceAll(strings.ToLower(cell), "ø", " ø "))
	rest := strings.Join(slices.DeleteFunc(strings.Fields(plain), func(w string) bool { return w == "ø" }), " ")
	if bare, _ := bareHeading(rest); bare != "" { // of a hole, of the outside
		plain = rest
	}
	bare, unit := plain, ""
	if strings.HasSuffix(cell, `"`) || strings.HasSuffix(cell, `(")`) {
		unit = "in"
	}
	for {
		for _, f := range slices.Sorted(maps.Keys(known)) {
			if i := slices.Index(known[f], bare); i >= 0 {
				return f, unit, i
			}
		}
		if unit != "" {
			break
		}
		if bare, unit = bareHeading(bare); unit == "" {
			break
		}
		// A column headed in, a or m need not hold inches, amps or metres.
		if bare == "" && len(known[countField]) > 0 && len(plain) > 1 && plain != "in" {
			return sizeField, unit, len(known[sizeField])
		}
	}
	if i := slices.Index(known[countField], undated(plain)); i >= 0 {
		return countField, "", 100 + i
	}
	for _, ask := range []string{"how many are ", "how many ", "number of ", "number ", "no of ", "qty "} {
		rest, is := strings.CutPrefix(plain, ask)
		if !is {
			continue
		}
		for _, f := range []field{damagedField, goodField} {
			if i := slices.Index(known[f], rest); i >= 0 {
				return f, "", 100 + i
			}
		}
	}
	return "", "", 0
}

// bareHeading is a heading without the unit it ends in, and the unit.
func bareHeading(plain string) (bare, unit string) {
	for _, u := range headingUnits {
		if rest, ok := strings.CutSuffix(" "+plain, " "+u.words); ok {
			return strings.TrimSuffix(strings.TrimSpace(rest), " in"), u.unit
		}
	}
	return plain, ""
}

// columnOf is what one heading stands for. A word with a letter wrong is taken for
// the one it is like, and that is noted; but it never becomes a size, for core is not
// bore, and a short word is too like others, for wood is not good.
func columnOf(cell string, known words) column {
	c := column{heading: cell}
	if cell == "" {
		c.note = "no heading"
		return c
	}
	c.field, c.unit, c.rank = lookUp(cell, known)
	if c.field != "" {
		return c
	}
	if f := sameIn(cell, known); f != "" {
		c.field, c.rank = f, 500
		return c
	}
	if m := packWords.FindStringIndex(cell); m != nil && len(known[packsField]) > 0 { // Qty (packs of 10)
		if f, _, _ := lookUp(strings.Trim(cell[:m[0]], " ([,:-"), known); f == countField {
			c.field, c.rank = packsField, 500
			return c
		}
	}
	var sizes, others []string
	for _, f := range slices.Sorted(maps.Keys(known)) {
		for _, w := range known[f] {
			switch {
			case len(w) < 4:
			case isSize(f):
				sizes = append(sizes, w)
			default:
				others = append(others, w)
			}
		}
	}
	bare, unit := bareHeading(plainWords(cell))
	near := tomlfile.NearestWithin(bare, sizes, 1)
	if near == "" {
		near = tomlfile.NearestWithin(bare, others, 1)
		const short = 4
		if utf8.RuneCountInString(bare) <= short && !sameLetters(near, bare) {
			near = ""
		}
	}
	if near == "" || utf8.RuneCountInString(cell) < 4 {
		c.note = notKnown
		return c
	}
	field, _, _ := lookUp(near, known)
	if isSize(field) {
		c.note = fmt.Sprintf("%s; write %q over it if that is meant", notKnown, near)
		return c
	}
	c.field, c.unit, c.rank, c.guessed = field, unit, 1000, true
	c.note = fmt.Sprintf("taken for %q", near)
	return c
}

// sameIn is the field that all parts of a heading name, as Size / dims does; empty if they
// do not.
func sameIn(cell string, known words) field {
	var same field
	all := strings.FieldsFunc(cell, func(r rune) bool { return r == '/' || r == '|' })
	for _, part := range all {
		f, unit, _ := lookUp(part, known)
		if f == "" || f == unusedField || unit != "" || same != "" && f != same {
			return ""
		}
		same = f
	}
	if len(all) < 2 {
		return ""
	}
	return same
}

// sameLetters reports whether two words have the same letters, in whatever order.
func sameLetters(a, b string) bool {
	x, y := []rune(a), []rune(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// isSize reports whether a column holds what a part measures.
func isSize(f field) bool {
	switch f {
	case kindField, labelField, idField, locationField, countField, goodField, damagedField, priceField, packField, packsField, unitField, unusedField, takeField, pickedField, returnedField:
		return false
	}
	return true
}

// settle leaves one column for each field: the one whose name is the more usual
// for it. Names may be spread over several columns.
func (h *heading) settle() {
	best := map[field]int{}
	for i, c := range h.list {
		if c.field == "" || c.field == labelField || c.field == unusedField {
			continue
		}
		b, taken := best[c.field]
		if !taken || c.rank < h.list[b].rank {
			best[c.field] = i
		}
	}
	for i := range h.list {
		c := &h.list[i]
		if b, taken := best[c.field]; taken && b != i {
			c.note = fmt.Sprintf("column %s is taken for the %s", Letter(b), c.field.words())
			c.rival = true
		}
	}
}

// words is a field as it is said.
func (f field) words() string {
	switch f {
	case voltsField:
		return "rated voltage"
	case flatField:
		return "flat length"
	}
	return strings.ReplaceAll(string(f), "_", " ")
}

// findUnits looks for a row of units right under the headings.
func (h *heading) findUnits(g *grid) {
	if h.at+1 >= len(g.rows) || g.rows[h.at+1].blank() {
		return
	}
	found := map[int]string{}
	for i, cell := range g.rows[h.at+1].cells {
		if cell == "" {
			continue
		}
		unit, ok := unitWord(cell)
		if !ok {
			return
		}
		found[i] = unit
	}
	h.units = h.at + 1
	for i, unit := range found {
		if i < len(h.list) && h.list[i].unit == "" {
			h.list[i].unit = unit
		}
	}
}

// unitWord reports whether a cell has a unit and nothing else; pieces have none.
func unitWord(cell string) (unit string, ok bool) {
	plain := plainWords(cell)
	switch plain {
	case "pcs", "pieces", "no", "number", "each":
		return "", true
	}
	for _, u := range headingUnits {
		if plain == u.words {
			return u.unit, true
		}
	}
	return "", false
}

// column is that of a field, or Nowhere.
func (h *heading) column(f field) int {
	for i := range h.list {
		if h.list[i].field == f && !h.list[i].rival {
			return i
		}
	}
	return Nowhere
}

// columns are the columns for the report.
func (h *heading) columns() []Column {
	var out []Column
	for i, c := range h.list {
		col := Column{Heading: c.heading, Note: c.note}
		if c.field != unusedField && c.field != "" && c.field != idField && (!c.rival || slices.Contains(h.counts, i)) {
			col.Field = c.field.words()
			if c.unit != "" {
				col.Field += " in " + c.unit
			}
		}
		out = append(out, col)
	}
	return out
}
