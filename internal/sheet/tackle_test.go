package sheet

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assemblydrawing"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
)

// The cord of a crane is drawn with a number at each part that carries the load and a
// pulley wherever it turns, but for the drum and the end.
func TestTackleIsDrawn(t *testing.T) {
	for parts := 2; parts <= 8; parts++ {
		lower, upper := assembly.TacklePulleys(parts)
		assert.Equal(t, parts-1, lower+upper, "the cord turns between each two parts")
		for _, room := range []drawing.Rect{{X0: 20, Y0: 20, X1: 103, Y1: 44}, {X0: 20, Y0: 20, X1: 106, Y1: 58}} {
			p := drawing.NewPage(drawing.A4, "tackle")
			assemblydrawing.Tackle(&p.Canvas, room, parts)
			onPaper(t, fmt.Sprintf("%d parts", parts), p)
			var got ink
			p.Paint(&got)
			for _, l := range got.lines {
				assert.True(t, room.Inset(-1).Holds(l), "%d parts: %v is outside %v", parts, l, room)
			}
			said := wordsOn(p)
			for i := range parts {
				assert.Contains(t, said, strconv.Itoa(i+1), "%d parts", parts)
			}
		}
	}
}

// It is on the crane's own build sheet, with what its end is tied to, and the kit has its
// blocks. The build sheet stays one sheet of paper.
func TestTackleIsOnTheBuildSheet(t *testing.T) {
	for parts, end := range map[int]string{2: "the frame beside the drum", 3: "the hook's block", 4: "the upper block"} {
		c := saved(t, "crane")
		c.Proposals[0].Tackle = &certificate.Winch{Parts: parts, Pull: 0.5}
		s, err := New(c, 1, DefaultOptions())
		require.NoError(t, err)
		p, ok, err := s.Page(BuildPage)
		require.NoError(t, err)
		require.True(t, ok)
		text := plainText(&p)
		assert.Contains(t, text, "== How the cord runs")
		assert.Contains(t, text, "tie its end to "+end)
		assert.Contains(t, text, fmt.Sprintf("%d parts of it carry the load", parts))
		kit, err := s.Kit()
		require.NoError(t, err)
		assert.Contains(t, plainText(&kit), fmt.Sprintf("tackle of %d rope parts: a hook's block", parts))
		for _, size := range []drawing.Size{drawing.A4, drawing.Letter} {
			assert.LessOrEqual(t, len(p.Paper(size).Pages), 2)
		}
	}
}
