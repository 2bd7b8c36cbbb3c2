package mechanics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/units"
)

// simulated is one row of the dynamic simulation, by column name.
type simulated map[string]string

func (r simulated) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, column)
	return v
}

func readSimulation(t *testing.T) []simulated {
	t.Helper()
	file, err := os.Open("../../testdata/mechanics/band_simulation.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	var out []simulated
	for _, row := range rows[1:] {
		r := simulated{}
		for i, name := range rows[0] {
			r[name] = row[i]
		}
		out = append(out, r)
	}
	return out
}

// stage sets up the simulated drive. The simulation's band is a row of points,
// so that pitch and pulley diameter are the same: here a band of the same
// section with next to no thickness.
func (r simulated) stage(t *testing.T) (Stage, Fitted) {
	t.Helper()
	const thin = 1e-9
	s := Stage{
		DriverFloor: units.Millimetres(r.number(t, "driver_d_mm")),
		DrivenFloor: units.Millimetres(r.number(t, "driven_d_mm")),
		Friction:    r.number(t, "friction"),
		Crossed:     r["crossed"] == "1",
		Band: Loop{
			Width:     units.Millimetres(r.number(t, "band_width_mm") * r.number(t, "band_thickness_mm") / thin),
			Thickness: thin, Strands: 1, PullFactor: 1, Rubber: DefaultRubber(),
		},
	}
	centre := units.Millimetres(r.number(t, "centre_distance_mm"))
	path := Belt{Driver: s.DriverFloor, Driven: s.DrivenFloor, Centre: centre, Crossed: s.Crossed}.Length()
	s.Band.Rest = path / units.Millimetres(r.number(t, "stretch_fitted"))
	f, err := s.Fit(centre)
	require.NoError(t, err)
	return s, f
}

// A dynamic simulation of the band (lumped masses and Coulomb friction, no belt
// formula in it) gives tensions, speed loss and grip of loaded stages.
func TestLoadAgreesWithSimulation(t *testing.T) {
	driving := 0
	for _, r := range readSimulation(t) {
		s, f := r.stage(t)
		name := r["case"] + " " + r["load_share_of_grip"]
		switch r["state"] {
		case "idle":
			l, ok := s.Load(f, 0)
			require.True(t, ok, name)
			assert.InEpsilon(t, r.number(t, "sim_tight_N"), float64(l.Tight), 0.002, name)
			assert.Equal(t, 1.0, l.SpeedFactor, name)
		case "driving":
			driving++
			te := units.Newtons(2 * r.number(t, "sim_torque_driver_Nmm") / r.number(t, "driver_d_mm"))
			l, ok := s.Load(f, te)
			require.True(t, ok, name)
			assert.InEpsilon(t, r.number(t, "sim_tight_N"), float64(l.Tight), 0.01, name)
			assert.InEpsilon(t, r.number(t, "sim_slack_N"), float64(l.Slack), 0.01, name)
			assert.InEpsilon(t, r.number(t, "sim_speed_loss_fraction"), 1-l.SpeedFactor, 0.05, name)
			assert.InEpsilon(t, r.number(t, "sim_stretch_tight"), l.TightStretch, 0.01, name)
			assert.InEpsilon(t, r.number(t, "sim_stretch_slack"), l.SlackStretch, 0.01, name)
			// The pulls on the axles, as vectors.
			d := s.Belt(f).Strands(1)
			assert.InEpsilon(t, r.number(t, "sim_hub_driver_N"), float64(HubLoad(l.Tight, l.Slack, d.DriverTight, d.DriverSlack).Size()), 0.01, name)
			assert.InEpsilon(t, r.number(t, "sim_hub_driven_N"), float64(HubLoad(l.Tight, l.Slack, d.DrivenTight, d.DrivenSlack).Size()), 0.01, name)
		case "slipping":
			te := units.Newtons(1.03 * r.number(t, "sim_grip_Te_N"))
			_, ok := s.Load(f, te)
			assert.False(t, ok, name)
		case "grip run (speed held)":
			te, tight := s.Grip(f)
			assert.InEpsilon(t, r.number(t, "sim_grip_Te_N"), float64(te), 0.01, name)
			assert.InEpsilon(t, r.number(t, "sim_stretch_tight"), tight, 0.01, name)
		default:
			t.Fatalf("unknown state %q", r["state"])
		}
	}
	assert.Equal(t, 54, driving)
}

// The usual short cut T1 + T2 = 2 T0 is off where these forms are not: it would
// promise more grip than a stage has whose larger pulley drives.
func TestShortCutOverstatesGripOfStepUp(t *testing.T) {
	for _, r := range readSimulation(t) {
		if r["case"] != "m_40-8_up" || r["state"] != "grip run (speed held)" {
			continue
		}
		s, f := r.stage(t)
		driver, driven := s.FrictionExponents(f)
		ratio := math.Exp(min(driver, driven))
		shortCut := 2 * float64(f.Pull) * (ratio - 1) / (ratio + 1)
		te, _ := s.Grip(f)
		assert.Greater(t, shortCut, 1.03*float64(te))
		return
	}
	t.Fatal("no such drive")
}
