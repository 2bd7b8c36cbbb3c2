package sheet

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/drawing/svg"
)

var update = flag.Bool("update", false, "rewrite golden files")

// Three very different drives: a single stage; three stages of which the first is
// crossed, in a small box; and a vehicle of strip. The certificates are those that
// the tests of the drawings keep.
var golden = []string{"one-stage", "three-stages", "buggy"}

// every case there is a certificate of.
var every = append([]string{"carousel", "big-wheel", "crane"}, golden...)

func saved(t testing.TB, name string) *certificate.Certificate {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "views", "testdata", name+".json"))
	require.NoError(t, err)
	c, err := certificate.Read(data)
	require.NoError(t, err)
	return c
}

func set(t testing.TB, name string) *Set { return made(t, saved(t, name)) }

func made(t testing.TB, c *certificate.Certificate) *Set {
	t.Helper()
	opt := DefaultOptions()
	opt.Offcuts = []Offcut{{"dowel-5", 150, 2}, {"strip", 230, 1}}
	s, err := New(c, 1, opt)
	require.NoError(t, err)
	return s
}

func pages(t testing.TB, s *Set) []Page {
	t.Helper()
	var out []Page
	for _, name := range Names() {
		p, ok, err := s.Page(name)
		require.NoError(t, err)
		require.Equal(t, name != TemplatePage, ok)
		if ok {
			require.Equal(t, name, p.Name)
			out = append(out, p)
		}
	}
	return out
}

// plainText is a page as text, for golden files that can be read.
func plainText(p *Page) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("%s\n%s: %s", p.Title, p.Identity.Line(), p.Identity.Print)
	for _, block := range flat(p.Blocks) {
		switch block := block.(type) {
		case Heading:
			say("\n== %s", block)
		case Text:
			say("%s", block.Words)
		case Steps:
			for i, s := range block.Items {
				say("%d %s%s", i+1, map[bool]string{true: "[ADULT] "}[s.Adult], s.Do)
				if s.Check != "" {
					say("   Check: %s", s.Check)
				}
			}
		case Table:
			say("\n-- %s\n%s", block.Caption, strings.Join(block.Head, " | "))
			for _, r := range block.Rows {
				say("%s", strings.Join(r, " | "))
			}
			say("%s", block.Note)
		case Boxes:
			say("[%s]", strings.Join(block.Labels, "] ["))
		case Picture:
			say("(%s, %s by %s mm: %s)", block.Title, mm(block.Size.Width), mm(block.Size.Height), block.Description)
		}
	}
	return b.String()
}

func compare(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), string(got), "%s; if the change is wanted, run go test -update", name)
}

func TestGoldenPages(t *testing.T) {
	for _, name := range golden {
		s := set(t, name)
		for _, p := range pages(t, s) {
			compare(t, name+"-"+p.Name+".txt", []byte(plainText(&p)))
		}
		var kit bytes.Buffer
		require.NoError(t, s.KitCSV(&kit))
		compare(t, name+"-kit.csv", kit.Bytes())
		paper, err := s.Paper(PupilsPage, drawing.A4)
		require.NoError(t, err)
		for i, sheet := range paper.Pages {
			var out bytes.Buffer
			require.NoError(t, svg.Write(&out, sheet))
			compare(t, fmt.Sprintf("%s-pupils-%d.svg", name, i+1), out.Bytes())
		}
	}
}

func TestSameDriveSameBytes(t *testing.T) {
	write := func() []byte {
		s := set(t, "three-stages")
		var out bytes.Buffer
		for _, name := range Names() {
			d, err := s.Paper(name, drawing.Letter)
			require.NoError(t, err)
			require.NoError(t, pdf.Write(&out, d))
			if p, ok, err := s.Page(name); ok {
				require.NoError(t, err)
				require.NoError(t, p.HTML(&out))
			}
		}
		require.NoError(t, s.KitCSV(&out))
		return out.Bytes()
	}
	assert.True(t, bytes.Equal(write(), write()))
}

// ink collects the words on a page, and the longest straight line that is level.
type ink struct {
	texts []drawing.Text
	lines []drawing.Rect
}

func (w *ink) Begin(string, string)     {}
func (w *ink) End()                     {}
func (w *ink) Clip(drawing.Rect)        {}
func (w *ink) Unclip()                  {}
func (w *ink) Fill(*drawing.Path, bool) {}
func (w *ink) Stroke(p *drawing.Path, _ drawing.Pen) {
	w.lines = append(w.lines, p.Bounds())
}
func (w *ink) Text(t drawing.Text) { w.texts = append(w.texts, t) }

