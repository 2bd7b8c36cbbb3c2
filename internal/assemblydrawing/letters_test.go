package assemblydrawing_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/assemblydrawing"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// strokes collects what is drawn: lines as points, whole circles, and words.
type strokes struct {
	points  []drawing.Point
	circles []drawing.Step
	words   []drawing.Text
	room    *drawing.Rect // that what is drawn is cut to
	slivers int           // circles of which next to nothing is in it
}

func (s *strokes) Begin(string, string)     {}
func (s *strokes) End()                     {}
func (s *strokes) Clip(r drawing.Rect)      { s.room = &r }
func (s *strokes) Unclip()                  { s.room = nil }
func (s *strokes) Fill(*drawing.Path, bool) {}
func (s *strokes) Text(t drawing.Text)      { s.words = append(s.words, t) }

func (s *strokes) Stroke(p *drawing.Path, _ drawing.Pen) {
	if _, _, whole := p.WholeCircle(); whole {
		s.circles = append(s.circles, p.Steps[1])
		if c, r := p.Steps[1].Centre, p.Steps[1].Radius; s.room != nil && r > 1.5 {
			wide, high := min(s.room.X1, c.X+r)-max(s.room.X0, c.X-r), min(s.room.Y1, c.Y+r)-max(s.room.Y0, c.Y-r)
			if wide > 0 && high > 0 && (wide < 1.5 || high < 1.5) {
				s.slivers++
			}
		}
	}
	var at drawing.Point
	for _, step := range p.Steps {
		n := 60
		for i := range n + 1 {
			t := float64(i) / float64(n)
			switch step.Kind {
			case drawing.Draw:
				s.points = append(s.points, drawing.Point{X: at.X + (step.To.X-at.X)*units.Millimetres(t), Y: at.Y + (step.To.Y-at.Y)*units.Millimetres(t)})
			case drawing.Turn:
				s.points = append(s.points, step.Centre.Towards(step.From+step.Sweep*units.Radians(t), step.Radius))
			}
		}
		at = step.To
	}
}

// Nothing at the edge of a picture is drawn of which so little is inside that it looks like a
// stray stroke.
func TestNoSliversAtTheEdge(t *testing.T) {
	cut := 0
	for seed := range uint64(400) {
		b, p := assemblytest.Drive(seed)
		o, err := assembly.Of(b, p)
		require.NoError(t, err)
		plan, err := assembly.PlanOf(o)
		require.NoError(t, err)
		for _, pic := range assemblydrawing.Pictures(plan, [2]string{"front", "back"}, 88, func(*assembly.Step, []assemblydrawing.Hung) string { return "Words." }) {
			page := drawing.NewPage(drawing.A4, "")
			pic.Draw(&page.Canvas, drawing.Rect{X0: 10, Y0: 10, X1: 98, Y1: 50})
			var got strokes
			page.Paint(&got)
			assert.Zero(t, got.slivers, "seed %d, picture %d", seed, pic.Number)
			if got.room == nil {
				cut++
			}
		}
	}
	assert.Positive(t, cut)
}

// In the pictures from the front no pulley's letter lies on a pulley, a band or another
// letter, for nearly all drives, and in none are both letters of a band away from it.
func TestLettersKeepOffTheDrawing(t *testing.T) {
	pictures, on := 0, 0
	for seed := range uint64(150) {
		b, p := assemblytest.Drive(seed)
		o, err := assembly.Of(b, p)
		require.NoError(t, err)
		plan, err := assembly.PlanOf(o)
		require.NoError(t, err)
		for i := range plan.Steps {
			step := &plan.Steps[i]
			if step.Kind != assembly.BandStep && step.Kind != assembly.MotorStep {
				continue
			}
			for _, pic := range assemblydrawing.Pictures(plan, [2]string{"front", "back"}, 87, func(*assembly.Step, []assemblydrawing.Hung) string { return "" }) {
				if !pic.Shows(step) {
					continue
				}
				page := drawing.NewPage(drawing.A4, "")
				pic.Draw(&page.Canvas, drawing.Rect{X0: 20, Y0: 20, X1: 107.5, Y1: 20 + 43})
				var got strokes
				page.Paint(&got)
				letters := 0
				pictures++
				lies := false
				for _, w := range got.words {
					if len(w.Words) != 1 || w.Words[0] < 'A' || w.Words[0] > 'H' || w.At.Y < 20+10 {
						continue // in the box with the parts
					}
					letters++
					box := w.Style.Bounds(w.At, w.Words).Inset(0.4)
					for _, q := range got.points {
						lies = lies || q.X > box.X0 && q.X < box.X1 && q.Y > box.Y0 && q.Y < box.Y1
					}
					for _, c := range got.circles {
						lies = lies || float64(c.Radius) > 3 && math.Hypot(float64(c.Centre.X-box.Centre().X), float64(c.Centre.Y-box.Centre().Y)) < float64(c.Radius)
					}
				}
				assert.Equal(t, map[assembly.StepKind]int{assembly.BandStep: 2, assembly.MotorStep: 1}[step.Kind], letters, "seed %d, step %d", seed, i)
				if lies {
					on++
					t.Logf("seed %d, step %d: a letter lies on something", seed, i)
				}
			}
		}
	}
	require.Greater(t, pictures, 300)
	assert.Zero(t, on)
}
