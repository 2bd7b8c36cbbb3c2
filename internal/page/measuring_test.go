package page

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// painted notes what is painted.
type painted struct {
	fills  int
	lines  []*drawing.Path
	letter []drawing.Text
}

func (p *painted) Begin(string, string)                  {}
func (p *painted) End()                                  {}
func (p *painted) Clip(drawing.Rect)                     {}
func (p *painted) Unclip()                               {}
func (p *painted) Fill(*drawing.Path, bool)              { p.fills++ }
func (p *painted) Stroke(l *drawing.Path, _ drawing.Pen) { p.lines = append(p.lines, l) }
func (p *painted) Text(t drawing.Text)                   { p.letter = append(p.letter, t) }

// A ring of the measuring sheet is whole, and its number stands clear of all rings and of the
// cross in the middle.
func TestRingsAreWholeAndTheirNumbersClear(t *testing.T) {
	var c drawing.Canvas
	at := drawing.Point{X: 50, Y: 50}
	sizes := []units.Millimetres{10, 20, 30, 80}
	rings(&c, at, sizes)
	p := &painted{}
	c.Paint(p)
	assert.Zero(t, p.fills, "nothing lies over a ring")
	assert.Len(t, p.letter, len(sizes))
	const clear = 0.3
	for _, w := range p.letter {
		half, top, foot := w.Style.Width(w.Words)/2, w.At.Y-w.Style.CapHeight(), w.At.Y
		for _, n := range sizes {
			inside := drawing.Point{X: at.X + half, Y: foot}.Distance(at) < n/2-clear
			outside := drawing.Point{X: at.X, Y: top}.Distance(at) > n/2+clear
			assert.True(t, inside || outside, "%s and the ring of %v", w.Words, n)
		}
		for _, l := range p.lines {
			if b := l.Steps[len(l.Steps)-1]; b.Kind == drawing.Draw {
				assert.Less(t, float64(b.To.Y), float64(top-clear), "%s and the cross", w.Words)
			}
		}
	}
}