// onPaper checks one page: every character is in the font, and all words lie
// within the margins and upright words do not cover one another.
func onPaper(t *testing.T, name string, p *drawing.Page) {
	var got ink
	p.Paint(&got)
	inside := p.Size.Bounds().Inset(margin - 0.2)
	var taken []drawing.Rect
	for _, w := range got.texts {
		assert.Empty(t, drawing.Missing(w.Words), "%s: %q", name, w.Words)
		assert.NotContains(t, w.Words, "□", "%s: %q", name, w.Words)
		box := w.Style.Bounds(w.At, w.Words)
		box.Y1 -= w.Style.Descent() // of letters like g there is always room for
		assert.True(t, inside.Holds(box), "%s: %q at %v is outside the margins", name, w.Words, box)
		for i, o := range taken {
			assert.False(t, box.Inset(0.05).Overlaps(o.Inset(0.05)), "%s: %q covers %q", name, w.Words, got.texts[i].Words)
		}
		taken = append(taken, box)
	}
}

func TestEveryPageOnBothPapers(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			for _, p := range pages(t, s) {
				for i, sheet := range p.Paper(paper).Pages {
					onPaper(t, fmt.Sprintf("%s, %s, sheet %d", name, p.Name, i+1), sheet)
					assert.NotContains(t, headings(&p), lowest(sheet), "%s, %s, sheet %d: a heading alone at the foot", name, p.Name, i+1)
				}
			}
		}
	}
}

func headings(p *Page) []string {
	var out []string
	for _, b := range flat(p.Blocks) {
		switch b := b.(type) {
		case Heading:
			out = append(out, string(b))
		case Table:
			out = append(out, b.Caption)
		}
	}
	return out
}

// lowest is what stands last on a page above its foot.
func lowest(p *drawing.Page) string {
	var got ink
	p.Paint(&got)
	var last drawing.Text
	for _, w := range got.texts {
		if w.At.Y < p.Size.Height-margin-6 && w.At.Y > last.At.Y {
			last = w
		}
	}
	return last.Words
}

// renamed gives every part and the brief a name of so many letters.
func renamed(c *certificate.Certificate, letters int, gap string) {
	name := func(old string) string {
		return (old + gap + strings.Repeat("marvellous"+gap, letters))[:letters]
	}
	p := &c.Proposals[0]
	c.Brief.Name = name(c.Brief.Name)
	p.Motor.Name = name(p.Motor.Name)
	for i := range p.Stages {
		st := &p.Stages[i]
		st.Driver.Name, st.Driven.Name, st.Band.Name = name(st.Driver.Name), name(st.Driven.Name), name(st.Band.Name)
		p.Axles[i].Stock = name(p.Axles[i].Stock)
		for k := range st.NextBands {
			st.NextBands[k].Name = name(st.NextBands[k].Name)
		}
		for k := range st.OtherBands {
			st.OtherBands[k].Name = name(st.OtherBands[k].Name)
		}
	}
	for i := range p.Uses {
		u := &p.Uses[i]
		u.Name = name(u.Name)
		for k := range u.Places {
			u.Places[k].Name, u.Places[k].Location = name(u.Places[k].Name), name(u.Places[k].Location)
		}
	}
}

// Names of eight letters and of sixty, in words and in one piece.
func TestLongNames(t *testing.T) {
	for _, letters := range []int{8, 60} {
		for _, gap := range []string{" ", "-", ""} {
			c := saved(t, "three-stages")
			renamed(c, letters, gap)
			for _, p := range pages(t, made(t, c)) {
				for i, sheet := range p.Paper(drawing.A4).Pages {
					onPaper(t, fmt.Sprintf("%d letters, %s, sheet %d", letters, p.Name, i+1), sheet)
				}
			}
		}
	}
}

func TestPDF(t *testing.T) {
	s := set(t, "buggy")
	for paper, size := range map[drawing.Size]string{drawing.A4: "595.28 x 841.89 pts (A4)", drawing.Letter: "612 x 792 pts (letter)"} {
		d, err := s.Paper(BuildPage, paper)
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, pdf.Write(&out, d))
		info := drawingtest.Info(t, out.Bytes())
		assert.Contains(t, info, size)
		assert.Contains(t, info, "Build sheet: Buggy")
		for _, line := range strings.Split(strings.TrimSpace(drawingtest.Fonts(t, out.Bytes())), "\n")[2:] {
			assert.Regexp(t, `CID TrueType .*yes (yes|no) +yes`, line, "embedded, and its letters known")
		}
		words := strings.Join(strings.Fields(drawingtest.Words(t, out.Bytes())), " ")
		for _, say := range []string{"Your school's or employer's own risk assessment, local codes of practice and competent staff decide", "Build it in this order", "Fault card for this drive", s.id.Print, "1 of "} {
			assert.Contains(t, words, say)
		}
	}
}

// A build sheet is one sheet of paper, printed on both sides, with all that is
// done before the making on the first; so are the pictures and a pupils' page.
func TestOneSheetOfPaper(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			for _, page := range []string{BuildPage, StepsPage, PupilsPage} {
				d, err := s.Paper(page, paper)
				require.NoError(t, err)
				if page == StepsPage {
					assert.LessOrEqual(t, len(d.Pages), 2, "%s, %s, %v", name, page, paper)
					continue
				}
				assert.Len(t, d.Pages, 2, "%s, %s, %v", name, page, paper)
			}
		}
	}
}

