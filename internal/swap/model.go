// Package swap finds what to put in the place of a part that broke, so that as little
// as can be of a built model is changed: the holes it has first of all. Every answer
// is a search with package design, pinned to what stays.
//
//	model.go    the model as it was built
//	restore.go  the model from a saved certificate
//	build.go    the same as a drive that stands on the table
//	swap.go     what to put in, least change first
//	words.go    what is changed, in words
//	tubes.go    what is cut anew between the pulleys
package swap

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Model is a drive that has been built, with its holes drilled.
type Model struct {
	Name  string
	Brief *brief.Brief // for this one set
	Drive *drive.Drive
	Speed units.RPM // likely, before the part broke
	// Unframed is set where nothing says what frame it is in: that of Brief is then only
	// room all round its holes, and nothing to be built.
	Unframed bool
	// Stands is the model with its tubes and washers; nil where nothing says what it has.
	Stands *assembly.Build
	// Made are its pulleys that were made of discs, as far as the discs go, by their names.
	Made map[string]*parts.Pulley
}

// Slot is a place in a drive that a part fills.
type Slot struct {
	Kind  string // as in parts.Cupboard.Item
	Role  string // "driver", "driven" or as Kind
	Stage int    // from 1; 0 for what belongs to no stage
	Name  string
}

func (s Slot) String() string {
	switch {
	case s.Stage == 0:
		return s.Kind + " " + s.Name
	case s.Kind == "pulley":
		return fmt.Sprintf("%s %s (the %s of stage %d)", s.Kind, s.Name, s.Role, s.Stage)
	}
	return fmt.Sprintf("%s %s of stage %d", s.Kind, s.Name, s.Stage)
}

// Slots are the places of a model, the motor's first.
func (m *Model) Slots() []Slot {
	d := m.Drive
	out := []Slot{{"motor", "motor", 0, d.Motor.Name}, {"cells", "cells", 0, d.Holder.Name}}
	for i := range d.Stages {
		s := &d.Stages[i]
		out = append(out, Slot{"pulley", "driver", i + 1, s.Driver.Name}, Slot{"pulley", "driven", i + 1, s.Driven.Name},
			Slot{"band", "band", i + 1, s.Band.Name}, Slot{"axle", "axle", i + 1, d.Axles[i].Name})
	}
	if d.Wheel != nil {
		out = append(out, Slot{"wheel", "wheel", 0, d.Wheel.Name})
	}
	if d.Drum != nil {
		out = append(out, Slot{"drum", "drum", 0, d.Drum.Name})
	}
	return out
}

// Broken is the place of the part that broke, by its name or by what it does, and by
// its stage if the model has several such; a part of no stage is meant whatever the stage. The
// error is for the user.
func (m *Model) Broken(word string, stage int) (Slot, error) {
	var found []Slot
	var all []string
	for _, s := range m.Slots() {
		all = append(all, s.String())
		if (word == s.Name || word == s.Role) && (stage == 0 || s.Stage == 0 || s.Stage == stage) {
			found = append(found, s)
		}
	}
	switch {
	case len(found) == 0:
		return Slot{}, fmt.Errorf("the model has no part %s; it has:\n  %s", units.Quoted(word), joined(all))
	case len(found) > 1:
		all = nil
		for _, s := range found {
			all = append(all, s.String())
		}
		return Slot{}, fmt.Errorf("which of them? Say --broken driver, driven, band or axle, and --stage:\n  %s", joined(all))
	}
	return found[0], nil
}

func joined(list []string) string {
	out := ""
	for i, s := range list {
		if i > 0 {
			out += "\n  "
		}
		out += s
	}
	return out
}

// own are the parts that a model is made of, each as often as it is in it. Its axles
// are cut, so that each is a rod of its own that makes no other.
func own(d *drive.Drive, b *brief.Brief) *parts.Cupboard {
	c := &parts.Cupboard{}
	c.Motors = append(c.Motors, *d.Motor)
	c.Holders = append(c.Holders, *d.Holder)
	sleeve := func(j *drive.Joint) {
		if j.Sleeve != nil {
			c.Sleeves = append(c.Sleeves, *j.Sleeve)
		}
	}
	for i := range d.Stages {
		s := &d.Stages[i]
		c.Pulleys = append(c.Pulleys, *s.Driver, *s.Driven)
		for range s.Use.BandsTaken() {
			c.Bands = append(c.Bands, *s.Band)
		}
		axle := *d.Axles[i]
		axle.Length = drive.OutputAxleLength(b, d.Wheel, d.Drum)
		c.Axles = append(c.Axles, axle)
		sleeve(&s.DriverJoint)
		sleeve(&s.DrivenJoint)
	}
	for range d.OutputPieces() {
		sleeve(&d.OutputJoint)
	}
	if d.Wheel != nil {
		for range d.OutputPieces() {
			c.Wheels = append(c.Wheels, *d.Wheel)
		}
		c.Axles = append(c.Axles, c.Axles[len(c.Axles)-1]) // the free axle
	}
	if d.Drum != nil {
		c.Drums = append(c.Drums, *d.Drum)
	}
	return c
}

