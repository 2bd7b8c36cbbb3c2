package page

import (
	"findrive/internal/parts"
	"findrive/internal/units"
)

// sort is what a field takes.
type sort int

const (
	length  sort = iota // "20" is taken for 20 mm
	whole               // a whole number
	words               // as it is written
	yes                 // yes or no
	choice              // one of a few words
	speed               // "5200" is taken for 5200 rpm
	torque              // mN.m
	current             // mA
	volts               // V
	decimal             // a plain number
	mass                // g
	share               // %
)

// units that a plain number is taken in.
var plainUnit = map[sort]string{length: "mm", speed: "rpm", torque: "mN.m", current: "mA", volts: "V", mass: "g", share: "%"}

// field is a key of a part, and how it is shown.
type field struct {
	Key, Head string
	Sort      sort
	Choices   []string
}

// kind is a kind of part: its columns, and what is only seen on asking.
type kind struct {
	Key, Words, One string
	Main, More      []field
}

var (
	count    = field{Key: "count", Head: "How many", Sort: whole}
	location = field{Key: "location", Head: "Where it is kept", Sort: words}
	price    = field{Key: "price", Head: "Price of one", Sort: words}
	drilled  = field{Key: "can_drill", Head: "May the hole be drilled larger?", Sort: yes}
)

func sized(key, head string) field { return field{Key: key, Head: head, Sort: length} }

func material() field {
	var all []string
	for _, m := range parts.Materials() {
		all = append(all, string(m))
	}
	return field{Key: "material", Head: "Material", Sort: choice, Choices: all}
}

// kinds are all kinds of part, in the order of the page.
var kinds = []kind{
	{"pulley", "Pulleys", "pulley", []field{sized("outside", "Over the rims"), sized("groove_floor", "In the groove"), sized("bore", "Hole"), count},
		[]field{sized("groove_width", "Width of the groove"), sized("width", "Width along the axle"), {Key: "groove", Head: "Groove: flat, round or an angle", Sort: words}, material(), drilled, location, price}},
	{"band", "Rubber bands", "rubber band", []field{{Key: "size", Head: "Number", Sort: words}, sized("flat_length", "Laid flat, long"), sized("width", "Wide"), count},
		[]field{sized("thickness", "Thick"), {Key: "stretch_limit", Head: "Longest stretch, times its length", Sort: decimal}, {Key: "hung_mass", Head: "Weight hung from it", Sort: mass}, sized("reached", "Long with the weight"), location, price}},
	{"motor", "Motors", "motor", []field{{Key: "rated", Head: "Volts", Sort: volts}, {Key: "free_speed", Head: "Speed with nothing on it", Sort: speed}, sized("shaft_diameter", "Shaft"), count},
		[]field{{Key: "counted_speed", Head: "Speed that you counted", Sort: speed}, {Key: "free_current", Head: "Current with nothing on it", Sort: current}, {Key: "stall_torque", Head: "Torque held still", Sort: torque}, {Key: "stall_current", Head: "Current held still", Sort: current},
			sized("shaft_length", "Shaft, long"), sized("body_length", "Body, long"), sized("body_width", "Body, wide"), sized("body_height", "Body, high"), location, price}},
	{"cells", "Cells in holders", "cell holder", []field{{Key: "cells", Head: "Cells in it", Sort: whole}, {Key: "chemistry", Head: "Sort of cell", Sort: choice, Choices: []string{"zinc-carbon", "zinc-chloride", "alkaline"}}, {Key: "condition", Head: "Fresh or used", Sort: choice, Choices: []string{"fresh", "used"}}, count},
		[]field{{Key: "resistance", Head: "Resistance of a cell", Sort: words}, {Key: "capacity", Head: "Capacity", Sort: words}, {Key: "open_voltage", Head: "Measured volts of a cell", Sort: volts}, location, price}},
	{"axle", "Dowel and rod", "rod", []field{sized("diameter", "Across"), sized("length", "Long"), material(), count}, []field{location, price}},
	{"wheel", "Wheels", "wheel", []field{sized("diameter", "Across"), sized("width", "Wide"), sized("bore", "Hole"), count}, []field{material(), drilled, location, price}},
	{"drum", "Drums for cord", "drum", []field{sized("diameter", "Across, where the cord winds"), sized("width", "Wide"), sized("bore", "Hole"), count}, []field{material(), drilled, location, price}},
	{"sleeve", "Tube", "piece of tube", []field{sized("inner", "Inside"), sized("outer", "Outside"), sized("length", "Long"), count}, []field{location, price}},
	{"spacer", "Washers and beads", "washer or bead", []field{sized("bore", "Hole"), sized("outside", "Across"), sized("thickness", "Thick"), count}, []field{location, price}},
	{"sheet", "Sheet for discs", "sheet", []field{{Key: "kind", Head: "Kind", Sort: choice, Choices: []string{"card", "corrugated card", "plywood", "MDF", "corrugated plastic"}}, sized("thickness", "Thick"), sized("length", "Long"), count}, []field{sized("width", "Wide"), location, price}},
	{"cutter", "What cuts rounds", "cutter", []field{{Key: "way", Head: "Way", Sort: choice, Choices: []string{"compass and scissors", "craft knife", "hole saw", "laser"}}, sized("smallest", "Smallest round"), sized("largest", "Largest round"), count}, []field{sized("step", "Step between"), location, price}},
	{"block", "Pulley blocks", "pulley block", []field{{Key: "sheaves", Head: "Wheels in it", Sort: whole}, sized("sheave", "Over the rims"), sized("groove_floor", "In the groove"), count}, []field{location, price}},
	{"cord", "Cord", "cord", []field{sized("diameter", "Across"), sized("length", "Long"), count}, []field{location, price}},
}

