package sheet

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/drawing"
	"findrive/internal/units"
)

// sketch is a plain picture of the pulleys and bands for the children: no
// figures, only letters and which goes where.
func (s *Set) sketch() Picture {
	return Picture{
		Title:       "The pulleys and bands",
		Description: "A sketch of the drive with a letter at each pulley. " + s.chain() + ".",
		Size:        drawing.Size{Width: 86, Height: 62},
		Draw:        s.drawSketch,
	}
}

const (
	letterRoom = 11.0 // round everything, for letters
	mostScale  = 1.2
)

func (s *Set) drawSketch(c *drawing.Canvas, room drawing.Rect) {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range s.pulleys {
		at, r := s.drive.Positions[p.shaft], float64(p.Outside)/2
		x0, x1 = math.Min(x0, float64(at.X)-r), math.Max(x1, float64(at.X)+r)
		y0, y1 = math.Min(y0, float64(at.Y)-r), math.Max(y1, float64(at.Y)+r)
	}
	scale := math.Min(mostScale, math.Min((float64(room.Width())-2*letterRoom)/(x1-x0), (float64(room.Height())-2*letterRoom)/(y1-y0)))
	place := func(shaft int) drawing.Point {
		at := s.drive.Positions[shaft]
		return drawing.Point{
			X: (room.X0+room.X1)/2 + units.Millimetres(scale*(float64(at.X)-(x0+x1)/2)),
			Y: (room.Y0+room.Y1)/2 - units.Millimetres(scale*(float64(at.Y)-(y0+y1)/2)),
		}
	}
	// What is further from the front is drawn first.
	order := make([]int, len(s.drive.Stages))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(s.drive.Stages[b].Lane, s.drive.Stages[a].Lane)
	})
	for _, i := range order {
		a, b := &s.pulleys[2*i], &s.pulleys[2*i+1]
		p, q := place(a.shaft), place(b.shaft)
		for _, end := range []*fitted{a, b} {
			c.Circle(place(end.shaft), units.Millimetres(scale*float64(end.Outside)/2), drawing.Outline.Wider(0.7), drawing.White)
		}
		r1, r2 := units.Millimetres(scale*float64(a.Pitch)/2), units.Millimetres(scale*float64(b.Pitch)/2)
		for _, side := range []float64{1, -1} {
			t1, t2 := tangent(p, q, r1, r2, side, s.drive.Stages[i].Crossed)
			if side < 0 && s.drive.Stages[i].Crossed { // the other run goes over it
				c.Line(t1, t2, drawing.Rubber(3))
			}
			c.Line(t1, t2, drawing.Outline.Wider(0.9))
		}
		for k, at := range []drawing.Point{p, q} {
			c.Circle(at, []units.Millimetres{r1, r2}[k], drawing.Outline.Wider(0.9), drawing.NoFill)
		}
	}
	// What lies behind shows through in dashes.
	behind := drawing.Pen{Width: drawing.Wide, Dash: []units.Millimetres{2, 1.5}}
	for _, i := range order {
		a, b := &s.pulleys[2*i], &s.pulleys[2*i+1]
		p, q := place(a.shaft), place(b.shaft)
		r1, r2 := units.Millimetres(scale*float64(a.Pitch)/2), units.Millimetres(scale*float64(b.Pitch)/2)
		for _, end := range []*fitted{a, b} {
			c.Circle(place(end.shaft), units.Millimetres(scale*float64(end.Outside)/2), behind, drawing.NoFill)
		}
		for _, side := range []float64{1, -1} {
			t1, t2 := tangent(p, q, r1, r2, side, s.drive.Stages[i].Crossed)
			c.Line(t1, t2, behind)
		}
	}
	for shaft := range s.drive.Positions {
		c.Circle(place(shaft), 0.9, drawing.NoPen, drawing.Black)
	}
	s.sketchLetters(c, place, scale)
}

// tangent is one of the two runs of a band about two pitch circles.
func tangent(p, q drawing.Point, r1, r2 units.Millimetres, side float64, crossed bool) (from, to drawing.Point) {
	along := p.Direction(q)
	far := float64(p.Distance(q))
	second := r2
	if crossed {
		second = -r2
	}
	off := units.Radians(side * math.Acos(math.Max(-1, math.Min(1, float64(r1-second)/far))))
	return p.Towards(along+off, r1), q.Towards(along+off, second)
}

// sketchLetters put each letter outside its pulley where no other pulley and no
// other letter is near, with a line to the rim.
func (s *Set) sketchLetters(c *drawing.Canvas, place func(int) drawing.Point, scale float64) {
	const away, apart = 7, 4.5 // of a letter from its own pulley, and from others
	style := drawing.Words(16).InBold().WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	var letters []drawing.Point
	for shaft := range s.drive.Positions {
		on := s.onShaft(shaft)
		slices.SortStableFunc(on, func(a, b fitted) int { return cmp.Compare(b.Outside, a.Outside) })
		at, clear := place(shaft), units.Millimetres(0)
		for k, p := range on {
			rim := units.Millimetres(scale * float64(p.Outside) / 2)
			clear = max(clear, rim)
			// How near the nearest other thing is to a letter in a direction.
			room := func(way units.Radians) float64 {
				q, least := at.Towards(way, clear+away), math.Inf(1)
				for _, l := range letters {
					least = math.Min(least, float64(q.Distance(l))-apart)
				}
				for i := range s.pulleys {
					if o := &s.pulleys[i]; o.shaft != shaft {
						least = math.Min(least, float64(q.Distance(place(o.shaft)))-scale*float64(o.Outside)/2)
					}
				}
				return least
			}
			up := math.Pi / 2
			if k == 1 {
				up = -up
			}
			best := units.Radians(up)
			for turn := range 12 {
				way := units.Radians(up + float64((turn+1)/2)*math.Pi/6*math.Pow(-1, float64(turn)))
				if room(best) < apart && room(way) > room(best) {
					best = way
				}
			}
			label := at.Towards(best, clear+away)
			letters = append(letters, label)
			c.Line(at.Towards(best, rim), label.Towards(best+math.Pi, 3.6), drawing.Outline)
			c.Text(label, p.letter, style)
		}
	}
}
