package assemblydrawing

import (
	"math"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// sideView puts places in the plane of the pulleys on paper.
type sideView struct {
	pic *Picture
	*ground
	scale  mm
	origin drawing.Point
	room   drawing.Rect // outside which nothing is drawn
}

func (v *sideView) at(q assembly.Point) drawing.Point {
	return drawing.Point{X: v.origin.X + v.scale*q.X, Y: v.origin.Y - v.scale*q.Y}
}

// letterRoom is kept at either side of the drive for letters, and aboveRoom above and below.
const (
	letterRoom mm = 6
	aboveRoom  mm = 4
)

// side shows all pulleys from the front: what is there in light lines, and the motor
// or the band that this step adds in heavy ones. Of a drive that would be too small to
// see it shows the shafts of the step, and what is near them and goes in whole.
func (p *Picture) side(c *drawing.Canvas, room drawing.Rect) {
	b := p.plan.Build
	all, some := make([]int, len(b.Shafts)), []int{0, 1}
	for i := range all {
		all[i] = i
	}
	if p.step.Kind == assembly.BandStep {
		band := &b.Bands[p.step.Stage]
		some = []int{band.From, band.To}
		for _, in := range band.Inside {
			some = append(some, in.Shaft)
		}
	}
	scale, middle := p.fit(room, all)
	least := seen
	if p.step.Kind == assembly.MotorStep { // whose pulley is small
		least = seenMotor
	}
	if scale < least && p.step.Kind != assembly.UnderStep {
		own, _ := p.fit(room, some)
		for _, i := range all { // as many as can be seen so
			if more := append(slices.Clone(some), i); !slices.Contains(some, i) {
				if s, _ := p.fit(room, more); s >= wholeFrom*min(least, own) {
					some = more
				}
			}
		}
		scale, middle = p.fit(room, some)
		scale = min(scale, closer*least)
	}
	v := &sideView{p, newGround(c), scale, drawing.Point{
		X: room.Centre().X - scale*middle.X,
		Y: room.Centre().Y + scale*middle.Y,
	}, room}
	v.draws(room)
}

// wholeFrom is how much smaller a part of a drive may be shown than it could be, so that what is
// beside it is in the picture too (judgement).
const wholeFrom mm = 0.65

// seen and seenMotor are the least scales at which all of a drive is shown, and closer how
// much larger than that a part of it may be.
const (
	seen      mm = 0.33
	seenMotor mm = 0.5
	closer    mm = 1.6
)

// fit is the scale at which some shafts with all that is on them fill a room, and the
// middle of them.
func (p *Picture) fit(room drawing.Rect, shafts []int) (scale mm, middle assembly.Point) {
	b := p.plan.Build
	x0, y0, x1, y1 := mm(math.Inf(1)), mm(math.Inf(1)), mm(math.Inf(-1)), mm(math.Inf(-1))
	hold := func(at assembly.Point, dx, dy mm) {
		x0, y0, x1, y1 = min(x0, at.X-dx), min(y0, at.Y-dy), max(x1, at.X+dx), max(y1, at.Y+dy)
	}
	for _, i := range shafts {
		dx, dy := p.reach(i)
		hold(b.Shafts[i].At, dx, dy)
	}
	if f := &b.Frame; p.step.Kind == assembly.UnderStep {
		x0, y0, x1, y1 = min(x0, -f.Left), min(y0, -f.Below), max(x1, f.Length-f.Left), max(y1, f.Height-f.Below)
	}
	return min(1, (room.Width()-2*letterRoom)/(x1-x0), (room.Height()-2*aboveRoom)/(y1-y0)), assembly.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2}
}

// reach is how far to the sides, and up and down, all goes that is on a shaft.
func (p *Picture) reach(shaft int) (dx, dy mm) {
	b := p.plan.Build
	s := &b.Shafts[shaft]
	r := s.Diameter / 2
	for _, k := range s.Along {
		r = max(r, b.Parts[k].Radius)
	}
	if shaft == 0 {
		return max(r, b.BodyWidth/2), max(r, b.BodyHeight/2)
	}
	return r, r
}

