package drawing_test

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/units"
)

// log is a Painter that remembers what it was given.
type log struct {
	strokes, white, black []*drawing.Path
	texts                 []drawing.Text
	clips                 []drawing.Rect
	open                  int
}

func (l *log) Begin(string, string)                  { l.open++ }
func (l *log) End()                                  { l.open-- }
func (l *log) Clip(r drawing.Rect)                   { l.clips = append(l.clips, r) }
func (l *log) Unclip()                               {}
func (l *log) Text(t drawing.Text)                   { l.texts = append(l.texts, t) }
func (l *log) Stroke(p *drawing.Path, _ drawing.Pen) { l.strokes = append(l.strokes, p) }
func (l *log) Fill(p *drawing.Path, white bool) {
	if white {
		l.white = append(l.white, p)
	} else {
		l.black = append(l.black, p)
	}
}

func TestGroupsMoveWhatIsInThem(t *testing.T) {
	p := drawing.NewPage(drawing.A4, "test")
	g := p.Group("outer", "")
	g.Shift = drawing.Point{X: 10, Y: 20}
	g.Window = &drawing.Rect{X0: 0, Y0: 0, X1: 5, Y1: 5}
	inner := g.Group("inner", "")
	inner.Shift = drawing.Point{X: 1, Y: 2}
	inner.Circle(drawing.Point{X: 3, Y: 3}, 2, drawing.Thin, drawing.Hatched)
	inner.Text(drawing.Point{}, "words", drawing.Words(10))
	var l log
	p.Paint(&l)
	assert.Zero(t, l.open)
	assert.Equal(t, []drawing.Rect{{X0: 10, Y0: 20, X1: 15, Y1: 25}}, l.clips)
	require.Len(t, l.strokes, 2, "hatching and circle")
	c, r, ok := l.strokes[1].WholeCircle()
	require.True(t, ok)
	assert.Equal(t, drawing.Point{X: 14, Y: 25}, c)
	assert.Equal(t, units.Millimetres(2), r)
	assert.Equal(t, drawing.Point{X: 11, Y: 22}, l.texts[0].At)
	for _, s := range l.strokes[0].Steps {
		assert.Less(t, float64(s.To.Distance(c)), 2.001, "hatching stays in the circle")
	}
}

// The total length of hatch lines times their distance is the area.
func TestHatchingCoversTheArea(t *testing.T) {
	ring := &drawing.Path{}
	ring.ArcAbout(drawing.Point{X: 50, Y: 50}, 40, 0, 2*math.Pi).Close()
	ring.MoveTo(drawing.Point{X: 70, Y: 50}).ArcAbout(drawing.Point{X: 50, Y: 50}, 20, 0, -2*math.Pi).Close()
	tests := []struct {
		name string
		path *drawing.Path
		area float64
	}{
		{"rectangle", drawing.Rectangle(drawing.Rect{X0: 10, Y0: 20, X1: 60, Y1: 50}), 1500},
		{"circle", drawing.Circle(drawing.Point{X: 50, Y: 50}, 30), math.Pi * 900},
		{"ring", ring, math.Pi * (1600 - 400)},
	}
	for _, test := range tests {
		for _, deg := range []float64{0, 45, 90, 135, 17} {
			p := drawing.NewPage(drawing.A4, "test")
			fill := drawing.Fill{Kind: drawing.Hatch, Pen: drawing.Thin, Spacing: 0.1, Angles: []units.Radians{units.Degrees(deg)}}
			p.Draw(test.path, drawing.NoPen, fill)
			var l log
			p.Paint(&l)
			require.Len(t, l.strokes, 1, test.name)
			sum := 0.0
			for i := 0; i < len(l.strokes[0].Steps); i += 2 {
				a, b := l.strokes[0].Steps[i].To, l.strokes[0].Steps[i+1].To
				sum += float64(a.Distance(b)) * 0.1
				assert.InDelta(t, math.Mod(float64(a.Direction(b))+2*math.Pi, math.Pi), units.Degrees(deg).Degrees()*math.Pi/180, 1e-6)
			}
			assert.InEpsilon(t, test.area, sum, 0.005, "%s at %v°", test.name, deg)
		}
	}
}

func TestArcsEndWhereTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-2*math.Pi, 2*math.Pi)
		c := drawing.Point{X: 30, Y: 40}
		p := drawing.Arc(c, 25, units.Radians(angle.Draw(t, "from")), units.Radians(angle.Draw(t, "sweep")))
		turn := p.Steps[len(p.Steps)-1]
		curves := turn.Cubics()
		last := curves[len(curves)-1]
		assert.InDelta(t, 0, float64(last[2].Distance(turn.To)), 1e-9)
		// Middle of each curve: (a + 3b + 3c + d) / 8.
		from := p.Steps[0].To
		for _, k := range curves {
			m := drawing.Point{X: (from.X + 3*k[0].X + 3*k[1].X + k[2].X) / 8, Y: (from.Y + 3*k[0].Y + 3*k[1].Y + k[2].Y) / 8}
			assert.InDelta(t, 25, float64(m.Distance(c)), 25.0/200000)
			from = k[2]
		}
	})
}

