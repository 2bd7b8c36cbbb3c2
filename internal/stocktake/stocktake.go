// Package stocktake reads the spreadsheet in which a technician keeps the stock,
// with the mess that such files have, and makes a cupboard file of it; prints
// blank count sheets; and checks a kit back in. Every row of a sheet is accounted
// for once: used as it stands, used with something assumed, or ignored, with the
// reason and the column. It reads and makes bytes, never files.
//
//	decode.go    bytes to text: UTF-8, UTF-16, Windows-1252
//	grid.go      text to rows and cells: what parts the columns, stray quotes
//	cells.go     the same for sheets of another sort
//	heading.go   which row has the headings, and which column is what
//	names.go     the words for columns and kinds
//	count.go     "10ish", ">20", "2 doz", "12 (2 broken)"
//	amount.go    sizes: decimal commas, fractions of an inch, units
//	size.go      "5 x 300", "No. 16", "2 x AA": what a size says of each kind
//	row.go       a row made into a part
//	tubs.go      the same tub listed twice
//	cupboard.go  the cupboard file
//	blank.go     the count sheet
//	back.go      a count against a kit list
//	recount.go   a cupboard file with other counts
package stocktake

import (
	"fmt"

	"findrive/internal/units"
)

// Limits on a sheet, far above what a school has. Whatever is beyond them is
// refused at once.
const (
	MaxBytes   = 1 << 20
	MaxRows    = 5000
	MaxColumns = 60
	MaxCell    = 5000 // letters in one cell
	MaxParts   = 1500 // in the cupboard file
)

// Options are what a sheet does not say. The zero value takes nothing for granted
// that the sheet leaves open.
type Options struct {
	// Bore is taken for pulleys, wheels and drums without one; 0: such rows are
	// ignored.
	Bore units.Millimetres
	// FreeSpeed is taken for motors without one; 0: such rows are ignored.
	FreeSpeed units.RPM
	// Lots is the count taken for words such as "lots"; 0: such rows are ignored.
	Lots int
	// AddTubs adds up rows of the same tub; otherwise the smaller count is taken.
	AddTubs bool
	// Dated is written into what is made, such as "3 May 2027"; may be empty.
	Dated string
}

// Verdict is what became of a row.
type Verdict int

// The verdicts. Every row of a sheet has one.
const (
	Used    Verdict = iota // as it stands
	Assumed                // with something assumed
	Ignored
)

func (v Verdict) String() string { return [...]string{"used", "assumed", "ignored"}[v] }

// Nowhere is the column of a remark about a whole row.
const Nowhere = -1

// Remark is something to know about a row.
type Remark struct {
	Column int // from 0, or Nowhere
	Text   string
	// Assumes says that the part rests on it; otherwise it only says what was left
	// out, or why the row was ignored.
	Assumes bool
	// Slight is what hardly anyone would read otherwise, such as a size without a
	// unit: no drive ranks lower for it.
	Slight bool
}

// Row is one row of the sheet and what became of it.
type Row struct {
	Number  int // from 1, as a spreadsheet counts
	First   int // its first and
	Last    int // its last line in the file, from 1
	Verdict Verdict
	Bare    bool   // a row of no stock: blank, a title, the headings, a total
	Words   string // what to know it by; may be empty
	Part    string // "pulley.red-50"; empty if ignored
	Remarks []Remark
}

// Column is one column of the sheet.
type Column struct {
	Heading string
	Field   string // what it was taken for; empty if it is not used
	Note    string // about that; may be empty
}

// Part is a part of the cupboard that was made.
type Part struct {
	Kind, Name string
	Count      int
	Rows       []int // numbers of the rows it was made from
}

// Result is what was made of a sheet.
type Result struct {
	Name    string
	How     []string // how the file was read
	Heading int      // number of the row with the headings
	Columns []Column
	Rows    []Row
	Parts   []Part
	// Cupboard is the cupboard file, nil if no row could be used.
	Cupboard []byte
}

// Count is how many rows have a verdict.
func (r *Result) Count(v Verdict) int {
	n := 0
	for i := range r.Rows {
		if r.Rows[i].Verdict == v {
			n++
		}
	}
	return n
}

// Letter is the name a spreadsheet has for a column, counted from 0: A, B ... Z,
// AA and so on.
func Letter(column int) string {
	name := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		name = string(rune('A'+(n-1)%26)) + name
	}
	return name
}

// Read makes a cupboard file of a sheet. name is the file's name in messages. The
// error is a plain sentence: this is no sheet, or one beyond the limits.
func Read(name string, data []byte, opt Options) (*Result, error) {
	g, err := readGrid(data, stockOrKit)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	h, err := findHeading(g, stockWords)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	r := &Result{Name: name, How: g.how, Heading: g.rows[h.at].number, Columns: h.columns()}
	t := taking{grid: g, heading: h, opt: opt}
	t.take()
	r.Rows = t.rows
	if err := t.write(r); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return r, nil
}
