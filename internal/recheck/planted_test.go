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

// Places of a vehicle's second axle that a search might come to that forgets something of it.
func TestPlantedFreeAxles(t *testing.T) {
	// The motor is at 30, 80, the middle axle at 86, 68 and the output axle at 152, 80.
	for _, c := range []struct {
		fault string
		plant func(tree any, p map[string]any)
		says  string
	}{
		{"none at all", func(_ any, p map[string]any) { p["free_axle"] = nil }, "a vehicle has a second axle"},
		{"a model without wheels that has one", func(_ any, p map[string]any) { p["wheel"] = nil }, "and nothing else has"},
		{"higher than the driven one", func(_ any, p map[string]any) { node(p, "free_axle")["y_mm"] = 90.0 }, "not as high as the driven one"},
		{"off the grid", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 290.5 }, "off the grid of holes"},
		{"no room for the wheels", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 204.0 }, "52.00 mm apart, are too near each other"},
		{"just enough of it", func(_ any, p map[string]any) { node(p, "free_axle")["x_mm"] = 205.0 }, ""},
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
