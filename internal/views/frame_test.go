package views

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/drawing"
)

// rectangles is a drawing.Painter that collects words and the rectangles that are drawn
// with some pen.
type rectangles struct {
	words
	with func(drawing.Pen) bool
	clip *drawing.Rect
	all  []drawing.Rect
}

func (r *rectangles) Clip(c drawing.Rect) { r.clip = &c }
func (r *rectangles) Unclip()             { r.clip = nil }

func (r *rectangles) Stroke(p *drawing.Path, pen drawing.Pen) {
	seen := r.clip == nil || r.clip.Overlaps(p.Bounds())
	if len(p.Steps) == 5 && p.Steps[4].Kind == drawing.Close && r.with(pen) && seen {
		r.all = append(r.all, p.Bounds())
	}
}

// Where a side is larger than the inside of the frame, as of small frames and those of
// strip, the drawing shows it whole with the strips that join it to the other, and says
// how large it is.
func TestSidesAreDrawnWhole(t *testing.T) {
	s := threeStages()
	s.frame.length, s.frame.height = 210, 120
	s.frame.over = overhang{left: 10, right: 10}
	s.frame.joiner, s.frame.joiners = 10, []place{{-5, 5}, {215, 5}, {-5, 115}, {215, 115}}
	for name, draw := range map[string]func(*Drive, *drawing.Canvas, drawing.Rect){"side": (*Drive).Side, "both": (*Drive).Both} {
		c := &drawing.Canvas{}
		draw(&Drive{*s}, c, drawing.Rect{X1: 178, Y1: 220})
		got := rectangles{with: func(p drawing.Pen) bool { return p.Dash == nil }}
		c.Paint(&got)
		var said []string
		for _, w := range got.texts {
			said = append(said, w.Words)
		}
		assert.Contains(t, said, "Each side is 230 × 120 mm outside; the datum is the inside corner.", name)
		wide, strips := mm(0), 0
		for _, r := range got.all {
			if math.Abs(float64(r.Width()/r.Height())-230.0/120) < 1e-6 {
				wide = r.Width()
			}
		}
		require.Positive(t, wide, "%s: the outside", name)
		for _, r := range got.all {
			if math.Abs(float64(r.Width()-wide/23)) < 1e-6 && math.Abs(float64(r.Height()-wide/23)) < 1e-6 {
				strips++
			}
		}
		assert.Equal(t, 4, strips, "%s: strips that join the sides", name)
	}
}

// offTheMotor asserts that words about the datum do not stand on the motor's box, which is
// drawn with that pen.
func offTheMotor(t require.TestingT, name string, c *drawing.Canvas, b body, pen drawing.Pen) {
	got := rectangles{with: func(p drawing.Pen) bool { return p.Width == pen.Width && slices.Equal(p.Dash, pen.Dash) }}
	c.Paint(&got)
	for _, r := range got.all {
		if math.Abs(float64(r.Width()/r.Height()-b.width/b.height)) > 1e-6 { // a strip
			continue
		}
		for _, w := range got.texts {
			require.False(t, strings.HasPrefix(w.Words, "datum") && r.Overlaps(w.Style.Bounds(w.At, w.Words)), "%s: %q on the motor", name, w.Words)
		}
	}
}

// offStrips asserts that no words stand on a strip that joins the sides, which is drawn as a
// square.
func offStrips(t require.TestingT, name string, c *drawing.Canvas) {
	got := rectangles{with: func(p drawing.Pen) bool { return p.Width == drawing.Narrow && p.Dash == nil && !p.White }}
	c.Paint(&got)
	for _, r := range got.all {
		if math.Abs(float64(r.Width()-r.Height())) > 1e-6 {
			continue
		}
		for _, w := range got.texts {
			require.False(t, r.Overlaps(w.Style.Bounds(w.At, w.Words)), "%s: %q on a strip", name, w.Words)
		}
	}
}

// With the motor in the corner and a strip above it the datum is named outside the corner,
// not beside the strip.
func TestDatumIsNamedAtItsCorner(t *testing.T) {
	s := threeStages()
	s.shafts[0].at = place{14, 12}
	s.frame.joiner, s.frame.joiners = 10, []place{{5, 28}, {195, 5}, {5, 105}}
	for _, p := range (&Drive{*s}).Templates(drawing.A4, "") {
		var d datumLines
		p.Paint(&d)
		require.NotNil(t, d.corner, p.Title)
		found := false
		for _, w := range d.texts {
			if w.Words == "datum" {
				found = true
				assert.Less(t, float64(w.At.Distance(*d.corner)), 12.0, p.Title)
			}
		}
		assert.True(t, found, p.Title)
	}
}
