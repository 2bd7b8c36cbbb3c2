package discdrawing_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/discdrawing"
	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

type mm = units.Millimetres

// painter gathers the full circles and the words of a page.
type painter struct {
	circles []circle
	texts   []drawing.Text
}

type circle struct {
	at     drawing.Point
	radius mm
	pen    drawing.Pen
}

func (p *painter) Begin(string, string)     {}
func (p *painter) End()                     {}
func (p *painter) Clip(drawing.Rect)        {}
func (p *painter) Unclip()                  {}
func (p *painter) Fill(*drawing.Path, bool) {}
func (p *painter) Text(t drawing.Text)      { p.texts = append(p.texts, t) }
func (p *painter) Stroke(path *drawing.Path, pen drawing.Pen) {
	for _, s := range path.Steps {
		if s.Kind == drawing.Turn && math.Abs(math.Abs(float64(s.Sweep))-2*math.Pi) < 1e-6 {
			p.circles = append(p.circles, circle{s.Centre, s.Radius, pen})
		}
	}
}

func painted(p *drawing.Page) *painter {
	out := &painter{}
	p.Paint(out)
	return out
}

func disc(across, thick mm, way parts.CuttingWay) discdrawing.Disc {
	return discdrawing.Disc{Diameter: across, Thickness: thick, Kind: "card", Sheet: "card", Way: string(way), Adult: way.Adult()}
}

// job is pulleys with floors of some sizes, with their discs laid on sheets.
func job(t require.TestingT, sets int, floors ...mm) *discdrawing.Job {
	j := &discdrawing.Job{Foot: "test"}
	var all []making.Several
	for i, f := range floors {
		j.Pulleys = append(j.Pulleys, discdrawing.Pulley{Sets: sets, Letters: []string{string(rune('B' + i))}, Core: disc(f, 2, parts.Scissors), Flange: disc(f+10, 2, parts.Scissors), Layers: 2, Bore: 5})
		made := &parts.Made{Core: parts.Disc{Sheet: "card", Diameter: f}, Flange: parts.Disc{Sheet: "card", Diameter: f + 10}, Layers: 2}
		all = append(all, making.Several{Pulley: &parts.Pulley{Made: made}, Count: sets})
	}
	var err error
	j.Pieces, err = making.Nest([]parts.SheetStock{{Item: parts.Item{Name: "card", Count: 1000}, Kind: parts.PlainCard, Thickness: 2, Length: 297, Width: 210}}, all)
	require.NoError(t, err)
	return j
}

// TestDiscsAreTrueToSize measures the discs, the ring and the bar on pages as they print,
// at a tenth of a millimetre to the dot.
func TestDiscsAreTrueToSize(t *testing.T) {
	for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
		j := job(t, 2, 30, 65, 105)
		pages := discdrawing.Pages(j, paper)
		var b bytes.Buffer
		require.NoError(t, pdf.Write(&b, &drawing.Drawing{Title: "test", Pages: pages}))
		require.Contains(t, b.String(), "/PrintScaling /None")
		pictures := drawingtest.Render(t, b.Bytes(), "254")
		require.Len(t, pictures, len(pages))
		once := map[mm]int{30: 1, 40: 1, 65: 1, 75: 1, 105: 1, 115: 1}
		all := map[mm]int{30: 4, 40: 4, 65: 4, 75: 4, 105: 4, 115: 4} // two of each in two sets
		for i, page := range pages {
			pic := pictures[i]
			want := once
			switch page.Title {
			case "Discs of all sets, in true size":
				want = all
			case "Where the discs lie on the sheets":
				continue
			}
			rings := 0
			for _, c := range painted(page).circles {
				if c.pen.Width != drawing.Wide {
					continue
				}
				if c.radius == 20 && c.at.Y < 40 && c.at.X > page.Size.Width-40 {
					rings++
				} else {
					want[2*c.radius]--
				}
				x, y, r := float64(c.at.X)*10, float64(c.at.Y)*10, float64(c.radius)*10
				// Where nothing else crosses the line: at 20 degrees and all round.
				for k := range 12 {
					a := (20 + 30*float64(k)) * math.Pi / 180
					cx, cy := x+r*math.Cos(a), y+r*math.Sin(a)
					if math.Abs(math.Cos(a)) > 0.5 {
						row := pic.Across(int(math.Round(cy)), int(cx)-12, int(cx)+12)
						require.NotEmpty(t, row, "%v mm at %v", 2*c.radius, a)
						dy := math.Round(cy) - y
						assert.InDelta(t, math.Sqrt(r*r-dy*dy), math.Abs(row[0]-x), 2, "%v mm", 2*c.radius)
					}
				}
				assert.Greater(t, c.at.X-c.radius, mm(9), "within what printers reach")
				assert.Less(t, c.at.X+c.radius, page.Size.Width-9)
				assert.Less(t, c.at.Y+c.radius, page.Size.Height-9)
			}
			assert.Equal(t, 1, rings, "a check ring on every page")
			foot := int((page.Size.Height - 14) * 10)
			ends := pic.Across(foot-15, 100, 1200)
			require.Len(t, ends, 2, "the bar's ends")
			assert.InDelta(t, 1000, ends[1]-ends[0], 1)
		}
		for _, want := range []map[mm]int{once, all} {
			for d, n := range want {
				assert.Zero(t, n, "%v mm", d)
			}
		}
	}
}

