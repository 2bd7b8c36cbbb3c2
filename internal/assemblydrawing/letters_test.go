package assemblydrawing_test

import (
	"math"
	"slices"
	"strings"
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
	cut     bool          // something is cut where its room ends
}

func (s *strokes) Begin(string, string) {}
func (s *strokes) End()                 {}
func (s *strokes) Clip(r drawing.Rect)  { s.room = &r }
func (s *strokes) Unclip()              { s.room = nil }
func (s *strokes) Text(t drawing.Text)  { s.words = append(s.words, t) }

// A rectangle filled in white hides what is below.
func (s *strokes) Fill(p *drawing.Path, white bool) {
	if b := p.Bounds(); white && !slices.ContainsFunc(p.Steps, func(q drawing.Step) bool { return q.Kind == drawing.Turn }) {
		s.points = slices.DeleteFunc(s.points, func(q drawing.Point) bool { return q.X > b.X0 && q.X < b.X1 && q.Y > b.Y0 && q.Y < b.Y1 })
	}
}

func (s *strokes) Stroke(p *drawing.Path, _ drawing.Pen) {
	if _, _, whole := p.WholeCircle(); whole {
		s.circles = append(s.circles, p.Steps[1])
	}
	var at drawing.Point
	before := len(s.points)
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
		if s.room != nil {
			for _, q := range s.points[before:] {
				s.cut = s.cut || !s.room.Inset(-0.3).Holds(drawing.Rect{X0: q.X, Y0: q.Y, X1: q.X, Y1: q.Y})
			}
		}
	}
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

// Nothing in a picture is cut at its edge or reaches beyond its card, and no word in it lies on
// what is drawn.
func TestPicturesAreWholeAndTheirWordsClear(t *testing.T) {
	pictures := 0
	for seed := range uint64(200) {
		b, p := assemblytest.Drive(seed)
		o, err := assembly.Of(b, p)
		require.NoError(t, err)
		plan, err := assembly.PlanOf(o)
		require.NoError(t, err)
		sides := [2]string{"front", "back"}
		if o.Upright {
			sides = [2]string{"top", "bottom"}
		}
		for _, pic := range assemblydrawing.Pictures(plan, sides, 87.5, func(*assembly.Step, []assemblydrawing.Hung) string { return "Words." }) {
			for _, high := range []units.Millimetres{pic.Least(87.5), 43, 60} {
				card := drawing.Rect{X0: 20, Y0: 20, X1: 107.5, Y1: 20 + high}
				page := drawing.NewPage(drawing.A4, "")
				pic.Draw(&page.Canvas, card)
				var got strokes
				page.Paint(&got)
				pictures++
				assert.False(t, got.cut, "seed %d, picture %d of %g mm", seed, pic.Number, float64(high))
				for _, q := range got.points {
					if !card.Inset(-0.01).Holds(drawing.Rect{X0: q.X, Y0: q.Y, X1: q.X, Y1: q.Y}) {
						assert.Fail(t, "drawn beyond the card", "seed %d, picture %d of %g mm: %v", seed, pic.Number, float64(high), q)
						break
					}
				}
				var taken []drawing.Rect
				for _, w := range got.words {
					box := w.Style.Bounds(w.At, w.Words)
					if !strings.ContainsAny(w.Words, "gjpqy") { // nothing of them is below the line
						box.Y1 = w.Style.Origin(w.At, w.Words).Y
					}
					for _, o := range taken {
						assert.False(t, o.Overlaps(box), "seed %d, picture %d of %g mm: %q lies on other words", seed, pic.Number, float64(high), w.Words)
					}
					taken = append(taken, box)
					assert.True(t, card.Holds(box), "seed %d, picture %d of %g mm: %q is beyond the card", seed, pic.Number, float64(high), w.Words)
					for _, q := range got.points {
						if in := box.Inset(0.1); q.X > in.X0 && q.X < in.X1 && q.Y > in.Y0 && q.Y < in.Y1 {
							assert.Fail(t, "a word lies on a line", "seed %d, picture %d of %g mm: %q", seed, pic.Number, float64(high), w.Words)
							break
						}
					}
				}
			}
		}
	}
	require.Greater(t, pictures, 3000)
}
