package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assemblydrawing"
	"findrive/internal/certificate"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// The cord of a crane is drawn with a number at each part that carries the load and a
// pulley wherever it turns, but for the drum and the end.
func TestTackleIsDrawn(t *testing.T) {
	for parts := 2; parts <= 8; parts++ {
		lower, upper := assembly.TacklePulleys(parts)
		assert.Equal(t, parts-1, lower+upper, "the cord turns between each two parts")
		for _, room := range []drawing.Rect{{X0: 20, Y0: 20, X1: 103, Y1: 44}, {X0: 20, Y0: 20, X1: 106, Y1: 58}} {
			for _, guide := range []string{"", "up", "left", "right"} {
				p := drawing.NewPage(drawing.A4, "tackle")
				assemblydrawing.Tackle(&p.Canvas, room, parts, guide)
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
				assert.Contains(t, said, "drum")
				// What holds a guide is no part of the frame.
				assert.Equal(t, guide != "", slices.Contains(said, "guide"), "%d parts, %s", parts, guide)
				assert.Equal(t, guide == "", slices.Contains(said, "frame"), "%d parts, %s", parts, guide)
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
		list := plainText(&kit)
		assert.Contains(t, list, fmt.Sprintf("tackle of %d rope parts: a hook's block", parts))
		assert.Contains(t, list, fmt.Sprintf("cord, %.0f mm or more", float64(assembly.CordLength(parts, units.Millimetres(c.Proposals[0].Drum.Diameter), false))))
		assert.NotContains(t, list, "cord with a hook", "the hook is the block's")
		for _, size := range []drawing.Size{drawing.A4, drawing.Letter} {
			assert.LessOrEqual(t, len(p.Paper(size).Pages), 2)
		}
	}
}

// The cord of a crane is long enough for the load to rise as far as it is timed over, on all
// parts that carry it, with turns left on the drum: here worked out by hand.
func TestCordHasItsLength(t *testing.T) {
	for _, c := range []struct {
		parts      int
		drum, want units.Millimetres
		guide      bool
	}{
		{1, 20, 800, false}, // 400 + 188 + 200
		{1, 20, 1200, true}, // 400 more to the guide
		{2, 18, 1200, false},
		{4, 18, 2400, true}, // 1600 + 400 + 170 + 200
	} {
		assert.Equal(t, c.want, assembly.CordLength(c.parts, c.drum, c.guide), "%+v", c)
	}
	kit, err := made(t, saved(t, "crane")).Kit()
	require.NoError(t, err)
	assert.Regexp(t, `cord with a hook, \d+00 mm or more`, plainText(&kit))
}

// The cord goes under the pulleys of the lower block and over those of the upper one and the
// guide.
func TestCordGoesRoundItsPulleys(t *testing.T) {
	near := func(a, b drawing.Rect, of float64) bool {
		return float64(a.Centre().X-b.Centre().X) < of && float64(b.Centre().X-a.Centre().X) < of
	}
	for parts := 2; parts <= 8; parts++ {
		for _, guide := range []string{"", "up", "left", "right"} {
			room := drawing.Rect{X0: 20, Y0: 20, X1: 106, Y1: 58}
			p := drawing.NewPage(drawing.A4, "tackle")
			assemblydrawing.Tackle(&p.Canvas, room, parts, guide)
			var got ink
			p.Paint(&got)
			under, over := 0, 0
			for _, half := range got.lines {
				if w, h := half.Width(), half.Y1-half.Y0; w < 1 || w/h < 1.99 || w/h > 2.01 {
					continue
				}
				for _, pulley := range got.lines {
					w, h := pulley.Width(), pulley.Y1-pulley.Y0
					if w < 1 || w/h < 0.99 || w/h > 1.01 || !near(half, pulley, 0.01) {
						continue
					}
					if at := pulley.Centre().Y; at > room.Centre().Y {
						under++
						assert.InDelta(t, float64(at), float64(half.Y0), 0.01, "%d parts, %s", parts, guide)
					} else {
						over++
						assert.InDelta(t, float64(at), float64(half.Y1), 0.01, "%d parts, %s", parts, guide)
					}
				}
			}
			lower, upper := assembly.TacklePulleys(parts)
			assert.Equal(t, lower, under, "%d parts, %s", parts, guide)
			assert.GreaterOrEqual(t, over, upper, "%d parts, %s", parts, guide)
		}
	}
}

// The children's picture of a cord that goes over a guide shows it, with both blocks.
func TestGuideIsInThePicture(t *testing.T) {
	for parts, blocks := range map[int]string{1: "", 2: ", block", 3: ", 2 × block"} {
		c := saved(t, "crane")
		c.Brief.Load.CordLeaves = "up"
		c.Proposals[0].Tackle = &certificate.Winch{Parts: parts, Pull: 0.5}
		s := made(t, c)
		assert.Contains(t, pageText(t, s, StepsPage), "New: guide, cord"+blocks+".")
		steps := s.Making()
		said := wordsOn(steps.Paper(drawing.A4).Pages[0])
		assert.Contains(t, said, "guide")
		assert.NotContains(t, said, "frame")
	}
}
