package assemblydrawing

import (
	"fmt"
	"math"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Sizes of a tackle as it is drawn.
const (
	ropeApart  mm = 7 // from one part of the cord to the next, at most
	drumRadius mm = 4
	tackleWide mm = 34 // beside the parts: drum and words
	hookHigh   mm = 7
)

// guided is how far a drum stands beside the guide of its cord, from middle to middle: below it
// the cord goes straight up, level with it there is room for a word.
func guided(guide string) mm {
	if guide == "up" {
		return 2 * drumRadius
	}
	return 5.5 * drumRadius
}

// Tackle shows how the cord of a crane runs: from the drum down round the lower block and
// up and down again, with a number at each part that carries the load, to where it is
// tied. The drum and the upper block hang from the frame; the pulleys of a block, which
// turn on one axle, are laid side by side. A cord that leaves its drum up or to a side goes
// over a guide, which hangs with the upper block from what holds it; the drum stands apart.
func Tackle(c *drawing.Canvas, room drawing.Rect, parts int, guide string) {
	lower, upper := assembly.TacklePulleys(parts)
	wide, shift := tackleWide, drumRadius
	if guide != "" {
		wide, shift = tackleWide+guided(guide), drumRadius+guided(guide)/2
	}
	apart := min(ropeApart, (room.Width()-wide)/mm(parts))
	r := apart / 2
	// What is to the right of the drum, or to its left where its cord leaves that way.
	side := mm(1)
	if guide == "left" {
		side = -1
	}
	x := func(part int) mm {
		return room.Centre().X + side*((mm(part)-mm(parts-1)/2)*apart+shift)
	}
	between := func(x0, y0, x1, y1 mm) drawing.Rect {
		return drawing.Rect{X0: min(x0, x1), Y0: y0, X1: max(x0, x1), Y1: y1}
	}
	top := room.Y0 + 2.5 + drumRadius
	low := room.Y1 - hookHigh - r - 1.5
	frame := between(x(0)-side*(2*drumRadius+4), room.Y0, x(parts-1)+side*(r+3), room.Y0+1.5)
	c.Rectangle(frame, light, drawing.Hatched)
	// The blocks: a pulley stands between each two parts of the cord.
	block := func(first, count int, y mm, more mm) (middle mm) {
		box := between(x(first)-side*1.2, y-r-1, x(first+2*count-1)+side*(1.2+more), y+r+1)
		c.Rectangle(box, light, drawing.White)
		for i := range count {
			at := drawing.Point{X: (x(first+2*i) + x(first+2*i+1)) / 2, Y: y}
			c.Circle(at, r-0.6, light, drawing.White)
			c.Circle(at, 0.5, drawing.NoPen, drawing.Black)
		}
		return box.Centre().X
	}
	odd := mm(parts%2) * apart // the end is tied beside the pulleys of the lower block, or the upper
	hang := block(0, lower, low, odd)
	if upper > 0 {
		middle := block(1, upper, top, apart-odd)
		c.Line(drawing.Point{X: middle, Y: frame.Y1}, drawing.Point{X: middle, Y: top - r - 1}, light.Wider(0.5))
	}
	// The drum, or the guide in its place, and the cord.
	drum := drawing.Point{X: x(0) - side*drumRadius, Y: top}
	round := func(at drawing.Point) {
		c.Circle(at, drumRadius, heavy, drawing.White)
		c.Circle(at, 0.6, drawing.NoPen, drawing.Black)
	}
	c.Line(drawing.Point{X: drum.X, Y: frame.Y1}, drum, light.Wider(0.5))
	if guide == "" {
		round(drum)
	} else {
		drum = overGuide(c, drum, low, side, guide)
		round(drum)
	}
	for i := range parts {
		from, to := top, low
		switch {
		case i == parts-1 && parts%2 == 0:
			from = frame.Y1
			if upper > 0 { // its block carries the end
				from = top + r + 1
			}
			c.Circle(drawing.Point{X: x(i), Y: from}, 0.8, drawing.NoPen, drawing.Black)
		case i == parts-1:
			to = low - r - 1
			c.Circle(drawing.Point{X: x(i), Y: to}, 0.8, drawing.NoPen, drawing.Black)
		}
		c.Line(drawing.Point{X: x(i), Y: from}, drawing.Point{X: x(i), Y: to}, heavy)
	}
	for i := range parts - 1 { // under a pulley of the lower block, over one of the upper
		at, sweep := drawing.Point{X: (x(i) + x(i+1)) / 2, Y: low}, units.Radians(-math.Pi)
		if i%2 == 1 {
			at.Y, sweep = top, math.Pi
		}
		c.Draw(drawing.Arc(at, r, 0, sweep), heavy, drawing.NoFill)
	}
	number := words
	if w := number.Width("8") + 1; w > apart {
		number, _ = number.Fit("8", apart-1, drawing.Points(8))
	}
	for i := range parts {
		at := drawing.Point{X: x(i), Y: (top + low) / 2}
		w, h := number.Width("8")/2+0.3, number.CapHeight()/2+0.7
		c.Rectangle(drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}, drawing.NoPen, drawing.White)
		c.Text(at, fmt.Sprint(i+1), number.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
	hook := drawing.Point{X: hang, Y: low + r + 1}
	c.Line(hook, hook.Plus(0, 1.2), heavy)
	c.Draw(drawing.Arc(hook.Plus(0, 3), 1.8, math.Pi/2, -1.4*math.Pi), heavy, drawing.NoFill)
	outer, inner := words.WithAlign(drawing.End), words // on the drum's side and on the other
	if side < 0 {
		outer, inner = inner, outer
	}
	c.Text(drum.Plus(-side*(drumRadius+2), 0), "drum", outer.WithLevel(drawing.Centred))
	if guide == "" {
		c.Text(drawing.Point{X: frame.X1 + 2, Y: frame.Y1}, "frame", words.WithLevel(drawing.Centred))
	}
	end := drawing.Point{X: x(parts-1) + side*3, Y: low - r - 1}
	if parts%2 == 0 {
		end.Y = top + r + 1
		if upper == 0 {
			end.Y = frame.Y1 + 1 + 2*words.CapHeight()
		}
	}
	c.Text(end, "tie", inner.WithLevel(drawing.Centred))
}

// overGuide draws a guide and the cord that comes to it from its drum, whose place it returns.
func overGuide(c *drawing.Canvas, at drawing.Point, low, side mm, guide string) (drum drawing.Point) {
	label := words.WithAlign(drawing.End)
	if side < 0 {
		label = words
	}
	if guide == "up" {
		drum = drawing.Point{X: at.X - side*guided(guide), Y: low}
		c.Circle(at, drumRadius, light, drawing.White)
		c.Line(drawing.Point{X: at.X - side*drumRadius, Y: low}, drawing.Point{X: at.X - side*drumRadius, Y: at.Y}, heavy)
		c.Draw(drawing.Arc(at, drumRadius, 0, math.Pi), heavy, drawing.NoFill)
		c.Text(at.Plus(-side*(drumRadius+2), 0), "guide", label.WithLevel(drawing.Centred))
	} else {
		drum = at.Plus(-side*guided(guide), 0)
		c.Circle(at, drumRadius, light, drawing.White)
		c.Line(drum.Plus(0, -drumRadius), at.Plus(0, -drumRadius), heavy)
		c.Draw(drawing.Arc(at, drumRadius, math.Pi/2, -units.Radians(float64(side)*math.Pi/2)), heavy, drawing.NoFill)
		c.Text(at.Plus(-side*guided(guide)/2, 0), "guide", words.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
	c.Circle(at, 0.6, drawing.NoPen, drawing.Black)
	return drum
}
