package views_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/png"
	"findrive/internal/drawing/svg"
	"findrive/internal/views"
)

var (
	update = flag.Bool("update", false, "rewrite golden files")
	show   = flag.String("show", "", "directory to put pictures of all drawings in, to be looked at")
)

// saved reads a certificate that the program wrote (findrive propose -k 3 --format json):
// the demo's, those of the briefs in the testdata of the repository and of this package,
// one with a single stage and one with three of which the first is crossed, in a small box.
func saved(t *testing.T, name string) *certificate.Certificate {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name+".json"))
	require.NoError(t, err)
	c, err := certificate.Read(data)
	require.NoError(t, err)
	return c
}

var cases = []string{"carousel", "big-wheel", "buggy", "crane", "one-stage", "three-stages"}

// built is what is put together for a proposal.
func built(t *testing.T, c *certificate.Certificate, k int) *assembly.Build {
	t.Helper()
	b, err := assembly.Of(&c.Brief, &c.Proposals[k])
	require.NoError(t, err)
	return b
}

// sheets is all drawings of one proposal.
func sheets(t *testing.T, c *certificate.Certificate, k int, paper drawing.Size) *drawing.Drawing {
	t.Helper()
	d, err := views.Of(&c.Brief, &c.Proposals[k], built(t, c, k))
	require.NoError(t, err)
	out := &drawing.Drawing{Title: c.Brief.Name}
	p := out.Add(paper, "Drawing of the drive")
	p.Description = d.Describe()
	d.Both(&p.Canvas, p.Size.Bounds().Inset(12))
	out.Pages = append(out.Pages, d.Templates(paper, c.Brief.Name+", "+c.Prints.Brief)...)
	return out
}

func TestEveryDrawing(t *testing.T) {
	long := strings.Repeat("a carousel with a very long name ", 2)[:60]
	for _, name := range cases {
		for _, called := range []string{"Carousel", long} {
			c := saved(t, name)
			c.Brief.Name = called
			for k := range c.Proposals {
				d := sheets(t, c, k, drawing.A4)
				for i, p := range d.Pages {
					views.Tidy(t, &p.Canvas, p.Size.Bounds().Inset(9))
					if *show != "" && called != long {
						var b bytes.Buffer
						require.NoError(t, png.Write(&b, p, 110))
						require.NoError(t, os.WriteFile(filepath.Join(*show, name+string(rune('1'+k))+string(rune('a'+i))+".png"), b.Bytes(), 0o644))
					}
				}
			}
		}
	}
}

func TestGoldenDrawings(t *testing.T) {
	for _, name := range []string{"one-stage", "three-stages", "buggy"} {
		for i, p := range sheets(t, saved(t, name), 0, drawing.A4).Pages {
			var b bytes.Buffer
			require.NoError(t, svg.Write(&b, p))
			golden := filepath.Join("testdata", name+string(rune('a'+i))+".svg")
			if *update {
				require.NoError(t, os.WriteFile(golden, b.Bytes(), 0o644))
			}
			want, err := os.ReadFile(golden)
			require.NoError(t, err)
			assert.Equal(t, string(want), b.String(), golden)
		}
	}
}

// Hole centres on the printed template against the positions of the JSON, to a
// tenth of a millimetre.
func TestHolesOfTheCertificate(t *testing.T) {
	c := saved(t, "carousel")
	d := sheets(t, c, 0, drawing.A4)
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, d))
	fonts := drawingtest.Fonts(t, b.Bytes())
	assert.Regexp(t, `TrueType.*yes +(yes|no) +yes`, fonts, "embedded")
	assert.Contains(t, drawingtest.Words(t, b.Bytes()), "Print at 100 %")
	pages := drawingtest.Render(t, b.Bytes(), "254")
	require.Len(t, pages, 3)
	front := pages[1]
	x0, y0 := views.Datum(t, d.Pages[1], front, false)
	for _, at := range c.Proposals[0].Positions[1:] {
		x, y := x0+10*float64(at.X), y0-10*float64(at.Y)
		across := front.Across(int(math.Round(y))-50, int(x)-20, int(x)+20)
		down := front.Down(int(math.Round(x))-50, int(y)-20, int(y)+20)
		require.Len(t, across, 1, at.Shaft)
		require.Len(t, down, 1, at.Shaft)
		assert.InDelta(t, x, across[0], 1, at.Shaft)
		assert.InDelta(t, y, down[0], 1, at.Shaft)
	}
}

