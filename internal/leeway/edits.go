package leeway

import (
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
	"findrive/internal/units"
)

// Edits are what to change in the two files to make of one case another that Way.Apply
// has made of it, where q is a drive found in that: what people would write. More of a part
// is as many as the groups of the brief take; a wider tolerance is the speed that was
// found instead.
func Edits(from, to Case, q *design.Proposal) (cupboard, brief []tomledit.Edit) {
	return stockEdits(from.Cupboard, to, q), briefEdits(from.Brief, to.Brief, q)
}

// briefEdits are those of the brief.
func briefEdits(from, to *brief.Brief, q *design.Proposal) []tomledit.Edit {
	var out []tomledit.Edit
	set := func(differs bool, v tomledit.Value, key ...string) {
		if differs {
			out = append(out, tomledit.Set(v, key...))
		}
	}
	if from.Tolerance != to.Tolerance && q != nil {
		set(true, tomledit.Text(found(q, from.Tolerance).Words), "speed")
	}
	set(from.Sets != to.Sets, tomledit.Whole(to.Sets), "sets")
	set(from.MaxStages != to.MaxStages, tomledit.Whole(to.MaxStages), "max_stages")
	if !slices.Equal(from.Cells, to.Cells) {
		out = append(out, tomledit.Remove("cells")) // cells only ever become any number
	}
	set(from.Direction.Sense != to.Direction.Sense, tomledit.Text(string(to.Direction.Sense)), "direction", "turns")
	set(from.Direction.MotorTurns != to.Direction.MotorTurns, tomledit.Text(string(to.Direction.MotorTurns)), "direction", "motor_turns")
	set(from.Making.Glue != to.Making.Glue, tomledit.Yes(to.Making.Glue), "making", "glue")
	set(from.Making.Discs != to.Making.Discs, tomledit.Yes(to.Making.Discs), "making", "discs")
	set(from.Making.DrillOut != to.Making.DrillOut, tomledit.Yes(to.Making.DrillOut), "making", "drill_out")
	for _, named := range []struct{ key, was, is string }{{"wheel", from.Load.Wheel, to.Load.Wheel}, {"drum", from.Load.Drum, to.Load.Drum}} {
		if named.was != named.is {
			out = append(out, tomledit.Remove("load", named.key))
		}
	}
	set(from.Load.Mass != to.Load.Mass, tomledit.Text(exactly(float64(to.Load.Mass), "g")), "load", "mass")
	set(from.Load.OutOfBalance != to.Load.OutOfBalance, tomledit.Text(exactly(float64(to.Load.OutOfBalance), "g")), "load", "out_of_balance")
	set(from.Load.Torque != to.Load.Torque, tomledit.Text(exactly(float64(to.Load.Torque), "mN.m")), "load", "torque")
	set(from.Load.Slope != to.Load.Slope, tomledit.Text(exactly(to.Load.Slope.Degrees(), "deg")), "load", "slope")
	set(from.Load.DrivenShare != to.Load.DrivenShare, tomledit.Text(exactly(100*to.Load.DrivenShare, "%")), "load", "driven_share")
	out = append(out, frameEdits(&from.Frame, &to.Frame)...)
	return append(out, limitEdits(&from.Limits, &to.Limits)...)
}

// exactly writes a figure down so finely that no rule could tell.
func exactly(v float64, unit string) string { return units.Decimals(v, 4) + " " + unit }

func lengths(all ...units.Millimetres) tomledit.Value {
	var out []tomledit.Value
	for _, v := range all {
		out = append(out, tomledit.Text(exactly(float64(v), "mm")))
	}
	return tomledit.List(out...)
}

