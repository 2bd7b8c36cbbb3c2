package stocktake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"
)

// grid is the cells of a sheet.
type grid struct {
	how   []string
	comma rune // what parts the columns; 0 in a workbook
	rows  []gridRow
	lines bool // it has no columns, but a part on each line

	workbook bool
	sheet    string // its name in the workbook
	hidden   bool   // the workbook does not show it
}

// open reads the sheets of a file: those of a workbook, or the one of a text.
func open(data []byte, known func(cells []string) int) ([]*grid, error) {
	if bytes.HasPrefix(data, []byte(zipBegins)) {
		if len(data) > MaxWorkbook {
			return nil, fmt.Errorf("the workbook has over %d MB, which no stock list needs: is it the right one?", MaxWorkbook>>20)
		}
		return readWorkbook(data)
	}
	g, err := readGrid(data, known)
	if err != nil {
		return nil, err
	}
	return []*grid{g}, nil
}

// gridRow is one row. A row with no words in any cell is blank and has no cells.
type gridRow struct {
	number      int
	first, last int // lines
	cells       []string
	width       int    // how many cells the file has for it, empty ones too
	note        string // something put right in it; may be empty
	separator   bool   // the row only names what parts the columns
	struck      []int  // columns whose cells are crossed out
	merged      []int  // columns whose cells are one with others above or below
}

func (r *gridRow) blank() bool { return len(r.cells) == 0 }

// separators are what may part columns, with their names.
var separators = []struct {
	comma rune
	name  string
}{{',', "commas"}, {';', "semicolons"}, {'\t', "tabs"}, {'|', "upright strokes"}}

// sample is how many rows are looked at to find out what parts the columns.
const sample = 40

// readGrid reads the cells of a sheet, whatever parts them. known is how many columns
// of a sheet of its sort a row names.
func readGrid(data []byte, known func(cells []string) int) (*grid, error) {
	text, how, err := decode(data)
	if err != nil {
		return nil, err
	}
	g := &grid{}
	if how != "" {
		g.how = append(g.how, how)
	}
	lines := strings.SplitAfter(text, "\n")
	if lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	if len(lines) > MaxRows {
		return nil, fmt.Errorf("there are %d rows, the most is %d: delete empty rows below the list, or split it", len(lines), MaxRows)
	}
	if said, ok := named(lines); ok {
		g.comma = said
		g.rows = append(g.rows, gridRow{number: 1, first: 1, last: 1, cells: []string{strings.TrimSpace(lines[0])}, width: 1, separator: true})
	} else {
		g.comma = likely(lines, known)
	}
	if err := g.read(lines); err != nil {
		return nil, err
	}
	for _, s := range separators {
		if s.comma == g.comma {
			g.how = append(g.how, "columns parted by "+s.name)
		}
	}
	return g, nil
}

// named is the separator that the first line names, as some office programs write
// it: sep=;
func named(lines []string) (rune, bool) {
	if len(lines) == 0 {
		return 0, false
	}
	said, ok := strings.CutPrefix(strings.ToLower(strings.Trim(strings.TrimRight(lines[0], "\n"), `"`)), "sep=")
	r, n := utf8.DecodeRuneInString(said)
	if !ok || n != len(said) {
		return 0, false
	}
	for _, s := range separators {
		if s.comma == r {
			return r, true
		}
	}
	return 0, false
}

// likely is the separator with which the first rows make most sense: most words
// for columns known in one row, and then most cells.
func likely(lines []string, knownIn func(cells []string) int) rune {
	best, mostKnown, mostCells := ',', -1, -1
	text := strings.Join(lines[:min(sample, len(lines))], "")
	for _, s := range separators {
		known, cells := 0, 0
		in := reader(text, s.comma)
		for {
			row, err := in.Read()
			if err != nil {
				break
			}
			known = max(known, knownIn(cleaned(row)))
			cells += len(row) - 1
		}
		if known > mostKnown || known == mostKnown && cells > mostCells {
			best, mostKnown, mostCells = s.comma, known, cells
		}
	}
	return best
}

