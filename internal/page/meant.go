package page

import (
	"findrive/internal/brief"
	"findrive/internal/units"
)

// takenOfBrief are the values that the reader of the brief takes for keys that need not be
// given, by path, as the file would have them; nil without a brief.
func takenOfBrief(b *brief.Brief) map[string]string {
	if b == nil {
		return nil
	}
	out := map[string]string{
		pathOf("tolerance"):              units.Shares.Format(b.Tolerance),
		pathOf("max_stages"):             short(float64(b.MaxStages)),
		pathOf("direction", "turns"):     string(b.Direction.Sense),
		pathOf("direction", "seen_from"): b.Direction.SeenFrom,
		pathOf("frame", "overhang"):      units.Lengths.Format(b.Frame.Overhang),
		pathOf("frame", "motor_zone"):    "anywhere",
	}
	l := &b.Load
	switch b.Model {
	case brief.UprightRide:
		out[pathOf("load", "radius")] = units.Lengths.Format(l.LoadRadius)
		out[pathOf("load", "pivot_radius")] = units.Lengths.Format(l.PivotRadius)
	case brief.LevelRide:
		out[pathOf("load", "radius")] = units.Lengths.Format(l.LoadRadius)
		out[pathOf("load", "out_of_balance")] = units.Masses.Format(l.OutOfBalance)
	case brief.Vehicle:
		out[pathOf("load", "surface")] = l.Surface
		out[pathOf("load", "slope")] = units.Angles.Format(l.Slope)
	case brief.Lift:
		out[pathOf("load", "cord")] = units.Lengths.Format(l.CordDiameter)
		out[pathOf("load", "cord_leaves")] = string(l.CordLeaves)
	}
	return out
}
