package drawing_test

import (
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"flag"
	"image"
	_ "image/png"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/png"
	"findrive/internal/drawing/svg"
	"findrive/internal/units"
)

var update = flag.Bool("update", false, "rewrite golden files")

// sample has something of everything.
func sample() *drawing.Drawing {
	d := &drawing.Drawing{Title: "Sample <1> Größe", Description: "A square, a ring & words."}
	p := d.Add(drawing.A4, "First")
	p.Description = "A square of 100 mm."
	p.Rectangle(drawing.Rect{X0: 20, Y0: 30, X1: 120, Y1: 130}, drawing.Outline, drawing.NoFill)
	p.Circle(drawing.Point{X: 60, Y: 80}, 30, drawing.Thin, drawing.Hatched)
	p.Circle(drawing.Point{X: 60, Y: 80}, 10, drawing.Hidden, drawing.White)
	p.Draw(drawing.Arc(drawing.Point{X: 150, Y: 80}, 20, 0, 1.5*math.Pi), drawing.Centre, drawing.NoFill)
	g := p.Group("Window", "")
	g.Shift, g.Window = drawing.Point{X: 20, Y: 200}, &drawing.Rect{X0: 0, Y0: 0, X1: 30, Y1: 20}
	g.Rectangle(drawing.Rect{X0: -50, Y0: 5, X1: 100, Y1: 15}, drawing.NoPen, drawing.Black)
	g.Rectangle(drawing.Rect{X0: 0, Y0: 0, X1: 1, Y1: 1}, drawing.NoPen, drawing.White)
	for i, deg := range []float64{0, 30, 90, -90} {
		at := drawing.Point{X: 100, Y: 160 + 30*units.Millimetres(i)}
		p.Text(at, `Größe "Ø20" → éñŁő µΩ ≤ & <½> ✓`, drawing.Words(11).WithTurn(units.Degrees(deg)).WithAlign(drawing.Align(i%3)))
	}
	q := d.Add(drawing.Letter.Landscape(), "Second")
	q.Paragraph(drawing.Point{X: 20, Y: 20}, strings.Repeat("Words in a paragraph. ", 20), 100, drawing.Words(12).InBold())
	return d
}

// written is the sample in all formats.
func written(t *testing.T) map[string][]byte {
	out := map[string][]byte{}
	d := sample()
	write := func(name string, f func(io.Writer) error) {
		var b bytes.Buffer
		require.NoError(t, f(&b))
		out[name] = b.Bytes()
	}
	write("pdf", func(w io.Writer) error { return pdf.Write(w, d) })
	write("svg", func(w io.Writer) error { return svg.Write(w, d.Pages[0]) })
	write("png", func(w io.Writer) error { return png.Write(w, d.Pages[0], 254) })
	return out
}

func TestSameDrawingSameBytes(t *testing.T) {
	a, b := written(t), written(t)
	for name := range a {
		assert.True(t, bytes.Equal(a[name], b[name]), name)
	}
}

func TestSVG(t *testing.T) {
	got := written(t)["svg"]
	const golden = "testdata/sample.svg"
	if *update {
		require.NoError(t, os.WriteFile(golden, got, 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))

	var doc struct {
		Width string `xml:"width,attr"`
		Role  string `xml:"role,attr"`
		Title string `xml:"title"`
		Desc  string `xml:"desc"`
		Group struct {
			Circles []struct {
				R string `xml:"r,attr"`
			} `xml:"circle"`
			Texts []struct {
				Length string `xml:"textLength,attr"`
				Words  string `xml:",chardata"`
			} `xml:"text"`
		} `xml:"g"`
	}
	require.NoError(t, xml.Unmarshal(got, &doc))
	assert.Equal(t, "210mm", doc.Width)
	assert.Equal(t, "img", doc.Role)
	assert.Equal(t, "First", doc.Title)
	assert.Equal(t, "A square of 100 mm.", doc.Desc)
	assert.Equal(t, "30", doc.Group.Circles[0].R)
	require.Len(t, doc.Group.Texts, 4)
	assert.Equal(t, `Größe "Ø20" → éñŁő µΩ ≤ & <½> □`, doc.Group.Texts[0].Words)
	assert.NotEmpty(t, doc.Group.Texts[0].Length)
}

func TestPNG(t *testing.T) {
	got := written(t)["png"]
	img, _, err := image.Decode(bytes.NewReader(got))
	require.NoError(t, err)
	looksLikeSample(t, drawingtest.Picture{Image: img})
	at := bytes.Index(got, []byte("pHYs"))
	require.Positive(t, at)
	assert.EqualValues(t, 10000, binary.BigEndian.Uint32(got[at+4:]), "dots to the metre")

	page := sample().Pages[0]
	for _, dpi := range []png.DPI{0, -1, 1e9, png.DPI(math.NaN())} {
		assert.Error(t, png.Write(io.Discard, page, dpi))
	}
}

func TestPDF(t *testing.T) {
	got := written(t)["pdf"]
	assert.Contains(t, string(got), "/ViewerPreferences <</PrintScaling /None /DisplayDocTitle true /Duplex /Simplex>>")
	pages := drawingtest.Render(t, got, "254")
	require.Len(t, pages, 2)
	looksLikeSample(t, pages[0])
	assert.Equal(t, image.Point{X: 2794, Y: 2159}, pages[1].Bounds().Size(), "Letter on its side")
	info := drawingtest.Info(t, got)
	assert.Contains(t, info, "A4")
	assert.Contains(t, info, "Sample <1> Größe")
	fonts := drawingtest.Fonts(t, got)
	lines := strings.Split(strings.TrimSpace(fonts), "\n")[2:]
	require.Len(t, lines, 2, fonts)
	for _, line := range lines {
		assert.Regexp(t, `TrueType.*yes +(yes|no) +yes`, line, "embedded and readable")
	}
	assert.Less(t, len(got), 80_000, "only the characters used are embedded: both fonts have 290 kB")
	words := drawingtest.Words(t, got)
	assert.Contains(t, words, `Größe "Ø20" → éñŁő µΩ ≤ & <½> □`)
	assert.Contains(t, words, "Words in a paragraph.")
	assert.Error(t, pdf.Write(io.Discard, &drawing.Drawing{}))
}

// looksLikeSample measures the sample's first page, a dot being 0.1 mm.
func looksLikeSample(t *testing.T, p drawingtest.Picture) {
	t.Helper()
	// Page sizes in a PDF have two decimals of a point; poppler rounds dots up.
	require.InDelta(t, 2100, p.Bounds().Dx(), 1)
	require.InDelta(t, 2970, p.Bounds().Dy(), 1)
	close := func(want []float64, got []float64, what string) {
		t.Helper()
		require.Len(t, got, len(want), what)
		for i := range want {
			assert.InDelta(t, want[i], got[i], 1, what)
		}
	}
	close([]float64{200, 1200}, p.Across(320, 100, 1250), "square across")
	close([]float64{300, 1300}, p.Down(1100, 250, 1350), "square down")
	assert.Greater(t, len(p.Across(900, 300, 500)), 6, "hatching in the ring")
	assert.Empty(t, p.Across(800, 520, 680), "nothing in its middle")
	assert.Greater(t, p.Dark(350, 2100), 0.9, "black in the window")
	assert.Less(t, p.Dark(550, 2100), 0.1, "white outside it")
	assert.Less(t, p.Dark(150, 2100), 0.1, "white outside it")
}
