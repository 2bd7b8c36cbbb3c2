package parts

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/mechanics"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Bounds of what can be meant, in mm and pieces.
const (
	leastSize = 0.1
	mostSize  = 2000
	mostCount = 1_000_000
)

// Read reads a cupboard. Its error lists every problem in the document, each at
// its line; see tomlfile.Problems.
func Read(name string, data []byte) (*Cupboard, error) {
	doc, err := tomlfile.Open(name, data)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	c := &Cupboard{Name: root.Text("name", name)}
	root.Whole("schema", 1, 1, 1)
	c.Pulleys = each(root, "pulley", loadPulley)
	c.Bands = each(root, "band", loadBand)
	c.Motors = each(root, "motor", loadMotor)
	c.Holders = each(root, "cells", loadCells)
	c.Axles = each(root, "axle", loadAxle)
	c.Sleeves = each(root, "sleeve", loadSleeve)
	c.Spacers = each(root, "spacer", loadSpacer)
	c.Wheels = each(root, "wheel", loadWheel)
	c.Drums = each(root, "drum", loadDrum)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return c, nil
}

func each[P any](root *tomlfile.Table, kind string, load func(Item, *tomlfile.Table) P) []P {
	names, tables := root.Tables(kind)
	out := make([]P, 0, len(names))
	for i, t := range tables {
		item := Item{Name: names[i], Location: t.Text("location", ""), Count: t.Whole("count", 1, 1, mostCount)}
		item.PricePence = price(t)
		out = append(out, load(item, t))
		t.Close()
	}
	return out
}

// price reads "0.45" exactly, as 45 of the smaller coin.
func price(t *tomlfile.Table) int64 {
	s := t.Text("price", "")
	if s == "" {
		return 0
	}
	whole, cents, _ := strings.Cut(s, ".")
	var a, b int64
	_, err := fmt.Sscanf(whole+" "+(cents + "00")[:2], "%d %d", &a, &b)
	if err != nil || len(cents) > 2 || a < 0 || a > 1_000_000 {
		t.Fail("price", "found %q, and an amount such as \"0.45\" is needed", s)
		return 0
	}
	return 100*a + b
}

// size reads a length that must be there.
func size(t *tomlfile.Table, key string) units.Millimetres {
	if !t.Has(key) {
		t.Fail("", "%s is missing: measure it, for example %s = \"20 mm\"", key, key)
	}
	return length(t, key, 1)
}

func length(t *tomlfile.Table, key string, fallback units.Millimetres) units.Millimetres {
	return tomlfile.Quantity(t, key, units.ParseLength, fallback, leastSize, mostSize, "mm")
}

// assumedLength is a length that may be left out; what is taken instead is noted.
func assumedLength(t *tomlfile.Table, it *Item, key, called string, instead units.Millimetres) units.Millimetres {
	if !t.Has(key) {
		it.Assumed = append(it.Assumed, fmt.Sprintf("%s taken as %.3g mm", called, float64(instead)))
	}
	return length(t, key, instead)
}

func material(t *tomlfile.Table, fallback Material) Material {
	names := make([]string, len(materials))
	for i, m := range materials {
		names[i] = string(m)
	}
	return Material(t.Choice("material", string(fallback), names...))
}

func drillable(m Material) bool { return m == Wood || m == Card || m == Plastic }

// Assumptions about pulleys (common practice): the groove floor of a school
// pulley is 2 to 6 mm less in diameter than its rims.
const (
	grooveDepth       = 4.0 // on diameter
	leastFloorShare   = 0.6
	usualGrooveWidth  = 3.0
	usualPulleyWidth  = 6.0
	usualThickness    = 0.9
	usualShaft        = 2.0
	usualShaftLength  = 8.0
	usualStallAmps130 = 0.5 // of a published 130-size sheet at 6 V
)

