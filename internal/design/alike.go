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
	out = append(out, alike("motor", parts.MotorKinds(c.Motors))...)
	out = append(out, alike("cells", parts.HolderKinds(c.Holders))...)
	out = append(out, alike("pulley", parts.PulleyKinds(c.Pulleys))...)
	out = append(out, alike("band", parts.BandKinds(c.Bands))...)
	out = append(out, alike("axle", parts.AxleKinds(c.Axles))...)
	out = append(out, alike("sleeve", parts.SleeveKinds(c.Sleeves))...)
	out = append(out, alike("wheel", parts.WheelKinds(c.Wheels))...)
	return append(out, alike("drum", parts.DrumKinds(c.Drums))...)
}

func alike[P any](kind string, list []parts.Kind[P]) []Alike {
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
		wheels := parts.WheelKinds(c.Wheels)
		for _, o := range parts.Asked(wheels, b.Load.Wheel) {
			all = append(all, drive.OutputAxleLength(b, &wheels[o].Part, nil))
		}
	case brief.Lift:
		drums := parts.DrumKinds(c.Drums)
		for _, o := range parts.Asked(drums, b.Load.Drum) {
			all = append(all, drive.OutputAxleLength(b, nil, &drums[o].Part))
		}
	}
	if len(all) == 0 {
		all = append(all, drive.OutputAxleLength(b, nil, nil))
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
