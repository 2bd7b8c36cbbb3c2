package views

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/drawing"
	"findrive/internal/drawing/drawingtest"
	"findrive/internal/drawing/svg"
)

// words is a drawing.Painter that collects the texts.
type words struct{ texts []drawing.Text }

func (w *words) Begin(string, string)              {}
func (w *words) End()                              {}
func (w *words) Clip(drawing.Rect)                 {}
func (w *words) Unclip()                           {}
func (w *words) Fill(*drawing.Path, bool)          {}
func (w *words) Stroke(*drawing.Path, drawing.Pen) {}
func (w *words) Text(t drawing.Text)               { w.texts = append(w.texts, t) }

// tidy checks that no two words touch, that all are on the page, that all
// pulleys have their letter, that the font has all characters, and that no words lie
// on a pulley, a hole or an arrowhead.
func tidy(t require.TestingT, c *drawing.Canvas, page drawing.Rect, want ...string) {
	var w words
	c.Paint(&w)
	var seen []string
	var rects []drawing.Rect
	for _, x := range w.texts {
		seen = append(seen, x.Words)
		rects = append(rects, x.Style.Bounds(x.At, x.Words))
		require.Empty(t, drawingtest.Missing(x.Words))
		require.NotContains(t, x.Words, "□")
	}
	for i, a := range rects {
		require.True(t, page.Holds(a), "%q is off the page: %v", seen[i], a)
		for j, b := range rects[:i] {
			require.False(t, a.Overlaps(b), "%q and %q touch: %v, %v", seen[i], seen[j], a, b)
		}
	}
	for _, x := range want {
		require.Contains(t, seen, x)
	}
	var o obstacles
	c.Paint(&o)
	for i, r := range rects {
		require.Empty(t, o.covers(r), "%q", seen[i])
	}
}

func (s *scene) wanted() []string {
	var out []string
	for _, p := range s.pulleys {
		out = append(out, p.letter)
	}
	return out
}

// obstacles is a drawing.Painter that collects words and what they must not lie on.
type obstacles struct {
	words
	where    string // the view that is drawn
	clip     *drawing.Rect
	discs    []clipped
	heads    []drawing.Rect
	outlines [][2]drawing.Point // of pulleys in the view along the axles
}

// clipped is a disc of which only what is in a window is seen.
type clipped struct {
	roundel
	window *drawing.Rect
}

func (o *obstacles) Clip(r drawing.Rect) { o.clip = &r }
func (o *obstacles) Unclip()             { o.clip = nil }

func (o *obstacles) Begin(title, _ string) { o.where = title }

func (o *obstacles) Fill(p *drawing.Path, white bool) {
	if !white && len(p.Steps) == 4 { // three corners: an arrowhead
		o.heads = append(o.heads, p.Bounds())
	}
}

func (o *obstacles) Stroke(p *drawing.Path, pen drawing.Pen) {
	if pen.White {
		return
	}
	if o.where == "Top view" {
		if pen.Width == drawing.Wide && len(p.Steps) >= 10 {
			for i, s := range p.Steps[1:] {
				if s.Kind == drawing.Draw {
					o.outlines = append(o.outlines, [2]drawing.Point{p.Steps[i].To, s.To})
				}
			}
		}
		return
	}
	pulley := (pen.Width == drawing.Wide || pen.Width == 0.7) && pen.Dash == nil || slices.Equal(pen.Dash, drawing.Hidden.Dash) || slices.Equal(pen.Dash, []mm{behindDash, behindDash})
	for _, s := range p.Steps {
		hole := pen.Width == drawing.Medium && pen.Dash == nil && p.Steps[len(p.Steps)-1].Kind == drawing.Close
		if s.Kind == drawing.Turn && s.Radius != balloon && (pulley || hole) {
			o.discs = append(o.discs, clipped{roundel{s.Centre, s.Radius}, o.clip})
		}
	}
}

// covers reports whether words lie on a pulley, a hole or an arrowhead.
func (o *obstacles) covers(r drawing.Rect) string {
	for _, d := range o.discs {
		if d.window != nil && !d.window.Overlaps(r) {
			continue
		}
		if d.radius > 0 && (roundel{d.at, d.radius - 0.05}).touches(r) {
			return fmt.Sprintf("the disc %v", d)
		}
	}
	for _, h := range o.heads {
		if h.Inset(0.05).Overlaps(r) {
			return fmt.Sprintf("the arrowhead %v", h)
		}
	}
	for _, l := range o.outlines {
		for i := range 51 {
			t := mm(i) / 50
			q := drawing.Point{X: l[0].X + (l[1].X-l[0].X)*t, Y: l[0].Y + (l[1].Y-l[0].Y)*t}
			if r.Inset(0.05).Holds(centred(q, 0, 0)) {
				return fmt.Sprintf("the pulley at %v", q)
			}
		}
	}
	return ""
}