func loadPulley(it Item, t *tomlfile.Table) Pulley {
	p := Pulley{Outside: size(t, "outside"), Bore: size(t, "bore")}
	p.GrooveFloor = assumedLength(t, &it, "groove_floor", "groove floor", max(p.Outside-grooveDepth, leastFloorShare*p.Outside))
	p.GrooveWidth = assumedLength(t, &it, "groove_width", "groove width", usualGrooveWidth)
	p.Width = assumedLength(t, &it, "width", "width along the axle", usualPulleyWidth)
	if groove := t.Text("groove", "flat"); groove != "flat" && groove != "round" {
		angle, err := units.ParseAngle(groove)
		if err != nil || angle.Degrees() < 10 || angle.Degrees() > 170 {
			t.Fail("groove", "found %q, and it must be flat, round or an angle from \"10 deg\" to \"170 deg\"", groove)
		}
		p.GrooveAngle = angle
	}
	p.Material = material(t, Plastic)
	p.CanDrill = t.Yes("can_drill", drillable(p.Material))
	if p.GrooveFloor > p.Outside {
		t.Fail("groove_floor", "the groove floor, %.3g mm, cannot be larger than the outside, %.3g mm", p.GrooveFloor, p.Outside)
	}
	if p.Bore >= p.GrooveFloor {
		t.Fail("bore", "the bore, %.3g mm, leaves nothing of a groove floor of %.3g mm", p.Bore, p.GrooveFloor)
	}
	p.Item = it
	return p
}

// sizes are trade numbers of rubber bands: flat length and width (US trade table,
// from memory; makers differ by about 5 %, so each use is an assumption).
var sizes = map[string][2]units.Millimetres{
	"8": {22.2, 1.6}, "10": {31.8, 1.6}, "12": {44.5, 1.6}, "14": {50.8, 1.6}, "16": {63.5, 1.6},
	"18": {76.2, 1.6}, "19": {88.9, 1.6}, "24": {152.4, 1.6}, "30": {50.8, 3.2}, "31": {63.5, 3.2}, "32": {76.2, 3.2},
	"33": {88.9, 3.2}, "61": {50.8, 6.4}, "62": {63.5, 6.4}, "63": {76.2, 6.4}, "64": {88.9, 6.4},
}

func loadBand(it Item, t *tomlfile.Table) Band {
	b := Band{Size: t.Text("size", ""), PullFactor: 1}
	known, ok := sizes[b.Size]
	switch {
	case b.Size != "" && !ok:
		t.Fail("size", "found %q, which is no trade size known here; give flat_length and width instead", b.Size)
	case b.Size == "" || t.Has("flat_length"):
		b.FlatLength, b.Width = size(t, "flat_length"), size(t, "width")
	default:
		b.FlatLength, b.Width = known[0], length(t, "width", known[1])
		length(t, "flat_length", known[0])
		it.Assumed = append(it.Assumed, fmt.Sprintf("flat length %.3g mm taken from trade size %s; measure one", float64(b.FlatLength), b.Size))
	}
	b.Thickness = assumedLength(t, &it, "thickness", "thickness", usualThickness)
	b.StretchLimit = t.Number("stretch_limit", 0, 1.05, 3)
	if t.Has("hung_mass") || t.Has("reached") {
		mass := tomlfile.Quantity(t, "hung_mass", units.ParseMass, 100, 1, 5000, "g")
		reached := length(t, "reached", 100)
		f, err := mechanics.PullFactorFromHungMass(mechanics.Loop{Rest: 2 * b.FlatLength, Width: b.Width, Thickness: b.Thickness, Strands: 1, PullFactor: 1, Rubber: mechanics.DefaultRubber()}, mass, reached)
		switch {
		case err != nil:
			t.Fail("hung_mass", "%v", err)
		case f < 0.2 || f > 5:
			t.Fail("reached", "this band would pull %.2g times as hard as rubber does: measure again", f)
		default:
			b.PullFactor, b.Calibrated = f, true
		}
	}
	b.Item = it
	return b
}

