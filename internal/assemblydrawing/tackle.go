package assemblydrawing

import (
	"fmt"
	"math"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
)

// Sizes of a tackle as it is drawn.
const (
	ropeApart  mm = 7 // from one part of the cord to the next, at most
	drumRadius mm = 4
	tackleWide mm = 34 // beside the parts: drum and words
	hookHigh   mm = 7
)

// Tackle shows how the cord of a crane runs: from the drum down round the lower block and
// up and down again, with a number at each part that carries the load, to where it is
// tied. The drum and the upper block hang from the frame; the pulleys of a block, which
// turn on one axle, are laid side by side.
func Tackle(c *drawing.Canvas, room drawing.Rect, parts int) {
	lower, upper := assembly.TacklePulleys(parts)
	apart := min(ropeApart, (room.Width()-tackleWide)/mm(parts))
	r := apart / 2
	x := func(part int) mm { return room.Centre().X + (mm(part)-mm(parts-1)/2)*apart + drumRadius }
	top := room.Y0 + 2.5 + drumRadius
	low := room.Y1 - hookHigh - r - 1.5
	frame := drawing.Rect{X0: x(0) - 2*drumRadius - 4, Y0: room.Y0, X1: x(parts-1) + r + 3, Y1: room.Y0 + 1.5}
	c.Rectangle(frame, light, drawing.Hatched)
	// The blocks: a pulley stands between each two parts of the cord.
	block := func(first, count int, y mm, more mm) (middle mm) {
		box := drawing.Rect{X0: x(first) - 1.2, Y0: y - r - 1, X1: x(first+2*count-1) + 1.2 + more, Y1: y + r + 1}
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
	// The drum, and the cord.
	drum := drawing.Point{X: x(0) - drumRadius, Y: top}
	c.Line(drawing.Point{X: drum.X, Y: frame.Y1}, drum, light.Wider(0.5))
	c.Circle(drum, drumRadius, heavy, drawing.White)
	c.Circle(drum, 0.6, drawing.NoPen, drawing.Black)
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
	for i := range parts - 1 {
		at := drawing.Point{X: (x(i) + x(i+1)) / 2, Y: low}
		if i%2 == 0 {
			c.Draw(drawing.Arc(at, r, 0, math.Pi), heavy, drawing.NoFill)
			continue
		}
		at.Y = top
		c.Draw(drawing.Arc(at, r, math.Pi, math.Pi), heavy, drawing.NoFill)
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
	c.Text(drum.Plus(-drumRadius-2, 0), "drum", words.WithAlign(drawing.End).WithLevel(drawing.Centred))
	c.Text(drawing.Point{X: frame.X1 + 2, Y: frame.Y1}, "frame", words.WithLevel(drawing.Centred))
	end := drawing.Point{X: x(parts-1) + 3, Y: low - r - 1}
	if parts%2 == 0 {
		end.Y = top + r + 1
		if upper == 0 {
			end.Y = frame.Y1 + 1 + 2*words.CapHeight()
		}
	}
	c.Text(end, "tie", words.WithLevel(drawing.Centred))
}
