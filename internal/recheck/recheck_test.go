package recheck

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The certificates are those that the report's tests keep; only their bytes
// are shared.
func certificateFile(t testing.TB, name string) []byte {
	data, err := os.ReadFile("../report/testdata/" + name)
	require.NoError(t, err)
	return data
}

func TestGoodCertificatesHold(t *testing.T) {
	for _, name := range []string{"lift.json", "vehicle.json", "none.json"} {
		require.Empty(t, Recheck(certificateFile(t, name)), name)
	}
}

// told are the keys that are only told, and claim nothing that can be checked
// from the certificate alone.
var told = []string{
	".cells.chemistry",
	".motor.contradiction", ".motor.mass_g", ".motor.sheet_stall_current_A", ".output_joint.sleeve.length_mm", ".penalty.why", ".positions.shaft", ".free_axle.shaft",
	".stages.band.size", ".stages.driver.material", ".stages.driven.material",
	".stages.next_bands.longer", ".stages.next_bands.name", ".stages.next_bands.refusal", ".stages.next_bands.speed_rpm", ".stages.next_bands.stretch",
	".uses.places.count", ".uses.places.location", ".uses.places.name", ".stages.other_bands.name", ".stages.other_bands.speed_rpm", ".stages.other_bands.stretch", ".stages.other_bands.use", ".warnings",
}

// roomy are the keys that enter a rule only as one side of a limit, or not at
// all in these drives, so that a small change need not break anything.
var roomy = []string{
	".motor.packet_least_V", ".motor.packet_most_V",
	"constants.measured_cell_uncertainty_share", "constants.density_kg_per_m3.aluminium", "constants.density_kg_per_m3.brass", "constants.density_kg_per_m3.card", "constants.density_kg_per_m3.rubber", "constants.density_kg_per_m3.steel",
	".axles.material", ".axles.length_mm", ".axles.rod_length_mm", ".uses.places.length_mm", ".drum.can_drill", ".wheel.can_drill", ".forgiveness_mm",
	".lanes.body_front_mm", ".lanes.depth_mm", ".motor.body_height_mm", ".motor.body_length_mm", ".motor.body_width_mm", ".motor.shaft_length_mm",
	".output_joint.sleeve.outer_diameter_mm", ".stages.band.stretch_limit", ".stages.band.calibrated", ".stages.centre_allowed_mm.from",
	".stages.driver.can_drill", ".stages.driver.groove_width_mm", ".stages.driver.outside_diameter_mm", ".stages.driver.width_mm",
	".stages.driven.can_drill", ".stages.driven.groove_width_mm", ".stages.driven.outside_diameter_mm", ".stages.driven.width_mm",
	"constants.band_fit_step", "constants.motor_load_step_share", "constants.counted_motor_uncertainty_share",
	"constants.friction_band_in_groove.low", "constants.friction_band_in_groove.high", // they barely move the speed
	"constants.friction_motor_bearing.low", "constants.friction_motor_bearing.high", "constants.edge_hole_error_mm",
	"constants.measured_cell_uncertainty_share", "constants.weighed_band_uncertainty_share", // nothing here is measured throughout
	"constants.density_kg_per_m3.aluminium", "constants.density_kg_per_m3.brass", "constants.density_kg_per_m3.card", "constants.density_kg_per_m3.rubber", "constants.density_kg_per_m3.steel",
	"constants.friction_metal_axle.low", "constants.friction_metal_axle.likely", "constants.friction_metal_axle.high",
	"constants.friction_pivot.low", "constants.friction_pivot.likely", "constants.friction_pivot.high",
	"constants.rolling_resistance.low", "constants.rolling_resistance.likely", "constants.rolling_resistance.high",
}

