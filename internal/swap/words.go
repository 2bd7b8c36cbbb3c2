package swap

import (
	"fmt"
	"strconv"
	"strings"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Step is one thing to change.
type Step struct {
	Words string
	Parts int  // places filled with something else
	Holes int  // to drill anew, or to another size
	Motor bool // the motor, which has no hole, is set elsewhere
}

// changes are what to do to a model to make it another drive.
func (m *Model) changes(d *drive.Drive) []Step {
	was := m.Drive
	if len(was.Stages) != len(d.Stages) {
		return []Step{{Words: "build another drive: see findrive propose", Parts: len(d.Stages) * 4, Holes: len(d.Positions) - 1, Motor: true}}
	}
	var out []Step
	other := func(words, now, before string) {
		if now != before {
			out = append(out, Step{Words: fmt.Sprintf(words, now, before), Parts: 1})
		}
	}
	other("use motor %s in place of %s", d.Motor.Name, was.Motor.Name)
	if d.Holder.Name != was.Holder.Name {
		out = append(out, Step{Words: fmt.Sprintf("use cell holder %s (%s) in place of %s (%s)", d.Holder.Name, plural(d.Holder.Cells, "cell"), was.Holder.Name, plural(was.Holder.Cells, "cell")), Parts: 1})
	}
	for i := range d.Stages {
		x, y := &d.Stages[i], &was.Stages[i]
		of := fmt.Sprintf("stage %d: ", i+1)
		if x.Driver.Name != y.Driver.Name {
			out = append(out, Step{Words: of + fmt.Sprintf("drive with pulley %s in place of %s%s", x.Driver.Name, y.Driver.Name, fitting(&x.DriverJoint)), Parts: 1})
		}
		if x.Driven.Name != y.Driven.Name {
			out = append(out, Step{Words: of + fmt.Sprintf("drive pulley %s in place of %s%s", x.Driven.Name, y.Driven.Name, fitting(&x.DrivenJoint)), Parts: 1})
		}
		switch {
		case x.Band.Name == y.Band.Name && x.Crossed == y.Crossed && x.Use != y.Use:
			out = append(out, Step{Words: of + fmt.Sprintf("put band %s on %s, not %s", x.Band.Name, x.Use, y.Use), Parts: 1})
		case x.Band.Name != y.Band.Name || x.Crossed != y.Crossed:
			out = append(out, Step{Words: of + fmt.Sprintf("put on %s in place of %s", banding(x), banding(y)), Parts: 1})
		}
		if now, before := d.Axles[i], was.Axles[i]; now.Name != before.Name {
			s := Step{Words: fmt.Sprintf("axle %d: cut it from %s in place of %s", i+1, now.Name, before.Name), Parts: 1}
			switch {
			case now.Diameter > before.Diameter:
				s.Words += fmt.Sprintf(", and open its holes for %s mm", length(now.Diameter))
				s.Holes = 1
			case now.Diameter < before.Diameter:
				s.Words += fmt.Sprintf(", and line its holes with straw or tube for %s mm", length(now.Diameter))
				s.Holes = 1
			}
			out = append(out, s)
		}
	}
	if d.Wheel != nil && was.Wheel != nil {
		other("use wheels %s in place of %s", d.Wheel.Name, was.Wheel.Name)
	}
	if d.Drum != nil && was.Drum != nil {
		other("use drum %s in place of %s", d.Drum.Name, was.Drum.Name)
	}
	return append(out, m.moved(d)...)
}

// freed is the band that comes from another stage where the one that broke is put on again by
// its name: there is no other of them. Of the other parts none is moved within a model.
func (m *Model) freed(d *drive.Drive, broken Slot) []Step {
	if broken.Kind != "band" || len(d.Stages) != len(m.Drive.Stages) {
		return nil
	}
	taken := func(of *drive.Drive, stage int) int {
		if s := &of.Stages[stage]; s.Band.Name == broken.Name {
			return s.Use.BandsTaken()
		}
		return 0
	}
	at := broken.Stage - 1
	wanted := taken(d, at) - (taken(m.Drive, at) - 1)
	var from []string
	for i := range d.Stages {
		if n := taken(m.Drive, i) - taken(d, i); i != at && n > 0 && wanted > 0 {
			wanted -= n
			from = append(from, strconv.Itoa(i+1))
		}
	}
	if len(from) == 0 {
		return nil
	}
	which := "stage "
	if len(from) > 1 {
		which = "stages "
	}
	return []Step{{Words: fmt.Sprintf("stage %d: put on the band %s that comes off %s", broken.Stage, broken.Name, which+strings.Join(from, " and ")), Parts: 1}}
}

// moved are the motor and the holes that are elsewhere, with the distances that come of it.
func (m *Model) moved(d *drive.Drive) []Step {
	const same units.Millimetres = 0.01
	var out []Step
	for i := range d.Positions {
		now, before := d.Positions[i], m.Drive.Positions[i]
		if drive.Distance(now, before) < same {
			continue
		}
		words, step := "strap the motor at another place", Step{Motor: true}
		if i > 0 {
			words, step = fmt.Sprintf("drill a new hole for axle %d", i), Step{Holes: 1}
		}
		words += from(now.X-before.X, now.Y-before.Y)
		for _, stage := range []int{i - 1, i} {
			if stage >= 0 && stage < len(d.Stages) {
				words += fmt.Sprintf("; stage %d then has its axles %s mm apart (was %s)", stage+1, length(d.Centre(stage)), length(m.Drive.Centre(stage)))
			}
		}
		step.Words = words
		out = append(out, step)
	}
	if now, before := d.FreeAxle, m.Drive.FreeAxle; now != nil && before != nil && drive.Distance(*now, *before) >= same {
		out = append(out, Step{Words: "drill a new hole for the free axle" + from(now.X-before.X, now.Y-before.Y), Holes: 1})
	}
	return out
}

// from says which way and how far a new hole is from the old one, seen from the front.
func from(dx, dy units.Millimetres) string {
	const same units.Millimetres = 0.01
	words := ""
	add := func(by units.Millimetres, less, more string) {
		switch {
		case by > same:
			words += fmt.Sprintf(", %s mm %s", length(by), more)
		case by < -same:
			words += fmt.Sprintf(", %s mm %s", length(-by), less)
		}
	}
	add(dx, "to the left", "to the right")
	add(dy, "down", "up")
	return words
}

func length(v units.Millimetres) string { return units.Decimals(float64(v), 1) }

func banding(s *drive.Stage) string {
	words := "band " + s.Band.Name
	if s.Use != drive.Single {
		words += ", " + s.Use.String()
	}
	if s.Crossed {
		words += ", crossed"
	}
	return words
}

// fitting is how a new pulley is held, where it is not just pushed on.
func fitting(j *drive.Joint) string {
	switch j.Kind {
	case drive.Glued:
		return " (with a drop of glue)"
	case drive.Sleeved:
		return " (with sleeve " + j.Sleeve.Name + ")"
	case drive.DrilledOut:
		return fmt.Sprintf(" (drilled out to %s mm, an adult's job)", length(j.Shaft))
	}
	return ""
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
