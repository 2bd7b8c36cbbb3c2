package brief

import (
	"slices"
	"strconv"
	"strings"

	"findrive/internal/mechanics"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Caps on loads, for safety: beyond them something heavy falls or breaks loose
// near children (judgement; 1 kg for what is lifted over a table is common
// practice).
const (
	mostRidden units.Grams = 5000
	mostLifted units.Grams = 1000
)

// usualOutOfBalance is the share of a level ride's mass that is taken to hang
// off its middle if the brief does not say (judgement: cabins made by hand and
// spaced by eye; 20 g at 80 mm alone asks 16 mN·m, more than a whole balanced
// wheel).
const usualOutOfBalance = 0.05

// loadKeys are the keys of [load], with the models each belongs to. The mass
// belongs to all.
var loadKeys = []struct {
	key    string
	models []Model
}{
	{"radius", []Model{UprightRide, LevelRide}},
	{"pivot_radius", []Model{UprightRide}},
	{"out_of_balance", []Model{LevelRide}},
	{"out_of_balance_radius", []Model{LevelRide}},
	{"wheel", []Model{Vehicle}},
	{"surface", []Model{Vehicle}},
	{"slope", []Model{Vehicle}},
	{"driven_share", []Model{Vehicle}},
	{"drum", []Model{Lift}},
	{"cord", []Model{Lift}},
	{"cord_leaves", []Model{Lift}},
	{"tackle_parts", []Model{Lift}},
	{"tackle_efficiency", []Model{Lift}},
	{"torque", []Model{PlainShaft}},
}

// readLoad reads [load]:
//
//	all models        mass: of ride, vehicle or what is lifted; needed but for a
//	                  plain shaft
//	rides             radius: mean radius at which the mass sits, otherwise 60 mm
//	                  upright, 80 mm level
//	upright ride      pivot_radius: mean radius of the ring it stands on, otherwise
//	                  2.5 mm: the end of a straw on a 5 mm dowel,
//	                  to a few tenths, on which the sheets let it stand
//	level ride        out_of_balance: mass by which one side is heavier, otherwise
//	                  5 % of the mass; out_of_balance_radius, otherwise radius
//	vehicle           wheel: a name in the cupboard, otherwise any; surface
//	                  "table" (otherwise) or "carpet"; slope, otherwise level;
//	                  driven_share of the weight on the driven axle, otherwise 50 %
//	lift              drum: a name in the cupboard, otherwise any; cord: its
//	                  diameter, otherwise 1 mm; cord_leaves: which way it leaves
//	                  the drum seen from the front, "down" (otherwise), "up",
//	                  "left" or "right"; tackle_parts, otherwise 1, or
//	                  a list to choose from; tackle_efficiency, otherwise 100 %
//	                  with 1 part and as observed with more
//	plain shaft       torque; needed
func readLoad(t *tomlfile.Table, m Model) Load {
	l := Load{TackleParts: 1, TackleEfficiency: 1}
	keysOfOthers(t, m)
	most := mostRidden
	if m == Lift {
		most = mostLifted
	}
	l.Mass = readMass(t, m, most)
	length := func(key string, usual units.Millimetres) units.Millimetres {
		return tomlfile.Quantity(t, key, &units.Lengths, usual, tomlfile.Range[units.Millimetres]{Least: 0.1, Most: 1000})
	}
	switch m {
	case UprightRide:
		l.LoadRadius, l.PivotRadius = length("radius", 60), length("pivot_radius", 2.5)
	case LevelRide:
		l.LoadRadius = length("radius", 80)
		l.OutOfBalance = tomlfile.Quantity(t, "out_of_balance", &units.Masses, usualOutOfBalance*l.Mass, tomlfile.Range[units.Grams]{Least: 0, Most: 1000})
		l.OutOfBalanceRadius = length("out_of_balance_radius", l.LoadRadius)
	case Vehicle:
		l.Wheel = t.Text("wheel", "")
		l.Surface = t.Choice("surface", "table", "table", "carpet")
		l.Slope = tomlfile.Quantity(t, "slope", &units.Angles, 0, tomlfile.Range[units.Radians]{Least: 0, Most: units.Degrees(45)})
		l.DrivenShare = tomlfile.Quantity(t, "driven_share", &units.Shares, UsualDrivenShare, tomlfile.Range[float64]{Least: 0.05, Most: 1})
	case Lift:
		l.Drum = t.Text("drum", "")
		l.CordDiameter = length("cord", 1)
		l.CordLeaves = Way(t.Choice("cord_leaves", string(Down), string(Down), string(Up), string(Left), string(Right)))
		l.Tackles = readTackles(t)
		l.TackleParts, l.TackleEfficiency = l.Tackles[0].Parts, l.Tackles[0].Efficiency
	case PlainShaft:
		t.Need("torque", `"2 mN.m"`)
		l.Torque = tomlfile.Quantity(t, "torque", &units.Torques, 0, tomlfile.Range[units.NewtonMillimetres]{Least: 0, Most: 10_000})
	}
	t.Close()
	return l
}

// mostParts is as many rope parts as a tackle for a model has.
const mostParts = 8

// readTackles are the allowed tackles, fewest parts first.
func readTackles(t *tomlfile.Table) []Tackle {
	parts := []int{1}
	if t.IsList("tackle_parts") {
		parts = nil
		for _, v := range t.List("tackle_parts", "[1, 2, 4]", mostParts) {
			n, is := v.(int64)
			if !is || n < 1 || n > mostParts {
				t.Fail("tackle_parts", "found %s in the list, it must be of whole numbers from 1 to %d, such as [1, 2, 4]", tomlfile.Shown(v), mostParts)
				break
			}
			parts = append(parts, int(n))
		}
		if len(parts) == 0 {
			if t.Good("tackle_parts") {
				t.Fail("tackle_parts", "the list is empty: write for example [1, 2, 4]")
			}
			parts = []int{1}
		}
		slices.Sort(parts)
		parts = slices.Compact(parts)
	} else {
		parts[0] = t.Whole("tackle_parts", 1, 1, mostParts)
	}
	given := tomlfile.Quantity(t, "tackle_efficiency", &units.Shares, 0, tomlfile.Range[float64]{Least: 0.1, Most: 1})
	out := make([]Tackle, 0, len(parts))
	for _, n := range parts {
		e := 1.0
		switch {
		case given > 0:
			e = given
		case n > 1:
			e = mechanics.ObservedTackle(n)
		}
		out = append(out, Tackle{n, e})
	}
	return out
}

// readMass caps the mass; a heavier one is refused with the reason.
func readMass(t *tomlfile.Table, m Model, most units.Grams) units.Grams {
	least := units.Grams(0)
	if m != PlainShaft && m != "" {
		t.Need("mass", `"200 g"`)
		least = 1
	}
	mass := tomlfile.Quantity(t, "mass", &units.Masses, least, tomlfile.Range[units.Grams]{Least: least, Most: 1000 * mostRidden})
	switch {
	case mass <= most:
	case m == Lift:
		t.Fail("mass", "%s is too heavy to lift in a classroom: it must be at most %s, for a hand or foot may be under it when the band slips", units.Masses.Format(mass), units.Masses.Format(most))
	default:
		t.Fail("mass", "%s is too heavy for a rubber-band drive near children: it must be at most %s", units.Masses.Format(mass), units.Masses.Format(most))
	}
	return mass
}

// keysOfOthers makes every key of the model known, and refuses those of others.
// With no model known none is refused.
func keysOfOthers(t *tomlfile.Table, m Model) {
	for _, k := range loadKeys {
		belongs := m == ""
		var names []string
		for _, of := range k.models {
			belongs = belongs || of == m
			names = append(names, strconv.Quote(string(of)))
		}
		if belongs {
			t.Offer(k.key)
		} else {
			t.Refuse(k.key, "this belongs to the model %s, and the model of this brief is %q", strings.Join(names, " or "), m)
		}
	}
}

// UsualDrivenShare is how much of a vehicle's weight is on the driven wheels where a brief does not
// say (judgement).
const UsualDrivenShare = 0.5
