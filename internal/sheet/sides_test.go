package sheet

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

// The roomiest look would leave a few lines, or three boxes to tick, to a side of their
// own: the page is set closer, and never smaller than the least type.
func TestNoSideForAFewLines(t *testing.T) {
	tests := []struct {
		page  string
		name  string
		seed  uint64
		paper drawing.Size
		sides int
	}{
		{StepsPage, "a crane of one stage", 50, drawing.A4, 1},
		{StepsPage, "another", 107, drawing.A4, 1},
		{StepsPage, "a roundabout of one stage", 3, drawing.A4, 1},
		{StepsPage, "a vehicle of four stages", 132, drawing.Letter, 2},
		{KitPage, "three-stages", 0, drawing.A4, 1},
		{KitPage, "three-stages", 0, drawing.Letter, 1},
		{KitPage, "buggy", 0, drawing.A4, 1},
	}
	for _, test := range tests {
		s := func() *Set {
			if test.page == KitPage {
				return set(t, test.name)
			}
			b, p := assemblytest.Drive(test.seed)
			s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
			require.NoError(t, err)
			return s
		}()
		p, _, err := s.Page(test.page)
		require.NoError(t, err)
		looks := adultLooks
		if p.Young {
			looks = youngLooks
		}
		roomy, used := p.laidOut(test.paper, looks[0])
		assert.Len(t, roomy.Pages, test.sides+1, "%s, %s", test.page, test.name)
		assert.LessOrEqual(t, float64(used), float64(fewLines), "%s, %s", test.page, test.name)
		assert.Len(t, p.Paper(test.paper).Pages, test.sides, "%s, %s", test.page, test.name)
	}
}

// Where no hole may be off by as much as a figure says, it is said in words.
func TestHolesThatMustBeExact(t *testing.T) {
	c := saved(t, "three-stages")
	c.Proposals[0].Forgives = 0.03
	s := made(t, c)
	page, err := s.Build()
	require.NoError(t, err)
	assert.Contains(t, plainText(&page), "Holes must be as exact as can be.")
	assert.NotContains(t, plainText(&page), " 0 mm off")
	for _, side := range s.views.Templates(drawing.A4, "") {
		for _, w := range wordsOn(side) {
			assert.NotContains(t, w, " 0 mm off")
		}
	}
}

// A band of 178 mm, which is seven inches, is drawn in true size; one that is not is drawn
// with a gap, and the words say so.
func TestLongBands(t *testing.T) {
	draw := func(flat float64) (words []string, longest float64, lines int) {
		p := bandRow([]outline{{label: "1", size: mm(flat) + " mm", flat: flat}})
		page := drawing.NewPage(drawing.A4, "test")
		p.Draw(&page.Canvas, drawing.Rect{X0: margin, Y0: 20, X1: page.Size.Width - margin, Y1: 40})
		var got ink
		page.Paint(&got)
		for _, l := range got.lines {
			longest = max(longest, float64(l.Width()))
		}
		return wordsOn(page), longest, len(got.lines)
	}
	words, long, lines := draw(178)
	assert.Equal(t, []string{"Band 1: 178 mm"}, words)
	assert.InDelta(t, 178, long, 0.01)
	assert.Equal(t, 1, lines)
	words, long, lines = draw(203)
	assert.Equal(t, []string{"Band 1: 203 mm, too long for this page"}, words)
	assert.LessOrEqual(t, long, float64(drawing.A4.Width-2*margin))
	assert.Equal(t, 3, lines, "the gap")
}

// A table that goes on on another side says there what it is.
func TestTablesGoOnByName(t *testing.T) {
	table := Table{Caption: "Drive B", Head: []string{"Part"}}
	for range 90 {
		table.Rows = append(table.Rows, []string{"part"})
	}
	p := Page{Title: "Kit", Blocks: []Block{Heading("Drive B"), table}}
	sides := p.Paper(drawing.A4).Pages
	require.Len(t, sides, 2)
	assert.NotContains(t, wordsOn(sides[0]), "Drive B, continued")
	assert.Contains(t, wordsOn(sides[1]), "Drive B, continued")
}
