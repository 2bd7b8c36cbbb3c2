package design

import (
	"findrive/internal/brief"
	"findrive/internal/constraints"
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

// CutLength is the length of axle by which the search counts what a rod yields: the
// longest that any drive for the brief takes.
func CutLength(c *parts.Cupboard, b *brief.Brief) units.Millimetres { return newTask(c, b).axleLength }

// FromRod is how many axles of that length a rod yields.
func FromRod(rod, axle units.Millimetres) int { return constraints.Pieces(rod, axle) }

// MostTaken is the most pieces of any one part of a kind that one drive of so many
// stages takes.
func MostTaken(kind string, stages int) int {
	switch kind {
	case "motor", "cells", "drum":
		return 1
	case "wheel":
		return vehicleWheels
	case "axle":
		return stages
	case "sleeve":
		return 2*stages + vehicleWheels // one at each pulley, and at each wheel or the drum
	}
	return 2 * stages // pulleys, and bands used in pairs
}
