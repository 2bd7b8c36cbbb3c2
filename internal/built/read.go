package built

import (
	"fmt"
	"slices"
	"strconv"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Read reads the description of a drive that is built. Parts are meant by their
// names in the cupboard, or in tables of the file itself that are written as in a
// cupboard. Without a cupboard, when it has mistakes of its own, names are not
// looked at and the build is nil. The error is tomlfile.Problems.
//
//	model, speed, tolerance, [direction], [load], [making], [limits]
//	             as in a brief; the speed that was wanted may be left out, a
//	             vehicle's wheel and a lift's drum only where there is just one
//	[drive]
//	  motor            a name; needed
//	  cells            the name of a holder; needed
//	  holes            where the motor's shaft and then each axle is, such as
//	                   [["30 mm", "50 mm"], ["125 mm", "112 mm"]], from the left and
//	                   from below; with them no stage needs centre or lies
//	[stage.1]    on the motor's shaft, [stage.2] and so on up to four:
//	  driver, driven   names of pulleys; needed
//	  band             a name; needed
//	  use              "single" (otherwise), "looped twice", "two side by side"
//	  run              "open" (otherwise) or "crossed"
//	  centre           distance between the two axles; needed without holes
//	  axle             the name of what carries the driven pulley; otherwise the
//	                   only one there is
//	  lies             where the driven axle lies from the driver: "right"
//	                   (otherwise), "left", "up" or "down"
//	[frame]      as in a brief; without it nothing is said about room
//	  motor_at         where the motor's shaft is, such as ["30 mm", "60 mm"] from the
//	                   left and from below, inside the frame; otherwise where the
//	                   holes say, or else the drive is put where it fits best
func Read(name string, data []byte, cup *parts.Cupboard) (*Build, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	root.Whole("schema", 1, 1, 1)
	b := &Build{Name: root.Text("name", name), Drive: &drive.Drive{}}
	own := parts.ReadTables(root)
	if cup != nil {
		b.Cupboard = cup.With(own)
	}
	var load *tomlfile.Table
	b.Brief, load = brief.ReadTask(root, b.Cupboard)
	b.Brief.Name = b.Name
	r := reader{b, root}
	at := r.head(load)
	r.stages(at)
	r.frame(at)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	if cup == nil {
		return nil, nil
	}
	joints(b)
	return b, nil
}

// reader reads the parts of a drive by name.
type reader struct {
	b    *Build
	root *tomlfile.Table
}

// head reads [drive], and hands back the holes it gives.
func (r reader) head(load *tomlfile.Table) []layout.Point {
	d, cup := r.b.Drive, r.b.Cupboard
	if cup == nil {
		cup = &parts.Cupboard{}
	}
	t := r.root.Table("drive")
	d.Motor = chosen(r, t, "motor", cup.Motors, func(p *parts.Motor) string { return p.Name })
	d.Holder = chosen(r, t, "cells", cup.Holders, func(p *parts.CellHolder) string { return p.Name })
	at := holes(t)
	t.Close()
	if r.b.Cupboard == nil {
		return at
	}
	switch r.b.Brief.Model {
	case brief.Vehicle:
		d.Wheel = only(load, "wheel", r.b.Brief.Load.Wheel, cup.Wheels, func(p *parts.Wheel) string { return p.Name })
	case brief.Lift:
		d.Drum = only(load, "drum", r.b.Brief.Load.Drum, cup.Drums, func(p *parts.Drum) string { return p.Name })
	}
	return at
}

func (r reader) stages(holes []layout.Point) {
	names, tables := r.root.Named("stage")
	if len(names) == 0 && !r.root.Has("stage") {
		r.root.Fail("", "there are no stages: write [stage.1], and its keys on the lines below")
	}
	var at []units.Millimetres
	var ways []Way
	cup := r.b.Cupboard
	if cup == nil {
		cup = &parts.Cupboard{}
	}
	d := r.b.Drive
	pulley := func(p *parts.Pulley) string { return p.Name }
	for i, t := range tables {
		if names[i] != strconv.Itoa(i+1) || i >= drive.MaxStages {
			t.Fail("", "the stages must be [stage.1], from the motor, to at most [stage.%d], none left out", drive.MaxStages)
		}
		s := drive.Stage{
			Driver: chosen(r, t, "driver", cup.Pulleys, pulley),
			Driven: chosen(r, t, "driven", cup.Pulleys, pulley),
			Band:   chosen(r, t, "band", cup.Bands, func(p *parts.Band) string { return p.Name }),
			Use:    readUse(t),
		}
		s.Crossed = t.Choice("run", "open", "open", "crossed") == "crossed"
		usual := units.Millimetres(0)
		if holes == nil {
			usual = 80
			t.Need("centre", `"80 mm"`)
		} else if t.Has("lies") {
			t.Fail("lies", "the holes say already where every axle is: leave it out")
		}
		at = append(at, tomlfile.Quantity(t, "centre", &units.Lengths, usual, tomlfile.Range[units.Millimetres]{Least: 2, Most: 2000}))
		ways = append(ways, Way(t.Choice("lies", string(Right), string(Right), string(Left), string(Up), string(Down))))
		t.Offer("axle")
		var axle *parts.AxleStock
		if r.b.Cupboard != nil {
			axle = only(t, "axle", t.Text("axle", ""), cup.Axles, func(p *parts.AxleStock) string { return p.Name })
		}
		d.Stages, d.Axles = append(d.Stages, s), append(d.Axles, axle)
		t.Close()
	}
	d.Positions = []layout.Point{{}}
	for i, c := range at {
		step := ways[i].step()
		from := d.Positions[i]
		d.Positions = append(d.Positions, layout.Point{X: from.X + step.X*c, Y: from.Y + step.Y*c})
	}
	if holes != nil {
		r.atHoles(holes, tables, at)
	}
	d.MotorTurns = r.b.motorTurns()
}

func (r reader) frame(holes []layout.Point) {
	if r.b.Framed = r.root.Has("frame"); !r.b.Framed {
		r.root.Offer("frame")
		return
	}
	t := r.root.Table("frame")
	at, given := r.motorAt(t)
	r.b.Brief.Frame = brief.ReadBuiltFrame(t)
	switch {
	case given && holes != nil:
		t.Fail("motor_at", "the first of the holes is the motor's already: leave it out")
	case given:
		r.b.MotorAt = &at
	case holes != nil:
		r.b.MotorAt = &holes[0]
	}
}

func (r reader) motorAt(t *tomlfile.Table) (at layout.Point, given bool) {
	const key, example = "motor_at", `["30 mm", "60 mm"]`
	list := t.List(key, example, 2)
	if len(list) == 0 {
		return at, false
	}
	if len(list) != 2 {
		t.Fail(key, "found one length, two are needed (from the left, from below): write for example %s = %s", key, example)
		return at, false
	}
	return point(t, key, list)
}

func readUse(t *tomlfile.Table) drive.Use {
	uses := []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired}
	words := make([]string, len(uses))
	for i, u := range uses {
		words[i] = u.String()
	}
	return uses[slices.Index(words, t.Choice("use", words[0], words...))]
}

