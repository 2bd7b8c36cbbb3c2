// Package sheet turns one proposal of a certificate into what people need who
// build the drive: a build sheet for the adult, a page for the pupils with its
// answers, and a kit list. Each is a page of blocks (headings, steps, tables,
// boxes, pictures) that says what is on it and not how it looks; it is laid out
// on paper by paper.go and written as HTML by html.go from the same blocks.
//
//	sheet.go    pages, blocks, and whose they are; pictures.go names of the pages,
//	            filename.go of their files
//	set.go      a proposal made ready: letters, fits, the frame's sides
//	sleeves.go  how sleeves are cut to the hubs that they go into
//	build.go    the build sheet; steps.go, faults.go its parts, stand.go what reaches below
//	            the frame
//	making.go   the page with a picture for each step and every rod in true size
//	flow.go     columns, panels and steps on paper; table.go tables
//	pupils.go   the pupils' page and its answers; sum.go whole numbers for it,
//	            pupils_steps.go, outlines.go and sketch.go its steps and pictures
//	discs.go    discs of pulleys that are to be made; disc_shares.go of several drives
//	kit.go      the kit list, also as CSV; cutlist.go the cutting list on it, washers.go what
//	            of the cupboard's spacers serves
//	class.go    the same for groups that build different drives; turns.go for classes that
//	            build one after another
//	count.go    a sheet to count the stock on
//	words.go    numbers and times in words
package sheet

import (
	"fmt"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Page is one document: it may take several sheets of paper.
type Page struct {
	Name     string // short, for a file name: "build", "pupils" ...
	Title    string
	Identity Identity
	Blocks   []Block
	// Young asks for larger type and wider lines.
	Young bool
	// Sides is on how many sides of paper the page should go: two are one sheet. It is
	// then set closer and smaller as need be, never under the least type; 0 for as many
	// as it takes.
	Sides int
	// Print is the paper that the page as HTML is printed on: A4 for the zero value.
	Print drawing.Size
}

// Block is one part of a page: Heading, Text, Steps, Table, Boxes or Picture; or
// Columns or a Panel, which hold others.
type Block interface{ block() }

// Heading begins a section.
type Heading string

// Text is a paragraph. A bold one must not be missed.
type Text struct {
	Words string
	Bold  bool
}

// Steps are things to do or to know, in order.
type Steps struct {
	Items    []Step
	Numbered bool
	Ticks    bool // with a box to tick before each
	Halves   bool // on paper in two columns, read down and then across
}

// Step is one thing to do.
type Step struct {
	Do    string
	Adult bool   // an adult's job
	Check string // what must be so before the next step; may be empty
}

// Table has a caption, a head and rows. Cells are words.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	// Right are the columns with figures, set to the right.
	Right []int
	// Names says that the first cell of each row is the row's name.
	Names bool
	Note  string // under the table; may be empty
	// Least is the least height of a row on paper, for tables to be written in.
	Least units.Millimetres
}

// Boxes are empty boxes to write in, side by side.
type Boxes struct {
	Labels []string
	Height units.Millimetres
}

// Picture is drawn. Description says in words what can be seen, and Facts has
// the figures in it; both stand in for the picture where it cannot be seen.
type Picture struct {
	Title       string
	Description string
	Size        drawing.Size
	Least       units.Millimetres // how high it must be at least; 0 if no lower than its size
	Draw        func(c *drawing.Canvas, room drawing.Rect)
	Facts       *Table // its figures; left out where the page has a table of that caption
}

// Columns are blocks that stand side by side on paper, and one after the other
// where there is no paper.
type Columns struct {
	Left, Right []Block
	Share       float64 // of the width that the left ones take; 0 for half
}

// Panel is blocks in a frame, not to be missed.
type Panel []Block

func (Columns) block() {}
func (Panel) block()   {}
func (Heading) block() {}
func (Text) block()    {}
func (Steps) block()   {}
func (Table) block()   {}
func (Boxes) block()   {}
func (Picture) block() {}

// Identity says which drive a page belongs to, so that last year's sheet can be
// matched and printed again.
type Identity struct {
	Name  string // of the brief
	Rank  int    // of the drive; 0 for a page that belongs to none
	Date  string // as the user writes it; may be empty
	Print string // fingerprints of the cupboard, the brief and the drive
}

// Line is whose page it is, in words.
func (id Identity) Line() string {
	words := id.Name
	if id.Rank > 0 {
		words += fmt.Sprintf(", drive %d", id.Rank)
	}
	if id.Date != "" {
		words += ", " + id.Date
	}
	return words
}

// flat is the blocks in the order in which they are read, without columns and
// panels.
func flat(blocks []Block) []Block {
	var out []Block
	for _, b := range blocks {
		switch b := b.(type) {
		case Columns:
			out = append(append(out, flat(b.Left)...), flat(b.Right)...)
		case Panel:
			out = append(out, flat(b)...)
		default:
			out = append(out, b)
		}
	}
	return out
}