// The templates are those of the sides as they are built: they lie on the sides' own
// corners, and show the hole of a free axle.
func TestTemplatesAreOfTheSidesAsBuilt(t *testing.T) {
	for _, name := range cases {
		c := saved(t, name)
		b := built(t, c, 0)
		for _, widened := range []bool{false, true} {
			if widened { // as sides of sheet are that have no room for strips inside
				b.Frame.Left += 10
				b.Frame.Length += 20
			}
			d, err := views.Of(&c.Brief, &c.Proposals[0], b)
			require.NoError(t, err)
			for _, p := range d.Templates(drawing.A4, "") {
				text := strings.Join(views.Words(p), " ")
				if f := &b.Frame; f.Left != f.Below {
					assert.Contains(t, text, fmt.Sprintf("the datum is then %g mm from the", float64(f.Left)), name)
				} else if f.Left > 0 {
					assert.Contains(t, text, fmt.Sprintf("is then %g mm from both", float64(f.Left)), name)
				} else {
					assert.Contains(t, text, fmt.Sprintf("which measures %g × %g mm", float64(f.Length), float64(f.Height)), name)
				}
				for i := range b.Shafts {
					if sh := &b.Shafts[i]; sh.Free {
						assert.Contains(t, text, fmt.Sprintf("free axle drill Ø%g x %g, y %g", float64(sh.Hole), float64(sh.At.X), float64(sh.At.Y)), name)
					}
				}
			}
		}
	}
}

func TestDescribe(t *testing.T) {
	c := saved(t, "buggy")
	b := built(t, c, 0)
	d, err := views.Of(&c.Brief, &c.Proposals[0], b)
	require.NoError(t, err)
	// A tenth of a millimetre is what is written.
	figure := func(x certificate.Number) string { return fmt.Sprintf("%g", math.Round(float64(x)*10)/10) }
	p, text := &c.Proposals[0], d.Describe()
	assert.True(t, strings.HasPrefix(text, fmt.Sprintf("Seen from the front, places from the lower left inside corner of a frame of %s by %s mm. Each side is %s by %s mm outside. Motor: ", figure(c.Brief.Frame.Length), figure(c.Brief.Frame.Height), figure(c.Brief.Frame.Length+2*c.Brief.Frame.Strip), figure(c.Brief.Frame.Height+c.Brief.Frame.Strip))), text)
	for i, at := range p.Positions {
		what := "Motor"
		if i > 0 {
			what = fmt.Sprintf("Axle %d", i)
		}
		assert.Contains(t, text, fmt.Sprintf(" %s: %s mm across, %s mm up, turns ", what, figure(at.X), figure(at.Y)))
	}
	for i := range b.Shafts {
		if sh := &b.Shafts[i]; sh.Free {
			assert.Contains(t, text, fmt.Sprintf(" Free axle: %s mm across, %s mm up.", figure(certificate.Number(sh.At.X)), figure(certificate.Number(sh.At.Y))))
		}
	}
	for i := range p.Stages {
		st := &p.Stages[i]
		driver, driven := views.Letters(i)
		assert.Contains(t, text, fmt.Sprintf(", pulley %s %s mm across", driver, figure(st.Driver.Outside)))
		assert.Contains(t, text, fmt.Sprintf(", pulley %s %s mm across", driven, figure(st.Driven.Outside)))
		assert.Contains(t, text, fmt.Sprintf(" from %s to %s, centres %s mm apart.", driver, driven, figure(st.Centre)))
		assert.Contains(t, text, fmt.Sprintf(" band %d at %s mm", i+1, figure(st.Lane)))
	}
	// The figures are those of the tubes to be sawn and of the washers.
	for i := 1; i <= b.Stages; i++ {
		for _, k := range b.Shafts[i].Along {
			if p := &b.Parts[k]; p.Kind == assembly.Tube {
				assert.Contains(t, d.Describe(), fmt.Sprintf("%g", float64(p.Length)), p.Name)
			}
		}
	}
	driver, driven := views.Letters(1)
	assert.Equal(t, "CD", driver+driven)
}

func TestWhatCannotBeDrawn(t *testing.T) {
	tests := []struct {
		name  string
		spoil func(*certificate.Brief, *certificate.Proposal)
		words string
	}{
		{"no stages", func(_ *certificate.Brief, p *certificate.Proposal) { p.Stages = nil }, "no stages"},
		{"one place", func(_ *certificate.Brief, p *certificate.Proposal) { p.Positions[1] = p.Positions[0] }, "A and B stand in one another"},
		{"no motor", func(_ *certificate.Brief, p *certificate.Proposal) { p.Motor.BodyWidth = 0 }, "motor has no size"},
		{"no number", func(_ *certificate.Brief, p *certificate.Proposal) { p.Positions[1].X = certificate.Number(math.NaN()) }, "A and B"},
		{"huge", func(b *certificate.Brief, _ *certificate.Proposal) { b.Frame.Length = 1e6 }, "too large"},
		{"flat pulley", func(_ *certificate.Brief, p *certificate.Proposal) { p.Stages[1].Driven.Outside = 0 }, "pulley D has no size"},
		{"crossed too near", func(_ *certificate.Brief, p *certificate.Proposal) {
			p.Stages[0].Crossed = true
			p.Positions[1].X = p.Positions[0].X - 20
		}, "A and B"},
	}
	for _, test := range tests {
		c := saved(t, "buggy")
		b := built(t, c, 0)
		test.spoil(&c.Brief, &c.Proposals[0])
		_, err := views.Of(&c.Brief, &c.Proposals[0], b)
		assert.ErrorContains(t, err, test.words, test.name)
	}
}