func TestLabelsNeverTouch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := &Drive{*anyScene(t)}
		room := drawing.Rect{X0: 10, Y0: 10, X1: 200, Y1: 210}
		for i, draw := range []func(*drawing.Canvas, drawing.Rect){d.Side, d.Top, d.Both} {
			p := drawing.NewPage(drawing.A4, "test")
			draw(&p.Canvas, room)
			tidy(t, &p.Canvas, room, d.wanted()...)
			offTheMotor(t, fmt.Sprint("drawing ", i), &p.Canvas, d.body, drawing.Phantom.Wider(drawing.Medium))
			offStrips(t, fmt.Sprint("drawing ", i), &p.Canvas)
			var o obstacles
			p.Paint(&o)
			if i != 1 { // the side view names its bands
				for _, b := range d.bands {
					require.True(t, slices.ContainsFunc(o.texts, func(w drawing.Text) bool { return strings.HasPrefix(w.Words, fmt.Sprintf("band %d", b.number)) }), "band %d", b.number)
				}
			}
			for _, w := range o.texts {
				require.Empty(t, o.covers(w.Style.Bounds(w.At, w.Words)), "drawing %d: %q", i, w.Words)
			}
		}
		// The room on a build sheet.
		p := drawing.NewPage(drawing.A4, "test")
		small := drawing.Rect{X0: 13, Y0: 30, X1: 133, Y1: 118}
		d.Side(&p.Canvas, small)
		tidy(t, &p.Canvas, small, d.wanted()...)
		for _, p := range d.Templates(drawing.Letter, "a design") {
			tidy(t, &p.Canvas, p.Size.Bounds().Inset(pageEdge-1))
			offTheMotor(t, p.Title, &p.Canvas, d.body, drawing.Hidden)
		}
	})
}

// The top view under a tall side view is drawn small. The figures of its lanes, which do not
// become smaller with it, are in the room all the same.
func TestLaneFiguresOfASmallTopViewAreInTheRoom(t *testing.T) {
	for _, upright := range []bool{false, true} {
		s := &scene{upright: upright, frame: frame{length: 359, height: 400, depth: 70, side: 10}, body: body{24, 18, 0, 28}}
		s.addStages([]place{{5, 5}, {168, 51}, {6, 49}, {323, 21}, {10, 371}}, [][2]mm{{30, 7}, {8, 34}, {7, 40}, {7, 5}})
		// Some of these heights leave nothing to spare.
		for high := mm(170); high <= 220; high += 2.5 {
			room := drawing.Rect{X0: 10, Y0: 10, X1: 200, Y1: 10 + high}
			var c drawing.Canvas
			(&Drive{*s}).Both(&c, room)
			var w words
			c.Paint(&w)
			for _, x := range w.texts {
				r := x.Style.Bounds(x.At, x.Words)
				assert.True(t, room.Holds(r), "upright %v, room %v high: %q at %v", upright, high, x.Words, r)
			}
		}
	}
}

// The path of a band is as long as the formulas of docs/certificate.md say.
func TestBandPathHasTheLengthOfABand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyScene(t)
		v := &sideView{scene: s, paper: paper{scale: scale{1, 1}, origin: drawing.Point{X: 0, Y: 500}}}
		for i := range s.bands {
			b := &s.bands[i]
			path, _ := v.bandPath(b)
			var got float64
			at := path.Steps[0].To
			for _, step := range path.Steps[1:] {
				if step.Kind == drawing.Close {
					got += float64(at.Distance(path.Steps[0].To))
					continue
				}
				got += float64(length(at, step))
				at = step.To
			}
			c, d1, d2 := float64(b.centres), 2*float64(b.fromPitch), 2*float64(b.toPitch)
			a := math.Asin((d2 - d1) / 2 / c)
			want := 2*c*math.Cos(a) + math.Pi*(d1+d2)/2 + a*(d2-d1)
			if b.crossed {
				a = math.Asin((d1 + d2) / 2 / c)
				want = 2*c*math.Cos(a) + (math.Pi/2+a)*(d1+d2)
			}
			require.InDelta(t, want, got, 1e-6*want)
		}
	})
}

