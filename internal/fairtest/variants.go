package fairtest

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/explain"
	"findrive/internal/units"
)

// family is a base drive and what one thing of it can be.
type family struct {
	base   *built.Build
	thing  Thing
	stage  int // from 1; 0 for the whole drive
	values []value
}

type value struct {
	part, size string
	build      *built.Build
}

// families lists what can be changed in a base drive with the parts of its cupboard.
func families(base *built.Build) []family {
	var out []family
	cup := base.Cupboard
	for i := range base.Drive.Stages {
		driven, driver := family{base, DrivenPulley, i + 1, nil}, family{base, DriverPulley, i + 1, nil}
		for k := range cup.Pulleys {
			p := &cup.Pulleys[k]
			size := fmt.Sprintf("%s mm across", units.Decimals(float64(p.Outside), 1))
			driven.values = append(driven.values, value{p.Name, size, base.With(func(d *drive.Drive) { d.Stages[i].Driven = p })})
			driver.values = append(driver.values, value{p.Name, size, base.With(func(d *drive.Drive) { d.Stages[i].Driver = p })})
		}
		band := family{base, OtherBand, i + 1, nil}
		for k := range cup.Bands {
			b := &cup.Bands[k]
			size := fmt.Sprintf("%s mm long flat, %s mm wide", units.Decimals(float64(b.FlatLength), 1), units.Decimals(float64(b.Width), 1))
			band.values = append(band.values, value{b.Name, size, base.With(func(d *drive.Drive) { d.Stages[i].Band = b })})
		}
		use := family{base, BandUse, i + 1, nil}
		for _, u := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			use.values = append(use.values, value{u.String(), "", base.With(func(d *drive.Drive) { d.Stages[i].Use = u })})
		}
		out = append(out, driven, driver, band, use)
	}
	holders, motors, stages := family{base, NumberCells, 0, nil}, family{base, OtherMotor, 0, nil}, family{base, StageCount, 0, nil}
	for k := range cup.Holders {
		h := &cup.Holders[k]
		if constraints.Volts(base.Drive.Motor, h) != nil {
			continue
		}
		holders.values = append(holders.values, value{h.Name, fmt.Sprintf("cells: %d", h.Cells), base.With(func(d *drive.Drive) { d.Holder = h })})
	}
	for k := range cup.Motors {
		m := &cup.Motors[k]
		if constraints.Volts(m, base.Drive.Holder) != nil {
			continue
		}
		motors.values = append(motors.values, value{m.Name, "", base.With(func(d *drive.Drive) { d.Motor = m })})
	}
	// The wheels of a vehicle stand on its output axle, and its free axle is as high as that
	// one: with wheels on another the holes would not be the same.
	for n := 1; n <= len(base.Drive.Stages) && base.Brief.Model != brief.Vehicle; n++ {
		stages.values = append(stages.values, value{stageCount(n), "", base.With(func(d *drive.Drive) {
			d.Stages, d.Axles, d.Positions = d.Stages[:n], d.Axles[:n], d.Positions[:n+1]
		})})
	}
	return append(out, holders, motors, stages)
}

// sound are the variants that would work: every rule is kept but that of the speed,
// which is what is to differ.
func (f *family) sound() []Variant {
	var out []Variant
	for _, v := range f.values {
		if !enough(v.build) || !v.build.Sound(constraints.Speed) {
			continue
		}
		w, err := built.Work(v.build)
		if err != nil || !(w.Speed.Likely > 0) {
			continue
		}
		words, kind := f.fit(v.build)
		out = append(out, Variant{Part: v.part, Size: v.size, Fit: words, joint: kind, fitted: f.fitted(v.build), Working: w})
	}
	return out
}

// fitted reports whether a build is the base as it stands.
func (f *family) fitted(b *built.Build) bool {
	x, y := b.Drive, f.base.Drive
	if x.Motor != y.Motor && x.Motor.Name != y.Motor.Name || x.Holder.Name != y.Holder.Name || len(x.Stages) != len(y.Stages) {
		return false
	}
	for i := range x.Stages {
		s, o := &x.Stages[i], &y.Stages[i]
		if s.Driver.Name != o.Driver.Name || s.Driven.Name != o.Driven.Name || s.Band.Name != o.Band.Name || s.Use != o.Use {
			return false
		}
	}
	return true
}

