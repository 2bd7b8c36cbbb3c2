package assemblydrawing

import (
	"math"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// sideView puts places in the plane of the pulleys on paper.
type sideView struct {
	pic *Picture
	*drawing.Canvas
	scale  mm
	origin drawing.Point
}

func (v *sideView) at(q assembly.Point) drawing.Point {
	return drawing.Point{X: v.origin.X + v.scale*q.X, Y: v.origin.Y - v.scale*q.Y}
}

// letterRoom is kept round the drive for letters.
const letterRoom mm = 6

// side shows all pulleys from the front: what is there in light lines, and the motor
// or the band that this step adds in heavy ones.
func (p *Picture) side(c *drawing.Canvas, room drawing.Rect) {
	b := p.plan.Build
	body := b.Shafts[0].At
	x0, y0, x1, y1 := body.X-b.BodyWidth/2, body.Y-b.BodyHeight/2, body.X+b.BodyWidth/2, body.Y+b.BodyHeight/2
	for i := range b.Shafts {
		s := &b.Shafts[i]
		r := s.Diameter / 2
		for _, k := range s.Along {
			r = max(r, b.Parts[k].Radius)
		}
		x0, y0, x1, y1 = min(x0, s.At.X-r), min(y0, s.At.Y-r), max(x1, s.At.X+r), max(y1, s.At.Y+r)
	}
	if p.step.Kind == assembly.UnderStep {
		x0, y0, x1, y1 = min(x0, 0), min(y0, -10), max(x1, b.Frame.Length), max(y1, b.Frame.Height)
	}
	scale := min(1, (room.Width()-2*letterRoom)/(x1-x0), (room.Height()-2)/(y1-y0))
	v := &sideView{p, c, scale, drawing.Point{
		X: room.Centre().X - scale*(x0+x1)/2,
		Y: room.Centre().Y + scale*(y0+y1)/2,
	}}
	v.draws(room)
}

func (v *sideView) draws(room drawing.Rect) {
	b := v.pic.plan.Build
	step := v.pic.step
	motor := light
	if step.Kind == assembly.MotorStep {
		motor = heavy
	}
	if v.pic.isNew(b.Motor) || v.pic.there(b.Motor) {
		at := v.at(b.Shafts[0].At)
		w, h := v.scale*b.BodyWidth/2, v.scale*b.BodyHeight/2
		v.Rectangle(drawing.Rect{X0: at.X - w, Y0: at.Y - h, X1: at.X + w, Y1: at.Y + h}, motor, drawing.NoFill)
	}
	// Larger pulleys first, so that small ones on the same shaft are seen.
	for i := range b.Shafts {
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
			v.Circle(v.at(s.At), v.scale*b.Parts[k].Radius, pen, drawing.NoFill)
		}
		v.Circle(v.at(s.At), max(0.5, v.scale*s.Diameter/2), drawing.NoPen, drawing.Black)
	}
	for _, i := range v.pic.seated {
		v.band(i, light.Wider(0.35), light)
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
	v.Circle(p, v.scale*b.Parts[band.Driver].Radius, edge, drawing.NoFill)
	v.Circle(q, v.scale*b.Parts[band.Driven].Radius, edge, drawing.NoFill)
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

// name puts a pulley's letter outside it, as far from everything else as can be, if
// possible away from the other end of its band.
func (v *sideView) name(room drawing.Rect, part, shaft, other int) {
	b := v.pic.plan.Build
	p, q := v.at(b.Shafts[shaft].At), v.at(b.Shafts[other].At)
	h := bold.CapHeight() / 2
	best, most := drawing.Point{}, math.Inf(-1)
	for turn := range 16 {
		way := q.Direction(p) + units.Radians(float64((turn+1)/2)*math.Pi/8*math.Pow(-1, float64(turn)))
		out := v.scale * b.Parts[part].Radius
		if shaft == 0 { // and outside the motor's body
			sin, cos := math.Sincos(float64(way))
			out = max(out, min(v.scale*b.BodyWidth/2/mm(math.Max(1e-6, math.Abs(cos))), v.scale*b.BodyHeight/2/mm(math.Max(1e-6, math.Abs(sin)))))
		}
		at := p.Towards(way, out+3.6)
		if at.X < room.X0+2.4 || at.X > room.X1-2.4 || at.Y < room.Y0+h || at.Y > room.Y1-h {
			continue
		}
		near := 3.0 // farther than that does not matter
		for i := range b.Shafts {
			s := &b.Shafts[i]
			for _, k := range s.Along {
				if b.Parts[k].Kind == assembly.Pulley && k != part {
					near = math.Min(near, float64(at.Distance(v.at(s.At))-v.scale*b.Parts[k].Radius))
				}
			}
		}
		if near > most+0.01 {
			best, most = at, near
		}
	}
	if math.IsInf(most, -1) {
		best = drawing.Point{X: max(room.X0+2.4, min(room.X1-2.4, p.X)), Y: max(room.Y0+h, min(room.Y1-h, p.Y))}
	}
	w := bold.Width(b.Parts[part].Letter)/2 + 0.5
	v.Rectangle(drawing.Rect{X0: best.X - w, Y0: best.Y - h - 0.5, X1: best.X + w, Y1: best.Y + h + 0.5}, drawing.NoPen, drawing.White)
	v.Text(best, b.Parts[part].Letter, bold.WithAlign(drawing.Middle).WithLevel(drawing.Centred))
}
