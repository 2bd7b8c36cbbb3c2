package sheet

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
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
	"findrive/internal/parts"
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

// How often the motor turns is said as it is at work, with what the bands lose, and pupils are
// told what they would count.
func TestTurnsOfTheMotorAtWork(t *testing.T) {
	c := saved(t, "buggy")
	d := &c.Proposals[0]
	d.Stages[0].Running.Creep, d.Stages[1].Running.Creep = 0.0807, 0.289
	s := made(t, c)
	real := float64(d.Ratio) / (1 - 0.0807) / (1 - 0.289)
	assert.Contains(t, s.summary(), "turns about "+about(real)+" times for one turn of the wheels ("+about(d.Ratio)+" by the pulleys, the bands lose the rest)")
	assert.Contains(t, pageText(t, s, PupilsPage), "Bands stretch. The motor turns about "+about(4*real)+".")
	assert.Contains(t, pageText(t, s, AnswersPage), "with what they lose it is about "+about(real))
	// Where both come to the same figure, the second is not said.
	d.Ratio, d.Stages[0].Running.Creep, d.Stages[1].Running.Creep = 10.55, 0.02, 0.02
	s = made(t, c)
	assert.True(t, s.loses())
	assert.Contains(t, s.summary(), "turns 11 times for one turn of the wheels.")
	assert.NotContains(t, pageText(t, s, AnswersPage), "with what they lose")
	d.Ratio, d.Stages[0].Running.Creep, d.Stages[1].Running.Creep = saved(t, "buggy").Proposals[0].Ratio, 0.01, 0.01
	s = made(t, c)
	assert.Contains(t, s.summary(), "turns "+about(d.Ratio)+" times for one turn of the wheels.")
	assert.NotContains(t, pageText(t, s, PupilsPage), "Bands stretch")
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

// wordsOn are the words on a page in the order in which they are drawn.
func wordsOn(p *drawing.Page) []string {
	var got ink
	p.Paint(&got)
	var out []string
	for _, w := range got.texts {
		out = append(out, w.Words)
	}
	return out
}

// onPaper checks one page: every character is in the font, and all words lie
// within the margins and upright words do not cover one another.
func onPaper(t *testing.T, name string, p *drawing.Page) {
	var got ink
	p.Paint(&got)
	inside := p.Size.Bounds().Inset(margin - 0.2)
	var taken []drawing.Rect
	for _, w := range got.texts {
		assert.Empty(t, drawingtest.Missing(w.Words), "%s: %q", name, w.Words)
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

// The PDFs say what their parts are, as an outside reader finds: one heading of the
// first order, lists, tables with heads, pictures with words in their place, nothing of
// the feet; and they are shown with their title and printed on both sides.
func TestPDFsAreTagged(t *testing.T) {
	s := set(t, "three-stages")
	for _, page := range Names() {
		d, err := s.Paper(page, drawing.A4)
		require.NoError(t, err)
		var out bytes.Buffer
		require.NoError(t, pdf.Write(&out, d))
		drawingtest.Check(t, out.Bytes())
		info := drawingtest.Info(t, out.Bytes())
		assert.Regexp(t, `Tagged: +yes`, info, page)
		assert.Regexp(t, `Title: +`+regexp.QuoteMeta(d.Title), info, page)
		assert.True(t, strings.Contains(out.String(), "/DisplayDocTitle true"))
		structure := drawingtest.Structure(t, out.Bytes())
		figures := strings.Count(structure, "Figure\n")
		assert.Equal(t, figures, strings.Count(out.String(), "/Alt "), "%s: every picture has words in its place", page)
		titles := 1
		if page == TemplatePage { // each sheet is one by itself
			titles = len(d.Pages)
		}
		assert.Equal(t, titles, strings.Count(structure, "H1 (block)"), page)
		assert.False(t, strings.Contains(structure, "1 of "), "%s: feet are not read out", page)
		duplex := "/Duplex /Simplex"
		if page != TemplatePage && len(d.Pages) > 1 {
			duplex = "/Duplex /DuplexFlipLongEdge"
		}
		assert.True(t, strings.Contains(out.String(), duplex), page)
		switch page {
		case BuildPage:
			for _, say := range []string{"Figure", "Document", "L (block)", "LI (block)", "Table (block)", "TR\n", "TH:\n", "/Scope /Column", "/Scope /Row", "TD\n", "H2 (block)"} {
				assert.True(t, strings.Contains(structure, say), "%s has %q", page, say)
			}
		case TemplatePage, DrawingPage, PupilsPage, StepsPage:
			assert.True(t, strings.Contains(structure, "Figure"), page)
		}
	}
}

// Nothing is set smaller than 8 points, and on children's pages, but for the head and
// the foot, which are for the adult, nothing smaller than 12.
func TestNoSmallPrint(t *testing.T) {
	check := func(name string, d *drawing.Drawing, young bool) {
		for i, sheet := range d.Pages {
			var got ink
			sheet.Paint(&got)
			for _, w := range got.texts {
				least := LeastType
				if y := w.At.Y; young && y > margin+1 && y < sheet.Size.Height-margin-5 {
					least = drawing.Points(12)
				}
				assert.GreaterOrEqual(t, float64(w.Style.Size), float64(least)-1e-9, "%s, sheet %d: %q", name, i+1, w.Words)
			}
		}
	}
	for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
		for _, name := range every {
			s := set(t, name)
			for _, page := range Names() {
				d, err := s.Paper(page, paper)
				require.NoError(t, err)
				check(name+", "+page, d, page == PupilsPage)
			}
			c := saved(t, name)
			renamed(c, 60, " ")
			long := made(t, c)
			for _, page := range Names() {
				d, err := long.Paper(page, paper)
				require.NoError(t, err)
				check(name+" with long names, "+page, d, page == PupilsPage)
			}
		}
		for _, cup := range []*parts.Cupboard{nil, cupboard(t)} {
			p := Count(cup, "today")
			check(p.Title, p.Paper(paper), false)
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

func TestNoSuchDrive(t *testing.T) {
	c := saved(t, "buggy")
	_, err := New(c, len(c.Proposals)+1, DefaultOptions())
	assert.ErrorContains(t, err, "they go from 1 to")
	c.Proposals = nil
	_, err = New(c, 1, DefaultOptions())
	assert.ErrorContains(t, err, "there is no drive in it")
}

// Words and picture agree on which way things turn, from whichever side they are
// looked at: the words for the other side say how the drawing shows it, and the
// drawing says so too.
func TestSeenFromTheOtherSide(t *testing.T) {
	caption := func(s *Set) string {
		c := &drawing.Canvas{}
		s.views.Side(c, drawing.Rect{X1: 178, Y1: 120})
		var got ink
		c.Paint(&got)
		return got.texts[0].Words
	}
	for _, test := range []struct{ name, from, words, says string }{
		{"crane", "front", "clockwise, seen from the front", "Seen from the front, front side taken off. Scale"},
		{"crane", "back", "anticlockwise, seen from the back (clockwise in the drawing, which is seen from the front)", "Seen from the front, front side taken off; from the back it turns the other way. Scale"},
		{"carousel", "front", "clockwise, seen from above", "Seen from above, upper side taken off. Scale"},
		{"carousel", "below", "anticlockwise, seen from below (clockwise in the drawing, which is seen from above)", "Seen from above, upper side taken off; from below it turns the other way. Scale"},
	} {
		c := saved(t, test.name)
		c.Brief.Direction.SeenFrom = test.from
		s := made(t, c)
		assert.Equal(t, test.words, s.seen("clockwise"), "%s from %s", test.name, test.from)
		assert.Contains(t, caption(s), test.says, "%s from %s", test.name, test.from)
		// The arrow of the drawing is the certificate's sense, from the front.
		assert.Contains(t, s.views.Describe(), fmt.Sprintf("turns %s, pulley %s", s.drive.OutputTurns, s.outputLetter()))
	}
}

// The answers are those of the page's own sum: each line with blanks, worked out from
// what stands on the page, gives the figure of the answer sheet, and there is one
// blank at least for every stage.
func TestAnswersAreThoseOfTheSums(t *testing.T) {
	sum := regexp.MustCompile(`^So (\w+) turns (\S+)(?: ÷ (\d+))? × (\d+) = (\S+) times\.$`)
	lines := func(b []Block) (out []string) {
		for _, step := range b[0].(Steps).Items {
			out = append(out, step.Do)
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		ratios := rapid.SliceOfN(rapid.Float64Range(0.2, 15), 1, 4).Draw(t, "ratios")
		s := &Set{drive: &certificate.Proposal{}}
		for i, r := range ratios {
			s.drive.Stages = append(s.drive.Stages, certificate.Stage{Ratio: certificate.Number(r)})
			for k := range 2 {
				s.pulleys = append(s.pulleys, fitted{letter: string(rune('A' + 2*i + k)), shaft: i + k})
			}
		}
		asked, solved := lines(s.sumBlocks(false)), lines(s.sumBlocks(true))
		require.Len(t, solved, len(asked))
		var last, output int
		_, err := fmt.Sscanf(asked[0], s.outputLetter()+" turns %d", &last)
		require.NoError(t, err)
		output = last
		sums := 0
		for i, line := range asked {
			m := sum.FindStringSubmatch(line)
			if m == nil {
				continue
			}
			sums++
			require.Equal(t, blank, m[5], line)
			if sums > 1 {
				require.Equal(t, blank, m[2], line)
			}
			by, _ := strconv.Atoi(m[4])
			over := 1
			if m[3] != "" {
				over, _ = strconv.Atoi(m[3])
			}
			require.Zero(t, last%over, "%s: it comes out whole", line)
			answer := last / over * by
			got := sum.FindStringSubmatch(solved[i])
			require.Equal(t, fmt.Sprint(last), got[2])
			require.Equal(t, fmt.Sprint(answer), got[5], solved[i])
			last = answer
		}
		require.Equal(t, len(ratios), sums, "a blank for each stage")
		require.InDelta(t, together(s.wholeStages()), float64(last)/float64(output), 1e-9, "they multiply to what is claimed")
	})
}