// pooled are the parts that are left and those of the model but the broken one.
func pooled(left, own *parts.Cupboard, broken Slot, noneLeft bool) *parts.Cupboard {
	lose := func(kind string) (name string) {
		if kind == broken.Kind {
			return broken.Name
		}
		return ""
	}
	out := *left
	out.Motors = pool(left.Motors, own.Motors, lose("motor"), noneLeft, func(p *parts.Motor) *parts.Item { return &p.Item })
	out.Holders = pool(left.Holders, own.Holders, lose("cells"), noneLeft, func(p *parts.CellHolder) *parts.Item { return &p.Item })
	out.Pulleys = pool(left.Pulleys, own.Pulleys, lose("pulley"), noneLeft, func(p *parts.Pulley) *parts.Item { return &p.Item })
	out.Bands = pool(left.Bands, own.Bands, lose("band"), noneLeft, func(p *parts.Band) *parts.Item { return &p.Item })
	out.Axles = pool(left.Axles, own.Axles, lose("axle"), noneLeft, func(p *parts.AxleStock) *parts.Item { return &p.Item })
	out.Sleeves = pool(left.Sleeves, own.Sleeves, "", false, func(p *parts.Sleeve) *parts.Item { return &p.Item })
	out.Wheels = pool(left.Wheels, own.Wheels, lose("wheel"), noneLeft, func(p *parts.Wheel) *parts.Item { return &p.Item })
	out.Drums = pool(left.Drums, own.Drums, lose("drum"), noneLeft, func(p *parts.Drum) *parts.Item { return &p.Item })
	return &out
}

// pool adds each of the model's parts, one at a time, to what is left, and takes away
// one that is broken.
func pool[P any](left, own []P, broken string, noneLeft bool, item func(*P) *parts.Item) []P {
	out := slices.Clone(left)
	at := func(name string) int { return slices.IndexFunc(out, func(p P) bool { return item(&p).Name == name }) }
	if i := at(broken); i >= 0 && noneLeft {
		out = slices.Delete(out, i, i+1)
	}
	for k := range own {
		p := own[k]
		name := item(&p).Name
		if name == broken && broken != "" {
			broken = "" // this one
			continue
		}
		if i := at(name); i >= 0 {
			item(&out[i]).Count++
			continue
		}
		item(&p).Count = 1
		out = append(out, p)
	}
	slices.SortFunc(out, func(a, b P) int { return cmp.Compare(item(&a).Name, item(&b).Name) })
	return out
}

// asBuilt pins a search to everything that a model has.
func asBuilt(d *drive.Drive) design.Pins {
	p := design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages), FreeAxle: d.FreeAxle}
	for i := range d.Stages {
		s := &d.Stages[i]
		p.Each = append(p.Each, design.StagePins{Driver: s.Driver.Name, Driven: s.Driven.Name, Band: s.Band.Name, Use: &s.Use, Crossed: &s.Crossed, Axle: d.Axles[i].Name})
	}
	for i := range d.Positions {
		p.Holes = append(p.Holes, &d.Positions[i])
	}
	return p
}

// FromBuild is a model that its builder has described. Where nobody says how it stands in
// a frame, there is room all round it. The error is for the user.
func FromBuild(b *built.Build) (*Model, error) {
	w, err := built.Work(b)
	if err != nil {
		return nil, err
	}
	m := &Model{Name: b.Name, Speed: w.Speed.Likely}
	br, d := *b.Brief, *b.Drive
	if br.Speed.Turning == 0 && br.Speed.Linear == 0 {
		if m.Speed <= 0 {
			return nil, errors.New("the drive does not turn as it is described, and no speed is given: write for example speed = \"20 rpm\"")
		}
		br.Speed = brief.Speed{Turning: m.Speed, Words: "the speed it had"}
	}
	d.Positions = slices.Clone(d.Positions)
	f := br.Frame
	if b.Framed && b.MotorAt != nil {
		for i := range d.Positions {
			d.Positions[i].X += b.MotorAt.X
			d.Positions[i].Y += b.MotorAt.Y
		}
		f.Pitch = pitchOf(d.Positions, f.Pitch)
	} else {
		f, m.Unframed = roomRound(d.Positions), true
	}
	br.Frame, br.Sets, br.MaxStages = f, 1, max(br.MaxStages, len(d.Stages))
	m.Brief, m.Drive = &br, &d
	return m.held(), nil
}

// pitchOf is the usual pitch if all holes are on its grid, and otherwise one fine enough
// for them to be.
func pitchOf(holes []layout.Point, usual units.Millimetres) units.Millimetres {
	for _, p := range holes {
		for _, v := range []units.Millimetres{p.X, p.Y} {
			if math.Abs(math.Remainder(float64(v), float64(usual))) > 1e-9 {
				return 0.1
			}
		}
	}
	return usual
}

// roomRound is a frame with room all round the holes, which are moved into it.
func roomRound(holes []layout.Point) brief.Frame {
	const room, depth = 150, 110 // mm
	lo, hi := holes[0], holes[0]
	for _, p := range holes {
		lo.X, lo.Y, hi.X, hi.Y = min(lo.X, p.X), min(lo.Y, p.Y), max(hi.X, p.X), max(hi.Y, p.Y)
	}
	for i := range holes {
		holes[i].X += room - lo.X
		holes[i].Y += room - lo.Y
	}
	f := brief.Frame{Length: hi.X - lo.X + 2*room, Height: hi.Y - lo.Y + 2*room, Depth: depth, Sheet: 4, Pitch: pitchOf(holes, 1)}
	f.MotorZone = brief.Rect{X1: f.Length, Y1: f.Height}
	f.OutputZone = f.MotorZone
	return f
}

// held has the brief ask for the wheel or drum that the model has.
func (m *Model) held() *Model {
	if m.Drive.Wheel != nil {
		m.Brief.Load.Wheel = m.Drive.Wheel.Name
	}
	if m.Drive.Drum != nil {
		m.Brief.Load.Drum = m.Drive.Drum.Name
	}
	return m
}
