package assemblydrawing

import (
	"fmt"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// threaded is one thing, or some washers or pieces of tube alike, that goes over an axle's free end.
type threaded struct {
	parts []int
	loop  bool
	fresh bool // it is on no other rod yet
	on    int  // a rod that a band hangs on already
	stage int  // of a band
	long  mm
	wide  mm   // on the page
	tight bool // without words that can be done without
	head  head
}

// over lists what a step threads on its axle, in order.
func (p *Picture) over() []threaded {
	b := p.plan.Build
	var out []threaded
	for _, a := range p.step.Actions {
		q := &b.Parts[a.Part]
		last := len(out) - 1
		switch a.Verb {
		case assembly.Thread:
			if last >= 0 && !out[last].loop && likeLast(q, &b.Parts[out[last].parts[0]]) {
				out[last].parts, out[last].long = append(out[last].parts, a.Part), out[last].long+q.Length
				continue
			}
			out = append(out, threaded{parts: []int{a.Part}, long: q.Length, fresh: true})
		case assembly.Hang:
			stage := 0
			for i := range b.Bands {
				for _, l := range b.Bands[i].Loops {
					if l == a.Part {
						stage = i
					}
				}
			}
			if last >= 0 && out[last].loop && out[last].stage == stage {
				out[last].parts = append(out[last].parts, a.Part)
				continue
			}
			out = append(out, threaded{parts: []int{a.Part}, loop: true, stage: stage, fresh: a.First, on: p.hangsOn(a.Part)})
		}
	}
	return out
}

// likeLast reports whether a part is drawn as one with the one before it: washers, and
// tubes where one piece is not long enough.
func likeLast(q, last *assembly.Part) bool {
	return q.Kind == last.Kind && (q.Kind == assembly.Washer || q.Kind == assembly.Tube && q.Length == last.Length)
}

// hangsOn is the shaft that a band has been hung on before this step, last of all.
func (p *Picture) hangsOn(loop int) int {
	on := 0
	for i := range p.plan.Steps {
		step := &p.plan.Steps[i]
		if step == p.step {
			break
		}
		for _, a := range step.Actions {
			if a.Verb == assembly.Hang && a.Part == loop {
				on = a.Shaft
			}
		}
	}
	return on
}

const (
	itemGap  mm = 1.6
	leastGap mm = 0.4
	itemThin mm = 1.6
	tip      mm = 6 // of the rod inside the first side
	headRoom mm = 7 // for words above and below
)

// captions are the words of one thing: a pulley's letter; what tube is long;
// how many washers; on which rod a band hangs. A band's number is drawn as in the box
// of parts.
func (p *Picture) captions(t *threaded) (above, below string) {
	b := p.plan.Build
	q := &b.Parts[t.parts[0]]
	switch {
	case t.loop && !t.fresh && !t.tight:
		return "", fmt.Sprintf("rod %d", t.on)
	case t.loop:
		return "", ""
	case q.Kind == assembly.Pulley:
		return q.Letter, ""
	case q.Kind == assembly.Washer:
		return "", fmt.Sprintf("%d×", len(t.parts))
	}
	if n := len(t.parts); n > 1 {
		return "", fmt.Sprintf("%d× %s", n, number(q.Length))
	}
	return "", number(q.Length)
}

// exploded shows an axle as it goes in: the rod through the first side, what goes over
// its free end drawn apart in order, and the second side.
func (p *Picture) exploded(c *drawing.Canvas, room drawing.Rect) {
	b := p.plan.Build
	list := p.over()
	axis := room.Y0 + room.Height()/2
	half := min(alongHalf, room.Height()/2-headRoom)
	wall := p.wall()
	left, last := room.X0+11, room.X1-2-wall
	start, end := p.ends(room)
	scale, gap := p.spread(list, end-start-itemGap)
	used := mm(0)
	for i := range list {
		used += list[i].wide + gap
	}
	back := words.Width(p.Sides[1])
	last = min(last, start+used+itemGap+max(0, back/2-wall/2))
	c.Line(drawing.Point{X: left, Y: axis}, drawing.Point{X: last + wall + 3, Y: axis}, drawing.Centre)
	for i, x := range []mm{left, last} {
		c.Rectangle(drawing.Rect{X0: x, Y0: axis - half - 1, X1: x + wall, Y1: axis + half + 1}, light, drawing.Hatched)
		c.Text(drawing.Point{X: min(x+wall/2, room.X1-words.Width(p.Sides[i])/2), Y: axis + half + 4.6}, p.Sides[i], words.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
	rod := max(0.8, scale*b.Shafts[p.step.Shaft].Diameter/2)
	c.Rectangle(drawing.Rect{X0: left - 3, Y0: axis - rod, X1: left + wall + tip - 1.5, Y1: axis + rod}, heavy, drawing.White)
	arrow(c, drawing.Point{X: room.X0, Y: axis}, drawing.Point{X: left - 3.6, Y: axis})
	x := start
	var heads []*head
	for i := range list {
		t := &list[i]
		above, _ := p.captions(t)
		if t.head = (head{at: x + t.wide/2, wide: bold.Width(above)}); t.loop {
			t.head.wide = iconWide
		}
		if t.head.wide > 0 {
			heads = append(heads, &t.head)
		}
		x += t.wide + gap
	}
	keepApart(heads, room)
	x = start
	for i := range list {
		t := &list[i]
		p.item(c, t, drawing.Rect{X0: x, Y0: axis - half, X1: x + t.wide, Y1: axis + half}, scale)
		x += t.wide + gap
	}
}

// head is what stands above a thing on the axle: a letter, or a band's number in its loop.
type head struct{ at, wide mm }

// keepApart moves heads as little as need be, so that where things stand close together none is on
// another.
func keepApart(heads []*head, room drawing.Rect) {
	edge := room.X0
	for _, h := range heads {
		h.at = max(h.at, edge+h.wide/2)
		edge = h.at + h.wide/2 + leastGap
	}
	edge = room.X1
	for _, h := range slices.Backward(heads) {
		h.at = min(h.at, edge-h.wide/2)
		edge = h.at - h.wide/2 - leastGap
	}
}

// wall is how thick a side is drawn, ends where between the two there is room.
func (p *Picture) wall() mm { return min(max(2.4, p.plan.Build.Side*0.6), 6) }

func (p *Picture) ends(room drawing.Rect) (start, end mm) {
	wall := p.wall()
	return room.X0 + 11 + max(wall+tip, wall/2+words.Width(p.Sides[0])/2+1), min(room.X1-2-wall, room.X1-words.Width(p.Sides[1])-1)
}

// Hung is a stage whose band hangs on a rod already.
type Hung struct{ Stage, Shaft int }

// unsaid are the bands that go over the axle's free end and hang on a rod already, where a
// picture so wide has no room to say so: its Words must.
func (p *Picture) unsaid(wide units.Millimetres) []Hung {
	if p.step.Kind != assembly.AxleStep || p.plan.Build.Shafts[p.step.Shaft].Free {
		return nil
	}
	list := p.over()
	start, end := p.ends(drawing.Rect{X1: wide}.Inset(tilePad))
	p.spread(list, end-start-itemGap)
	var out []Hung
	for _, t := range list {
		if t.loop && !t.fresh && t.tight {
			out = append(out, Hung{t.stage, t.on})
		}
	}
	return out
}

// spread gives each thing the width of its words or its own, and says at what scale
// along the axle all then fit, and how far apart. Where there is no room for all the
// words, those on which rod a band hangs are left out: its light lines say that it is
// there already.
func (p *Picture) spread(list []threaded, room mm) (scale, gap mm) {
	gap = itemGap
	tight := false
	for scale = 1; ; scale *= 0.92 {
		used := mm(0)
		for i := range list {
			t := &list[i]
			t.tight = tight
			above, below := p.captions(t)
			t.wide = max(itemThin, scale*t.long, bold.Width(above), words.Width(below))
			if t.loop {
				t.wide = max(t.wide, iconWide, loopWide+1.2*mm(len(t.parts)-1))
			}
			used += t.wide + gap
		}
		switch {
		case used <= room:
			return scale, gap
		case scale > 0.1:
		case !tight:
			tight, scale = true, 1
		case gap > leastGap:
			gap, scale = leastGap, 1
		default: // whatever it looks like, it stays in its room
			for i := range list {
				list[i].wide *= room / used
			}
			return scale * room / used, gap * room / used
		}
	}
}

// item draws one thing in the middle of its room, with its words above and below.
func (p *Picture) item(c *drawing.Canvas, t *threaded, room drawing.Rect, scale mm) {
	b := p.plan.Build
	middle, axis, half := room.Centre().X, room.Centre().Y, room.Height()/2
	q := &b.Parts[t.parts[0]]
	box := func(r mm) drawing.Rect {
		w := max(itemThin, scale*t.long) / 2
		return drawing.Rect{X0: middle - w, Y0: axis - min(half, r), X1: middle + w, Y1: axis + min(half, r)}
	}
	above, below := p.captions(t)
	centred := words.WithAlign(drawing.Middle).WithLevel(drawing.Centred)
	if above != "" {
		c.Text(drawing.Point{X: t.head.at, Y: axis - half - 4}, above, bold.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
	}
	if below != "" {
		c.Text(drawing.Point{X: middle, Y: axis + half + 4.6}, below, centred)
	}
	switch {
	case t.loop:
		pen := heavy
		if !t.fresh {
			pen = light.Wider(0.4)
		}
		n := mm(len(t.parts))
		for k := range t.parts {
			x := middle + 1.2*(mm(k)-(n-1)/2)
			r := drawing.Rect{X0: x - loopWide/2, Y0: axis - half, X1: x + loopWide/2, Y1: axis + half}
			capsule(c, r, pen)
			if b.Bands[t.stage].Turns == 2 {
				capsule(c, r.Inset(0.8), light)
			}
		}
		it := item{kind: assembly.Loop, letter: fmt.Sprint(t.stage + 1)}
		it.draw(c, drawing.Point{X: t.head.at, Y: axis - half - 3.6})
	case q.Kind == assembly.Pulley:
		r := max(1.2, scale*q.Radius)
		groovedBox(c, box(r), r > half, heavy)
	case q.Kind == assembly.Washer:
		c.Rectangle(box(max(2, scale*q.Radius)), heavy, drawing.White)
	default:
		r := box(max(1.6, scale*q.Radius))
		c.Rectangle(r, heavy, drawing.White)
		for k := 1; k < len(t.parts); k++ { // pieces of tube
			x := r.X0 + r.Width()*mm(k)/mm(len(t.parts))
			c.Line(drawing.Point{X: x, Y: r.Y0}, drawing.Point{X: x, Y: r.Y1}, heavy)
		}
	}
}
