package forecast

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The table says the same as the rooms, and each thing has every rank once.
func TestTableIsTheRooms(t *testing.T) {
	table, all := RanksOfRooms(), rooms()
	for _, column := range []struct {
		name  string
		ranks [Rooms]int
		of    func(*room) float64
	}{
		{"cell voltage", table.CellVoltage, func(r *room) float64 { return r.open }},
		{"cell resistance", table.CellResistance, func(r *room) float64 { return r.resistance }},
		{"free speed", table.FreeSpeed, func(r *room) float64 { return r.free }},
		{"stall torque", table.StallTorque, func(r *room) float64 { return r.stall }},
		{"free current", table.FreeCurrent, func(r *room) float64 { return r.idle }},
		{"band pull", table.BandPull, func(r *room) float64 { return r.pull }},
		{"band friction", table.BandFriction, func(r *room) float64 { return r.grip }},
		{"axle friction", table.AxleFriction, func(r *room) float64 { return r.bearing }},
		{"load", table.Load, func(r *room) float64 { return r.load }},
		{"rolling", table.Rolling, func(r *room) float64 { return r.rolling }},
		{"velocity ratio", table.Cut, func(r *room) float64 { return r.cut }},
	} {
		sorted := slices.Sorted(slices.Values(column.ranks[:]))
		for k := range Rooms {
			require.Equal(t, k, sorted[k], column.name)
			require.InDelta(t, column.of(&all[k]), (float64(column.ranks[k])+0.5)/Rooms, 1e-12, column.name)
		}
	}
}
