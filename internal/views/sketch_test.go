package views

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/drawing"
)

// lines is a drawing.Painter that keeps what is stroked, in order.
type lines struct {
	words
	paths []*drawing.Path
	pens  []drawing.Pen
}

func (l *lines) Stroke(p *drawing.Path, pen drawing.Pen) {
	l.paths, l.pens = append(l.paths, p), append(l.pens, pen)
}

// A crossed band is two whole runs: each is drawn from pulley to pulley, and no white
// line is wide enough to part one.
func TestCrossedBandsAreWhole(t *testing.T) {
	s := threeStages()
	c := &drawing.Canvas{}
	(&Drive{*s}).Sketch(c, drawing.Rect{X1: 86, Y1: 62})
	var got lines
	c.Paint(&got)
	run, rest := -1, -1
	for i, p := range got.paths {
		pen := got.pens[i]
		if pen.White {
			require.LessOrEqual(t, float64(pen.Width), float64(sketchBand)-0.8, "it leaves both edges")
		}
		if pen.Width == sketchBand && len(p.Steps) == 2 {
			run = i
		}
		if pen.Width == sketchBand && len(p.Steps) >= 4 && p.Steps[2].Kind == drawing.Draw && p.Steps[len(p.Steps)-1].Kind == drawing.Turn && run < 0 {
			rest = i
		}
	}
	require.GreaterOrEqual(t, rest, 0, "the run below, with both arcs")
	require.Greater(t, run, rest, "the run on top, drawn later and whole")
	// They cross: the ends of one lie on both sides of the other.
	a, b := got.paths[run].Steps[0].To, got.paths[run].Steps[1].To
	side := func(p drawing.Point) mm { return (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X) }
	below := got.paths[rest]
	require.Negative(t, float64(side(below.Steps[1].To)*side(below.Steps[2].To)))
}

func TestSketchLettersAreClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &Drive{*anyScene(t)}
		room := drawing.Rect{X0: 10, Y0: 10, X1: 96, Y1: 72}
		p := drawing.NewPage(drawing.A4, "test")
		d.Sketch(&p.Canvas, room)
		tidy(t, &p.Canvas, room, d.wanted()...)
		var o obstacles
		p.Paint(&o)
		for _, w := range o.texts {
			require.Empty(t, o.covers(w.Style.Bounds(w.At, w.Words)), "%q", w.Words)
		}
	})
}

// However small a pulley behind another is, it has dashes enough to be seen as round; a large one
// has dashes as long as those of bands. Of a band only the straight runs are drawn there.
func TestWhatIsBehindIsSeenAsRound(t *testing.T) {
	for _, radius := range []mm{0.8, 1.7, 4, 40} {
		pen := dashedRound(radius)
		around := 2 * math.Pi * float64(radius)
		assert.GreaterOrEqual(t, around/float64(pen.Dash[0]+pen.Dash[1]), float64(behindLeast)-1e-9, "%v", radius)
		assert.LessOrEqual(t, pen.Dash[0], behindDash)
	}
	assert.Equal(t, behindDash, dashedRound(40).Dash[0])
	end := drawing.Point{X: 10, Y: 4}
	p := drawing.Line(drawing.Point{}, drawing.Point{X: 10})
	p.Steps = append(p.Steps, drawing.Step{Kind: drawing.Turn, To: end})
	p.LineTo(drawing.Point{Y: 4})
	runs := runsOf(p)
	var kinds []drawing.StepKind
	for _, s := range runs.Steps {
		kinds = append(kinds, s.Kind)
	}
	assert.Equal(t, []drawing.StepKind{drawing.Move, drawing.Draw, drawing.Move, drawing.Draw}, kinds)
	assert.Equal(t, end, runs.Steps[2].To)
}
