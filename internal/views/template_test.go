package views

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// corner finds the outline's upright line nearest to a side and its level line
// at the foot, in dots, looking where nothing else is drawn.
func datumIn(t *testing.T, pic drawingtest.Picture, s *scene, back bool) (x, y float64) {
	t.Helper()
	w := pic.Bounds().Dx()
	// A row just above the outline's foot crosses only its two sides.
	column := pic.Down(w/2+7, 420, pic.Bounds().Dy()-210)
	require.NotEmpty(t, column)
	y = column[len(column)-1]
	row := pic.Across(int(y)-120, 190, w-90)
	require.Len(t, row, 2, "the two sides of the outline")
	require.InDelta(t, float64(s.frame.length)*10, row[1]-row[0], 1, "true size")
	if back {
		return row[1], y
	}
	return row[0], y
}

func TestHolesAreWhereTheyShouldBe(t *testing.T) {
	s := threeStages()
	_, pictures := printed(t, s, drawing.A4)
	require.Len(t, pictures, 2, "a page for each side")
	for i, pic := range pictures {
		back := i == 1
		x0, y0 := datumIn(t, pic, s, back)
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
	long.frame.length = 300
	pages, pictures := printed(t, long, drawing.Letter)
	require.Len(t, pages, 4, "two tiles for each side")
	for i, pic := range pictures {
		foot := int(float64(pages[i].Size.Height)*10) - 10*int(pageEdge) - 40
		ends := pic.Across(foot-20, 150, 1300)
		require.Len(t, ends, 2)
		assert.InDelta(t, 1000, ends[1]-ends[0], 1)
		w := window(pages[i].Size)
		ends = pic.Down(10*int(pageEdge)+60, int(w.Y1*10)-1100, int(w.Y1*10)+20)
		require.Len(t, ends, 2)
		assert.InDelta(t, 1000, ends[1]-ends[0], 1)
	}
}

// Every hole is on some tile, and where two tiles meet they have register marks
// in common.
func TestTilesCoverTheFrame(t *testing.T) {
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
	for _, name := range []string{"motor shaft: no hole", "axle 1 (B, C)", "axle 2 (D, E)", "axle 3 (F)", "datum corner"} {
		assert.GreaterOrEqual(t, count[name], 2, name)
	}
	for _, mark := range []string{"1", "2"} {
		assert.GreaterOrEqual(t, count[mark], 4, "mark %s on two tiles of each side", mark)
	}
}
