package recheck

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// node finds a value of a certificate by keys and places in lists.
func node(tree any, path ...any) map[string]any {
	for _, step := range path {
		switch step := step.(type) {
		case string:
			tree = tree.(map[string]any)[step]
		case int:
			tree = tree.([]any)[step]
		}
	}
	return tree.(map[string]any)
}

// Faults of the kind that a search might make are planted in a good certificate, each so
// that all else that is written still hangs together as far as it can.
func TestPlantedFaults(t *testing.T) {
	term := func(p map[string]any, name string) map[string]any {
		for i := range p["penalty"].([]any) {
			if term := node(p, "penalty", i); term["term"] == name {
				return term
			}
		}
		panic(name)
	}
	add := func(m map[string]any, key string, by float64) { m[key] = m[key].(float64) + by }
	for _, c := range []struct {
		fault string
		plant func(tree any, p map[string]any)
		says  string
	}{
		{"a classroom too few", func(_ any, p map[string]any) { add(p, "works_of_100", -1) }, "it works in"},
		{"a classroom in which it stands", func(_ any, p map[string]any) { add(p, "stands_of_100", 1) }, "it stands in"},
		{"a slower low end", func(_ any, p map[string]any) { add(node(p, "speed_rpm"), "low", -0.1) }, "low speed is given as"},
		{"a faster high end", func(_ any, p map[string]any) { add(node(p, "speed_rpm"), "high", 0.1) }, "high speed is given as"},
		{"the speed at the holes told as that of the design", func(_ any, p map[string]any) { node(p, "speed_rpm")["likely"] = p["speed_at_holes_rpm"] }, "likely speed is given as"},
		{"a mark off the ruler", func(_ any, p map[string]any) { add(node(p, "stages", 0), "spacing_mm", 1) }, "is not a mark of its ruler"},
		{"the next mark", func(_ any, p map[string]any) {
			s := node(p, "stages", 0)
			add(s, "spacing_mm", 8)
			add(node(s, "cell_mm"), "from", 8)
			add(node(s, "cell_mm"), "to", 8)
		}, "the holes are outside the cell of its spacing"},
		{"a spacing beyond the band", func(_ any, p map[string]any) { node(p, "stages", 0)["spacing_mm"] = 88.0 }, "beyond what the rules allow"},
		{"a wider cell", func(_ any, p map[string]any) { add(node(p, "stages", 1, "cell_mm"), "to", 1) }, "longest spacing of its cell"},
		{"a range of spacings cut short", func(_ any, p map[string]any) {
			s := node(p, "stages", 0)
			node(s, "centre_allowed_mm")["to"], s["spacing_mm"] = 61.0, 61.0
			node(s, "cell_mm")["from"], node(s, "cell_mm")["to"] = 60.0, 61.0
		}, "the rules allow longer spacings than the range given for them"},
		{"a ruler of one's own", func(tree any, _ map[string]any) { node(tree, "constants")["ruler_rest_share"] = 0.01 }, "shortest spacing of its cell"},
		{"a better lie than the holes keep", func(tree any, _ map[string]any) {
			node(tree, "proposals", 1, "axles", 0)["lie"] = "in line"
		}, "the pulls on axle 1 do not lie in line"},
		{"the same at the output", func(_ any, p map[string]any) { node(p, "axles", 1)["lie"] = "across" }, "the pulls on the output axle do not lie across"},
		{"a lie of one's own", func(_ any, p map[string]any) { node(p, "axles", 0)["lie"] = "askew" }, "in a way that is not known"},
		{"a design for other holes", func(_ any, p map[string]any) { p["bears_mm"] = 0.5 }, "no design is made for holes 0.5 mm out of place"},
		{"holes that bear less than the design", func(_ any, p map[string]any) { p["bears_mm"] = 2.0 }, "its holes forgive 0.4 mm and its design is made for 2 mm"},
		{"classrooms of another draw", func(tree any, _ map[string]any) {
			ranks := node(tree, "classrooms")["motor_free_speed"].([]any)
			for i, rank := range ranks {
				ranks[i] = 99 - rank.(float64)
			}
		}, "speed is given as"},
		{"a classroom left out", func(tree any, _ map[string]any) {
			ranks := node(tree, "classrooms")
			ranks["load"] = ranks["load"].([]any)[:99]
		}, "its table of classrooms"},
		{"a room told twice", func(tree any, _ map[string]any) {
			ranks := node(tree, "classrooms")["load"].([]any)
			ranks[0] = ranks[1]
		}, "its table of classrooms"},
		{"a wrong term", func(_ any, p map[string]any) {
			add(term(p, "classrooms"), "points", 2)
			add(p, "total_points", 2)
		}, `the penalty term "classrooms"`},
		{"a range that leaves out the speed, not charged", func(_ any, p map[string]any) {
			node(p, "speed_rpm")["low"] = p["target_rpm"].(float64) * 1.1
		}, `the penalty term "speed"`},
		{"a drive on the edge, not charged", func(_ any, p map[string]any) {
			add(term(p, "forgiveness"), "points", -10)
			add(p, "total_points", -10)
		}, `the penalty term "forgiveness"`},
		{"a drive that may stand, not charged", func(_ any, p map[string]any) { p["stands_of_100"] = 6.0 }, `the penalty term "may stand"`},
		{"equal pulleys, not charged", func(_ any, p map[string]any) {
			s := node(p, "stages", 1)
			node(s, "driver")["groove_floor_diameter_mm"] = node(s, "driven")["groove_floor_diameter_mm"]
		}, `the penalty term "idle stages"`},
		{"no joint for the drum", func(_ any, p map[string]any) { p["output_joint"] = nil }, "the output joint is left out"},
		{"no tackle", func(_ any, p map[string]any) { p["tackle"] = nil }, "the tackle is left out"},
		{"traction of a lift", func(_ any, p map[string]any) { p["traction"] = map[string]any{} }, "traction is left out, or given where there is none"},
		{"the time of the cells kept back", func(_ any, p map[string]any) { node(p, "motor")["battery_min"] = nil }, "the time of the cells is left out"},
		{"the overload kept back", func(_ any, p map[string]any) { p["overload"] = nil }, "what gives way under more load is left out"},
		{"another drum than is asked for", func(tree any, _ map[string]any) { node(tree, "brief", "load")["drum"] = "spool" }, "spool is asked for and not taken"},
		{"an axle cut as long as its rod", func(_ any, p map[string]any) { node(p, "axles", 0)["length_mm"] = 360.0 }, "length of an axle"},
		{"an output axle like the others", func(_ any, p map[string]any) { node(p, "axles", 1)["length_mm"] = 90.0 }, "length of an axle is given as 90 and comes out as 107"},
		{"a hole that is not drilled", func(_ any, p map[string]any) { node(p, "axles", 0)["hole_diameter_mm"] = nil }, "a hole is given and none is drilled"},
		{"lanes counted from the back", func(_ any, p map[string]any) { node(p, "lanes")["stage_lanes"] = []any{0.0, 1.0} }, "are not counted from the front"},
		{"two lanes counted as one", func(_ any, p map[string]any) { node(p, "lanes")["stage_lanes"] = []any{1.0, 1.0} }, "are not counted from the front"},
		{"a drive that takes less of the depth", func(_ any, p map[string]any) { node(p, "lanes")["depth_mm"] = 30.0 }, "depth of the lanes"},
		{"a shaft too long for the depth", func(_ any, p map[string]any) { add(node(p, "motor"), "shaft_length_mm", 30) }, "does not fit in the depth with its shaft"},
		{"a shaft too short for the lane", func(_ any, p map[string]any) { add(node(p, "motor"), "shaft_length_mm", -2) }, "its tip at 32.00 mm, does not reach past the groove"},
		{"a motor where its pulley is", func(_ any, p map[string]any) { add(node(p, "motor"), "body_length_mm", 4) }, "stands where the pulley on its shaft does"},
		{"a shaft that reaches nowhere", func(_ any, p map[string]any) { node(p, "lanes")["shaft_lanes"] = []any{0.0} }, "reaches into [] besides its own lane, and not [0]"},
		{"holes off the grid", func(tree any, _ map[string]any) { node(tree, "brief", "frame")["hole_pitch_mm"] = 4.0 }, "the hole of shaft 2 is off the grid"},
		{"rails elsewhere", func(tree any, _ map[string]any) {
			node(tree, "brief", "frame")["rail_heights_mm"] = []any{68.0, 79.0}
		}, "the hole of shaft 3 is off the grid"},
		{"a way to turn that is none", func(tree any, _ map[string]any) { node(tree, "brief", "direction")["sense"] = "round" }, `a way to turn that is none: "round"`},
		{"parts that are nowhere", func(_ any, p map[string]any) { add(node(p, "uses", 0), "have", 1) }, "are kept in places and there are 11"},
		{"a band said to allow less", func(_ any, p map[string]any) { add(node(p, "stages", 0, "centre_allowed_mm"), "from", 0.1) }, "the rules allow shorter spacings"},
		{"another file", func(tree any, _ map[string]any) { tree.(map[string]any)["kind"] = "findrive plan" }, `it says that it is "findrive plan"`},
		{"a drive held back", func(tree any, _ map[string]any) { node(tree, "brief", "limits")["kept_speed_min"] = 0.9 }, "hold it back too far"},
	} {
		t.Run(c.fault, func(t *testing.T) {
			var tree any
			require.NoError(t, json.Unmarshal(certificateFile(t, "lift.json"), &tree))
			c.plant(tree, node(tree, "proposals", 0))
			data, err := json.Marshal(tree)
			require.NoError(t, err)
			require.Contains(t, strings.Join(Recheck(data), "\n"), c.says)
		})
	}
}

