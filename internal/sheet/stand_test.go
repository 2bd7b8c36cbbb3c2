package sheet

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/certificate"
)

// pageText is a page of a set as text.
func pageText(t *testing.T, s *Set, name string) string {
	t.Helper()
	p, ok, err := s.Page(name)
	require.NoError(t, err)
	require.True(t, ok)
	return plainText(&p)
}

// youngText is what stands under the pictures of a set.
func youngText(s *Set) string {
	words := ""
	for i := range s.plan.Steps {
		if step := &s.plan.Steps[i]; step.Hands() {
			do, _ := s.youngWords(step)
			words += do + "\n"
		}
	}
	return words
}

// A ride that reaches below its frame is not hung on a frame that stands on the table.
func TestRideBelowItsFrameIsSaid(t *testing.T) {
	for _, c := range []struct {
		radius, want float64 // beyond the axle's height
	}{{-5, 0}, {0, 0}, {29.5, 30}} {
		saved := saved(t, "big-wheel")
		high := made(t, saved).axleHeight(len(saved.Proposals[0].Stages))
		saved.Brief.Load.LoadRadius = certificate.Number(float64(high) + c.radius)
		saved.Brief.Load.OutOfBalanceRadius = 0
		s := made(t, saved)
		said := fmt.Sprintf("The ride reaches %g mm below the frame", c.want)
		if c.want == 0 {
			assert.NotContains(t, pageText(t, s, BuildPage), "below the frame")
			assert.NotContains(t, youngText(s), "blocks")
			continue
		}
		assert.Contains(t, pageText(t, s, BuildPage), said)
		assert.Contains(t, youngText(s), "First put the frame up on blocks.")
	}
}

// A load that is timed over a longer way than the drum is high hangs beside the table.
func TestLoadHangsBesideTheTable(t *testing.T) {
	c := saved(t, "crane")
	s := made(t, c)
	assert.Contains(t, pageText(t, s, BuildPage), "Hang the drum's side of the frame over the edge of a table")
	assert.Contains(t, pageText(t, s, PupilsPage), "Put the drum past the edge of the table.")
	assert.Contains(t, youngText(s), "Put the drum past the edge of the table.")
	last := len(c.Proposals[0].Stages)
	s.plan.Build.Shafts[last].At.Y = 301
	assert.NotContains(t, pageText(t, s, BuildPage), "over the edge of a table")
	assert.NotContains(t, pageText(t, s, PupilsPage), "past the edge")
}
