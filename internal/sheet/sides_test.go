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
