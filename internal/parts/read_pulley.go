package parts

import (
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// What is taken of a pulley that was not measured in full (common practice:
// the groove floor of a school pulley is 2 to 6 mm less in diameter than its
// rims).
const (
	usualGrooveDepth units.Millimetres = 4   // on diameter
	leastFloorShare                    = 0.6 // of the outside, for small pulleys
	usualGrooveWidth units.Millimetres = 3
	usualWidth       units.Millimetres = 6
	usualRims        units.Millimetres = 2 // both together
)

// readPulley reads a [pulley.NAME] table.
//
//	outside       diameter over the rims; needed
//	bore          needed
//	groove_floor  diameter at the bottom of the groove; otherwise outside less
//	              4 mm, but not below 60 % of the outside
//	groove_width  otherwise 3 mm, but not above width
//	groove        "flat" (otherwise), "round", or the full angle of a V: "40 deg"
//	width         along the axle; otherwise 6 mm, or groove_width and 2 mm of
//	              rims if that is more
//	material      otherwise plastic
//	can_drill     otherwise true for wood, card and plastic
func readPulley(it Item, t *tomlfile.Table) Pulley {
	p := Pulley{Outside: needed(t, "outside", discSize), Bore: needed(t, "bore", boreSize)}
	floor, reason := p.Outside-usualGrooveDepth, "outside less 4 mm"
	if least := leastFloorShare * p.Outside; floor < least {
		floor, reason = least, "60 % of the outside"
	}
	p.GrooveFloor = assumed(t, &it, "groove_floor", "groove floor", discSize, floor, reason)
	p.GrooveWidth, p.Width = readWidths(t, &it)
	p.GrooveAngle = readGroove(t)
	p.Material = readMaterial(t, "material", Plastic)
	p.CanDrill = t.Yes("can_drill", drillable(p.Material))

	if t.Good("outside", "groove_floor") && p.GrooveFloor > p.Outside {
		t.Fail("groove_floor", "a groove floor of %s cannot be larger than the outside, %s: measure both again", units.Lengths.Format(p.GrooveFloor), units.Lengths.Format(p.Outside))
	}
	if t.Good("outside", "groove_floor") {
		boreFits(t, p.Bore, "groove_floor", "a groove floor", p.GrooveFloor)
	}
	if t.Good("width", "groove_width") && p.GrooveWidth > p.Width {
		t.Fail("groove_width", "a groove of %s cannot be wider than the pulley, %s: measure both again", units.Lengths.Format(p.GrooveWidth), units.Lengths.Format(p.Width))
	}
	p.Item = it
	return p
}

// readWidths are those of the groove and of the pulley along its axle. The one
// that was not measured is taken to go with the one that was.
func readWidths(t *tomlfile.Table, it *Item) (groove, whole units.Millimetres) {
	whole = tomlfile.Quantity(t, "width", &units.Lengths, usualWidth, anySize)
	groove = assumed(t, it, "groove_width", "groove width", anySize, min(usualGrooveWidth, whole), "")
	return groove, assumed(t, it, "width", "width along the axle", anySize, max(usualWidth, groove+usualRims), "")
}

// readGroove is the full angle of a V groove, 0 for a floor that does not wedge.
func readGroove(t *tomlfile.Table) units.Radians {
	groove := t.Text("groove", "flat")
	if groove == "flat" || groove == "round" {
		return 0
	}
	angle, err := tomlfile.Measure(groove, &units.Angles, tomlfile.Range[units.Radians]{Least: units.Degrees(10), Most: units.Degrees(170)})
	if err != nil {
		t.Fail("groove", "found %s, it must be flat, round or the full angle of a V from \"10 deg\" to \"170 deg\"", units.Quoted(groove))
	}
	return angle
}
