package assemblydrawing

import (
	"cmp"
	"fmt"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
)

const (
	// UprightWide is the room across the paper that an axle takes that lies along it.
	UprightWide mm = 59
	uprightHead mm = 8 // for its name
	uprightAxis mm = 29.5
	// mostUpright is the longest axle that lies along the shorter of the two papers, which
	// has 239 mm under a page's name.
	mostUpright mm = 226
)

// column is words one below the other beside an axle that lies along the paper.
type column struct {
	x, to mm // where the words begin or end, and the lines to what they name
	align drawing.Align
	style drawing.Style
	list  []label // x is how far down
}

func (l *column) draw(c *drawing.Canvas, top, bottom mm) {
	slices.SortStableFunc(l.list, func(a, b label) int { return cmp.Compare(a.x, b.x) })
	const line mm = 5.2
	at := top
	for i := range l.list {
		l.list[i].left = max(at, l.list[i].x)
		at = l.list[i].left + line
	}
	edge := bottom
	for i := len(l.list) - 1; i >= 0; i-- {
		l.list[i].left = min(l.list[i].left, edge)
		edge = l.list[i].left - line
	}
	for _, w := range l.list {
		c.Text(drawing.Point{X: l.x, Y: w.left}, w.words, l.style.WithAlign(l.align).WithLevel(drawing.Centred))
		away := mm(1)
		if l.align == drawing.Start {
			away = -1
		}
		c.Line(drawing.Point{X: l.x + away, Y: w.left}, drawing.Point{X: l.to, Y: w.x}, light)
	}
}

// drawUpright draws an axle that is longer than the paper is wide along the paper, its
// first end above.
func (s *Strip) drawUpright(c *drawing.Canvas, room drawing.Rect) {
	sh := &s.b.Shafts[s.shaft]
	axis := room.X0 + uprightAxis
	at := func(x mm) mm { return room.Y0 + uprightHead + x - s.from }
	box := func(from, to, half mm) drawing.Rect {
		return drawing.Rect{X0: axis - half, Y0: at(from), X1: axis + half, Y1: at(to)}
	}
	c.Text(drawing.Point{X: room.X0, Y: room.Y0}, fmt.Sprintf("%s: %s mm long", s.Name, number(sh.Length)), bold.WithLevel(drawing.Below))
	names := column{x: axis - stripHalf - 3, to: axis - stripHalf - 0.6, align: drawing.End, style: bold}
	sizes := column{x: axis + stripHalf + 3, to: axis + stripHalf + 0.6, align: drawing.Start, style: words}
	for i, side := range [][2]mm{{-s.b.Side, 0}, {s.b.Depth, s.b.Depth + s.b.Side}} {
		c.Rectangle(box(side[0], side[1], stripHalf), drawing.Outline, drawing.Hatched)
		sizes.list = append(sizes.list, label{x: at((side[0] + side[1]) / 2), words: []string{s.front, s.back}[i]})
	}
	c.Rectangle(box(sh.From, sh.To, sh.Diameter/2), heavy, drawing.White)
	for _, i := range around(s.b, s.shaft) {
		y := at(s.b.Bands[i].Lane)
		c.Line(drawing.Point{X: axis - stripHalf, Y: y}, drawing.Point{X: axis + stripHalf, Y: y}, passing)
		names.list = append(names.list, label{x: y, words: fmt.Sprintf("(band %d)", i+1)})
	}
	for _, list := range [][]int{sh.Along, sh.Front, sh.Back} {
		n := 0
		for i, k := range list {
			p := &s.b.Parts[k]
			middle := at((p.From + p.To) / 2)
			r := box(p.From, p.To, min(p.Radius, stripHalf))
			switch p.Kind {
			case assembly.Pulley:
				c.Rectangle(r, drawing.Outline, drawing.White)
				name := p.Letter
				if band := bandOn(s.b, k); band >= 0 {
					name += fmt.Sprintf(", band %d", band+1)
					c.Line(drawing.Point{X: axis - stripHalf - 1, Y: middle}, drawing.Point{X: axis + stripHalf + 1, Y: middle}, drawing.Outline.Wider(1.2))
				}
				names.list = append(names.list, label{x: middle, words: name})
			case assembly.Tube:
				c.Rectangle(r, drawing.Outline, drawing.White)
				sizes.list = append(sizes.list, label{x: middle, words: number(p.Length)})
			case assembly.Washer:
				c.Rectangle(r, drawing.Outline, drawing.White)
				if n++; i+1 == len(list) || s.b.Parts[list[i+1]].Kind != assembly.Washer {
					sizes.list = append(sizes.list, label{x: middle - mm(n-1)*assembly.WasherSize/2, words: washers(n)})
					n = 0
				}
			default:
				c.Rectangle(r, drawing.Outline, drawing.White)
				names.list = append(names.list, label{x: middle, words: string(p.Kind)})
			}
		}
	}
	names.draw(c, room.Y0+uprightHead+2, room.Y1-3)
	sizes.draw(c, room.Y0+uprightHead+2, room.Y1-3)
}
