package drawing

import (
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"findrive/internal/units"
)

// Face is one of the two fonts everything is written in: the Go fonts, which
// come with the program and have Latin, Greek and Cyrillic letters.
type Face struct {
	File []byte // the TrueType file
	font *sfnt.Font
	em   fixed.Int26_6 // units in an em
	// advances is how far the pen moves on for each character of the font, as a
	// share of the size.
	advances map[rune]float64
	// CapHeight is the height of a capital, as a share of the size.
	CapHeight float64
	// Descent is how far letters like g reach below the line, as a share.
	Descent float64
}

var faces = sync.OnceValue(func() [2]*Face {
	return [2]*Face{readFace(goregular.TTF), readFace(gobold.TTF)}
})

// FaceOf is the regular or the bold font.
func FaceOf(bold bool) *Face {
	if bold {
		return faces()[1]
	}
	return faces()[0]
}

// readFace reads a font that is part of the program: it cannot fail on anything
// a user does, and the tests would not run.
func readFace(file []byte) *Face {
	f, err := sfnt.Parse(file)
	if err != nil {
		panic("the built-in font cannot be read: " + err.Error())
	}
	face := &Face{File: file, font: f, em: fixed.Int26_6(f.UnitsPerEm())}
	var b sfnt.Buffer
	m, err := f.Metrics(&b, face.em, font.HintingNone)
	if err != nil {
		panic("the built-in font has no metrics: " + err.Error())
	}
	face.advances = map[rune]float64{}
	for r := rune(' '); r <= 0xffff; r++ {
		if i, err := f.GlyphIndex(&b, r); err == nil && i != 0 {
			if a, err := f.GlyphAdvance(&b, i, face.em, font.HintingNone); err == nil {
				face.advances[r] = face.share(a)
			}
		}
	}
	face.CapHeight, face.Descent = face.share(m.CapHeight), face.share(m.Descent)
	return face
}

func (f *Face) share(x fixed.Int26_6) float64 { return float64(x) / float64(f.em) }

// Has reports whether the font has a character.
func (f *Face) Has(r rune) bool { _, ok := f.advances[r]; return ok }

// Outline is the shape of a character at a size with the pen at a point, for
// painters that have no fonts: moves, lines and quadratic curves (see sfnt), and
// where the pen stands afterwards. The function gets the points of each step.
func (f *Face) Outline(r rune, size units.Millimetres, draw func(op sfnt.SegmentOp, points [3]Point)) (advance units.Millimetres) {
	var b sfnt.Buffer
	i, err := f.font.GlyphIndex(&b, r)
	if err != nil {
		return 0
	}
	segments, err := f.font.LoadGlyph(&b, i, f.em, nil)
	if err != nil {
		return 0
	}
	for _, s := range segments {
		var points [3]Point
		for k, a := range s.Args {
			points[k] = Point{mm(f.share(a.X)) * size, mm(f.share(a.Y)) * size}
		}
		draw(s.Op, points)
	}
	return mm(f.advances[r]) * size
}
