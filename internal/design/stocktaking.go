package design

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/units"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/parts"
)

// items lists every part of a drive, once for each place it is used.
func items(d *drive.Drive) []*parts.Item {
	list := []*parts.Item{&d.Motor.Item, &d.Holder.Item}
	for i := range d.Stages {
		s := &d.Stages[i]
		list = append(list, &s.Driver.Item, &s.Driven.Item, &s.Band.Item, &d.Axles[i].Item)
	}
	if d.Wheel != nil {
		list = append(list, &d.Wheel.Item)
	}
	if d.Drum != nil {
		list = append(list, &d.Drum.Item)
	}
	return list
}

// assumptionCount counts assumed facts, once for each place they are relied on.
func assumptionCount(d *drive.Drive) int {
	n := 0
	for _, it := range items(d) {
		n += len(it.Assumed)
	}
	return n
}

// assumed lists the assumed facts, each once.
func assumed(d *drive.Drive) []string {
	out := []string{}
	seen := map[string]bool{}
	for _, it := range items(d) {
		for _, a := range it.Assumed {
			if line := it.Name + ": " + a; !seen[line] {
				seen[line] = true
				out = append(out, line)
			}
		}
	}
	return out
}

// uses counts what one set takes of each part, in the order of building.
func (t *task) uses(d *drive.Drive) []Use {
	var out []Use
	add := func(kind, name string, also []string, each, have int) {
		for i := range out {
			if out[i].Kind == kind && out[i].Name == name {
				out[i].Each += each
				return
			}
		}
		out = append(out, Use{Kind: kind, Name: name, Also: also, Each: each, Sets: t.brief.Sets, Have: have})
	}
	add("motor", d.Motor.Name, others(t.motors, d.Motor.Name), 1, classCount(t.motors, d.Motor.Name))
	add("cells", d.Holder.Name, others(t.holders, d.Holder.Name), 1, classCount(t.holders, d.Holder.Name))
	sleeve := func(j drive.Joint) {
		if j.Kind == drive.Sleeved {
			add("sleeve", j.Sleeve.Name, others(t.sleeves, j.Sleeve.Name), 1, classCount(t.sleeves, j.Sleeve.Name))
		}
	}
	kinds := t.rodsOf(d)
	sawn := t.sawingsOf(kinds, d.Wheel, d.Drum)
	for i := range d.Stages {
		s := &d.Stages[i]
		add("pulley", s.Driver.Name, others(t.pulleys, s.Driver.Name), 1, classCount(t.pulleys, s.Driver.Name))
		add("pulley", s.Driven.Name, others(t.pulleys, s.Driven.Name), 1, classCount(t.pulleys, s.Driven.Name))
		add("band", s.Band.Name, others(t.bands, s.Band.Name), s.Use.BandsTaken(), classCount(t.bands, s.Band.Name))
		if cut := slices.IndexFunc(sawn, func(cut sawing) bool { return cut.kind == kinds[i] }); slices.Index(kinds, kinds[i]) == i {
			name, each := t.axles[kinds[i]].Part.Name, sawn[cut].each()
			add("axle", name, others(t.axles, name), each, each*t.setsFrom(sawn[cut]))
		}
		sleeve(s.DriverJoint)
		sleeve(s.DrivenJoint)
	}
	for range d.OutputPieces() {
		sleeve(d.OutputJoint)
	}
	if d.Wheel != nil {
		add("wheel", d.Wheel.Name, others(t.wheels, d.Wheel.Name), drive.VehicleWheels, classCount(t.wheels, d.Wheel.Name))
	}
	if d.Drum != nil {
		add("drum", d.Drum.Name, others(t.drums, d.Drum.Name), 1, classCount(t.drums, d.Drum.Name))
	}
	t.toMakeOf(d, out)
	for i := range out {
		out[i].Places = t.places(&out[i])
	}
	return out
}

// places lists where the parts of a use are kept, its own name first.
func (t *task) places(u *Use) []Place {
	out := []Place{}
	for _, name := range append([]string{u.Name}, u.Also...) {
		if it := t.cup.Item(u.Kind, name); it != nil {
			out = append(out, Place{Name: name, Location: it.Location, Length: t.rodLength(u.Kind, name), Count: it.Count})
		}
	}
	return out
}