func TestMissing(t *testing.T) {
	assert.Empty(t, drawingtest.Missing("Größe Ø20 → 60 mm éèñžŁő ŵŷ µΩπ ½ × ≤ ≥ ° Привет Γειά € □"))
	assert.Equal(t, []rune{'✓', '日'}, drawingtest.Missing("✓ 日✓"))
	p := drawing.NewPage(drawing.A4, "test")
	p.Text(drawing.Point{}, "a✓\tb\u00ad\nc", drawing.Words(10))
	var l log
	p.Paint(&l)
	assert.Equal(t, "a□ b c", l.texts[0].Words)
}

// Signs that the font lacks are written as the ones that say the same.
func TestInstead(t *testing.T) {
	p := drawing.NewPage(drawing.A4, "test")
	p.Text(drawing.Point{}, "∅ 60, ⌀ 5, non‑slip", drawing.Words(10))
	var l log
	p.Paint(&l)
	assert.Equal(t, "Ø 60, Ø 5, non-slip", l.texts[0].Words)
	assert.Equal(t, drawing.Words(10).Width("Ø-"), drawing.Words(10).Width("∅‑"))
}

func TestWrapKeepsEverythingAndFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringOfN(rapid.SampledFrom([]rune("abcdefgM  -é")), 0, 90, -1).Draw(t, "words")
		width := units.Millimetres(rapid.Float64Range(6, 60).Draw(t, "width"))
		s := drawing.Words(10)
		lines := s.Wrap(words, width)
		require.NotEmpty(t, lines)
		for _, line := range lines {
			assert.LessOrEqual(t, float64(s.Width(line)), float64(width))
		}
		join := func(x string) string { return strings.Join(strings.Fields(x), "") }
		assert.Equal(t, join(words), join(strings.Join(lines, " ")))
	})
}

func TestFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.StringOfN(rapid.SampledFrom([]rune("abc defgM,é")), 1, 70, -1).Draw(t, "words")
		width := units.Millimetres(rapid.Float64Range(8, 80).Draw(t, "width"))
		s, got := drawing.Words(10).Fit(words, width, drawing.Points(6))
		assert.LessOrEqual(t, float64(s.Width(got)), float64(width))
		assert.GreaterOrEqual(t, float64(s.Size), float64(drawing.Points(6)))
		if got != words {
			assert.True(t, strings.HasSuffix(got, "…"))
			assert.Equal(t, drawing.Points(6), s.Size, "cut only when small")
		}
		assert.True(t, utf8.ValidString(got))

		s, lines := drawing.Words(10).FitLines(words, width, 2, drawing.Points(6))
		assert.LessOrEqual(t, len(lines), 2)
		for _, line := range lines {
			assert.LessOrEqual(t, float64(s.Width(line)), float64(width))
		}
	})
}

func TestBounds(t *testing.T) {
	s := drawing.Style{Size: 10}
	at := drawing.Point{X: 100, Y: 100}
	w, up, down := s.Width("jolly"), s.CapHeight(), s.Descent()
	tests := []struct {
		name  string
		style drawing.Style
		want  drawing.Rect
	}{
		{"plain", s, drawing.Rect{X0: 100, Y0: 100 - up, X1: 100 + w, Y1: 100 + down}},
		{"middle", s.WithAlign(drawing.Middle).WithLevel(drawing.Centred), drawing.Rect{X0: 100 - w/2, Y0: 100 - up/2, X1: 100 + w/2, Y1: 100 + up/2 + down}},
		{"end, below", s.WithAlign(drawing.End).WithLevel(drawing.Below), drawing.Rect{X0: 100 - w, Y0: 100, X1: 100, Y1: 100 + up + down}},
		{"upwards", s.WithTurn(math.Pi / 2), drawing.Rect{X0: 100 - up, Y0: 100 - w, X1: 100 + down, Y1: 100}},
		{"downwards, middle", s.WithTurn(-math.Pi / 2).WithAlign(drawing.Middle), drawing.Rect{X0: 100 - down, Y0: 100 - w/2, X1: 100 + up, Y1: 100 + w/2}},
	}
	for _, test := range tests {
		got := test.style.Bounds(at, "jolly")
		for _, d := range []units.Millimetres{got.X0 - test.want.X0, got.Y0 - test.want.Y0, got.X1 - test.want.X1, got.Y1 - test.want.Y1} {
			assert.InDelta(t, 0, float64(d), 1e-9, test.name)
		}
	}
}
