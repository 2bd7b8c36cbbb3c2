package classdrawing_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/built"
	"findrive/internal/classdrawing"
	"findrive/internal/demo"
	"findrive/internal/drawing"
	"findrive/internal/drawing/svg"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/units"
)

func ride(t require.TestingT) *built.Build {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", demo.Drive(), cup)
	require.NoError(t, err)
	return b
}

// within notes whatever is drawn beyond the page.
type within struct {
	drawing.Painter
	page   drawing.Rect
	beyond []string
}

func (w *within) Begin(string, string) {}
func (w *within) End()                 {}
func (w *within) Clip(drawing.Rect)    {}
func (w *within) Unclip()              {}
func (w *within) Text(t drawing.Text) {
	if b := t.Style.Bounds(t.At, t.Words); !w.page.Holds(b) {
		w.beyond = append(w.beyond, t.Words)
	}
}
func (w *within) Stroke(p *drawing.Path, _ drawing.Pen) { w.see(p) }
func (w *within) Fill(p *drawing.Path, _ bool)          { w.see(p) }
func (w *within) see(p *drawing.Path) {
	if b := p.Bounds(); !w.page.Holds(b) {
		w.beyond = append(w.beyond, fmt.Sprint(b))
	}
}

// Whatever a class counts, the plot stays on its paper, every group has its dot, and the
// same counts make the same bytes.
func TestPlot(t *testing.T) {
	alone, stop := context.WithCancel(context.Background())
	stop()
	b := ride(t)
	rapid.Check(t, func(rt *rapid.T) {
		var counts []measure.GroupCount
		alike := rapid.Bool().Draw(rt, "alike")
		for i := range rapid.IntRange(0, 32).Draw(rt, "groups") {
			n := rapid.Float64Range(2, 300).Draw(rt, "turns")
			if alike {
				n = 9 + float64(i%2)
			}
			counts = append(counts, measure.GroupCount{Group: fmt.Sprintf("Group with a long name %d", i), Reading: measure.Reading{Kind: measure.Turns, Words: "x", Count: n, Time: units.Seconds(30)}})
		}
		c, err := measure.LearnClass(alone, b, counts)
		require.NoError(rt, err)
		a := classdrawing.Axis(c)
		lo, hi, step := a.Low, a.High, a.Step
		for i := range c.Groups {
			v := float64(c.Groups[i].Turns)
			assert.True(rt, lo <= v && v <= hi, "%g to %g holds %g", lo, hi, v)
		}
		assert.LessOrEqual(rt, (hi-lo)/step, 16.0)
		assert.GreaterOrEqual(rt, math.Round((hi-lo)/step), 2.0)
		one, two := classdrawing.Plot(c), classdrawing.Plot(c)
		w := &within{page: one.Pages[0].Size.Bounds()}
		one.Pages[0].Paint(w)
		assert.Empty(rt, w.beyond)
		var first, second bytes.Buffer
		require.NoError(rt, svg.Write(&first, one.Pages[0]))
		require.NoError(rt, svg.Write(&second, two.Pages[0]))
		assert.Equal(rt, first.String(), second.String())
	})
}

// ordered notes what is painted over a name.
type ordered struct {
	within
	name string
	seen bool
	over int
}

func (o *ordered) Text(t drawing.Text) { o.seen = o.seen || t.Words == o.name }
func (o *ordered) Fill(_ *drawing.Path, _ bool) {
	if o.seen {
		o.over++
	}
}

// The name of a group that stands apart is not hidden by the dots of others beside it.
func TestNoDotHidesAName(t *testing.T) {
	var counts []measure.GroupCount
	for i, n := range []float64{5.2, 6, 60, 60, 60, 61} {
		counts = append(counts, measure.GroupCount{Group: fmt.Sprintf("Group %d", i), Reading: measure.Reading{Kind: measure.Turns, Words: "x", Count: n, Time: units.Seconds(30)}})
	}
	alone, stop := context.WithCancel(context.Background())
	stop()
	c, err := measure.LearnClass(alone, ride(t), counts)
	require.NoError(t, err)
	o := &ordered{name: "Group 0"}
	classdrawing.Plot(c).Pages[0].Paint(o)
	assert.True(t, o.seen)
	assert.Zero(t, o.over)
}