// Discs, ring and words keep off one another, whatever is to be cut.
func TestNothingLiesOnAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var floors []mm
		for range rapid.IntRange(1, 4).Draw(t, "kinds") {
			floors = append(floors, mm(5*rapid.IntRange(4, 24).Draw(t, "floor")))
		}
		paper := rapid.SampledFrom([]drawing.Size{drawing.A4, drawing.Letter}).Draw(t, "paper")
		for _, page := range discdrawing.Pages(job(t, rapid.IntRange(1, 9).Draw(t, "sets"), floors...), paper) {
			p := painted(page)
			for i, c := range p.circles {
				if c.pen.Width != drawing.Wide {
					continue
				}
				for _, o := range p.circles[:i] {
					if far := c.at.Distance(o.at); o.pen.Width == drawing.Wide && far > 0.1 && far < c.radius+o.radius {
						t.Fatalf("discs of %v and %v mm lie on one another", 2*c.radius, 2*o.radius)
					}
				}
				for _, w := range p.texts {
					b := w.Style.Bounds(w.At, w.Words)
					for _, corner := range []drawing.Point{{X: b.X0, Y: b.Y0}, {X: b.X1, Y: b.Y0}, {X: b.X0, Y: b.Y1}, {X: b.X1, Y: b.Y1}} {
						in := corner.Distance(c.at) < c.radius
						if middle := (drawing.Point{X: (b.X0 + b.X1) / 2, Y: (b.Y0 + b.Y1) / 2}); in != (middle.Distance(c.at) < c.radius) {
							t.Fatalf("%q lies on the line of a disc of %v mm", w.Words, 2*c.radius)
						}
					}
				}
			}
			for i, w := range p.texts {
				if w.Style.Size < drawing.Points(8)-1e-9 || strings.Contains(w.Words, "…") {
					t.Fatalf("%q is small, or cut short", w.Words)
				}
				b := w.Style.Bounds(w.At, w.Words)
				if b.X0 < 0 || b.X1 > page.Size.Width || b.Y1 > page.Size.Height {
					t.Fatalf("%q runs off the page", w.Words)
				}
				for _, o := range p.texts[:i] {
					if a := o.Style.Bounds(o.At, o.Words); min(a.X1, b.X1)-max(a.X0, b.X0) > 0.2 && min(a.Y1, b.Y1)-max(a.Y0, b.Y0) > 0.9 {
						t.Fatalf("%q and %q lie on one another", w.Words, o.Words)
					}
				}
			}
		}
	})
}

func TestMiddlesAreListed(t *testing.T) {
	j := job(t, 2, 65)
	found := 0
	for _, page := range discdrawing.Pages(j, drawing.A4) {
		for _, w := range painted(page).texts {
			for _, piece := range j.Pieces {
				for i, r := range piece.Rounds {
					if w.Words == fmt.Sprintf("%d: %g, %g, %g", i+1, float64(r.Diameter), float64(r.X), float64(r.Y)) {
						found++
					}
				}
			}
		}
	}
	assert.GreaterOrEqual(t, found, len(j.Pieces[0].Rounds))
}

func TestShortOfSheets(t *testing.T) {
	j := job(t, 2, 65)
	j.Pieces, j.Short = nil, "sheet card is short"
	pages := discdrawing.Pages(j, drawing.Letter)
	last := painted(pages[len(pages)-1])
	words := ""
	for _, w := range last.texts {
		words += w.Words + " "
	}
	assert.Contains(t, words, "SHORT: sheet card is short.")
}

// Templates of all sets are printed while they are a dozen pages, each page for one sheet;
// else it is said how many they would be.
func TestTemplatesOfAllSets(t *testing.T) {
	of := func(j *discdrawing.Job) (pages int, words string) {
		for _, page := range discdrawing.Pages(j, drawing.A4) {
			if page.Title == "Discs of all sets, in true size" {
				pages++
			}
			for _, w := range painted(page).texts {
				words += w.Words + " "
			}
		}
		return pages, words
	}
	n, words := of(job(t, 1, 30))
	assert.Equal(t, 1, n)
	assert.Contains(t, words, "The next page has all 4 discs")
	n, words = of(job(t, 3, 65))
	assert.Greater(t, n, 1)
	assert.Contains(t, words, fmt.Sprintf("The next %d pages have all 12 discs", n))
	n, words = of(job(t, 20, 105))
	assert.Zero(t, n)
	assert.Contains(t, words, "All 80 discs would be")

	j := job(t, 2, 30)
	j.Pulleys[0].Flange.Sheet = "thin"
	n, words = of(j)
	assert.Equal(t, 2, n, "a page for each kind of sheet")
	assert.Contains(t, words, "For card 2 mm, thin.")
}