// whole reports whether all that is on a shaft is in the picture; what is not is left out, for
// nothing is cut at the edge.
func (v *sideView) whole(shaft int) bool {
	at := v.at(v.pic.plan.Build.Shafts[shaft].At)
	dx, dy := v.pic.reach(shaft)
	return v.room.Inset(light.Width).Holds(drawing.Rect{X0: at.X - v.scale*dx, Y0: at.Y - v.scale*dy, X1: at.X + v.scale*dx, Y1: at.Y + v.scale*dy})
}

func (v *sideView) draws(room drawing.Rect) {
	b := v.pic.plan.Build
	step := v.pic.step
	motor := light
	if step.Kind == assembly.MotorStep {
		motor = heavy
	}
	if (v.pic.isNew(b.Motor) || v.pic.there(b.Motor)) && v.whole(0) {
		at := v.at(b.Shafts[0].At)
		w, h := v.scale*b.BodyWidth/2, v.scale*b.BodyHeight/2
		v.Rectangle(drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}, finer(motor, h), drawing.NoFill)
	}
	// Larger pulleys first, so that small ones on the same shaft are seen.
	for i := range b.Shafts {
		if !v.whole(i) {
			continue
		}
		s := &b.Shafts[i]
		var first, second []int
		for _, k := range s.Along {
			if b.Parts[k].Kind != assembly.Pulley || !v.pic.isNew(k) && !v.pic.there(k) {
				continue
			}
			if len(first) > 0 && b.Parts[k].Radius < b.Parts[first[0]].Radius {
				second = append(second, k)
			} else {
				second = append(second, first...)
				first = []int{k}
			}
		}
		for _, k := range append(first, second...) {
			pen := v.pic.pen(k)
			v.disc(v.at(s.At), v.scale*b.Parts[k].Radius, finer(pen, v.scale*b.Parts[k].Radius))
		}
		v.Circle(v.at(s.At), max(0.35, v.scale*s.Diameter/2), drawing.NoPen, drawing.Black)
	}
	for _, i := range v.pic.seated {
		if band := &b.Bands[i]; v.whole(band.From) && v.whole(band.To) {
			v.band(i, light.Wider(0.35), light)
		}
	}
	if step.Kind == assembly.BandStep {
		v.band(step.Stage, heavy.Wider(1.1), drawing.Outline)
		band := &b.Bands[step.Stage]
		v.name(room, band.Driver, band.From, band.To)
		v.name(room, band.Driven, band.To, band.From)
	}
	if step.Kind == assembly.MotorStep {
		v.name(room, b.Bands[0].Driver, 0, 1)
	}
	if step.Kind == assembly.UnderStep {
		f := &b.Frame
		v.Rectangle(drawing.Rect{X0: v.at(assembly.Point{X: -f.Left}).X, Y0: v.at(assembly.Point{Y: f.Height - f.Below}).Y, X1: v.at(assembly.Point{X: f.Length - f.Left}).X, Y1: v.at(assembly.Point{Y: -f.Below}).Y}, light, drawing.NoFill)
		x := f.Length - f.Left - 15
		if b.Shafts[b.Stages].At.X > f.Length/2 {
			x = 15 - f.Left
		}
		at := v.at(assembly.Point{X: x, Y: -f.Below})
		v.Draw(drawing.Arc(at, v.scale*10, math.Pi, math.Pi).Close(), heavy, drawing.NoFill)
	}
}

// box is what a pulley on a shaft takes up.
func (v *sideView) box(shaft, part int) drawing.Rect {
	b := v.pic.plan.Build
	at, r := v.at(b.Shafts[shaft].At), v.scale*b.Parts[part].Radius
	return drawing.Rect{X0: at.X - r, Y0: at.Y - r, X1: at.X + r, Y1: at.Y + r}
}

// finer is a pen for something of that radius: its lines must not fill it.
func finer(pen drawing.Pen, radius mm) drawing.Pen {
	return pen.Wider(min(pen.Width, max(light.Width, 0.3*radius)))
}