func kindOf(key string) *kind {
	for i := range kinds {
		if kinds[i].Key == key {
			return &kinds[i]
		}
	}
	return nil
}

func (k *kind) field(key string) *field {
	for _, all := range [][]field{k.Main, k.More} {
		for i := range all {
			if all[i].Key == key {
				return &all[i]
			}
		}
	}
	return nil
}

// taken are the values that the reader of the cupboard takes for keys that a part does
// not give, by key, as the file would have them: with them written down, what was
// guessed is said.
func taken(c *parts.Cupboard, kind, name string) map[string]string {
	mm := units.Lengths.Format
	switch kind {
	case "pulley":
		for _, p := range c.Pulleys {
			if p.Name == name {
				return map[string]string{"groove_floor": mm(p.GrooveFloor), "groove_width": mm(p.GrooveWidth), "width": mm(p.Width)}
			}
		}
	case "band":
		for _, b := range c.Bands {
			if b.Name == name {
				return map[string]string{"flat_length": mm(b.FlatLength), "width": mm(b.Width), "thickness": mm(b.Thickness)}
			}
		}
	case "motor":
		return takenOfMotor(c, name)
	case "cells":
		for _, h := range c.Holders {
			if h.Name == name {
				return map[string]string{"chemistry": h.Chemistry, "resistance": units.Resistances.Format(h.CellResistance)}
			}
		}
	case "sleeve":
		for _, s := range c.Sleeves {
			if s.Name == name {
				return map[string]string{"length": mm(s.Length)}
			}
		}
	case "wheel":
		for _, w := range c.Wheels {
			if w.Name == name {
				return map[string]string{"width": mm(w.Width)}
			}
		}
	case "drum":
		for _, d := range c.Drums {
			if d.Name == name {
				return map[string]string{"width": mm(d.Width)}
			}
		}
	}
	return nil
}

func takenOfMotor(c *parts.Cupboard, name string) map[string]string {
	mm := units.Lengths.Format
	for _, m := range c.Motors {
		if m.Name != name {
			continue
		}
		out := map[string]string{
			"free_current": units.Currents.Format(m.FreeCurrent), "shaft_diameter": mm(m.ShaftDiameter), "shaft_length": mm(m.ShaftLength),
			"body_length": mm(m.BodyLength), "body_width": mm(m.BodyWidth), "body_height": mm(m.BodyHeight),
		}
		if m.StallTorque == 0 {
			out["stall_current"] = units.Currents.Format(m.StallCurrent)
		}
		return out
	}
	return nil
}

// canSay are the kinds of which every guess can be written down.
var canSay = map[string]bool{"pulley": true, "band": true, "motor": true, "cells": true, "axle": true, "sleeve": true, "wheel": true, "drum": true, "spacer": true}