// Children read 12 points and more, adults 9; all but a name too long for its
// place.
func TestNoSmallPrint(t *testing.T) {
	for _, name := range every {
		for _, p := range pages(t, set(t, name)) {
			least := drawing.Points(9)
			if p.Young {
				least = drawing.Points(12)
			}
			for _, sheet := range p.Paper(drawing.A4).Pages {
				var got ink
				sheet.Paint(&got)
				for _, w := range got.texts {
					if w.At.Y < drawing.A4.Height-margin-5 { // the foot is for the adult
						assert.GreaterOrEqual(t, float64(w.Style.Size), float64(least)-1e-9, "%s, %s: %q", name, p.Name, w.Words)
					}
				}
			}
		}
	}
}

// The pupils' page is true to size: its check bar is 50 mm, and each pulley's
// outline is as wide as the pulley.
func TestOutlinesAreTrue(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		p := s.Pupils()
		var got ink
		for _, sheet := range p.Paper(drawing.Letter).Pages {
			sheet.Paint(&got)
		}
		has := func(width, height float64) bool {
			for _, l := range got.lines {
				if abs(float64(l.Width())-width) < 0.03 && abs(float64(l.Height())-height) < 0.03 {
					return true
				}
			}
			return false
		}
		assert.True(t, has(50, 0), "%s: the check bar", name)
		for _, f := range s.pulleys {
			assert.True(t, has(float64(f.Outside), float64(f.Outside)), "%s: %s", name, f.letter)
		}
		for i := range s.drive.Stages {
			assert.True(t, has(float64(s.drive.Stages[i].Band.FlatLength), 4.8), "%s: band %d", name, i+1)
		}
	}
}

func abs(v float64) float64 { return max(v, -v) }

// The whole numbers of the sum agree with each other and nearly with the drive.
func TestWholeTurns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratios := rapid.SliceOfN(rapid.Float64Range(0.2, 15), 1, 4).Draw(t, "ratios")
		c := &certificate.Proposal{}
		for _, r := range ratios {
			c.Stages = append(c.Stages, certificate.Stage{Ratio: certificate.Number(r)})
		}
		s := &Set{drive: c}
		turns, stages := s.wholeTurns()
		require.Len(t, turns, len(ratios)+1)
		for i, w := range stages {
			require.Positive(t, w.Driver)
			require.Equal(t, turns[i]*w.Driven, turns[i+1]*w.Driver)
			off := float64(w.Driver) / float64(w.Driven) / ratios[i]
			require.InDelta(t, 1, off, 0.17, "%v as %v", ratios[i], w)
		}
	})
}

func TestKitCSV(t *testing.T) {
	c := saved(t, "buggy")
	c.Proposals[0].Uses[2].Places[0].Name = "=HYPERLINK(1)"
	c.Proposals[0].Uses[2].Name = "=HYPERLINK(1)"
	c.Proposals[0].Uses[3].Places[0].Location = "  @drawer"
	var out bytes.Buffer
	require.NoError(t, made(t, c).KitCSV(&out))
	require.True(t, bytes.HasPrefix(out.Bytes(), []byte("\ufeff")))
	rows, err := csv.NewReader(bytes.NewReader(out.Bytes()[3:])).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 5)
	text := out.String()
	assert.Contains(t, text, "'=HYPERLINK")
	assert.Contains(t, text, "'  @drawer")
	for _, r := range rows {
		for _, cell := range r {
			assert.False(t, strings.HasPrefix(cell, "=") || strings.HasPrefix(cell, "@"), cell)
		}
	}
}

// The kit of 8 buggies by hand: 8 of each pulley and a spare, half as many bands
// again, two sets of cells and one motor over as far as there are.
func TestKitCounts(t *testing.T) {
	lines, err := set(t, "buggy").kit()
	require.NoError(t, err)
	got := map[string][3]int{}
	for _, k := range lines {
		got[k.unit+" "+k.item] = [3]int{k.total, k.spare, k.have}
	}
	assert.Equal(t, [3]int{8, 0, 8}, got["motor slow"]) // no spare left
	assert.Equal(t, [3]int{8, 2, 12}, got["cells two"])
	assert.Equal(t, [3]int{8, 1, 16}, got["pulley motor-6"])
	assert.Equal(t, [3]int{8, 4, 60}, got["band no-31"])
	// Four wheels each: the cupboard has those of the free axles too.
	assert.Equal(t, [3]int{32, 4, 40}, got["wheel wheel-50"])
	// 8 axles of 120 mm, 8 of 140 mm and 8 free ones of 140 mm: two from a rod of
	// 300 mm, and one from each of the two offcuts of 150 mm, so eleven rods will do.
	assert.Equal(t, [3]int{11, 2, 24}, got["rod dowel-5"])
}

func TestNoSuchDrive(t *testing.T) {
	c := saved(t, "buggy")
	_, err := New(c, len(c.Proposals)+1, DefaultOptions())
	assert.ErrorContains(t, err, "they go from 1 to")
	c.Proposals = nil
	_, err = New(c, 1, DefaultOptions())
	assert.ErrorContains(t, err, "there is no drive in it")
}