// chosen is the part a key names; nil with the mistake noted. Where there is no
// cupboard the name is not looked at.
func chosen[P any](r reader, t *tomlfile.Table, key string, list []P, name func(*P) string) *P {
	example := "a name from the cupboard"
	if len(list) > 0 {
		example = strconv.Quote(name(&list[0]))
	}
	t.Need(key, example)
	word := t.Text(key, "")
	if r.b.Cupboard == nil || !t.Good(key) {
		return nil
	}
	return find(t, key, word, list, name)
}

// only is the part a key names, or the only one there is.
func only[P any](t *tomlfile.Table, key, word string, list []P, name func(*P) string) *P {
	switch {
	case !t.Good(key):
		return nil
	case word != "":
		return find(t, key, word, list, name)
	case len(list) == 1:
		return &list[0]
	case len(list) == 0:
		t.Fail("", "%s is missing, and the cupboard has none: describe it in this file as [%s.NAME]", key, key)
		return nil
	}
	if t.Has(key) { // a name of no letters
		return find(t, key, word, list, name)
	}
	t.Need(key, fmt.Sprintf("%q", name(&list[0])))
	return nil
}

func find[P any](t *tomlfile.Table, key, word string, list []P, name func(*P) string) *P {
	i := slices.IndexFunc(list, func(p P) bool { return name(&p) == word })
	if i >= 0 {
		return &list[i]
	}
	names := make([]string, len(list))
	for k := range list {
		names[k] = name(&list[k])
	}
	if len(names) == 0 {
		t.Fail(key, "found %s, and the cupboard has no %s at all: describe it in this file as [%s.NAME]", units.Quoted(word), key, key)
	} else {
		t.Known(key, word, names)
	}
	return nil
}
