package report

import (
	"slices"
	"strings"
	"unicode"

	"github.com/mattn/go-runewidth"
)

// cellWidth measures text in terminal cells. It is a condition of our own, so
// that the page does not depend on the locale it is made in.
var cellWidth = runewidth.Condition{StrictEmojiNeutral: true}

// The widths a page may have, in cells.
const (
	defaultWidth  = 80
	widestPage    = 100
	narrowestPage = 40
)

// page gathers lines, none wider than width.
type page struct {
	text   strings.Builder
	width  int
	colour bool
}

func newPage(width int, colour bool) *page {
	if width == 0 {
		width = defaultWidth
	}
	return &page{width: min(max(width, narrowestPage), widestPage), colour: colour}
}

// Emphasis: the only two cues beyond the words, and never without them.
const (
	bold   = "\x1b[1m"
	accent = "\x1b[1;35m" // magenta can be read on black and on white
	plain  = "\x1b[0m"
)

func (p *page) line(s, cue string) {
	s = strings.TrimRight(s, " ")
	if p.colour && cue != "" && s != "" {
		s = cue + s + plain
	}
	p.text.WriteString(s + "\n")
}

func (p *page) blank() { p.text.WriteString("\n") }

// heading writes a line that stands out.
func (p *page) heading(s string) {
	for _, l := range wrap(clean(s), p.width) {
		p.line(l, accent)
	}
}

// say writes a paragraph, every line indented.
func (p *page) say(indent int, s string) { p.hang(indent, indent, s) }

// hang writes a paragraph whose lines after the first are indented by rest.
func (p *page) hang(first, rest int, s string) { p.emphasised(first, rest, s, "") }

func (p *page) emphasised(first, rest int, s, cue string) {
	indent := first
	s = clean(s)
	for s != "" {
		var l string
		l, s = firstLine(s, p.width-indent)
		p.line(strings.Repeat(" ", indent)+l, cue)
		indent = rest
	}
}

// column is one column of a table.
type column struct {
	head  string
	right bool
	fixed bool // never narrower than its cells
}

const (
	least    = 2  // the narrowest a column can be: room for one wide rune
	readable = 10 // the narrowest that cells are broken to
)

// table writes rows under a head, columns two cells apart. A line feed in a cell
// is a place where it is broken if its column is too narrow for all of it. Where
// the page is too narrow, columns with such places are narrowed to them first,
// then the widest of the others, whose cells run over several lines; and where
// even that is not enough the table becomes a list. A row with one cell more than
// there are columns has it written under it.
func (p *page) table(indent int, columns []column, rows [][]string) {
	const gap = 2
	widths := make([]int, len(columns))
	broken := make([]int, len(columns)) // width with every break made
	words := make([]int, len(columns))  // width of the longest word
	room := p.width - indent - gap*(len(columns)-1)
	total := 0
	for i, c := range columns {
		measure := func(cell string) {
			widths[i] = max(widths[i], cellWidth.StringWidth(strings.ReplaceAll(cell, "\n", " ")))
			for part := range strings.SplitSeq(cell, "\n") {
				broken[i] = max(broken[i], cellWidth.StringWidth(part))
			}
			for _, word := range strings.Fields(cell) {
				words[i] = max(words[i], cellWidth.StringWidth(word))
			}
		}
		widths[i], broken[i] = least, least
		measure(c.head)
		for _, row := range rows {
			row[i] = cleanLines(row[i])
			measure(row[i])
		}
		total += widths[i]
	}
	for _, fixed := range []bool{true, false} { // heads before cells
		for i := len(columns) - 1; i >= 0 && total > room; i-- {
			if columns[i].fixed == fixed {
				total -= widths[i] - broken[i]
				widths[i] = broken[i]
			}
		}
	}
	fewest := 0 // columns taken, with the cells of columns that are not fixed broken further
	for i := range columns {
		if columns[i].fixed {
			fewest += widths[i]
		} else {
			fewest += min(widths[i], readable)
		}
	}
	if fewest > room {
		p.stacked(indent, columns, rows)
		return
	}
	for ; total > room; total-- {
		widest := -1
		for _, whole := range []bool{true, false} { // no word is broken while another cell can give
			for i := range columns {
				if !columns[i].fixed && widths[i] > readable && (!whole || widths[i] > words[i]) && (widest < 0 || widths[i] > widths[widest]) {
					widest = i
				}
			}
			if widest >= 0 {
				break
			}
		}
		widths[widest]--
	}
	head := make([]string, len(columns))
	for i, c := range columns {
		head[i] = c.head
	}
	p.row(indent, gap, columns, widths, head, bold)
	for _, row := range rows {
		p.row(indent, gap, columns, widths, row[:len(columns)], "")
		for _, under := range row[len(columns):] {
			at := indent + widths[0] + gap
			p.hang(at, at+gap, under)
		}
	}
}

