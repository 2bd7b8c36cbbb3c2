package assemblydrawing

import (
	"fmt"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/drawing"
	"findrive/internal/units"
)

// Picture is one step of a plan, drawn.
type Picture struct {
	plan *assembly.Plan
	step *assembly.Step
	// Number is the step's among those that have a picture, from 1.
	Number int
	// Words say what a picture cannot; set below it.
	Words string
	// Sides are the names of the frame's two sides.
	Sides [2]string
	// seated are the stages whose bands are on their pulleys already.
	seated []int
}

// Pictures are the steps of a plan that put something together, in order. words say in
// short what each does, and which bands hang on a rod already where a picture so wide has
// no room to say so.
func Pictures(p *assembly.Plan, sides [2]string, wide units.Millimetres, words func(*assembly.Step, []Hung) string) []*Picture {
	var out []*Picture
	var seated []int
	for i := range p.Steps {
		step := &p.Steps[i]
		if step.Hands() {
			made := &Picture{plan: p, step: step, Number: len(out) + 1, Sides: sides, seated: slices.Clone(seated)}
			made.Words = words(step, made.unsaid(wide))
			out = append(out, made)
		}
		if step.Kind == assembly.BandStep {
			seated = append(seated, step.Stage)
		}
	}
	return out
}

// Shows reports whether it is the picture of a step.
func (p *Picture) Shows(step *assembly.Step) bool { return p.step == step }

// Describe says in words what can be seen.
func (p *Picture) Describe() string {
	out := fmt.Sprintf("Picture %d: %s New: ", p.Number, p.Words)
	for i, it := range p.items() {
		if i > 0 {
			out += ", "
		}
		out += it.describe()
	}
	return out + "."
}

const (
	tileHead mm = 9 // number and parts
	tilePad  mm = 1.5
)

// mostLines of words stand under a picture.
const mostLines = 4

// mainLeast is how high what is drawn of a step has to be to be read: a rod with what
// goes over its end, and words above and below.
const mainLeast mm = 20

// Least is how high the picture must be, so wide, for its words and for what it shows.
func (p *Picture) Least(wide units.Millimetres) units.Millimetres {
	style, lines := words.FitLines(p.Words, wide-2*tilePad, mostLines, drawing.Points(12))
	return 2*tilePad + tileHead + mainLeast + mm(len(lines))*style.LineHeight() + 0.5
}

// Draw draws a tile: box to tick, number, the parts in small, the picture, and words.
func (p *Picture) Draw(c *drawing.Canvas, room drawing.Rect) {
	c.Rectangle(room, light, drawing.NoFill)
	in := room.Inset(tilePad)
	c.Rectangle(drawing.Rect{X0: in.X0, Y0: in.Y0, X1: in.X0 + 5, Y1: in.Y0 + 5}, drawing.Outline, drawing.NoFill)
	big := drawing.Words(16).InBold()
	c.Text(drawing.Point{X: in.X0 + 7, Y: in.Y0 + 0.2}, fmt.Sprint(p.Number), big.WithLevel(drawing.Below))
	p.drawItems(c, drawing.Rect{X0: in.X0 + 15, Y0: in.Y0 - 0.5, X1: in.X1, Y1: in.Y0 + tileHead - 1.5})
	style, lines := words.FitLines(p.Words, in.Width(), mostLines, drawing.Points(12))
	y := in.Y1 - mm(len(lines))*style.LineHeight() + 0.6
	for _, l := range lines {
		c.Text(drawing.Point{X: in.X0, Y: y}, l, style.WithLevel(drawing.Below))
		y += style.LineHeight()
	}
	main := drawing.Rect{X0: in.X0, Y0: in.Y0 + tileHead, X1: in.X1, Y1: in.Y1 - mm(len(lines))*style.LineHeight() - 0.5}
	switch p.step.Kind {
	case assembly.AxleStep:
		if b := p.plan.Build; b.Shafts[p.step.Shaft].Free {
			p.along(c, main, p.step.Shaft)
		} else {
			p.exploded(c, main)
		}
	case assembly.WheelStep, assembly.DrumStep, assembly.RideStep:
		p.along(c, main, p.step.Shaft)
	case assembly.UnderStep:
		if p.plan.Build.Upright {
			p.along(c, main, p.plan.Build.Stages)
		} else {
			p.side(c, main)
		}
	case assembly.MotorStep, assembly.BandStep:
		p.side(c, main)
	case assembly.CordStep:
		p.cord(c, main)
	case assembly.TackleStep:
		Tackle(c, main, p.plan.Build.Rope, p.plan.Build.Guide)
	case assembly.WireStep:
		p.circuit(c, main)
	}
}

// isNew reports whether a part is put in its place by this step.
func (p *Picture) isNew(part int) bool { return slices.Contains(p.step.New(p.plan.Build), part) }

// there reports whether a part is in its place before this step.
func (p *Picture) there(part int) bool {
	for i := range p.plan.Steps {
		step := &p.plan.Steps[i]
		if step == p.step {
			return false
		}
		if slices.Contains(step.New(p.plan.Build), part) {
			return true
		}
	}
	return false
}

func (p *Picture) pen(part int) drawing.Pen {
	if p.isNew(part) {
		return heavy
	}
	return light
}
