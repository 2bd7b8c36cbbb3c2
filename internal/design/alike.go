package design

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Alike are the parts of one kind that the search takes for one: alike in all that
// matters.
type Alike struct {
	Kind  string
	Names []string // by name; proposals use the first
}

// AlikeParts sorts the parts of a cupboard that drives take from the stock into those
// that are alike.
func AlikeParts(c *parts.Cupboard) []Alike {
	var out []Alike
	out = append(out, alike("motor", motorClasses(c.Motors))...)
	out = append(out, alike("cells", holderClasses(c.Holders))...)
	out = append(out, alike("pulley", pulleyClasses(c.Pulleys))...)
	out = append(out, alike("band", bandClasses(c.Bands))...)
	out = append(out, alike("axle", axleClasses(c.Axles))...)
	out = append(out, alike("sleeve", sleeveClasses(c.Sleeves))...)
	out = append(out, alike("wheel", wheelClasses(c.Wheels))...)
	return append(out, alike("drum", drumClasses(c.Drums))...)
}

func alike[P any](kind string, list []class[P]) []Alike {
	var out []Alike
	for _, c := range list {
		out = append(out, Alike{kind, c.Names})
	}
	return out
}

// OutputLengths are the lengths between which any drive for a brief has its output axle
// cut.
func OutputLengths(c *parts.Cupboard, b *brief.Brief) units.Interval[units.Millimetres] {
	var all []units.Millimetres
	switch b.Model {
	case brief.Vehicle:
		wheels := wheelClasses(c.Wheels)
		for _, o := range named(wheels, b.Load.Wheel) {
			all = append(all, OutputAxleLength(b, &wheels[o].Part, nil))
		}
	case brief.Lift:
		drums := drumClasses(c.Drums)
		for _, o := range named(drums, b.Load.Drum) {
			all = append(all, OutputAxleLength(b, nil, &drums[o].Part))
		}
	}
	if len(all) == 0 {
		all = append(all, OutputAxleLength(b, nil, nil))
	}
	return units.Interval[units.Millimetres]{Lo: slices.Min(all), Hi: slices.Max(all)}
}

// FromRod is how many axles of one length a rod yields.
func FromRod(rod, axle units.Millimetres) int { return constraints.Pieces(rod, axle) }

// MostTaken is the most pieces of any one part of a kind that one drive of so many
// stages takes.
func MostTaken(kind string, stages int) int {
	switch kind {
	case "motor", "cells", "drum":
		return 1
	case "wheel":
		return drive.VehicleWheels
	case "axle":
		return stages + 1 // a vehicle's free axle
	case "sleeve":
		return 2*stages + drive.VehicleWheels // one at each pulley, and at each wheel or the drum
	}
	return 2 * stages // pulleys, and bands used in pairs
}