// frameEdits are those of the frame. Zones in words grow with it in another way than the
// case's do, so that they are written down as lengths.
func frameEdits(from, to *brief.Frame) []tomledit.Edit {
	var out []tomledit.Edit
	for _, l := range []struct {
		key     string
		was, is units.Millimetres
	}{{"length", from.Length, to.Length}, {"height", from.Height, to.Height}, {"depth", from.Depth, to.Depth}, {"pitch", from.Pitch, to.Pitch}, {"strip", from.Strip, to.Strip}} {
		if l.was != l.is {
			out = append(out, tomledit.Set(tomledit.Text(exactly(float64(l.is), "mm")), "frame", l.key))
		}
	}
	if from.HasGround && !to.HasGround {
		out = append(out, tomledit.Remove("frame", "ground"))
	}
	if !slices.Equal(from.Rails, to.Rails) {
		rails := slices.Clone(to.Rails)
		slices.Sort(rails)
		out = append(out, tomledit.Set(lengths(slices.Compact(rails)...), "frame", "rails"))
	}
	grown := from.Length != to.Length || from.Height != to.Height
	for _, z := range []struct {
		key     string
		was, is brief.Rect
	}{{"motor_zone", from.MotorZone, to.MotorZone}, {"output_zone", from.OutputZone, to.OutputZone}} {
		switch {
		case z.was == wholeOf(*from) && z.is == wholeOf(*to), z.was == z.is && !grown:
		case z.is == wholeOf(*to):
			out = append(out, tomledit.Remove("frame", z.key))
		default:
			out = append(out, tomledit.Set(lengths(z.is.X0, z.is.Y0, z.is.X1, z.is.Y1), "frame", z.key))
		}
	}
	return out
}

// limitEdits are those of the rules.
func limitEdits(from, to *brief.Limits) []tomledit.Edit {
	var out []tomledit.Edit
	number := func(key string, was, is float64) {
		if was != is {
			out = append(out, tomledit.Set(tomledit.Number(is), "limits", key))
		}
	}
	number("fitted_stretch_min", from.FittedStretchMin, to.FittedStretchMin)
	number("fitted_stretch_max", from.FittedStretchMax, to.FittedStretchMax)
	number("running_stretch_max", from.RunningStretchMax, to.RunningStretchMax)
	number("grip_min", from.GripMin, to.GripMin)
	number("grip_start_min", from.GripStartMin, to.GripStartMin)
	number("start_min", from.StartMin, to.StartMin)
	number("run_min", from.RunMin, to.RunMin)
	number("section_ratio", from.SectionRatio, to.SectionRatio)
	if from.ArcMin != to.ArcMin {
		out = append(out, tomledit.Set(tomledit.Text(exactly(to.ArcMin.Degrees(), "deg")), "limits", "arc_min"))
	}
	for _, l := range []struct {
		key     string
		was, is units.Millimetres
	}{{"clearance", from.Clearance, to.Clearance}, {"lane_gap", from.LaneGap, to.LaneGap}, {"hole_wall", from.HoleWall, to.HoleWall}} {
		if l.was != l.is {
			out = append(out, tomledit.Set(tomledit.Text(exactly(float64(l.is), "mm")), "limits", l.key))
		}
	}
	return out
}

// toGet marks a part that is not there.
const (
	toGet  = "not in the cupboard yet: to be got"
	toWind = "not in the cupboard yet: paper to be wound"
)

