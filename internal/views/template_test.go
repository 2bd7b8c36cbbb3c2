package views

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/pdf"
)

// printed is the templates rendered at a tenth of a millimetre to the dot.
func printed(t *testing.T, s *scene, paper drawing.Size) (pages []*drawing.Page, pictures []drawingtest.Picture) {
	t.Helper()
	pages = (&Drive{*s}).Templates(paper, "test")
	d := &drawing.Drawing{Title: "test", Pages: pages}
	var b bytes.Buffer
	require.NoError(t, pdf.Write(&b, d))
	require.Contains(t, b.String(), "/PrintScaling /None")
	pictures = drawingtest.Render(t, b.Bytes(), "254")
	require.Len(t, pictures, len(pages))
	for i, p := range pages {
		assert.InDelta(t, float64(p.Size.Width)*10, pictures[i].Bounds().Dx(), 1)
		assert.InDelta(t, float64(p.Size.Height)*10, pictures[i].Bounds().Dy(), 1)
	}
	return pages, pictures
}

// datumLines is a drawing.Painter that finds the datum lines: the one wide line of a
// template with a corner in it.
type datumLines struct {
	words
	corner *drawing.Point
}

func (d *datumLines) Stroke(p *drawing.Path, pen drawing.Pen) {
	if len(p.Steps) == 3 && pen.Width == drawing.Wide {
		d.corner = &p.Steps[1].To
	}
}

// datumIn finds the datum in dots where it is printed, from the corner of the datum
// lines, of which it lies so far inside.
func datumIn(t *testing.T, page *drawing.Page, pic drawingtest.Picture, over mm, back bool) (x, y float64) {
	t.Helper()
	var d datumLines
	page.Paint(&d)
	require.NotNil(t, d.corner, "datum lines")
	in := 30.0 // along the lines, where nothing else is
	if back {
		in = -in
	}
	cx, cy := float64(d.corner.X)*10, float64(d.corner.Y)*10
	column := pic.Down(int(cx+in), int(cy)-8, int(cy)+12)
	row := pic.Across(int(cy)-30, int(cx)-8, int(cx)+8)
	require.Len(t, column, 1, "the datum line at the foot")
	require.Len(t, row, 1, "the datum line at the side")
	assert.InDelta(t, cx, row[0], 1)
	assert.InDelta(t, cy, column[0], 1)
	if back {
		return row[0] - 10*float64(over), column[0] - 10*float64(over)
	}
	return row[0] + 10*float64(over), column[0] - 10*float64(over)
}

func TestHolesAreWhereTheyShouldBe(t *testing.T) {
	s := threeStages()
	pages, pictures := printed(t, s, drawing.A4)
	require.Len(t, pictures, 2, "a page for each side")
	for i, pic := range pictures {
		back := i == 1
		x0, y0 := datumIn(t, pages[i], pic, s.frame.over.left, back)
		for _, sh := range s.shafts[1:] {
			dx, dy := float64(sh.at.x)*10, float64(sh.at.y)*10
			if back {
				dx = -dx
			}
			x, y := x0+dx, y0-dy
			// The cross-hairs, looked at between the hole and their ends.
			up := pic.Across(int(y)-50, int(x)-20, int(x)+20)
			across := pic.Down(int(x)-50, int(y)-20, int(y)+20)
			require.Len(t, up, 1, "%s, side %d", sh.name, i)
			require.Len(t, across, 1, "%s, side %d", sh.name, i)
			assert.InDelta(t, x, up[0], 1, "%s, side %d", sh.name, i)
			assert.InDelta(t, y, across[0], 1, "%s, side %d", sh.name, i)
			// The circle, on a row off the cross-hair: 5.5 mm wide at its middle.
			h := 15.0
			half := 10 * 2.75
			chord := pic.Across(int(y+h), int(x)-40, int(x)+40)
			require.Len(t, chord, 3, "circle, cross-hair, circle")
			want := half*half - h*h
			got := (chord[2] - chord[0]) / 2
			assert.InDelta(t, want, got*got, 2*half*1.5)
		}
	}
}

func TestCheckBarsAreTrue(t *testing.T) {
	long := threeStages()
	long.frame.length, long.shafts[3].at.x = 400, 390
	pages, pictures := printed(t, long, drawing.Letter)
	require.Len(t, pages, 4, "two tiles for each side")
	for i, pic := range pictures {
		foot := int(float64(pages[i].Size.Height)*10) - 10*int(pageEdge) - 40
		ends := pic.Across(foot-20, 150, 1300)
		require.Len(t, ends, 2)
		assert.InDelta(t, 1000, ends[1]-ends[0], 1)
		w := (&template{scene: long, back: i > 1}).window(pages[i].Size)
		ends = pic.Down(10*int(pageEdge)+60, int(w.Y1*10)-1100, int(w.Y1*10)+20)
		require.Len(t, ends, 2)
		assert.InDelta(t, 1000, ends[1]-ends[0], 1)
	}
}

