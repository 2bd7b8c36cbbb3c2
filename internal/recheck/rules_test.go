package recheck

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	aLift     = "lift.json"
	aVehicle  = "vehicle.json"
	withDiscs = "../../recheck/testdata/discs.json"
	views     = "../../views/testdata/"
)

// term is a term of a proposal's penalty.
func term(p map[string]any, name string) map[string]any {
	for i := range p["penalty"].([]any) {
		if term := node(p, "penalty", i); term["term"] == name {
			return term
		}
	}
	panic(name)
}

// made gives the pulleys of a proposal that are made of discs.
func madeOf(p map[string]any) []map[string]any {
	var out []map[string]any
	for i := range p["stages"].([]any) {
		for _, side := range []string{"driver", "driven"} {
			if m, is := node(p, "stages", i, side)["made"].(map[string]any); is {
				out = append(out, m)
			}
		}
	}
	return out
}

// TestEachRuleIsHeld breaks one rule after the other, each by little where there is a limit:
// what breaks it is said, whatever else no longer fits.
func TestEachRuleIsHeld(t *testing.T) {
	num := func(m map[string]any, key string) float64 { return m[key].(float64) }
	limit := func(tree any, key string, v float64) { node(tree, "brief", "limits")[key] = v }
	for _, c := range []struct {
		file, says string
		plant      func(tree any, p map[string]any)
	}{
		// A band at rest and its groove.
		{views + "carousel.json", "the band is wider than the groove of motor-10", func(_ any, p map[string]any) { node(p, "stages", 0, "driver")["groove_width_mm"] = 1.4 }},
		{aLift, "the fitted stretch is outside the limits", func(tree any, _ map[string]any) { limit(tree, "running_stretch_max", 1.24) }},
		{aLift, "stage 1: the tight side is stretched beyond the limit", func(_ any, p map[string]any) { node(p, "stages", 0, "band")["stretch_limit"] = 1.2803 }},
		{aLift, "a rule does not hold at 41", func(_ any, p map[string]any) { node(p, "stages", 0, "centre_allowed_mm")["from"] = 41.0 }},
		{aLift, "beyond what the rules allow", func(_ any, p map[string]any) { node(p, "stages", 0)["spacing_mm"] = 43.9 }},
		{aLift, "the holes are outside the cell of its spacing", func(_ any, p map[string]any) {
			node(p, "stages", 0)["spacing_mm"], node(p, "stages", 0, "cell_mm")["to"] = 48.0, 52.0
		}},
		{aLift, "at its spacing the fitted stretch is outside the limits", func(tree any, _ map[string]any) { limit(tree, "fitted_stretch_max", 1.326) }},
		{aLift, "no design is made for holes 1 mm out of place", func(tree any, p map[string]any) {
			limit(tree, "hole_error_mm", 0.5)
			p["bears_mm"] = 1.0
		}},
		{aLift, "wanted with holes 15 mm out of place", func(_ any, p map[string]any) { p["forgiveness_mm"] = 15.0 }},
		{aLift, "with the centre distance -", func(_ any, p map[string]any) { p["forgiveness_mm"] = 9.0 }},
		{aLift, "with the centre distance +", func(_ any, p map[string]any) { p["forgiveness_mm"] = 20.0 }},

		// Lies.
		{views + "three-stages.json", "the axles between stages do not lie alike", func(_ any, p map[string]any) { node(p, "axles", 1)["lie"] = "aslant" }},
		{views + "buggy.json", "the pulls on axle 1 do not lie folded back", func(_ any, p map[string]any) { node(p, "axles", 0)["lie"] = "folded back" }},
		{views + "crane.json", "the pulls on axle 1 do not lie across", func(_ any, p map[string]any) { node(p, "axles", 0)["lie"] = "across" }},
		{aVehicle, "the pulls on the output axle do not lie folded back", func(_ any, p map[string]any) { node(p, "axles", 1)["lie"] = "folded back" }},
		{aVehicle, "the pulls on the output axle do not lie in line", func(_ any, p map[string]any) { node(p, "axles", 1)["lie"] = "in line" }},
		{aLift, "a cord that leaves sideways", func(tree any, p map[string]any) {
			node(tree, "brief", "load")["cord_leaves"], node(p, "axles", 1)["lie"] = "left", "across"
		}},

		// At work.
		{aLift, "the likely speed is outside the tolerance", func(tree any, _ map[string]any) { node(tree, "brief")["tolerance_share"] = 0.01 }},
		{views + "big-wheel.json", "stage 2: the tight side is stretched beyond the limit", func(tree any, _ map[string]any) { limit(tree, "running_stretch_max", 1.2957) }},
		{views + "big-wheel.json", "stage 2: the grip is below the limit when starting", func(tree any, _ map[string]any) { limit(tree, "grip_start_min", 1.7236) }},
		{views + "big-wheel.json", "the motor has too little in hand to start", func(tree any, p map[string]any) {
			d := node(p, "design")
			limit(tree, "motor_start_min", 1.001*num(d, "torque_mNm")/num(d, "share_of_stall")/num(d, "start_torque_mNm"))
		}},
		{aLift, "the cells give more volts than the motor bears", func(_ any, p map[string]any) {
			m := node(p, "motor")
			m["packet_least_V"], m["packet_most_V"], m["rated_V"] = 0.0, 0.0, 0.95
		}},
		{aLift, "the cells give more volts than the motor bears", func(_ any, p map[string]any) { node(p, "motor")["packet_most_V"] = 1.4 }},
		{aLift, "the rated voltage is not in the range on the packet", func(_ any, p map[string]any) {
			m := node(p, "motor")
			m["packet_least_V"], m["packet_most_V"] = 1.5*num(m, "rated_V"), 2*num(m, "rated_V")
		}},
		{aLift, "neither fresh nor used", func(_ any, p map[string]any) { node(p, "cells")["condition"] = "fair" }},
		{aVehicle, "the wheels would spin", func(_ any, p map[string]any) {
			node(p, "traction")["held_torque_mNm"] = 0.99 * num(node(p, "traction"), "needed_torque_mNm")
		}},

		// Other cells, other loads.
		{views + "crane.json", "one cell less than 2 is given as 2", func(_ any, p map[string]any) { node(p, "one_cell_less")["cells"] = 2.0 }},
		{aLift, "the band that slips first is that of stage 2", func(_ any, p map[string]any) { node(p, "overload")["slips_in_stage"] = 1.0 }},
		{aLift, "a band slips below 100 times the load", func(_ any, p map[string]any) {
			node(p, "overload")["slips_at"], node(p, "overload")["slips_in_stage"] = nil, nil
		}},
		{aLift, "a band does not begin to slip at 137", func(tree any, p map[string]any) { // over 100 times as much
			node(tree, "brief", "load")["mass_g"], node(p, "overload")["brief"] = 1.0, 1.0
		}},
		{aLift, "a band slips below 100 times the load", func(tree any, p map[string]any) {
			o := node(p, "overload")
			node(tree, "brief", "load")["mass_g"], o["brief"], o["slips_at"] = 0.5, 0.5, nil
		}},
		{views + "one-stage.json", "the motor stalls before a band slips", func(_ any, p map[string]any) { node(p, "overload")["stalls_at"] = nil }},

		// Ways to turn.
		{aLift, "the motor turns neither clockwise nor anticlockwise", func(_ any, p map[string]any) { node(p, "motor")["turns"] = "round" }},
		{aLift, "the output does not turn the way asked", func(tree any, _ map[string]any) { node(tree, "brief", "direction")["sense"] = "anticlockwise" }},
		{aLift, "the motor does not turn the way asked", func(tree any, _ map[string]any) { node(tree, "brief", "direction")["motor_turns"] = "anticlockwise" }},
		{aLift, "the output does not turn the way asked", func(tree any, _ map[string]any) {
			node(tree, "brief", "direction")["sense"], node(tree, "brief", "direction")["seen_from"] = "clockwise", "below"
		}},
		{aLift, "the output does not turn the way asked", func(tree any, _ map[string]any) {
			node(tree, "brief", "direction")["sense"], node(tree, "brief", "direction")["seen_from"] = "clockwise", "back"
		}},

		// Parts and how they sit.
		{aLift, "the brief does not allow a tackle", func(tree any, _ map[string]any) {
			node(tree, "brief", "load", "tackles_allowed", 0)["efficiency"] = 0.9
		}},
		{aLift, "the brief does not allow a tackle", func(tree any, _ map[string]any) {
			node(tree, "brief", "load", "tackles_allowed", 0)["rope_parts"] = 2.0
		}},
		{aLift, "there are more stages than asked", func(tree any, _ map[string]any) { node(tree, "brief")["max_stages"] = 1.0 }},
		{aLift, "this number of cells is not allowed", func(tree any, _ map[string]any) { node(tree, "brief")["cells_allowed"] = []any{2.0} }},
		{aLift, "cotton reel is not a push fit", func(_ any, p map[string]any) { node(p, "stages", 1, "driver")["bore_mm"] = 4.7 }},
		{aLift, "cotton reel is not a push fit", func(_ any, p map[string]any) { node(p, "stages", 1, "driver")["bore_mm"] = 5.1 }},
		{aLift, "cotton reel can not be glued on", func(_ any, p map[string]any) {
			node(p, "stages", 1, "driver")["bore_mm"], node(p, "stages", 1, "driver", "joint")["kind"] = 5.3, "drop of glue"
		}},
		{aLift, "cotton reel can not be glued on", func(tree any, p map[string]any) {
			node(p, "stages", 1, "driver")["bore_mm"], node(p, "stages", 1, "driver", "joint")["kind"] = 5.1, "drop of glue"
			node(tree, "brief", "making")["glue"] = false
		}},
		{aLift, "the sleeve in bobbin does not fit", func(_ any, p map[string]any) { node(p, "output_joint", "sleeve")["inner_diameter_mm"] = 4.6 }},
		{aLift, "the sleeve in bobbin does not fit", func(_ any, p map[string]any) { node(p, "output_joint", "sleeve")["outer_diameter_mm"] = 8.4 }},
		{aLift, "big wheel can not be drilled out", func(tree any, p map[string]any) { drilled(p); node(tree, "brief", "making")["drill_out"] = false }},
		{aLift, "big wheel can not be drilled out", func(_ any, p map[string]any) { drilled(p); node(p, "stages", 1, "driven")["can_drill"] = false }},
		{aLift, "big wheel can not be drilled out", func(_ any, p map[string]any) {
			drilled(p)
			node(p, "stages", 1, "driven")["groove_floor_diameter_mm"] = 8.9
		}},
		{aLift, "does not reach past the groove of its pulley", func(_ any, p map[string]any) { node(p, "motor")["shaft_length_mm"] = 3.0 }},
		{aLift, "are taken and there are 1", func(_ any, p map[string]any) { node(p, "uses", 0)["have"] = 1.0 }},

		// What is charged.
		{aLift, `the penalty term "speed"`, func(_ any, p map[string]any) { node(p, "speed_rpm")["low"], node(p, "speed_rpm")["high"] = 0.0, 0.0 }},
		{aVehicle, `the penalty term "joints" is 0.000 points and comes out as 2.000`, func(_ any, p map[string]any) { node(p, "output_joint")["kind"] = "drop of glue" }},
		{aLift, `the penalty term "bands" is 0.000 points and comes out as 0.500`, func(_ any, p map[string]any) { node(p, "stages", 0)["use"] = "looped twice" }},
		{aLift, `the penalty term "bands" is 0.000 points and comes out as 0.500`, func(_ any, p map[string]any) { node(p, "stages", 0)["use"] = "two side by side" }},
		{aLift, `the penalty term "assumptions"`, func(_ any, p map[string]any) { node(p, "drum")["assumed"] = []any{"its bore"} }},
		{aVehicle, `the penalty term "assumptions"`, func(_ any, p map[string]any) { node(p, "wheel")["assumed"] = []any{"its bore"} }},
		{withDiscs, `the penalty term "made pulleys" is 0.000 points and comes out as 2.000`, func(tree any, p map[string]any) {
			node(tree, "brief", "weights")["made_pulley"], term(p, "made pulleys")["points"] = 1.0, 0.0
		}},
		{aLift, `the penalty term "stages" is 4.000 points and comes out as 0.000`, func(_ any, p map[string]any) {
			p["penalty"] = append(p["penalty"].([]any), map[string]any{"term": "stages", "points": 4.0})
			p["total_points"] = num(p, "total_points") + 4
		}},
		{aLift, `the penalty term "paint" is not known`, func(_ any, p map[string]any) {
			p["penalty"] = append(p["penalty"].([]any), map[string]any{"term": "paint", "points": 0.0})
		}},

		// Discs.
		{withDiscs, "is made of discs and sits on the motor's shaft", func(_ any, p map[string]any) { node(p, "stages", 0, "driver")["made"] = madeOf(p)[0] }},
		{withDiscs, "the brief allows no discs", func(tree any, _ map[string]any) { node(tree, "brief", "making")["discs"] = false }},
		{withDiscs, "the brief allows no discs", func(tree any, _ map[string]any) { node(tree, "brief", "making")["glue"] = false }},
		{withDiscs, "hardly stand out over its band", func(_ any, p map[string]any) { node(p, "stages", 0, "band")["thickness_mm"] = 4.0 }},
		{withDiscs, "is made, and not for its rod", func(_ any, p map[string]any) { node(p, "stages", 0, "driven", "joint")["kind"] = "drop of glue" }},
		{withDiscs, "is the most", func(tree any, p map[string]any) {
			cut := 0.0
			for _, m := range madeOf(p) {
				cut += num(m, "core_layers") + 2
			}
			node(tree, "discs")["most_of_a_group"] = cut - 1
		}},
		{withDiscs, "is cut from no sheet there is", func(tree any, p map[string]any) {
			node(tree, "discs", "sheets", 0)["width_mm"] = num(madeOf(p)[0]["flange"].(map[string]any), "diameter_mm")
		}},
		{withDiscs, "is cut from no sheet there is", func(tree any, _ map[string]any) { node(tree, "discs", "sheets", 0)["kind"] = "plywood" }},
		{withDiscs, "is cut from no sheet there is", func(tree any, _ map[string]any) { node(tree, "discs", "sheets", 0)["thickness_mm"] = 1.9 }},
		{withDiscs, "does not reach for the discs", func(tree any, p map[string]any) {
			area := 0.0
			for _, m := range madeOf(p) {
				for key, n := range map[string]float64{"core": num(m, "core_layers"), "flange": 2} {
					across := num(m[key].(map[string]any), "diameter_mm") + 3
					area += n * across * across * math.Pi / 4 * num(node(tree, "brief"), "sets")
				}
			}
			s := node(tree, "discs", "sheets", 0)
			s["count"] = 0.999 * area / num(s, "length_mm") / num(s, "width_mm")
		}},

		// The whole.
		{aLift, "proved best, and yet something unseen could be better", func(tree any, _ map[string]any) { tree.(map[string]any)["bound_points"] = 3.0 }},
		{"none.json", "none possible, and yet something unseen could be", func(tree any, _ map[string]any) { tree.(map[string]any)["bound_points"] = 3.0 }},
		{aLift, "has rank 3", func(_ any, p map[string]any) { p["rank"] = 3.0 }},
		{aLift, "has fewer points than the one before it", func(_ any, p map[string]any) { p["total_points"] = 99.0 }},
	} {
		var tree any
		require.NoError(t, json.Unmarshal(certificateFile(t, c.file), &tree))
		require.Empty(t, Recheck(certificateFile(t, c.file)), c.file)
		var p map[string]any
		if all := tree.(map[string]any)["proposals"].([]any); len(all) > 0 {
			p = all[0].(map[string]any)
		}
		c.plant(tree, p)
		data, err := json.Marshal(tree)
		require.NoError(t, err)
		assert.Contains(t, strings.Join(Recheck(data), "\n"), c.says, c.file)
	}
}

