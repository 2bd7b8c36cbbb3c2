// Package remembered finds the one model that was counted among drives: what a calibration
// file says of it (see parts.CountedDrive) holds for it and for no other.
package remembered

import (
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// A drive is the one that was counted if its holes are as far apart to within a
// millimetre, which is how well they can be measured, and its load is the same to a
// twentieth (judgement: a load that is lighter by that changes less than counting tells).
const (
	sameCentre units.Millimetres = 1
	sameLoad   float64           = 0.05
)

// Of is a drive as a calibration file remembers it, its speed yet to be filled in.
func Of(d *drive.Drive, b *brief.Brief) parts.CountedDrive {
	c := parts.CountedDrive{Name: b.Name, Motor: d.Motor.Name, Cells: d.Holder.Name, Mass: b.Load.Mass}
	switch {
	case d.Wheel != nil:
		c.Output = d.Wheel.Name
	case d.Drum != nil:
		c.Output = d.Drum.Name
	}
	for i := range d.Stages {
		s := &d.Stages[i]
		run := "open"
		if s.Crossed {
			run = "crossed"
		}
		c.Stages = append(c.Stages, parts.CountedStage{Driver: s.Driver.Name, Driven: s.Driven.Name, Band: s.Band.Name,
			Use: s.Use.String(), Run: run, Centre: d.Centre(i)})
	}
	return c
}

// Find is what is remembered of a drive; nil if it is not one that was counted.
func Find(cup *parts.Cupboard, d *drive.Drive, b *brief.Brief) *parts.CountedDrive {
	if cup == nil || len(cup.Remembered) == 0 || d.Motor == nil || d.Holder == nil {
		return nil
	}
	is := Of(d, b)
	for i := range cup.Remembered {
		if Same(&cup.Remembered[i], &is) {
			return &cup.Remembered[i]
		}
	}
	return nil
}

// Alike is what is remembered of a drive of the same motor, cells and pulleys before the
// same load, whose bands or holes are others; nil if none was counted.
func Alike(cup *parts.Cupboard, d *drive.Drive, b *brief.Brief) *parts.CountedDrive {
	if cup == nil {
		return nil
	}
	is := Of(d, b)
	for i := range cup.Remembered {
		c := cup.Remembered[i]
		if len(c.Stages) != len(is.Stages) {
			continue
		}
		c.Stages = slices.Clone(is.Stages)
		for k, s := range cup.Remembered[i].Stages {
			c.Stages[k].Driver, c.Stages[k].Driven = s.Driver, s.Driven
		}
		if Same(&c, &is) {
			return &cup.Remembered[i]
		}
	}
	return nil
}

// Same reports whether two are the same model, whatever they are called.
func Same(a, b *parts.CountedDrive) bool {
	if a.Motor != b.Motor || a.Cells != b.Cells || a.Output != b.Output || len(a.Stages) != len(b.Stages) {
		return false
	}
	if math.Abs(float64(a.Mass-b.Mass)) > sameLoad*float64(max(a.Mass, b.Mass)) {
		return false
	}
	for i := range a.Stages {
		x, y := a.Stages[i], b.Stages[i]
		if math.Abs(float64(x.Centre-y.Centre)) > float64(sameCentre) {
			return false
		}
		x.Centre = y.Centre
		if x != y {
			return false
		}
	}
	return true
}
