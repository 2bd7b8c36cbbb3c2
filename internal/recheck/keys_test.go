package recheck

import (
	"encoding/json"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// free are the keys that a certificate may say anything of, by why that is so.
var free = map[string][]string{
	"words and names for readers, where parts lie, and spacers for who packs out the axles": {".brief.name", ".brief.cupboard", ".brief.wanted_words", ".brief.load.surface",
		".fingerprints", ".fingerprints.brief", ".fingerprints.cupboard", ".discs.sheets.location", ".proposals.cells.chemistry",
		".proposals.motor.contradiction", ".proposals.penalty.why", ".proposals.positions.shaft", ".proposals.stages.band.size",
		".proposals.stages.driven.also", ".proposals.stages.driver.also", ".proposals.uses.also", ".proposals.uses.places.location",
		".proposals.uses.places.name", ".proposals.warnings",
		".proposals.free_axle.shaft", ".spacers", ".spacers.name", ".spacers.location", ".spacers.bore_mm", ".spacers.outside_mm",
		".spacers.thickness_mm", ".spacers.count",
		".proposals.stages.driven.made.core.cutter", ".proposals.stages.driven.made.core.way", ".proposals.stages.driven.made.flange.cutter",
		".proposals.stages.driven.made.flange.way"},
	"no rule and no sum asks for it": {".brief.limits.arc_warn_deg", ".brief.limits.ideal_stretch", ".brief.load.load_radius_mm",
		".brief.load.tackle_parts", ".brief.load.tackle_efficiency", ".brief.weights.another_drive", ".proposals.motor.mass_g",
		".proposals.motor.sheet_stall_current_A", ".proposals.output_joint.sleeve.length_mm", ".proposals.stages.driven.made.off_centre_mm",
		".constants.friction_motor_bearing.low", ".constants.friction_motor_bearing.high"},
	"of the search, not of the drive, or of bands that are not written down": {".counts", ".counts.bounded", ".counts.finished", ".counts.improved",
		".counts.nodes", ".counts.refused", ".refusals", ".refusals.count", ".refusals.miss_share", ".refusals.nearest", ".refusals.rule",
		".proposals.stages.next_bands", ".proposals.stages.next_bands.longer", ".proposals.stages.next_bands.name",
		".proposals.stages.next_bands.refusal", ".proposals.stages.next_bands.speed_rpm", ".proposals.stages.next_bands.stretch",
		".proposals.stages.other_bands", ".proposals.stages.other_bands.name", ".proposals.stages.other_bands.speed_rpm",
		".proposals.stages.other_bands.stretch", ".proposals.stages.other_bands.use"},
	"nothing in these drives asks for it": {".brief.making.drill_out", ".brief.weights.drill_out",
		".brief.weights.glue", ".brief.weights.idle_stage", ".brief.weights.may_stand", ".constants.density_kg_per_m3.aluminium",
		".constants.density_kg_per_m3.brass", ".constants.density_kg_per_m3.rubber", ".constants.density_kg_per_m3.steel",
		".constants.friction_metal_axle", ".constants.friction_metal_axle.high", ".constants.friction_metal_axle.likely",
		".constants.friction_metal_axle.low", ".constants.measured_cell_uncertainty_share", ".constants.weighed_band_uncertainty_share",
		".discs.sheets.count", ".discs.sheets.length_mm", ".proposals.motor.packet_least_V",
		".proposals.axles.assumed", ".proposals.drum.assumed", ".proposals.motor.assumed", ".proposals.stages.driven.assumed", ".proposals.wheel.assumed",
		".proposals.drum.can_drill", ".proposals.stages.driven.can_drill", ".proposals.stages.driver.can_drill", ".proposals.wheel.can_drill"},
}

// otherWords are words that are as good in their places.
var otherWords = map[string]string{
	"clockwise": "anticlockwise", "anticlockwise": "clockwise", "front": "back", "down": "up", "wood": "steel", "plastic": "steel", "card": "steel",
	"single": "looped twice", "push fit": "sleeve", "in line": "across", "aslant": "across", "across": "in line", "folded back": "in line", "fresh": "used", "used": "fresh",
	"lift": "vehicle", "vehicle": "lift",
}

// TestEveryKeyIsHeld changes each figure, word and list of a good certificate by itself, for every
// model, with rails, a floor and discs: a little, much, to another word that may stand
// there, and takes it away. Of each key some change must be noticed in some certificate, but
// for those that are free.
func TestEveryKeyIsHeld(t *testing.T) {
	noticed, seen, may := map[string]bool{}, map[string]int{}, map[string]bool{}
	for _, keys := range free {
		for _, key := range keys {
			may[key] = true
		}
	}
	more := map[string][]any{".proposals.lanes.shaft_lanes": {[]any{0.0}}} // of which there are none
	for _, file := range []string{"lift.json", "../../views/testdata/buggy.json", "../../recheck/testdata/discs.json", "../../views/testdata/carousel.json",
		"../../views/testdata/big-wheel.json", "../../views/testdata/crane.json", "../../views/testdata/one-stage.json", "vehicle.json"} {
		var tree map[string]any
		require.NoError(t, json.Unmarshal(certificateFile(t, file), &tree))
		require.Empty(t, Recheck(certificateFile(t, file)), file)
		if file != "lift.json" { // whose second drive has a crossed band
			tree["proposals"] = tree["proposals"].([]any)[:1]
		}
		each(tree, "", func(path string, is any, put func(any)) {
			if seen[path]++; may[path] && seen[path] > 4 {
				return // tried often enough
			}
			for _, other := range append(others(is), more[path]...) {
				if noticed[path] {
					break
				}
				put(other)
				data, err := json.Marshal(tree)
				require.NoError(t, err)
				noticed[path] = len(Recheck(data)) > 0
			}
			put(is)
		})
	}
	for path := range seen {
		assert.NotEqual(t, noticed[path], may[path], "%s: noticed and free, or neither", path)
	}
	for path := range may {
		assert.Positive(t, seen[path], "%s: there is no such key", path)
	}
	assert.Greater(t, len(seen), 250)
}

// others are what might stand in the place of a value.
func others(is any) []any {
	switch is := is.(type) {
	case float64:
		return []any{is*1.03 + 0.013, is*0.97 - 0.013, is + 1, is - 1, 4*is + 1, is / 4, is + 1000}
	case string:
		if is == "either" {
			return []any{"clockwise", "anticlockwise"}
		}
		if other, known := otherWords[is]; known {
			return []any{other}
		}
		return []any{is + "x"}
	case bool:
		return []any{!is}
	case nil:
		return []any{1.0, map[string]any{}}
	case []any:
		if len(is) > 0 {
			return []any{is[1:]}
		}
	}
	return []any{nil}
}

// each goes through all values below a node, lists and objects too.
func each(node any, path string, look func(path string, is any, put func(any))) {
	switch node := node.(type) {
	case map[string]any:
		for _, key := range slices.Sorted(maps.Keys(node)) {
			at := path + "." + key
			look(at, node[key], func(v any) { node[key] = v })
			each(node[key], at, look)
		}
	case []any:
		for i := range node {
			if _, list := node[i].(map[string]any); !list {
				look(path, node[i], func(v any) { node[i] = v })
			}
			each(node[i], path, look)
		}
	}
}