// drilled has the last pulley of a drive drilled out.
func drilled(p map[string]any) {
	s := node(p, "stages", 1, "driven")
	s["bore_mm"], node(s, "joint")["bore_mm"], node(s, "joint")["kind"] = 4.0, 4.0, "drill out"
}

// A part that is asked for by another of its names is the part.
func TestAskedByAnotherName(t *testing.T) {
	var tree any
	require.NoError(t, json.Unmarshal(certificateFile(t, aLift), &tree))
	node(tree, "brief", "load")["drum"] = "spool"
	for i := range tree.(map[string]any)["proposals"].([]any) {
		uses := node(tree, "proposals", i)["uses"].([]any)
		k := slices.IndexFunc(uses, func(u any) bool { return node(u)["kind"] == "drum" })
		node(uses, k)["also"] = []any{"spool"}
	}
	data, err := json.Marshal(tree)
	require.NoError(t, err)
	require.Empty(t, Recheck(data))
	for i := range tree.(map[string]any)["proposals"].([]any) {
		uses := node(tree, "proposals", i)["uses"].([]any)
		k := slices.IndexFunc(uses, func(u any) bool { return node(u)["kind"] == "motor" })
		node(uses, k)["also"] = []any{"reel"}
	}
	node(tree, "brief", "load")["drum"] = "reel"
	data, err = json.Marshal(tree)
	require.NoError(t, err)
	require.NotEmpty(t, Recheck(data))
}
