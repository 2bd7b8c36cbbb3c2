package assemblydrawing

import (
	"fmt"
	"math"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
)

// guideItem is what a cord is led over, which is no part of the drive.
const guideItem assembly.Kind = "guide"

// item is one kind of part of a step, with how many.
type item struct {
	kind   assembly.Kind
	letter string // of a pulley, or the number of a band
	count  int
}

func (it *item) describe() string {
	name := string(it.kind)
	if it.kind == assembly.Blocks {
		name = "block"
	}
	if it.letter != "" {
		name += " " + it.letter
	}
	if it.count > 1 {
		return fmt.Sprintf("%d × %s", it.count, name)
	}
	return name
}

// items are the parts of a step in the order in which they are needed, alike together.
func (p *Picture) items() []item {
	var out []item
	b := p.plan.Build
	add := func(part int) {
		q := &b.Parts[part]
		it := item{kind: q.Kind, letter: q.Letter, count: 1}
		if q.Kind == assembly.Blocks {
			if _, upper := assembly.TacklePulleys(b.Rope); upper > 0 {
				it.count = 2 // the hook's and the upper one
			}
		}
		if q.Kind == assembly.Loop {
			for i := range b.Bands {
				for _, l := range b.Bands[i].Loops {
					if l == part {
						it.letter = fmt.Sprint(i + 1)
					}
				}
			}
		}
		for i := range out {
			if out[i].kind == it.kind && out[i].letter == it.letter {
				out[i].count++
				return
			}
		}
		out = append(out, it)
	}
	if lifts := p.step.Kind == assembly.CordStep || p.step.Kind == assembly.TackleStep; lifts && b.Guide != "" {
		out = append(out, item{kind: guideItem, count: 1}) // which the group makes
	}
	for _, k := range p.step.New(b) {
		add(k)
	}
	if p.step.Kind == assembly.BandStep { // they hang there already
		for _, l := range b.Bands[p.step.Stage].Loops {
			add(l)
		}
	}
	return out
}

// drawItems draws the parts of the step in a box, each with its count.
func (p *Picture) drawItems(c *drawing.Canvas, room drawing.Rect) {
	list := p.items()
	widths, total := make([]mm, len(list)), mm(0)
	for _, ones := range []bool{true, false} { // without the ones where there is no room
		total = 0
		for i := range list {
			widths[i] = iconWide
			if list[i].count > 1 || ones && list[i].letter == "" {
				widths[i] += words.Width(list[i].times()) + 0.6
			}
			total += widths[i] + iconGap
		}
		if total+1 <= room.Width() {
			break
		}
	}
	gap := iconGap
	if over := total + 1 - room.Width(); over > 0 {
		gap -= over / mm(len(list))
		total -= over
	}
	box := drawing.Rect{X0: max(room.X0, room.X1-total-1), Y0: room.Y0, X1: room.X1, Y1: room.Y1}
	c.Rectangle(box, drawing.Pen{Width: drawing.Medium}, drawing.NoFill)
	x := box.X0 + 1.5
	for i := range list {
		it := &list[i]
		at := drawing.Point{X: x + iconWide/2, Y: box.Centre().Y}
		it.draw(c, at)
		if widths[i] > iconWide {
			c.Text(drawing.Point{X: x + iconWide + 0.6, Y: at.Y}, it.times(), words.WithLevel(drawing.Centred))
		}
		x += widths[i] + gap
	}
}

const (
	iconWide mm = 6.4
	iconGap  mm = 1.8
)

func (it *item) times() string { return fmt.Sprintf("%d×", it.count) }