// classCount is how many there are of the class that holds name.
func classCount[P any](list []parts.Kind[P], name string) int {
	for _, c := range list {
		for _, n := range c.Names {
			if n == name {
				return c.Count
			}
		}
	}
	return 0
}

// atHoles is what is said of a drive that at its very holes does otherwise than it is designed for:
// it is likely out of the brief's tolerance or out of its range, or works in fewer classrooms, by a
// tenth of them or more. It is empty for others.
func (t *task) atHoles(p *Proposal) string {
	says := ""
	if off := float64(p.AtHoles/p.Target) - 1; math.Abs(off) > t.brief.Tolerance || p.AtHoles < p.Speed.Low || p.AtHoles > p.Speed.High {
		than := "faster"
		if off < 0 {
			than = "slower"
		}
		says = fmt.Sprintf("is likely %.0f %% %s than asked", 100*math.Abs(off), than)
	}
	if 10*(p.Works-p.worksAtHoles) >= forecast.Rooms {
		if says != "" {
			says += " and "
		}
		says += fmt.Sprintf("works in %d classrooms of %d", p.worksAtHoles, forecast.Rooms)
	}
	return says
}

// slipsFirst is the stage, from 0, whose band slips first.
func (p *Proposal) slipsFirst() int {
	if o := p.Overload; o != nil && o.SlipsStage > 0 {
		return o.SlipsStage - 1
	}
	first, least := 0, math.Inf(1)
	for i := range p.Stages {
		if grip := min(p.Stages[i].GripRunning, p.Stages[i].GripStarting); grip < least {
			first, least = i, grip
		}
	}
	return first
}

// notes are the warnings that belong to this drive.
func (t *task) notes(d *drive.Drive, p *Proposal) []string {
	notes := []string{}
	say := func(format string, args ...any) { notes = append(notes, fmt.Sprintf(format, args...)) }
	l := t.brief.Limits
	if constraints.OverContinuous(l, p.Motor.Stall, p.Motor.Torque) {
		say("the motor runs at %.0f %% of stall: above %.0f %% it gets hot, so run it a minute at a time and let it cool", 100*p.Motor.Share, 100*l.ContinuousShare)
	}
	if constraints.OverRated(d.Motor, d.Holder) {
		say("%s give motor %s %.3g V, and it is made for %.3g V: run it a minute at a time and let it cool", plural(d.Holder.Cells, "cell"), d.Motor.Name, float64(constraints.PrintedVolts(d.Holder)), float64(d.Motor.Rated))
	}
	if p.Motor.Contradiction != "" {
		say("the sheet of motor %s contradicts itself: %s; count turns to find out", d.Motor.Name, p.Motor.Contradiction)
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		if arc := min(s.Fitted.DriverArc, s.Fitted.DrivenArc); arc < l.ArcWarn {
			look := "the first place to look if it slips"
			if first := p.slipsFirst(); first != i {
				look = fmt.Sprintf("if a band slips, look first at that of stage %d, and then here", first+1)
			}
			say("stage %d has only %.0f degrees of band on its smaller pulley: %s", i+1, arc.Degrees(), look)
		}
		if s.Crossed {
			say("the band of stage %d is crossed: it rubs where it crosses and wears", i+1)
		}
		if s.Use == drive.Paired {
			say("stage %d has two bands side by side: choose two of the same length", i+1)
		}
	}
	if p.Speed.Low == 0 {
		say("on a bad day (tired cells, tight bands, stiff axles) it may not turn at all: free the axles first")
	}
	if at := t.atHoles(p); at != "" {
		say("with the holes just as they are drawn it %s", at)
	}
	if t.brief.Model == brief.Lift {
		say("with the motor off the load runs back: hold it with a peg or catch")
	}
	if up := 100 * d.Swing(); up > 0 {
		say("discs cut by hand are not quite true: the speed goes up and down by up to %.1f %% in a turn until the pulleys are sanded true", up)
	}
	switch {
	case p.Forgives >= l.HoleError:
	case units.HalfDown(p.Forgives) == 0: // no figure would say it
		say("holes must be as exact as can be: drill from the drawing, both sides together")
	default:
		say("holes must be within %g mm: drill from the drawing, both sides together", float64(units.HalfDown(p.Forgives)))
	}
	return notes
}
