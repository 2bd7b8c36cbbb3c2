// Package drawing is a drawing on paper, in millimetres: pages with lines, arcs,
// hatching and words. It knows nothing of drives. Three packages below it write
// the same drawing in three formats, with the same bytes for the same drawing:
//
//	drawing/svg   one page, true size, with title and description
//	drawing/pdf   all pages, font embedded, printed at 100 % unless told otherwise
//	drawing/png   one page at a given number of dots to the inch
//
// Places on a page are measured from its upper left corner, x to the right and
// y down, as paper is read. Angles are anticlockwise as seen, from the right.
//
// Everything is black on white, because it will be photocopied: meaning is
// carried by line widths, dashes and hatching (see Pen and Fill).
package drawing

import "findrive/internal/units"

type mm = units.Millimetres

// Drawing is a document: pages under one title.
type Drawing struct {
	Title       string
	Description string // what a person who cannot see the pages should know
	Pages       []*Page
	// TwoSided asks for both sides of the paper, turned over along the long edge.
	TwoSided bool
}

// Page is one sheet of paper, or one picture.
type Page struct {
	Title       string
	Description string // the words in place of the picture; see Canvas.Group
	Size        Size
	Canvas
}

// Size is the size of a page.
type Size struct{ Width, Height units.Millimetres }

// The papers of schools, upright (ISO 216; ANSI/ASME Y14.1 size A).
var (
	A4     = Size{210, 297}
	Letter = Size{8.5 * units.MillimetresPerInch, 11 * units.MillimetresPerInch}
)

// Landscape is the same paper turned on its side.
func (s Size) Landscape() Size { return Size{max(s.Width, s.Height), min(s.Width, s.Height)} }

// Bounds is the whole page as a rectangle.
func (s Size) Bounds() Rect { return Rect{0, 0, s.Width, s.Height} }

// NewPage is an empty page.
func NewPage(size Size, title string) *Page { return &Page{Title: title, Size: size} }

// Add appends an empty page and returns it.
func (d *Drawing) Add(size Size, title string) *Page {
	p := NewPage(size, title)
	d.Pages = append(d.Pages, p)
	return p
}