// band draws the two runs of a band and its way round the pulleys.
func (v *sideView) band(stage int, pen, edge drawing.Pen) {
	b := v.pic.plan.Build
	band := &b.Bands[stage]
	p, q := v.at(b.Shafts[band.From].At), v.at(b.Shafts[band.To].At)
	r1, r2 := v.scale*(b.Parts[band.Driver].Radius-1), v.scale*(b.Parts[band.Driven].Radius-1)
	r1, r2 = max(0.8, r1), max(0.8, r2)
	for k := range max(1, len(band.Loops), band.Turns) {
		out := 1.5 * mm(k) // a second band, or a second turn, beside the first
		v.runs(p, q, r1+out, r2+out, band.Crossed, pen)
	}
	for _, pulley := range [][2]int{{band.From, band.Driver}, {band.To, band.Driven}} {
		box := v.box(pulley[0], pulley[1])
		v.Circle(box.Centre(), box.Width()/2, edge, drawing.NoFill)
	}
}

func (v *sideView) runs(p, q drawing.Point, r1, r2 mm, crossed bool, pen drawing.Pen) {
	along, far := p.Direction(q), p.Distance(q)
	second := r2
	if crossed {
		second = -r2
	}
	off := math.Acos(math.Max(-1, math.Min(1, float64((r1-second)/far))))
	for _, side := range []float64{1, -1} {
		way := along + units.Radians(side*off)
		a, b := p.Towards(way, r1), q.Towards(way, second)
		if crossed && side < 0 { // the other run goes over it
			v.Line(a.Towards(a.Direction(b), 0.3*a.Distance(b)), b.Towards(b.Direction(a), 0.3*a.Distance(b)), drawing.Rubber(pen.Width+1.4))
		}
		v.Line(a, b, pen)
	}
	// Round the far sides of both pulleys.
	wrap := 2*math.Pi - 2*off
	v.Draw(drawing.Arc(p, r1, along+units.Radians(off), units.Radians(wrap)), pen, drawing.NoFill)
	if crossed {
		v.Draw(drawing.Arc(q, r2, along+math.Pi+units.Radians(off), units.Radians(wrap)), pen, drawing.NoFill)
		return
	}
	v.Draw(drawing.Arc(q, r2, along-units.Radians(off), units.Radians(2*off)), pen, drawing.NoFill)
}

// name puts a pulley's letter beside it, on nothing that is drawn there; further off and
// with a line to it where there is no room beside it.
func (v *sideView) name(room drawing.Rect, part, shaft, other int) {
	b := v.pic.plan.Build
	p, q := v.at(b.Shafts[shaft].At), v.at(b.Shafts[other].At)
	radius := v.scale * b.Parts[part].Radius
	w, h := bold.Width(b.Parts[part].Letter)/2+0.5, bold.CapHeight()/2+0.5
	best, least := drawing.Rect{}, math.Inf(1)
	for ring := range 30 {
		for turn := range 32 {
			way := q.Direction(p) + units.Radians(float64((turn+1)/2)*math.Pi/16*math.Pow(-1, float64(turn)))
			at := p.Towards(way, radius+3.2+0.8*mm(ring))
			box := drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}
			if !room.Holds(box) {
				continue
			}
			cost := float64(ring) + float64(turn)/16 + 100*float64(v.hidden(box))
			if cost >= least {
				continue
			}
			if tip := p.Towards(way, radius); edge(box, tip).Distance(tip) > leaderLeast {
				cost += float64(v.crossed(tip, edge(box, tip))) / 2
			}
			if cost < least {
				best, least = box, cost
			}
		}
	}
	if math.IsInf(least, 1) {
		best = drawing.Rect{X0: room.X0, Y0: room.Y0, X1: room.X0 + 2*w, Y1: room.Y0 + 2*h}
	}
	at := best.Centre()
	tip := p.Towards(p.Direction(at), radius)
	if start := edge(best, tip); start.Distance(tip) > leaderLeast {
		v.Line(start, tip, light)
	}
	if v.hidden(best) > 0 { // no room anywhere: it has to be read at least
		v.Canvas.Rectangle(best, drawing.NoPen, drawing.White)
	}
	v.taken = append(v.taken, best)
	v.Text(at, b.Parts[part].Letter, bold.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
}

// leaderLeast is how far off its pulley a letter has a line to it.
const leaderLeast mm = 1.8

// edge is the point of a rectangle nearest to another.
func edge(r drawing.Rect, p drawing.Point) drawing.Point {
	return drawing.Point{X: max(r.X0, min(r.X1, p.X)), Y: max(r.Y0, min(r.Y1, p.Y))}
}