func reader(text string, comma rune) *csv.Reader {
	in := csv.NewReader(strings.NewReader(text))
	in.Comma, in.LazyQuotes, in.FieldsPerRecord = comma, true, -1
	return in
}

// mostStray is how many rows may have a quote mark that is not closed: each makes
// the rest of the file be read anew.
const mostStray = 40

// read reads the lines after those that have been read. A quote mark that opens a
// cell and is not closed in its row would swallow all rows up to the next one; such
// a row is read by itself, without its quote marks.
func (g *grid) read(lines []string) error {
	at := len(g.rows) // lines read so far
	start, stray := at, 0
	rest := strings.Join(lines[at:], "")
	in, read, broken := reader(rest, g.comma), 0, 0
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fmt.Errorf("row %d cannot be read: %w", at+1, err)
		}
		line, _ := in.FieldPos(0)
		first := start + line // from 1
		for ; at+1 < first; at++ {
			g.add(gridRow{first: at + 1, last: at + 1})
		}
		offset := int(in.InputOffset())
		broken += strings.Count(rest[read:offset], "\n")
		read = offset
		last := start + broken
		if !strings.HasSuffix(rest[:offset], "\n") {
			last++
		}
		note := ""
		if last > first && swallowed(row, g.comma) {
			if stray++; stray > mostStray {
				return fmt.Errorf("over %d rows have a quote mark that is not closed: take the quote marks out of the list", mostStray)
			}
			if row, err = reader(strings.ReplaceAll(lines[first-1], `"`, ""), g.comma).Read(); err != nil {
				row = nil
			}
			last, note = first, "a quote mark is not closed: read without it"
			start = first
			rest = strings.Join(lines[start:], "")
			in, read, broken = reader(rest, g.comma), 0, 0
		}
		at = last
		if err := g.check(first, row); err != nil {
			return err
		}
		g.add(gridRow{first: first, last: last, cells: cleaned(row), width: len(row), note: note})
	}
	for ; at < len(lines); at++ {
		g.add(gridRow{first: at + 1, last: at + 1})
	}
	return nil
}

func (g *grid) add(r gridRow) {
	r.number = len(g.rows) + 1
	g.rows = append(g.rows, r)
}

func (g *grid) check(line int, row []string) error {
	if len(row) > MaxColumns {
		return fmt.Errorf("line %d has %d columns, the most is %d", line, len(row), MaxColumns)
	}
	for i, c := range row {
		if len(c) > MaxCell && utf8.RuneCountInString(c) > MaxCell {
			return fmt.Errorf("line %d, column %s: the cell has %d letters, the most is %d: is a quote mark missing?", line, Letter(i), utf8.RuneCountInString(c), MaxCell)
		}
	}
	return nil
}

// swallowed reports whether a row of several lines has whole rows inside a cell: a
// line of it with as many separators as make two columns. Words with line breaks,
// such as an address, have hardly any.
func swallowed(row []string, comma rune) bool {
	for _, c := range row {
		lines := strings.Split(c, "\n")
		for _, l := range lines[1:] {
			if strings.Count(l, string(comma)) >= 2 {
				return true
			}
		}
	}
	return false
}

// cleaned is the words of cells: one line each, blanks as one space, without what
// does not print, nor the apostrophe that keeps a spreadsheet from reckoning. Empty
// cells at the end go; a row of empty cells is nil.
func cleaned(row []string) []string {
	out := make([]string, len(row))
	end := 0
	for i, c := range row {
		c = strings.Map(func(r rune) rune {
			switch {
			case unicode.IsSpace(r) || unicode.IsControl(r):
				return ' '
			case !unicode.IsPrint(r):
				return -1
			case '\uff01' <= r && r <= '\uff5e': // wide forms, as in East Asian type
				return r - '\uff01' + '!'
			}
			return r
		}, strings.ToValidUTF8(c, "?"))
		c = strings.Join(strings.Fields(c), " ")
		if len(c) > 1 && c[0] == '\'' && strings.ContainsRune("=+-@0123456789", rune(c[1])) {
			c = c[1:]
		}
		if out[i] = c; c != "" {
			end = i + 1
		}
	}
	if end == 0 {
		return nil
	}
	return out[:end]
}