// fit is how the pulley that differs sits on its shaft; no words for a push fit.
func (f *family) fit(b *built.Build) (string, drive.JointKind) {
	var j drive.Joint
	switch f.thing {
	case DrivenPulley:
		j = b.Drive.Stages[f.stage-1].DrivenJoint
	case DriverPulley:
		j = b.Drive.Stages[f.stage-1].DriverJoint
	default:
		return "", drive.PushFit
	}
	switch {
	case j.Kind == drive.PushFit:
		return "", j.Kind
	case j.Sleeve != nil:
		return "sleeve " + j.Sleeve.Name, j.Kind
	}
	return j.Kind.String(), j.Kind
}

// countPoints are the charge of a speed that a class cannot well count or time: nothing
// for what can be counted by eye or timed for three seconds to half a minute.
func countPoints(w *built.Working) float64 {
	if l := w.Linear; l != nil {
		switch t := metres(w) / float64(l.Likely); {
		case t < 1:
			return 6
		case t < 3 || t > 60:
			return 3
		case t > 30:
			return 1
		}
		return 0
	}
	switch n := float64(w.Speed.Likely); {
	case n > explain.ByTap:
		return 6
	case n > explain.ByEye:
		return 2
	case n < 4:
		return 3
	}
	return 0
}

// taken counts the parts of one drive, by kind and name.
func taken(b *built.Build) map[string]int {
	d := b.Drive
	out := map[string]int{"motor " + d.Motor.Name: 1}
	out["holder "+d.Holder.Name]++
	for i := range d.Stages {
		s := &d.Stages[i]
		out["pulley "+s.Driver.Name]++
		out["pulley "+s.Driven.Name]++
		out["band "+s.Band.Name] += s.Use.BandsTaken()
		for _, j := range []drive.Joint{s.DriverJoint, s.DrivenJoint} {
			if j.Sleeve != nil {
				out["sleeve "+j.Sleeve.Name]++
			}
		}
	}
	if d.Wheel != nil {
		out["wheel "+d.Wheel.Name] += 4
	}
	if d.Drum != nil {
		out["drum "+d.Drum.Name]++
	}
	return out
}

// stock is how many of each part there are.
func stock(b *built.Build) map[string]int {
	out := map[string]int{}
	cup := b.Cupboard
	for i := range cup.Motors {
		out["motor "+cup.Motors[i].Name] += cup.Motors[i].Count
	}
	for i := range cup.Holders {
		out["holder "+cup.Holders[i].Name] += cup.Holders[i].Count
	}
	for i := range cup.Pulleys {
		out["pulley "+cup.Pulleys[i].Name] += cup.Pulleys[i].Count
	}
	for i := range cup.Bands {
		out["band "+cup.Bands[i].Name] += cup.Bands[i].Count
	}
	for i := range cup.Sleeves {
		out["sleeve "+cup.Sleeves[i].Name] += cup.Sleeves[i].Count
	}
	for i := range cup.Wheels {
		out["wheel "+cup.Wheels[i].Name] += cup.Wheels[i].Count
	}
	for i := range cup.Drums {
		out["drum "+cup.Drums[i].Name] += cup.Drums[i].Count
	}
	return out
}

// enough reports whether the cupboard has the parts of one drive.
func enough(b *built.Build) bool { return times(taken(b), stock(b)) > 0 }

// atOnce is how many times the stock makes all three drives together.
func atOnce(t *Test) int {
	need := map[string]int{}
	for _, v := range t.Drives {
		for part, n := range taken(v.Working.Build) {
			need[part] += n
		}
	}
	return times(need, stock(t.Base))
}

func times(need, have map[string]int) int {
	least := 1 << 20
	for part, n := range need {
		least = min(least, have[part]/n)
	}
	return least
}

// Names lists the things as words.
func Names() []string {
	var out []string
	for _, t := range Things() {
		out = append(out, string(t))
	}
	return out
}

func stageCount(n int) string {
	if n == 1 {
		return "1 stage"
	}
	return fmt.Sprintf("%d stages", n)
}
