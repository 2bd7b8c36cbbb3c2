package parts

import (
	"strings"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// What is taken of small things that were not measured (common practice).
const (
	usualSleeve units.Millimetres = 10
	usualWheel  units.Millimetres = 8
	usualDrum   units.Millimetres = 20
)

// readAxle reads an [axle.NAME] table: diameter and length of one piece, both
// needed; material, otherwise wood.
func readAxle(it Item, t *tomlfile.Table) AxleStock {
	return AxleStock{Item: it, Diameter: needed(t, "diameter", shaftSize), Length: needed(t, "length", sizes{Least: 10, Most: 5000}), Material: readMaterial(t, "material", Wood)}
}

// readSleeve reads a [sleeve.NAME] table: inner and outer diameter, both
// needed; length of one piece, otherwise 10 mm.
func readSleeve(it Item, t *tomlfile.Table) Sleeve {
	s := Sleeve{Inner: needed(t, "inner", boreSize), Outer: needed(t, "outer", boreSize)}
	s.Length = assumed(t, &it, "length", "sleeve length", anySize, usualSleeve, "")
	if t.Good("inner", "outer") && s.Outer <= s.Inner {
		t.Fail("outer", "an outer diameter of %s must be larger than the inner, %s", units.Lengths.Format(s.Outer), units.Lengths.Format(s.Inner))
	}
	s.Item = it
	return s
}

// readSpacer reads a [spacer.NAME] table: bore, outside and thickness, all
// needed.
func readSpacer(it Item, t *tomlfile.Table) Spacer {
	s := Spacer{Item: it, Bore: needed(t, "bore", boreSize), Outside: needed(t, "outside", discSize), Thickness: needed(t, "thickness", anySize)}
	boreFits(t, s.Bore, "outside", "an outside", s.Outside)
	return s
}

// readWheel reads a [wheel.NAME] table: diameter and bore, both needed; width,
// otherwise 8 mm; material, otherwise wood; can_drill as for pulleys.
func readWheel(it Item, t *tomlfile.Table) Wheel {
	w := Wheel{Diameter: needed(t, "diameter", discSize), Bore: needed(t, "bore", boreSize)}
	w.Width = assumed(t, &it, "width", "wheel width", anySize, usualWheel, "")
	w.Material = readMaterial(t, "material", Wood)
	w.CanDrill = t.Yes("can_drill", drillable(w.Material))
	boreFits(t, w.Bore, "diameter", "a diameter", w.Diameter)
	w.Item = it
	return w
}

// readDrum reads a [drum.NAME] table: diameter the cord winds on and bore, both
// needed; width, otherwise 20 mm; material, otherwise wood; can_drill as for
// pulleys.
func readDrum(it Item, t *tomlfile.Table) Drum {
	d := Drum{Diameter: needed(t, "diameter", discSize), Bore: needed(t, "bore", boreSize)}
	d.Width = assumed(t, &it, "width", "drum width", anySize, usualDrum, "")
	d.Material = readMaterial(t, "material", Wood)
	d.CanDrill = t.Yes("can_drill", drillable(d.Material))
	boreFits(t, d.Bore, "diameter", "a diameter", d.Diameter)
	d.Item = it
	return d
}

// listed is "a, b or c".
func listed(names []string) string {
	last := len(names) - 1
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
