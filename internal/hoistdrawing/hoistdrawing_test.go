package hoistdrawing_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/hoist"
	"findrive/internal/hoistdrawing"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// example is every arrangement of the demo's blocks.
func example(t *testing.T) *hoist.Result {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := hoist.ReadBrief("hoist.toml", demo.Hoist(), cup)
	require.NoError(t, err)
	b.Pull, b.Way = 50, hoist.AnyWay
	return hoist.Find(context.Background(), cup, b, hoist.Options{})
}

// reader notes what is painted.
type reader struct {
	words []drawing.Text
	paths []*drawing.Path
}

func (r *reader) Begin(string, string)                  {}
func (r *reader) End()                                  {}
func (r *reader) Clip(drawing.Rect)                     {}
func (r *reader) Unclip()                               {}
func (r *reader) Fill(p *drawing.Path, _ bool)          { r.paths = append(r.paths, p) }
func (r *reader) Stroke(p *drawing.Path, _ drawing.Pen) { r.paths = append(r.paths, p) }
func (r *reader) Text(t drawing.Text)                   { r.words = append(r.words, t) }

// tidy holds a page to what makes it readable: all of it within the margins, no
// words over other words.
func tidy(t *testing.T, p *drawing.Page) []drawing.Text {
	t.Helper()
	var r reader
	p.Paint(&r)
	inside := p.Size.Bounds().Inset(10)
	for i, a := range r.words {
		at := a.Style.Bounds(a.At, a.Words)
		assert.True(t, inside.Holds(at), "%s: %q lies outside: %v", p.Title, a.Words, at)
		for _, b := range r.words[:i] {
			assert.False(t, at.Inset(0.1).Overlaps(b.Style.Bounds(b.At, b.Words).Inset(0.1)), "%s: %q lies on %q", p.Title, a.Words, b.Words)
		}
	}
	for _, path := range r.paths {
		assert.True(t, inside.Holds(path.Bounds()), "%s: a line lies outside: %v", p.Title, path.Bounds())
	}
	return r.words
}

// Every arrangement is drawn within the page and with as many numbers as it has
// rope parts, on both papers.
func TestReevingsAreTidyAndNumbered(t *testing.T) {
	r := example(t)
	require.Greater(t, len(r.Hoists), 15)
	for i := range r.Hoists {
		h := &r.Hoists[i]
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			numbers := 0
			for _, w := range tidy(t, hoistdrawing.Reeving(h, r.Brief, paper)) {
				if _, err := strconv.Atoi(w.Words); err == nil {
					numbers++
				}
			}
			assert.Equal(t, h.Parts(), numbers, h.Title())
		}
	}
}

// The largest tackle of the narrowest sheaves and long names still fits.
func TestLargeReeving(t *testing.T) {
	r := example(t)
	four := *r.Hoists[0].Fixed
	four.Sheaves, four.Name = 4, "the fourfold block from the top shelf in the hall"
	h := r.Hoists[0]
	h.Reeving = hoist.Reeving{Tied: hoist.Load, Turns: 8, Fixed: &four, Moving: &four, BeamLead: &four, FootLead: &four, Cord: h.Cord}
	tidy(t, hoistdrawing.Reeving(&h, r.Brief, drawing.A4))
}

func double(t *testing.T) hoist.Making {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	for i := range cup.Blocks {
		if b := &cup.Blocks[i]; b.HomeMade && b.Sheaves == 2 {
			return hoist.Make(b, 2)
		}
	}
	t.Fatal("the example has no double block")
	return hoist.Making{}
}

