package sheet

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

// Of two stages there are four to eight pictures, and of every drive one for each step
// that puts something together.
func TestPictures(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		n := 0
		for i := range s.plan.Steps {
			if s.plan.Steps[i].Hands() {
				n++
			}
		}
		if len(s.drive.Stages) == 2 {
			assert.GreaterOrEqual(t, n, 4, name)
			assert.LessOrEqual(t, n, 8, name)
		}
		words := ""
		for _, b := range s.Making().Blocks {
			if p, ok := b.(Picture); ok {
				words += p.Description
			}
		}
		for k := 1; k <= n; k++ {
			assert.Contains(t, words, fmt.Sprintf("Picture %d: ", k), name)
		}
		assert.NotContains(t, words, fmt.Sprintf("Picture %d: ", n+1), name)
	}
}

// No word on the page with the pictures covers another, or leaves the paper, whatever
// the drive.
func TestPicturesOfDrawnDrives(t *testing.T) {
	for seed := range uint64(250) {
		b, p := assemblytest.Drive(seed)
		s, err := New(&certificate.Certificate{Brief: *b, Proposals: []certificate.Proposal{*p}}, 1, DefaultOptions())
		require.NoError(t, err)
		page := s.Making()
		for _, paper := range []drawing.Size{drawing.A4, drawing.Letter} {
			for i, sheet := range page.Paper(paper).Pages {
				onPaper(t, fmt.Sprintf("seed %d, sheet %d", seed, i+1), sheet)
			}
		}
	}
}

// An axle is true to size: on the page the rod is as long as it is sawn, and so is
// every tube.
func TestRodsAreTrue(t *testing.T) {
	for _, name := range every {
		s := set(t, name)
		page := s.Making()
		var got ink
		for _, sheet := range page.Paper(drawing.A4).Pages {
			sheet.Paint(&got)
		}
		for _, k := range s.plan.Build.Parts {
			if k.Kind != "axle" && k.Kind != "spacer tube" {
				continue
			}
			found := false
			for _, l := range got.lines {
				found = found || abs(float64(l.Width()-k.Length)) < 0.03 && abs(float64(l.Height()-2*k.Radius)) < 0.03
			}
			assert.True(t, found, "%s: %s of %v mm", name, k.Kind, k.Length)
		}
	}
}
