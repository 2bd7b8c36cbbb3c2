// Package stocktake reads the spreadsheet in which a technician keeps the stock,
// with the mess that such files have, and makes a cupboard file of it; prints
// blank count sheets; and checks a kit back in. Every row of a sheet is accounted
// for once: used as it stands, used with something assumed, or ignored, with the
// reason and the column. It reads and makes bytes, never files.
//
//	read.go         lists on their way to one cupboard
//	wrongsort.go    what a file is that is no list
//	decode.go       bytes to text: UTF-8, UTF-16, Windows-1252
//	grid.go         text to rows and cells: what parts the columns, stray quotes
//	lines.go        a list without columns, one part on each line
//	workbook.go     XLSX to rows and cells: what is stored, not what is shown
//	workbook_struck.go  what is crossed out, and cells over several rows
//	opendocument.go the same of ODS
//	cells.go        the same for sheets of another sort
//	tables.go       the tables of a sheet, and what their titles say
//	away.go         titles and sheets of what is not in the cupboard
//	heading.go      which column is what
//	countcolumn.go  which column is the count
//	names.go        the words for columns
//	columns.go      what is to be asked of columns without headings that are known
//	kinds.go        the words for kinds, and for what is none
//	slips.go        words for parts with a letter wrong
//	count.go        "10ish", ">20", "2 doz", "12 (2 broken)"
//	amount.go       sizes: decimal commas, fractions of an inch, units
//	size.go         "5 x 300", "No. 16", "2 x AA": what a size says of each kind
//	size_hub.go     which of several lengths of a pulley or wheel is which
//	size_motor.go   torque and currents of a motor in its name
//	row.go          a row made into a part: its kind
//	rowcount.go     its count and its price, packs
//	rownotes.go     what its notes take back
//	settings.go     its sizes
//	usual.go        what is taken for what lists never say
//	tubs.go         the same tub listed twice; names
//	cupboard.go     the cupboard file; keys.go its keys
//	lacks.go        kinds without which no drive can be made
//	describe.go     what words say of one part
//	blank.go        the count sheet
//	back.go         a count against a kit list
//	recount.go      a cupboard file with other counts
package stocktake

import (
	"fmt"
	"strings"

	"findrive/internal/units"
)

// Limits on a sheet, far above what a school has. Whatever is beyond them is
// refused at once.
const (
	MaxBytes    = 1 << 20
	MaxWorkbook = 8 << 20 // bytes of a workbook, which has pictures and styles in it
	MaxLists    = 60      // sheets of all files
	MaxRows     = 5000
	MaxColumns  = 60
	MaxCell     = 5000 // letters in one cell
	MaxParts    = 1500 // in the cupboard file
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
	// Usual takes what is usual for what such lists never say: see usual.go.
	Usual bool
	// CountColumn is the letter or the heading of the column that is the count, where
	// that is not plain; may be empty.
	CountColumn string
	// Headings are what the columns of a list of a single sheet are, where it has no headings
	// or none that are known; see Ask. They stand over its rows, or where Headed is, in the
	// place of its own, of which an empty one leaves that of its column.
	Headings []string
	Headed   bool
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

// Other is a cell and a heading for it.
type Other struct{ Heading, Says string }

// Row is one row of the sheet and what became of it.
type Row struct {
	Number  int // from 1, as a spreadsheet counts
	Table   int // the table it belongs to, in List.Tables
	First   int // its first and
	Last    int // its last line in the file, from 1
	Verdict Verdict
	Bare    bool   // a row of no stock: blank, a title, the headings, a total
	Words   string // what to know it by; may be empty
	Part    string // "pulley.red-50"; empty if ignored
	Kind    string // of a row that is ignored, as far as it was made out
	Size    string // what its columns of sizes and
	Count   string // of the count say, of a row that is ignored
	// Others are what its other columns of sizes say, of a row that is ignored, each under a
	// heading that is read alike.
	Others  []Other
	NoPart  bool // a thing that a cupboard file has no place for
	Again   bool // a tub that another row has too, which is counted once
	Remarks []Remark
}

// Column is one column of the sheet.
type Column struct {
	Heading string
	Field   string // what it was taken for; empty if it is not used
	Note    string // about that; may be empty
}

// notKnown begins the note of a column that is not used for its heading's sake.
const notKnown = "this heading is not known"

// Unknown is whether a column is not used for its heading's sake, so that something may be lost.
func (c *Column) Unknown() bool { return c.Field == "" && strings.HasPrefix(c.Note, notKnown) }

// Table is a row of headings and the rows below it.
type Table struct {
	Heading int // number of the row with the headings; 0 if the list has none
	Columns []Column
}

// List is one sheet and what became of it.
type List struct {
	File  string
	Sheet string   // its name in a workbook; empty for a text
	How   []string // how it was read
	// Unread says why it was not read, such as a sheet without headings; its rows are
	// then empty.
	Unread string
	Lines  bool // it has no columns, but a part on each line
	Tables []Table
	Rows   []Row
}

// Name is the list's file and its sheet.
func (l *List) Name() string {
	if l.Sheet == "" {
		return l.File
	}
	return l.File + ", " + l.Sheet
}

// Place is a row: Result.Lists[List].Rows[Row].
type Place struct{ List, Row int }

// Part is a part of the cupboard that was made.
type Part struct {
	Kind, Name string
	Count      int
	Rows       []Place // it was made from
}

// Result is what was made of lists.
type Result struct {
	Name  string // of the files
	Lists []List
	// Asks are questions to the user, on which much depends.
	Asks  []string
	Parts []Part
	// Lacks are the kinds of part without which no drive can be made and of which there
	// are none, in the order of a cupboard file.
	Lacks []string
	// Misfits are sentences about parts that are there and do not go together.
	Misfits []string
	// Cupboard is the cupboard file, nil if no row could be used.
	Cupboard []byte
}

// Where is a place as it is said in a remark of a row of the list from: "row 5", and the
// list where it is another one.
func (r *Result) Where(p Place, from int) string {
	row := fmt.Sprintf("row %d", r.Lists[p.List].Rows[p.Row].Number)
	if p.List == from {
		return row
	}
	return r.nameOf(p.List) + ", " + row
}

// nameOf names a list as shortly as can be: by its sheet, if all are of one file.
func (r *Result) nameOf(list int) string {
	l := &r.Lists[list]
	for i := range r.Lists {
		if r.Lists[i].File != l.File {
			return cleanName(l.Name())
		}
	}
	if l.Sheet == "" {
		return cleanName(l.File)
	}
	return "sheet " + cleanName(l.Sheet)
}

// whereAll lists places as "row 3, 5", or as "sheet Wheels, row 3; sheet Axles, row 5".
func (r *Result) whereAll(places []Place) string {
	var out strings.Builder
	list := -1
	for i, p := range places {
		number := r.Lists[p.List].Rows[p.Row].Number
		switch {
		case p.List == list:
			fmt.Fprintf(&out, ", %d", number)
			continue
		case i > 0:
			out.WriteString("; ")
		}
		if len(r.Lists) > 1 {
			out.WriteString(r.nameOf(p.List) + ", ")
		}
		fmt.Fprintf(&out, "row %d", number)
		list = p.List
	}
	return out.String()
}

// Count is how many rows have a verdict.
func (r *Result) Count(v Verdict) int {
	n := 0
	for i := range r.Lists {
		for j := range r.Lists[i].Rows {
			if r.Lists[i].Rows[j].Verdict == v {
				n++
			}
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