// The template of a double block, printed and measured: bar, cheek and holes are
// true to a tenth of a millimetre.
func TestTemplateIsFullSize(t *testing.T) {
	m := double(t)
	d := &drawing.Drawing{Pages: []*drawing.Page{hoistdrawing.Template(&m, 16, drawing.A4)}}
	var file bytes.Buffer
	require.NoError(t, pdf.Write(&file, d))
	const dots = 10.0 // to the millimetre, at 254 to the inch
	page := drawingtest.Render(t, file.Bytes(), "254")[0]

	// The bar: the first row with exactly its two ends.
	row, left := 0, 0.0
	for y := 200; y < 600 && row == 0; y++ {
		if ends := page.Across(y, 100, 1900); len(ends) == 2 && math.Abs(ends[1]-ends[0]-100*dots) < 1 {
			row, left = y, ends[0]
		}
	}
	require.NotZero(t, row, "no bar of 100 mm")

	// The cheek below it: a column right of the opening, left of the edge.
	px := func(l units.Millimetres) float64 { return float64(l) * dots }
	marks := page.Down(int(left+px(m.Width)-80), row+50, 2900)
	require.NotEmpty(t, marks)
	top := marks[0]
	near(t, marks, top+px(m.Height), "height of the cheek")
	edge := page.Across(int(top+px(m.Height)/2), int(left)-20, int(left+px(m.Width))+20)
	near(t, edge, left, "left edge")
	near(t, edge, left+px(m.Width), "right edge")

	// A millimetre off the middle, so as to miss the cross.
	for _, hole := range []struct{ at, d units.Millimetres }{{m.AxleAt, m.AxleHole}, {m.TieAt, m.TieHole}} {
		chord := math.Sqrt(px(hole.d)*px(hole.d)/4 - dots*dots)
		across := page.Across(int(math.Round(top+px(hole.at)-dots)), int(left)+20, int(left+px(m.Width))-20)
		near(t, across, left+px(m.Width)/2-chord, "hole, left")
		near(t, across, left+px(m.Width)/2+chord, "hole, right")
	}
	// The material above the opening, which is never under 10 mm.
	assert.GreaterOrEqual(t, float64(m.Above), 10.0)
	down := page.Down(int(left+px(m.Width)/2-60), int(top)-20, int(top)+400)
	near(t, down, top+px(m.Above), "upper edge of the opening")
	near(t, down, top+px(m.Above+m.OpeningHeight), "lower edge of the opening")

	assert.Contains(t, drawingtest.Words(t, file.Bytes()), "100 mm")
	assert.Contains(t, drawingtest.Words(t, file.Bytes()), "For one block, of which 16 are needed")
}

// near wants a line within a tenth of a millimetre.
func near(t *testing.T, marks []float64, want float64, what string) {
	t.Helper()
	best := math.Inf(1)
	for _, m := range marks {
		best = min(best, math.Abs(m-want))
	}
	assert.LessOrEqual(t, best, 1.0, "%s: %v not in %v", what, want, marks)
}

// Blocks of all sizes: the page is tidy, on larger paper if it must be.
func TestTemplatesAreTidy(t *testing.T) {
	for _, sheaves := range []int{1, 4} {
		for _, outside := range []units.Millimetres{10, 34, 90, 200} {
			for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
				b := *double(t).Block
				b.Sheaves, b.Outside, b.GrooveFloor, b.Name = sheaves, outside, outside-4, fmt.Sprintf("b%d-%.0f", sheaves, outside)
				b.Bore, b.Axle = 4.1, 4
				m := hoist.Make(&b, 2)
				tidy(t, hoistdrawing.Template(&m, 1, paper))
			}
		}
	}
}

func TestDraw(t *testing.T) {
	r := example(t)
	d := hoistdrawing.Draw(r, 2, drawing.A4, "")
	require.NotEmpty(t, d.Pages)
	assert.Contains(t, d.Pages[0].Title, r.Hoists[1].Name())
	assert.NotEmpty(t, d.Pages[0].Description)
	// With no hoist to show, the blocks of the lesson: single and double.
	r.Hoists = nil
	d = hoistdrawing.Draw(r, 1, drawing.A4, "")
	require.Len(t, d.Pages, 2)
	assert.NotEqual(t, d.Pages[0].Title, d.Pages[1].Title)
}

// Every page has a foot: whose it is, what it was drawn from and its number, on nothing
// else; and no type is under 8 points.
func TestFeet(t *testing.T) {
	r := example(t)
	for i := range r.Hoists {
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			d := hoistdrawing.Draw(r, i+1, paper, "cupboard 01234567, brief 89abcdef, hoist 01234567")
			for k, p := range d.Pages {
				said := ""
				for _, w := range tidy(t, p) {
					said += w.Words + "\n"
					assert.GreaterOrEqual(t, float64(w.Style.Size), float64(drawing.Points(8))-1e-9, w.Words)
				}
				assert.Contains(t, said, fmt.Sprintf("%s, hoist %d: cupboard 01234567, brief 89abcdef, hoist 01234567\n", r.Brief.Name, i+1))
				assert.Contains(t, said, fmt.Sprintf("%d of %d\n", k+1, len(d.Pages)))
			}
		}
	}
}