// stockEdits are those of the cupboard: other counts, and new parts.
func stockEdits(from *parts.Cupboard, to Case, q *design.Proposal) []tomledit.Edit {
	var out []tomledit.Edit
	count := func(kind string, it *parts.Item) bool {
		was := from.Item(kind, it.Name)
		if was != nil && was.Count != it.Count {
			out = append(out, tomledit.Set(tomledit.Whole(it.Count), kind, it.Name, "count"))
		}
		return was == nil
	}
	mark := toGet
	add := func(kind string, it *parts.Item, values ...string) { // key, value, key, value ...
		for i := 0; i+1 < len(values); i += 2 {
			v := tomledit.Text(values[i+1])
			switch values[i] {
			case "cells", "size":
				v = tomledit.Text(values[i+1])
				if n := strings.TrimLeft(values[i+1], "0123456789"); n == "" && values[i+1] != "" {
					v = whole(values[i+1])
				}
			case "can_drill":
				v = tomledit.Yes(values[i+1] == "yes")
			}
			if values[i+1] != "" {
				out = append(out, tomledit.Set(v, kind, it.Name, values[i]))
			}
		}
		out = append(out, tomledit.Set(tomledit.Whole(needed(kind, it, to.Brief, q)), kind, it.Name, "count"),
			tomledit.Set(tomledit.List(tomledit.Text(mark)), kind, it.Name, "assumed"))
	}
	mm := func(v units.Millimetres) string { return exactly(float64(v), "mm") }
	c := to.Cupboard
	for i := range c.Pulleys {
		if p := &c.Pulleys[i]; count("pulley", &p.Item) {
			groove := ""
			if p.GrooveAngle > 0 {
				groove = exactly(p.GrooveAngle.Degrees(), "deg")
			}
			add("pulley", &p.Item, "outside", mm(p.Outside), "groove_floor", mm(p.GrooveFloor), "groove_width", mm(p.GrooveWidth), "groove", groove, "width", mm(p.Width), "bore", mm(p.Bore),
				"material", string(p.Material), "can_drill", map[bool]string{true: "yes", false: "no"}[p.CanDrill])
		}
	}
	for i := range c.Bands {
		if b := &c.Bands[i]; count("band", &b.Item) {
			add("band", &b.Item, "size", b.Size, "flat_length", mm(b.FlatLength), "width", mm(b.Width), "thickness", mm(b.Thickness))
		}
	}
	for i := range c.Motors {
		if m := &c.Motors[i]; count("motor", &m.Item) {
			values := []string{"rated", exactly(float64(m.Rated), "V"), "free_speed", exactly(float64(m.FreeSpeed), "rpm"), "free_current", exactly(1000*float64(m.FreeCurrent), "mA"),
				"shaft_diameter", mm(m.ShaftDiameter), "shaft_length", mm(m.ShaftLength), "body_length", mm(m.BodyLength), "body_width", mm(m.BodyWidth), "body_height", mm(m.BodyHeight)}
			if m.StallTorque > 0 {
				values = append(values, "stall_torque", exactly(float64(m.StallTorque), "mN.m"))
			}
			if m.StallCurrent > 0 {
				values = append(values, "stall_current", exactly(1000*float64(m.StallCurrent), "mA"))
			}
			if m.Calibrated {
				values[2] = "counted_speed"
			}
			add("motor", &m.Item, values...)
		}
	}
	for i := range c.Holders {
		if h := &c.Holders[i]; count("cells", &h.Item) {
			values := []string{"cells", units.Decimals(float64(h.Cells), 0), "chemistry", h.Chemistry, "condition", string(h.Condition), "resistance", exactly(float64(h.CellResistance), "ohm")}
			if h.Capacity > 0 {
				values = append(values, "capacity", exactly(float64(h.Capacity), "mAh"))
			}
			if h.Measured {
				values = append(values, "open_voltage", exactly(float64(h.OpenVoltage), "V"))
			}
			add("cells", &h.Item, values...)
		}
	}
	for i := range c.Axles {
		count("axle", &c.Axles[i].Item)
	}
	for i := range c.Sleeves {
		if s := &c.Sleeves[i]; count("sleeve", &s.Item) {
			if mark = toGet; ofPaper(s) {
				mark = toWind
			}
			add("sleeve", &s.Item, "inner", mm(s.Inner), "outer", mm(s.Outer), "length", mm(s.Length))
		}
	}
	for i := range c.Wheels {
		count("wheel", &c.Wheels[i].Item)
	}
	for i := range c.Drums {
		count("drum", &c.Drums[i].Item)
	}
	return out
}

// whole is a whole number that is there as a text.
func whole(digits string) tomledit.Value {
	n := 0
	for _, d := range digits {
		n = 10*n + int(d-'0')
	}
	return tomledit.Whole(n)
}

// needed is how many of a new part all groups take.
func needed(kind string, it *parts.Item, b *brief.Brief, q *design.Proposal) int {
	if it.Count < plenty {
		return it.Count // a bag
	}
	if q != nil {
		for _, u := range q.Uses {
			if u.Kind == kind && u.Name == it.Name {
				return u.Each * b.Sets
			}
		}
	}
	return b.Sets
}
