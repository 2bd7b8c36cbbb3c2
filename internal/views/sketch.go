package views

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/drawing"
)

// The sketch for children: large letters, bands as wide as a pencil line can be
// followed, no figures.
const (
	sketchRoom  mm = 12 // round everything, for letters
	sketchMost     = 1.5
	sketchBand  mm = 2.2
	sketchCore  mm = 1.1 // of which so much is white
	letterRoom  mm = 7.5
	behindDash  mm = 1.6
	behindLeast    = 8 // dashes round a pulley
	sketchRings    = 5
)

var sketchLetters = drawing.Words(16).InBold()

// Sketch is a plain picture of the pulleys and bands for children: a letter at each
// pulley and which goes where. A crossed band is drawn as two whole runs of which one
// lies on the other.
func (d *Drive) Sketch(c *drawing.Canvas, room drawing.Rect) {
	s := &d.scene
	x0, y0, x1, y1 := s.pulleysOnly()
	inner := room.Inset(sketchRoom)
	k := min(sketchMost, float64(inner.Width()/(x1-x0)), float64(inner.Height()/(y1-y0)))
	put(c, tidiest(func(steps int) ([]*drawing.Group, int) {
		sc := scale{k * math.Pow(0.92, float64(steps)), 1}
		g := &drawing.Group{Title: "The pulleys and bands", Description: s.describeSketch()}
		v := sideView{scene: s, sheet: newSheet(&g.Canvas, room), paper: paper{scale: sc, origin: drawing.Point{
			X: room.Centre().X - sc.mm((x0+x1)/2), Y: room.Centre().Y + sc.mm((y0+y1)/2)}}}
		v.sights()
		v.sketch()
		return []*drawing.Group{g}, v.misses
	}))
}

// pulleysOnly is the smallest rectangle round all pulleys.
func (s *scene) pulleysOnly() (x0, y0, x1, y1 mm) {
	only := *s
	only.body, only.output = body{}, nil
	return only.drawn()
}

func (s *scene) describeSketch() string {
	words := "A sketch of the drive with a letter at each pulley."
	for i := range s.bands {
		b := &s.bands[i]
		how := "A band"
		if b.crossed {
			how = "A crossed band"
		}
		words += " " + how + " goes from " + s.pulleys[b.from].letter + " to " + s.pulleys[b.to].letter + "."
	}
	return words
}

func (v *sideView) sketch() {
	order := make([]int, len(v.bands))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(v.bands[b].lane, v.bands[a].lane) })
	behind := drawing.Pen{Width: drawing.Wide, Dash: []mm{behindDash, behindDash}}
	for _, i := range order {
		b := &v.bands[i]
		for _, k := range []int{b.from, b.to} {
			p := &v.pulleys[k]
			seen, hidden := v.sight.split(drawing.Circle(v.shaftAt(p.shaft), v.mm(p.outside)), p.lane-p.width/2, k)
			v.draw(seen, drawing.Outline.Wider(0.7), drawing.NoFill)
			v.draw(hidden, dashedRound(v.mm(p.outside)), drawing.NoFill)
		}
		for _, part := range v.sketchParts(b) {
			seen, _ := v.sight.split(part, b.lane, b.from, b.to)
			_, hidden := v.sight.split(runsOf(part), b.lane, b.from, b.to)
			v.draw(hidden, behind, drawing.NoFill)
			v.draw(seen, drawing.Pen{Width: sketchBand}, drawing.NoFill)
			if len(seen.Steps) > 0 {
				v.Draw(seen, drawing.Rubber(sketchCore), drawing.NoFill)
			}
		}
	}
	for i := range v.shafts {
		v.Circle(v.shaftAt(i), 0.9, drawing.NoPen, drawing.Black)
	}
	v.sketchNames()
}

// dashedRound is the pen for a pulley behind another. A small one has shorter dashes: of a few long
// ones nobody would see that it is round.
func dashedRound(radius mm) drawing.Pen {
	dash := min(behindDash, 2*math.Pi*radius/(2*behindLeast))
	return drawing.Pen{Width: drawing.Wide, Dash: []mm{dash, dash}}
}

// runsOf are the straight runs of a band. Behind a pulley no more of it is drawn: its dashes round
// a small pulley could not be told from those of the pulley.
func runsOf(p *drawing.Path) *drawing.Path {
	out := &drawing.Path{}
	for _, s := range p.Steps {
		switch s.Kind {
		case drawing.Draw:
			out.LineTo(s.To)
		case drawing.Move, drawing.Turn:
			out.MoveTo(s.To)
		}
	}
	return out
}

// sketchParts are a band's middle line in the order in which it is drawn: of a crossed
// one the run that lies on the other comes last, whole.
func (v *sideView) sketchParts(b *band) []*drawing.Path {
	whole, _ := v.bandPath(b)
	if !b.crossed {
		return []*drawing.Path{whole}
	}
	run := &drawing.Path{Steps: whole.Steps[:2]} // from the driver to the driven
	rest := &drawing.Path{}
	rest.MoveTo(whole.Steps[1].To)
	rest.Steps = append(rest.Steps, whole.Steps[2:len(whole.Steps)-1]...)
	return []*drawing.Path{rest, run}
}

// sketchNames puts each letter off the pulleys, with a line to its own.
func (v *sideView) sketchNames() {
	for i := range v.pulleys {
		p := &v.pulleys[i]
		at, r, rim := v.shaftAt(p.shaft), v.mm(p.outside), v.mm(v.shafts[p.shaft].rim)
		var radii []mm
		for ring := range sketchRings {
			radii = append(radii, r+5.5+2*mm(ring), rim+5.5+2*mm(ring))
		}
		slices.Sort(radii)
		c, ok := v.settleAimed(letterRoom, letterRoom, around(at, radii, v.outwards(i)), func(c drawing.Point) drawing.Point { return at.Towards(at.Direction(c), r) })
		if !ok {
			continue
		}
		way := at.Direction(c)
		v.draw(drawing.Line(at.Towards(way, r), c.Towards(way+math.Pi, letterRoom/2)), drawing.Outline, drawing.NoFill)
		v.Text(c, p.letter, sketchLetters.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
}