// TestEveryClaimIsChecked changes every figure and word of a good certificate by
// itself, by about a hundredth, and wants each change to be noticed.
func TestEveryClaimIsChecked(t *testing.T) {
	for _, c := range []struct {
		file string
		keys []string // of the proposal; all if none
	}{
		{"lift.json", nil},
		{"vehicle.json", []string{"wheel", "traction", "travel_m_per_s", "demand", "uses", "output_joint", "free_axle"}},
		{"../../views/testdata/buggy.json", []string{"one_cell_less", "overload"}},
	} {
		var tree map[string]any
		require.NoError(t, json.Unmarshal(certificateFile(t, c.file), &tree))
		tree["proposals"] = tree["proposals"].([]any)[:1]
		changed := 0
		check := func(path string) {
			changed++
			data, err := json.Marshal(tree)
			require.NoError(t, err)
			if len(Recheck(data)) == 0 {
				require.True(t, slices.Contains(told, path) || slices.Contains(roomy, path), "%s: a change of %s goes unnoticed", c.file, path)
			}
		}
		proposal := tree["proposals"].([]any)[0].(map[string]any)
		if c.keys == nil {
			tamper(proposal, "", check)
			tamper(tree["constants"], "constants", check)
			require.Greater(t, changed, 300)
		}
		for _, key := range c.keys {
			tamper(proposal[key], "."+key, check)
		}
	}
}

// tamper changes every leaf below a node by itself, calls check and puts it back.
func tamper(node any, path string, check func(path string)) {
	leaf := func(v any, path string, put func(any)) {
		switch v := v.(type) {
		case float64:
			put(v*1.01 + 0.013)
		case string:
			put(v + "x")
		case bool:
			put(!v)
		default:
			tamper(v, path, check)
			return
		}
		check(path)
		put(v)
	}
	switch node := node.(type) {
	case map[string]any:
		for key, v := range node {
			leaf(v, path+"."+key, func(w any) { node[key] = w })
		}
	case []any:
		for i, v := range node {
			leaf(v, path, func(w any) { node[i] = w })
		}
	}
}

// TestBrokenRulesAreNoticed moves limits past what a good drive does.
func TestBrokenRulesAreNoticed(t *testing.T) {
	for _, c := range []struct {
		key   string
		value float64
		says  string
	}{
		{"fitted_stretch_max", 1.2, "the fitted stretch is outside the limits"},
		{"arc_min_deg", 150, "the arc of contact is below the limit"},
		{"grip_min", 50, "the grip is below the limit when running"},
		{"grip_start_min", 50, "the grip is below the limit when starting"},
		{"running_stretch_max", 1.3, "the tight side is stretched beyond the limit"},
		{"motor_start_min", 20, "the motor has too little in hand to start"},
		{"motor_run_min", 20, "the motor has too little in hand to run"},
		{"clearance_mm", 30, "apart, and"},
		{"lane_gap_mm", 9, "the lanes of stages 1 and 2"},
		{"hole_wall_mm", 90, "too near the edge"},
		{"section_ratio", 20, "too small for so thick a band"},
	} {
		var tree map[string]any
		require.NoError(t, json.Unmarshal(certificateFile(t, "lift.json"), &tree))
		tree["brief"].(map[string]any)["limits"].(map[string]any)[c.key] = c.value
		data, err := json.Marshal(tree)
		require.NoError(t, err)
		found := false
		for _, line := range Recheck(data) {
			found = found || strings.Contains(line, c.says)
		}
		require.True(t, found, "%s = %v: %v", c.key, c.value, Recheck(data))
	}
}

func TestNotACertificate(t *testing.T) {
	for _, data := range []string{"", "[]", "{", `{"schema": 3}`, `{"schema": 2, "status": "best"}`, `{"schema": 2, "status": "proved best"}`,
		`{"schema": 2, "status": "none possible", "proposals": [{}]}`} {
		require.NotEmpty(t, Recheck([]byte(data)), data)
	}
}

// FuzzRecheck holds Recheck to coming back, whatever it is given.
func FuzzRecheck(f *testing.F) {
	f.Add(certificateFile(f, "none.json"))
	var tree map[string]any
	require.NoError(f, json.Unmarshal(certificateFile(f, "lift.json"), &tree))
	tree["proposals"] = tree["proposals"].([]any)[:1]
	small, err := json.Marshal(tree)
	require.NoError(f, err)
	f.Add(small)
	f.Fuzz(func(t *testing.T, data []byte) { Recheck(data) })
}