// Every hole is on some tile, and where two tiles meet they have register marks in
// common.
func TestTilesCoverTheHoles(t *testing.T) {
	s := threeStages()
	s.frame.length, s.frame.height = 480, 300
	s.shafts[3].at = place{470, 290}
	s.shafts[2].at = place{235, 150}
	pages := (&Drive{*s}).Templates(drawing.A4, "")
	count := map[string]int{}
	for _, p := range pages {
		var w words
		p.Paint(&w)
		for _, x := range w.texts {
			count[x.Words]++
		}
	}
	for _, name := range []string{"motor shaft: no hole", "axle 1 (B, C)", "axle 2 (D, E)", "axle 3 (F)", "x 470, y 290", "datum", "far edge"} {
		assert.GreaterOrEqual(t, count[name], 2, name)
	}
	for _, mark := range []string{"1", "2"} {
		assert.GreaterOrEqual(t, count[mark], 4, "mark %s on two tiles of each side", mark)
	}
}

// Paper is not spent on a frame: a large one with its holes near the datum takes a
// sheet for each side, one of 500 mm with a hole at its far end no more than two.
func TestTemplateIsFittedToItsHoles(t *testing.T) {
	sheets := func(length, height, x mm) int {
		s := threeStages()
		s.frame.length, s.frame.height = length, height
		s.shafts[1].at.x = x
		return len((&Drive{*s}).Templates(drawing.Letter, ""))
	}
	assert.Equal(t, 2, sheets(250, 120, 188))
	assert.Equal(t, 2, sheets(900, 700, 188))
	assert.Equal(t, 4, sheets(500, 400, 450))
	// That a little more would show where the frame ends is no reason for a sheet.
	assert.Equal(t, 2, sheets(250, 120, 223))
}

// Both sides are laid out from the datum, so that they take the same sheets.
func TestBothSidesTakeTheSameSheets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		front := template{scene: anyScene(t)}
		back := front
		back.back = true
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter, drawing.Letter.Landscape()} {
			f, b := front.grid(paper), back.grid(paper)
			require.Equal(t, f.count, b.count)
			for r := range f.kept {
				for c := range f.kept[r] {
					require.Equal(t, f.kept[r][c], b.kept[r][len(f.kept[r])-1-c], "sheet %d %d", c, r)
				}
			}
		}
	})
}

// For frames of any size, sheets without a hole only join others, every hole has
// its label on some sheet with its place, and seams keep off the holes' middles.
func TestSheetsOfAnyTemplate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		for _, back := range []bool{false, true} {
			tp := template{scene: s, back: back}
			g := tp.grid(drawing.A4)
			require.True(t, g.connected(g.count))
			shown := map[string]bool{}
			for _, p := range tp.pages(drawing.A4) {
				var w words
				p.Paint(&w)
				for _, x := range w.texts {
					shown[x.Words] = true
				}
			}
			for _, sh := range s.shafts {
				require.True(t, shown[fmt.Sprintf("x %s, y %s", number(sh.at.x), number(sh.at.y))], "%s has its place", sh.name)
			}
			for i, sh := range s.shafts {
				n := 0
				for r := range g.kept {
					for c := range g.kept[r] {
						cell := g.cell(c, r)
						if x, y := tp.x(sh.at.x), sh.at.y; g.kept[r][c] && cell.X0 <= x && x <= cell.X1 && cell.Y0 <= y && y <= cell.Y1 {
							n++
						}
					}
				}
				require.Positive(t, n, "shaft %d", i)
			}
		}
	})
}

// Whose it is stands whole at the foot of every page, on its side and upright, clear of the bar
// and inside the margins.
func TestFootIsWhole(t *testing.T) {
	const foot = "Crane winch, drive 12: 3 May 2027, cupboard 53775cd4, brief 18262673, drive 735390e2"
	upright := 0
	for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
		for _, high := range []mm{120, 300, 420} {
			s := threeStages()
			s.frame.length, s.frame.height = 170, high
			for i := range s.shafts {
				s.shafts[i].at = place{20 + 40*mm(i), high - 20}
			}
			for _, p := range (&Drive{*s}).Templates(paper, foot) {
				if p.Size.Height > p.Size.Width {
					upright++
				}
				var w words
				p.Paint(&w)
				said := ""
				for _, x := range w.texts {
					r := x.Style.Bounds(x.At, x.Words)
					if r.Y1 < p.Size.Height-pageEdge-barRoom || r.X0 < pageEdge+barRoom+checkLength {
						continue // above the foot, or the bar's own
					}
					said += " " + x.Words
					assert.LessOrEqual(t, float64(r.Y1), float64(p.Size.Height-pageEdge)+1)
				}
				assert.Equal(t, " "+foot, said, "%v", p.Size)
			}
		}
	}
	assert.Positive(t, upright)
}