// The wheels of a vehicle stand on the floor of the brief, give or take half a hole, and are
// those that are asked for.
func TestPlantedInAVehicle(t *testing.T) {
	for _, c := range []struct {
		says  string
		plant func(tree any, p map[string]any)
	}{
		{"the wheels do not stand on the floor", func(tree any, _ map[string]any) { node(tree, "brief", "frame")["ground_mm"] = -24.4 }},
		{"the wheels do not stand on the floor", func(tree any, _ map[string]any) { node(tree, "brief", "frame")["ground_mm"] = -25.6 }},
		{"barrow is asked for and not taken", func(tree any, _ map[string]any) { node(tree, "brief", "load")["wheel"] = "barrow" }},
		{"the output joint is left out", func(_ any, p map[string]any) { p["output_joint"] = nil }},
		{"traction is left out", func(_ any, p map[string]any) { p["traction"] = nil }},
		{"the tackle is left out, or given where there is none", func(_ any, p map[string]any) { p["tackle"] = map[string]any{} }},
		{"length of an axle is given as 113", func(_ any, p map[string]any) { node(p, "axles", 1)["length_mm"] = 113.0 }},
	} {
		var tree any
		require.NoError(t, json.Unmarshal(certificateFile(t, "vehicle.json"), &tree))
		c.plant(tree, node(tree, "proposals", 0))
		data, err := json.Marshal(tree)
		require.NoError(t, err)
		require.Contains(t, strings.Join(Recheck(data), "\n"), c.says)
	}
}

