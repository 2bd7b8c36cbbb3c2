package stocktake

import (
	"slices"
	"strconv"
	"strings"

	"findrive/internal/pattern"
)

// MostAsked is of how many columns at most it is asked what they are.
const MostAsked = 8

// The words for what is in a column that has no heading, or none that is known. They are
// headings themselves.
const (
	AskedItem  = "Item"
	AskedKind  = "Kind"
	AskedSize  = "Size"
	AskedCount = "How many"
	AskedPlace = "Where"
	AskedHole  = "Hole"
	AskedNone  = "Notes" // it is not used
)

// ColumnKinds are all that a column may be said to be.
func ColumnKinds() []string {
	return []string{AskedItem, AskedKind, AskedSize, AskedCount, AskedPlace, "Across", AskedHole, "Long", "Wide", "Thick", "Volts", AskedNone}
}

// Asked is a column of which it is asked what it is.
type Asked struct {
	Heading string   // in the first row, if that seems to have headings
	Known   bool     // its heading is known
	Samples []string // what the rows below say, a few
	Guess   string   // one of ColumnKinds; empty for a column whose heading is known
}

// mostSamples is how many rows are shown of a column.
const mostSamples = 3

// Ask is what is to be asked of the columns of a list of a single sheet, and whether its first row
// seems to have headings; nil if it has one column only.
func Ask(data []byte) (columns []Asked, headed bool) {
	grids, err := open(data, stockOrKit)
	if err != nil || len(grids) != 1 {
		return nil, false
	}
	g := grids[0]
	first := g.firstOfColumns()
	if first < 0 {
		return nil, false
	}
	var below [][]string // column by column
	for _, r := range g.rows[first+1 : min(first+looked, len(g.rows))] {
		below = r.into(below)
	}
	head := g.rows[first].cells[:min(MostAsked, len(g.rows[first].cells))]
	for i, c := range head {
		headed = headed || c != "" && !hasFigure.MatchString(c) && i < len(below) && mostly(below[i], hasFigure.MatchString)
	}
	headed = headed && !slices.ContainsFunc(head, hasFigure.MatchString)
	cells := below
	if !headed {
		cells = nil
		for _, r := range g.rows[first:min(first+looked, len(g.rows))] {
			cells = r.into(cells)
		}
	}
	for i := range max(len(cells), len(head)) {
		var a Asked
		if i < len(cells) {
			a.Samples = cells[i][:min(mostSamples, len(cells[i]))]
		}
		if headed && i < len(head) {
			f, _, _ := lookUp(head[i], stockWords)
			a.Heading, a.Known = head[i], f != ""
		}
		columns = append(columns, a)
	}
	guess(columns, cells)
	return columns, headed
}

// firstOfColumns is the first row with more than one cell that says something; -1 if there is none.
func (g *grid) firstOfColumns() int {
	for i := range g.rows {
		said := 0
		for _, c := range g.rows[i].cells {
			if c != "" {
				said++
			}
		}
		if said > 1 && !g.rows[i].separator {
			return i
		}
	}
	return -1
}

// into adds what the cells of a row say to their columns.
func (r *gridRow) into(columns [][]string) [][]string {
	for i, c := range r.cells[:min(MostAsked, len(r.cells))] {
		if i == len(columns) {
			columns = append(columns, nil)
		}
		if c != "" {
			columns[i] = append(columns[i], c)
		}
	}
	return columns
}

var (
	hasFigure = pattern.Must(`\d`)
	countLike = pattern.Must(`(?i)^[~<>]?\s*\d+\s*(ish|or so|pcs|pieces|pairs?|doz(en)?|\+|\?)?$`)
	sizeLike  = pattern.Must(`(?i)^(no\.?|nr\.?|#|ø)?\s*[\d.,/]+`)
)

func mostly(cells []string, is func(string) bool) bool {
	n := 0
	for _, c := range cells {
		if is(c) {
			n++
		}
	}
	return 2*n > len(cells)
}

func ofKind(cell string) bool {
	var n naming
	n.see(strings.Fields(plainWords(cell)))
	return !n.none()
}

// guess fills in what the columns seem to be, each thing once: of those of whole numbers the last
// is the count; of those of words the first is the name, and one behind the count the place.
func guess(columns []Asked, cells [][]string) {
	taken := map[string]bool{}
	for _, a := range columns {
		if f, _, _ := lookUp(a.Heading, stockWords); a.Known {
			taken[askedFor[f]] = true
		}
	}
	take := func(i int, as ...string) {
		for _, is := range as {
			if columns[i].Guess == "" && !taken[is] {
				columns[i].Guess, taken[is] = is, true
			}
		}
	}
	var counts, texts []int
	for i := range columns {
		switch {
		case columns[i].Known || i >= len(cells) || len(cells[i]) == 0:
		case mostly(cells[i], countLike.MatchString):
			if !slices.Equal(cells[i], numbers(len(cells[i]))) { // of the rows
				counts = append(counts, i)
			}
		case mostly(cells[i], sizeLike.MatchString):
			take(i, AskedSize, AskedHole)
		default:
			texts = append(texts, i)
		}
	}
	count := -1
	if len(counts) > 0 {
		count = counts[len(counts)-1]
		take(count, AskedCount)
		take(counts[0], AskedSize, AskedHole)
	}
	for n, i := range texts {
		switch {
		case n+1 < len(texts) && texts[n+1] < count && mostly(cells[i], ofKind) && !mostly(cells[texts[n+1]], ofKind), taken[AskedItem] && mostly(cells[i], ofKind):
			take(i, AskedKind)
		case count >= 0 && i > count && n > 0:
			take(i, AskedItem, AskedPlace)
		default:
			take(i, AskedItem)
		}
	}
	for i := range columns {
		if columns[i].Guess == "" && !columns[i].Known {
			columns[i].Guess = AskedNone
		}
	}
}

// askedFor are the words for columns of which the heading is known.
var askedFor = map[field]string{labelField: AskedItem, kindField: AskedKind, sizeField: AskedSize, countField: AskedCount, locationField: AskedPlace, boreField: AskedHole}

// numbers are the first whole numbers, written down.
func numbers(n int) []string {
	out := make([]string, n)
	for i := range out {
		out[i] = strconv.Itoa(i + 1)
	}
	return out
}

// head puts headings over a grid, or in the place of those it has; an empty one leaves what is
// there.
func (g *grid) head(headings []string, instead bool) {
	first := g.firstOfColumns()
	if first < 0 {
		return
	}
	if !instead {
		below := g.rows[first:]
		g.rows = append(append([]gridRow(nil), g.rows[:first]...), gridRow{cells: headings, width: len(headings)})
		g.rows = append(g.rows, below...)
		return
	}
	r := &g.rows[first]
	r.cells = slices.Clone(r.cells)
	for i, h := range headings {
		for i >= len(r.cells) {
			r.cells = append(r.cells, "")
		}
		if h != "" {
			r.cells[i] = h
		}
	}
	for i := len(headings); i < len(r.cells); i++ { // of which nothing was asked
		if f, _, _ := lookUp(r.cells[i], stockWords); f == "" {
			r.cells[i] = AskedNone
		}
	}
}