// draw is a part in small, about a point.
func (it *item) draw(c *drawing.Canvas, at drawing.Point) {
	box := func(w, h mm) drawing.Rect {
		return drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}
	}
	pen := drawing.Outline
	centred := words.WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	switch it.kind {
	case assembly.Rod:
		c.Rectangle(box(3.2, 0.7), pen, drawing.White)
	case assembly.Tube:
		c.Rectangle(box(2.8, 1.6), pen, drawing.White)
		c.Line(at.Plus(-2.8, 0), at.Plus(2.8, 0), drawing.Pen{Width: drawing.Narrow, Dash: []mm{1, 0.7}})
	case assembly.Washer:
		c.Circle(at, 2.2, pen, drawing.White)
		c.Circle(at, 0.9, pen, drawing.White)
	case assembly.Pulley:
		c.Circle(at, 3.1, pen, drawing.White)
		c.Text(at, it.letter, bold.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	case assembly.Loop:
		c.Draw(loopPath(at, 3.1, 2.7), pen.Wider(0.8), drawing.White)
		c.Text(at, it.letter, centred)
	case assembly.Motor:
		c.Rectangle(box(2.2, 2).Shifted(-0.6, 0), pen, drawing.White)
		c.Rectangle(drawing.Rect{X0: at.X + 1.6, Y0: at.Y - 0.4, X1: at.X + 3.1, Y1: at.Y + 0.4}, pen, drawing.White)
	case assembly.Mount: // a strap with two feet
		c.Draw(drawing.Arc(at.Plus(0, 1.4), 2, 0, math.Pi), pen.Wider(0.9), drawing.NoFill)
		c.Line(at.Plus(-3.2, 1.4), at.Plus(-2, 1.4), pen.Wider(0.9))
		c.Line(at.Plus(2, 1.4), at.Plus(3.2, 1.4), pen.Wider(0.9))
	case assembly.Cells:
		c.Rectangle(box(2.6, 1.5), pen, drawing.White)
		c.Rectangle(drawing.Rect{X0: at.X + 2.6, Y0: at.Y - 0.6, X1: at.X + 3.1, Y1: at.Y + 0.6}, pen, drawing.Black)
	case assembly.Switch:
		c.Line(at.Plus(-3, 1.2), at.Plus(-1.4, 1.2), pen)
		c.Line(at.Plus(-1.4, 1.2), at.Plus(1.4, -1.2), pen)
		c.Line(at.Plus(1.4, 1.2), at.Plus(3, 1.2), pen)
	case assembly.Wire:
		c.Draw(drawing.Arc(at.Plus(-1.4, 0), 1.4, math.Pi, -math.Pi), pen, drawing.NoFill)
		c.Draw(drawing.Arc(at.Plus(1.4, 0), 1.4, math.Pi, math.Pi), pen, drawing.NoFill)
	case assembly.Wheel:
		c.Circle(at, 3.1, pen, drawing.White)
		c.Circle(at, 2.1, pen, drawing.White)
		c.Circle(at, 0.5, drawing.NoPen, drawing.Black)
	case assembly.Drum:
		c.Rectangle(box(2, 1.2), pen, drawing.White)
		c.Rectangle(box(0.5, 2.6).Shifted(-2.2, 0), pen, drawing.White)
		c.Rectangle(box(0.5, 2.6).Shifted(2.2, 0), pen, drawing.White)
	case assembly.Ride:
		c.Rectangle(box(3.1, 0.7).Shifted(0, -1.3), pen, drawing.White)
		c.Rectangle(box(0.8, 1.3).Shifted(0, 0.7), pen, drawing.White)
	case assembly.Cord:
		c.Line(at.Plus(0, -2.8), at.Plus(0, 0.6), pen)
		c.Draw(drawing.Arc(at.Plus(0, 1.8), 1.2, math.Pi/2, -1.4*math.Pi), pen, drawing.NoFill)
	case assembly.Blocks:
		c.Circle(at.Plus(0, -0.6), 1.9, pen, drawing.White)
		c.Circle(at.Plus(0, -0.6), 0.5, pen, drawing.White)
		c.Line(at.Plus(0, 1.3), at.Plus(0, 2.8), pen)
	case guideItem: // the end of a rod in a fork
		c.Circle(at.Plus(0, -0.8), 1.3, pen, drawing.White)
		c.Draw(drawing.Arc(at.Plus(0, -0.8), 2.2, math.Pi, math.Pi), pen, drawing.NoFill)
		c.Line(at.Plus(0, 1.4), at.Plus(0, 2.9), pen)
	case assembly.Foot:
		c.Rectangle(box(1.6, 1.6), pen, drawing.White)
	}
}

// loopPath is a band lying flat.
func loopPath(at drawing.Point, w, h mm) *drawing.Path {
	a, b := at.Plus(-w+h, 0), at.Plus(w-h, 0)
	path := &drawing.Path{}
	return path.MoveTo(a.Plus(0, h)).ArcAbout(a, h, -math.Pi/2, -math.Pi).LineTo(b.Plus(0, -h)).ArcAbout(b, h, math.Pi/2, -math.Pi).Close()
}