// Places of a vehicle's second axle that a search might come to that forgets something of it.
func TestPlantedFreeAxles(t *testing.T) {
	// The motor is at 30, 40, the middle axle at 86, 28 and the output axle at 152, 40.
	for _, c := range []struct {
		fault string
		plant func(tree any, p map[string]any)
		says  string
	}{
		{"none at all", func(_ any, p map[string]any) { p["free_axle"] = nil }, "a vehicle has a second axle"},
		{"a model without wheels that has one", func(_ any, p map[string]any) { p["wheel"] = nil }, "and nothing else has"},
		{"higher than the driven one", func(_ any, p map[string]any) { node(p, "free_axle")["y_mm"] = 90.0 }, "not as high as the driven one"},
		{"off the grid", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 290.5 }, "off the grid of holes"},
		{"no room for the wheels", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 284.0 }, "132.00 mm apart, are too near each other"},
		{"just enough of it", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 285.0 }, ""},
		{"too near the edge", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 296.0 }, "the free axle is too near the edge of the frame"},
		{"beyond it", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = -5.0 }, "the free axle is too near the edge of the frame"},
		{"through a pulley", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 95.0 }, "the free axle are"},
		{"in a band's way", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 96.0 }, "the band of stage 2 passes the free axle"},
		{"within a band", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 53.0 }, "the band of stage 1 goes round the free axle"},
		{"in the motor", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 25.0 }, "the free axle touches the motor"},
		{"a file from before", func(_ any, p map[string]any) { delete(p, "free_axle") }, ""},
	} {
		t.Run(c.fault, func(t *testing.T) {
			var tree any
			require.NoError(t, json.Unmarshal(certificateFile(t, "vehicle.json"), &tree))
			c.plant(tree, node(tree, "proposals", 0))
			data, err := json.Marshal(tree)
			require.NoError(t, err)
			found := strings.Join(Recheck(data), "\n")
			require.Contains(t, found, c.says)
			require.Equal(t, c.says == "", found == "", found)
		})
	}
}

func TestTheSchemaBeforeIsTold(t *testing.T) {
	require.Contains(t, Recheck([]byte(`{"schema": 1, "status": "proved best"}`))[0], "search again")
}