// stacked writes a table that the page is too narrow for as a list: for each row
// its first cell, and under it the others with their heads.
func (p *page) stacked(indent int, columns []column, rows [][]string) {
	for _, row := range rows {
		var rest []string
		for i := 1; i < len(columns); i++ {
			rest = append(rest, columns[i].head+" "+row[i])
		}
		p.hang(indent, indent+2, columns[0].head+" "+row[0])
		p.hang(indent+2, indent+4, strings.Join(rest, "; "))
		for _, under := range row[len(columns):] {
			p.hang(indent+2, indent+4, under)
		}
	}
}

func (p *page) row(indent, gap int, columns []column, widths []int, cells []string, cue string) {
	lines := make([][]string, len(cells))
	deep := 1
	for i, c := range cells {
		if one := strings.ReplaceAll(c, "\n", " "); cellWidth.StringWidth(one) <= widths[i] {
			c = one
		}
		for part := range strings.SplitSeq(c, "\n") {
			lines[i] = append(lines[i], wrap(part, widths[i])...)
		}
		deep = max(deep, len(lines[i]))
	}
	for k := range deep {
		out := strings.Repeat(" ", indent)
		for i := range cells {
			cell := ""
			if k < len(lines[i]) {
				cell = lines[i][k]
			}
			pad := strings.Repeat(" ", max(0, widths[i]-cellWidth.StringWidth(cell)))
			if columns[i].right {
				cell = pad + cell
			} else {
				cell += pad
			}
			if i > 0 {
				out += strings.Repeat(" ", gap)
			}
			out += cell
		}
		p.line(out, cue)
	}
}

// wrap breaks text into lines of at most width cells.
func wrap(s string, width int) []string {
	var out []string
	for s != "" {
		var l string
		l, s = firstLine(s, width)
		out = append(out, l)
	}
	return out
}

// firstLine cuts the first line of at most width cells off a text whose words
// are parted by single spaces. A word longer than a line is broken.
func firstLine(s string, width int) (line, rest string) {
	if cellWidth.StringWidth(s) <= width {
		return s, ""
	}
	end := 0
	for i := 0; i <= len(s); i++ {
		if i < len(s) && (s[i] != ' ' || unitFollows(s, i)) {
			continue
		}
		if cellWidth.StringWidth(s[:i]) > width {
			break
		}
		end = i
	}
	if end > 0 {
		return s[:end], strings.TrimPrefix(s[end:], " ")
	}
	line = cellWidth.Truncate(s, max(width, least), "")
	if line == "" { // a cluster wider than the line
		return "?", strings.TrimLeftFunc(s, func(r rune) bool { return r != ' ' })
	}
	if at := strings.LastIndex(line, "-"); at >= least { // of a name in parts
		line = line[:at+1]
	}
	return line, s[len(line):]
}

// together are the words that stay on the line of the number before them.
var together = []string{"%", "mm", "cm", "m", "cm/s", "rpm", "x", "s", "g", "N", "V", "mA", "ohm", "mN·m"}

// unitFollows reports whether the space at i parts a number from its unit.
func unitFollows(s string, i int) bool {
	if i == 0 || s[i-1] < '0' || s[i-1] > '9' {
		return false
	}
	word, _, _ := strings.Cut(s[i+1:], " ")
	return slices.Contains(together, strings.TrimRight(word, ".,;:)"))
}

// zeroWidthJoiner holds some emoji together; every other invisible mark goes.
const zeroWidthJoiner = '\u200d'

// cleanLines cleans each line of a cell.
func cleanLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = clean(lines[i])
	}
	return strings.Join(lines, "\n")
}

// clean makes one line of text out of what may have come from a file: runs of
// blanks become one space, and control characters go, so that no name can move
// the cursor or change colours.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r) || unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Cf, r) && r != zeroWidthJoiner:
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
	return strings.Join(strings.Fields(s), " ")
}
