package drawing

import (
	"math"
	"slices"

	"findrive/internal/units"
)

// Pen is how a line looks. The zero value draws nothing.
type Pen struct {
	Width units.Millimetres
	// Dash has the lengths of dash and gap in turn; nil for a whole line.
	Dash  []units.Millimetres
	White bool // rubs out instead: for gaps where one line passes over another
	Round bool // round ends instead of square-cut ones
}

// Line widths. 0.25 mm is the thinnest that survives a photocopier, and the
// wide line is twice the narrow one (ISO 128-2: widths in the ratio 2:1).
const (
	Narrow units.Millimetres = 0.25
	Medium units.Millimetres = 0.35
	Wide   units.Millimetres = 0.5
)

// The lines of a drawing office (ISO 128-2 line types 01, 02, 04 and 05: what
// can be seen is a wide whole line, what is hidden a dashed one, centre lines
// are long dashes with a short one between, and outlines of what stands in
// front or may be elsewhere have two short ones).
var (
	NoPen   = Pen{}
	Outline = Pen{Width: Wide}
	Thin    = Pen{Width: Narrow}
	Hidden  = Pen{Width: Medium, Dash: []units.Millimetres{2.5, 1.2}}
	Centre  = Pen{Width: Narrow, Dash: []units.Millimetres{6, 1, 1, 1}}
	Phantom = Pen{Width: Narrow, Dash: []units.Millimetres{6, 1, 1, 1, 1, 1}}
	Cut     = Pen{Width: Narrow, Dash: []units.Millimetres{1.5, 1.5}}
)

// Wider is the same pen with another width.
func (p Pen) Wider(width units.Millimetres) Pen { p.Width = width; return p }

// Rubber is a pen that leaves white.
func Rubber(width units.Millimetres) Pen { return Pen{Width: width, White: true} }

// Fill is what is inside a path. The zero value leaves what is under it.
type Fill struct {
	Kind FillKind
	// For Hatch: lines a distance apart, in one direction or two.
	Pen     Pen
	Spacing units.Millimetres
	Angles  []units.Radians
}

// FillKind is the kind of a fill.
type FillKind int

// The kinds of fill.
const (
	Empty FillKind = iota
	Paper          // white: hides what was drawn before
	Solid          // black
	Hatch          // lines on white
)

// The usual fills. Neighbouring parts get hatching in different directions, as
// is usual on sections (ISO 128-3).
var (
	NoFill       = Fill{}
	White        = Fill{Kind: Paper}
	Black        = Fill{Kind: Solid}
	Hatched      = Fill{Kind: Hatch, Pen: Thin, Spacing: 1.8, Angles: []units.Radians{math.Pi / 4}}
	CrossHatched = Fill{Kind: Hatch, Pen: Thin, Spacing: 2.2, Angles: []units.Radians{math.Pi / 4, 3 * math.Pi / 4}}
)

// hatching is the lines of a hatch inside a path, even-odd where parts lie in
// one another. The lines hang together with the page, not with the path, so that
// they meet where two parts of one thing are hatched one after the other.
func hatching(p *Path, f Fill) *Path {
	out := &Path{}
	parts := p.outlines()
	if f.Spacing <= 0 {
		return out
	}
	for _, angle := range f.Angles {
		sin, cos := math.Sincos(float64(angle))
		// u runs along the lines, v across them.
		along := func(q Point) (u, v mm) {
			return q.X*mm(cos) - q.Y*mm(sin), q.X*mm(sin) + q.Y*mm(cos)
		}
		back := func(u, v mm) Point { return Point{u*mm(cos) + v*mm(sin), v*mm(cos) - u*mm(sin)} }
		lo, hi := mm(math.Inf(1)), mm(math.Inf(-1))
		for _, part := range parts {
			for _, q := range part {
				_, v := along(q)
				lo, hi = min(lo, v), max(hi, v)
			}
		}
		for k := math.Ceil(float64(lo / f.Spacing)); mm(k)*f.Spacing <= hi; k++ {
			at := mm(k) * f.Spacing
			var cuts []mm
			for _, part := range parts {
				for i := range part {
					u0, v0 := along(part[i])
					u1, v1 := along(part[(i+1)%len(part)])
					if (v0 <= at) != (v1 <= at) {
						cuts = append(cuts, u0+(at-v0)/(v1-v0)*(u1-u0))
					}
				}
			}
			slices.Sort(cuts)
			for i := 0; i+1 < len(cuts); i += 2 {
				out.MoveTo(back(cuts[i], at)).LineTo(back(cuts[i+1], at))
			}
		}
	}
	return out
}
