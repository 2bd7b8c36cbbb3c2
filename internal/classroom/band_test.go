package classroom

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The dynamic simulation of a band as a row of points, without any belt formula inside
// (its header says how exact it is: 0.2 to 0.5 % for pulls, 1 to 1.5 % of the loss of
// speed). It agrees here as it does with the engine.
func TestBandMovesAsSimulated(t *testing.T) {
	file, err := os.Open("../../testdata/mechanics/band_simulation.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	loads, grips := 0, 0
	for _, row := range rows[1:] {
		number := func(column string) float64 {
			v, err := strconv.ParseFloat(row[slices.Index(rows[0], column)], 64)
			require.NoError(t, err, column)
			return v
		}
		state := row[slices.Index(rows[0], "state")]
		if state != "driving" && state != "grip run (speed held)" {
			continue
		}
		d, D, c := number("driver_d_mm"), number("driven_d_mm"), number("centre_distance_mm")
		crossed := number("crossed") == 1
		// A row of points has no thickness, and lies at the pulleys' own diameters.
		length := put(d, D, 0, 0, 1, 0, 1, 0.5, c, crossed)
		loop := 2*length.span + length.r1*length.arc1 + length.r2*length.arc2
		b := put(d, D, 0, 0, loop/number("stretch_fitted"), 0, number("band_width_mm")*number("band_thickness_mm"), number("friction"), c, crossed)
		require.True(t, b.fits)
		if state != "driving" {
			grips++
			assert.InEpsilon(t, number("sim_grip_Te_N"), b.most(), 0.01, row[0])
			continue
		}
		loads++
		tight, slack, s1, s2 := b.pulls(2 * number("sim_torque_driver_Nmm") / d)
		assert.InEpsilon(t, number("sim_tight_N"), tight, 0.01, row[0])
		assert.InEpsilon(t, number("sim_slack_N"), slack, 0.01, row[0])
		assert.InEpsilon(t, number("sim_speed_loss_fraction"), 1-s2/s1, 0.05, row[0])
		pull := math.Hypot((tight+slack)*math.Cos(b.lean), (tight-slack)*math.Sin(b.lean))
		assert.InEpsilon(t, number("sim_hub_driver_N"), pull, 0.01, row[0])
	}
	require.Equal(t, 54, loads)
	require.Greater(t, grips, 8)
}

// The closed form of the band's memory is the integral of dlnP/s, added up here.
func TestMemoryIsTheIntegral(t *testing.T) {
	for _, x := range [][2]float64{{1.05, 1.1}, {1.1, 1.5}, {1.3, 2}} {
		const steps = 20_000
		sum, low, high := 0.0, math.Log(stress(x[0])), math.Log(stress(x[1]))
		for i := range steps {
			sum += (high - low) / steps / stretched(math.Exp(low+(high-low)*(float64(i)+0.5)/steps))
		}
		assert.InEpsilon(t, sum, memory(x[1])-memory(x[0]), 1e-7)
	}
}