func TestSplit(t *testing.T) {
	s := sight{solids: []solid{{owner: 1, near: 5, holds: disc(drawing.Point{X: 50, Y: 50}, 20)}}}
	line := drawing.Line(drawing.Point{X: 0, Y: 50}, drawing.Point{X: 100, Y: 50})
	sum := func(p *drawing.Path) (out float64) {
		for i := 1; i < len(p.Steps); i++ {
			if p.Steps[i].Kind != drawing.Move {
				out += float64(length(p.Steps[i-1].To, p.Steps[i]))
			}
		}
		return out
	}
	tests := []struct {
		name         string
		path         *drawing.Path
		depth        mm
		own          []int
		seen, hidden float64
	}{
		{"behind", line, 10, nil, 60, 40},
		{"in front", line, 5, nil, 100, 0},
		{"its own", line, 10, []int{1}, 100, 0},
		{"circle half behind", drawing.Arc(drawing.Point{X: 70, Y: 50}, 20, 0, 2*math.Pi), 10, nil, 2 * math.Pi * 20 * 2 / 3, 2 * math.Pi * 20 / 3},
	}
	for _, test := range tests {
		seen, hidden := s.split(test.path, test.depth, test.own...)
		assert.InDelta(t, test.seen, sum(seen), 1e-3, test.name)
		assert.InDelta(t, test.hidden, sum(hidden), 1e-3, test.name)
	}
}

func TestSpread(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 8).Draw(t, "n")
		at := make([]mm, n)
		for i := range at {
			at[i] = mm(rapid.Float64Range(0, 6).Draw(t, "step"))
			if i > 0 {
				at[i] += at[i-1]
			}
		}
		got := spread(at, 4)
		moved := mm(0)
		for i := range got {
			if i > 0 {
				require.GreaterOrEqual(t, float64(got[i]-got[i-1]), 4-1e-9)
			}
			moved += got[i] - at[i]
		}
		require.InDelta(t, 0, float64(moved), 1e-6, "least squares leave the mean where it was")
	})
}

func TestSameDriveSameBytes(t *testing.T) {
	draw := func() []byte {
		p := drawing.NewPage(drawing.A4, "test")
		(&Drive{*threeStages()}).Both(&p.Canvas, p.Size.Bounds().Inset(10))
		var b bytes.Buffer
		require.NoError(t, svg.Write(&b, p))
		return b.Bytes()
	}
	assert.Equal(t, draw(), draw())
}

// A drive is drawn large in frames of any shape: what is empty of a long one is broken
// out, and a small one is drawn larger than it is. Without that, 600 mm would go into
// this room at 1 : 5 only.
func TestDrivesAreDrawnLarge(t *testing.T) {
	moved := func(s *scene, by mm) *scene {
		for i := range s.shafts {
			s.shafts[i].at.x += by
		}
		return s
	}
	long := moved(threeStages(), 300)
	long.frame.length, long.frame.height = 600, 120
	small := &scene{frame: frame{length: 60, height: 40, depth: 40, side: 3, drilled: true}, body: body{10, 8, 0, 14},
		shafts: []shaft{{name: "motor", at: place{15, 20}, radius: 1, length: 9, rim: 3, pulleys: []int{0}, turns: clockwise},
			{name: "axle 1", at: place{42, 20}, radius: 2.5, length: 60, hole: 5.5, rim: 14, pulleys: []int{1}, turns: clockwise}},
		pulleys: []pulley{{"A", 0, 3, 2, 5, 3, 18}, {"B", 1, 14, 12, 5, 3, 18}},
		bands:   []band{{number: 1, from: 0, to: 1, fromPitch: 2.5, toPitch: 13, thickness: 1, width: 1.5, lane: 18, centres: 27}}}
	for _, test := range []struct {
		name  string
		scene *scene
		scale string
	}{
		{"200 by 110", threeStages(), "Scale 1 : 1.5"},
		{"600 by 120", long, "Scale 1 : 1.75"},
		{"60 by 40", small, "Scale 2 : 1"},
	} {
		c := &drawing.Canvas{}
		(&Drive{*test.scene}).Side(c, drawing.Rect{X1: 178, Y1: 120})
		var w words
		c.Paint(&w)
		assert.Contains(t, w.texts[0].Words, test.scale, test.name)
	}
}
