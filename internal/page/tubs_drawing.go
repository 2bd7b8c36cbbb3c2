package page

import (
	"fmt"
	"math"

	g "maragu.dev/gomponents"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// The scale that all parts are drawn to, so that they can be told by their size.
const pixels = 1.25 // of a screen for a millimetre

// scaled is a drawing so many millimetres wide and high, to the common scale.
func scaled(w, h float64, nodes ...g.Node) g.Node {
	const edge = 1
	return g.El("svg", g.Attr("aria-hidden", "true"), g.Attr("viewBox", fmt.Sprintf("%d %d %s %s", -edge, -edge, short(w+2*edge), short(h+2*edge))),
		g.Attr("style", fmt.Sprintf("width:%spx;height:%spx", short(pixels*(w+2*edge)), short(pixels*(h+2*edge)))), g.Group(nodes))
}

// partDrawing is a usual part in proportion, and what to call it.
func partDrawing(c *parts.Cupboard, kind, name string) (g.Node, string) {
	mm := func(v units.Millimetres) string { // as a ruler has it
		return units.Decimals(math.Round(float64(v)), 0) + " mm"
	}
	switch kind {
	case "pulley":
		for _, p := range c.Pulleys {
			if p.Name == name {
				words := "pulley, " + mm(p.Outside) + " over the rims"
				if p.Bore < 3 {
					words = "pulley for a motor, " + mm(p.Outside)
				}
				return wheelDrawing(float64(p.Outside), float64(p.GrooveFloor), float64(p.Bore)), words
			}
		}
	case "band":
		for _, b := range c.Bands {
			if b.Name == name {
				w, l := float64(b.Width), float64(b.FlatLength)
				wide := "thin"
				if w > 2 {
					wide = "wide"
				}
				return scaled(l, w+3, loop(l, w+3), loop2(l, w+3)), fmt.Sprintf("number %s, %s long laid flat, %s", b.Size, mm(b.FlatLength), wide)
			}
		}
	case "motor":
		for _, m := range c.Motors {
			if m.Name == name {
				l, w := float64(m.BodyLength), float64(m.BodyWidth)
				return scaled(l+8, w, rect(0, 0, l, w, ""), rect(l, w/2-1, 8, 2, "")), fmt.Sprintf("small motor, %s long, 2 mm shaft", mm(m.BodyLength))
			}
		}
	case "cells":
		for _, h := range c.Holders {
			if h.Name == name {
				var cells []g.Node
				for i := range h.Cells {
					cells = append(cells, rect(0, 16*float64(i), 55, 15, ""), rect(55, 16*float64(i)+5, 3, 5, ""))
				}
				words := "holder for 1 AA cell"
				if h.Cells > 1 {
					words = fmt.Sprintf("holder for %d AA cells", h.Cells)
				}
				return scaled(58, 16*float64(h.Cells), cells...), words
			}
		}
	case "axle":
		return scaled(60, 6, rect(0, 0, 58, 5, "")), "dowel or rod, 300 mm long"
	case "wheel":
		for _, w := range c.Wheels {
			if w.Name == name {
				return wheelDrawing(float64(w.Diameter), float64(w.Diameter)*0.85, float64(w.Bore)), "wheel, " + mm(w.Diameter)
			}
		}
	case "drum":
		for _, d := range c.Drums {
			if d.Name == name {
				return scaled(float64(d.Width), float64(d.Diameter), rect(0, 0, float64(d.Width), float64(d.Diameter), ""), rect(0, 3, float64(d.Width), float64(d.Diameter)-6, "")), "reel for cord, " + mm(d.Diameter)
			}
		}
	case "sleeve":
		for _, p := range c.Sleeves {
			if p.Name == name {
				return scaled(10, 5, rect(0, 0, 10, 5, ""), rect(0, 1.5, 10, 2, "")), "tube, " + mm(p.Inner) + " inside, for a pulley on a motor"
			}
		}
	case "spacer":
		return wheelDrawing(10, 10, 5.2), "washers"
	}
	return nil, name
}

func wheelDrawing(outside, floor, bore float64) g.Node {
	r := outside / 2
	return scaled(outside, outside, circle(r, r, r, ""), circle(r, r, floor/2, ""), circle(r, r, bore/2, "hole"))
}

// loop is the outline of a band laid flat.
func loop(l, w float64) g.Node { return rounded(0, 0, l, w, w/2) }

// loop2 is the inside of a band laid flat.
func loop2(l, w float64) g.Node { return rounded(1, 1, l-2, w-2, (w-2)/2) }

func rounded(x, y, w, h, r float64) g.Node {
	return g.El("rect", g.Attr("x", short(x)), g.Attr("y", short(y)), g.Attr("width", short(w)), g.Attr("height", short(h)), g.Attr("rx", short(r)))
}