func loadMotor(it Item, t *tomlfile.Table) Motor {
	m := Motor{
		Rated:       tomlfile.Quantity(t, "rated", units.ParseVoltage, 3, 0.5, 24, "V"),
		FreeSpeed:   tomlfile.Quantity(t, "free_speed", units.ParseTurning, 6000, 10, 50000, "rpm"),
		FreeCurrent: tomlfile.Quantity(t, "free_current", units.ParseCurrent, 0, 0, 5, "A"),
		StallTorque: tomlfile.Quantity(t, "stall_torque", units.ParseTorque, 0, 0.01, 1000, "mN.m"),
		// The stall current may be used alone, or checks the torque.
		StallCurrent: tomlfile.Quantity(t, "stall_current", units.ParseCurrent, 0, 0.01, 20, "A"),
		Mass:         tomlfile.Quantity(t, "mass", units.ParseMass, 20, 1, 1000, "g"),
	}
	t.Needed("rated")
	if !t.Has("free_current") {
		m.FreeCurrent = 0.07
		it.Assumed = append(it.Assumed, "free current taken as 0.07 A")
	}
	if t.Has("counted_speed") {
		m.FreeSpeed, m.Calibrated = tomlfile.Quantity(t, "counted_speed", units.ParseTurning, 6000, 10, 50000, "rpm"), true
	} else {
		t.Needed("free_speed")
	}
	if !t.Has("stall_torque") && !t.Has("stall_current") {
		m.StallCurrent = units.Amps(usualStallAmps130 * math.Max(1, float64(m.Rated)/6))
		it.Assumed = append(it.Assumed, fmt.Sprintf("stall current taken as %.2g A", float64(m.StallCurrent)))
	}
	m.ShaftDiameter = assumedLength(t, &it, "shaft_diameter", "shaft", usualShaft)
	m.ShaftLength = assumedLength(t, &it, "shaft_length", "shaft length", usualShaftLength)
	m.BodyLength = length(t, "body_length", 27.5)
	m.BodyWidth = length(t, "body_width", 20)
	m.BodyHeight = length(t, "body_height", 15)
	if _, err := mechanics.NewMotor(m.Rated, m.FreeSpeed, m.FreeCurrent, m.StallTorque, m.StallCurrent); err != nil {
		t.Fail("", "%v", err)
	}
	m.Item = it
	return m
}

func loadCells(it Item, t *tomlfile.Table) CellHolder {
	h := CellHolder{Cells: t.Whole("cells", 1, 1, 8)}
	t.Needed("cells")
	h.Chemistry = t.Choice("chemistry", "zinc-carbon", "zinc-carbon", "zinc-chloride", "alkaline", "rechargeable", "lithium", "button")
	resistance := units.Ohms(0.4)
	switch h.Chemistry {
	case "alkaline":
		resistance = 0.2
	case "rechargeable", "lithium", "button":
		t.Fail("chemistry", "%s cells are not for pupils' models: shorted they burn, and button cells can kill if swallowed; use zinc-carbon, zinc-chloride or alkaline", h.Chemistry)
	}
	h.OpenVoltage = tomlfile.Quantity(t, "open_voltage", units.ParseVoltage, 1.5, 0.8, 1.8, "V")
	h.CellResistance = tomlfile.Quantity(t, "resistance", units.ParseResistance, resistance, 0.01, 10, "ohm")
	h.Capacity = tomlfile.Quantity(t, "capacity", units.ParseCapacity, 0, 1, 50000, "mAh")
	h.Item = it
	return h
}

func loadAxle(it Item, t *tomlfile.Table) AxleStock {
	return AxleStock{Item: it, Diameter: size(t, "diameter"), Length: size(t, "length"), Material: material(t, Wood)}
}

func loadSleeve(it Item, t *tomlfile.Table) Sleeve {
	s := Sleeve{Item: it, Inner: size(t, "inner"), Outer: size(t, "outer"), Length: length(t, "length", 10)}
	if s.Outer <= s.Inner {
		t.Fail("outer", "the outer diameter must be larger than the inner")
	}
	return s
}

func loadSpacer(it Item, t *tomlfile.Table) Spacer {
	return Spacer{Item: it, Bore: size(t, "bore"), Outside: size(t, "outside"), Thickness: size(t, "thickness")}
}

func loadWheel(it Item, t *tomlfile.Table) Wheel {
	w := Wheel{Item: it, Diameter: size(t, "diameter"), Width: length(t, "width", 8), Bore: size(t, "bore"), Material: material(t, Wood)}
	w.CanDrill = t.Yes("can_drill", drillable(w.Material))
	return w
}

func loadDrum(it Item, t *tomlfile.Table) Drum {
	d := Drum{Item: it, Diameter: size(t, "diameter"), Width: length(t, "width", 20), Bore: size(t, "bore"), Material: material(t, Wood)}
	d.CanDrill = t.Yes("can_drill", drillable(d.Material))
	return d
}
