package forecast

import "findrive/internal/drive"

// Ranks are the classrooms as a table, for whoever wants to put a drive into them
// without this program: of each thing its rank in every room, 0 the lowest of all and
// Rooms-1 the highest. A thing of rank k is (k + 1/2)/Rooms of the way through its range;
// the voltage of a cell, a spacing and a ratio are where so much of a triangle lies below them.
type Ranks struct {
	CellVoltage, CellResistance         [Rooms]int
	FreeSpeed, StallTorque, FreeCurrent [Rooms]int // of the motor
	BandPull, BandFriction              [Rooms]int
	AxleFriction                        [Rooms]int // and a ride's pivot
	Load, Rolling                       [Rooms]int
	Spacing                             [drive.MaxStages][Rooms]int // of each stage, the motor's first
	Cut                                 [Rooms]int                  // velocity ratio, where discs are cut by hand
}

// RanksOfRooms is the table of the classrooms.
func RanksOfRooms() *Ranks {
	rank := func(share float64) int { return int(share * Rooms) }
	out := &Ranks{}
	for i, r := range rooms() {
		out.CellVoltage[i], out.CellResistance[i] = rank(r.open), rank(r.resistance)
		out.FreeSpeed[i], out.StallTorque[i], out.FreeCurrent[i] = rank(r.free), rank(r.stall), rank(r.idle)
		out.BandPull[i], out.BandFriction[i], out.AxleFriction[i] = rank(r.pull), rank(r.grip), rank(r.bearing)
		out.Cut[i] = rank(r.cut)
		out.Load[i], out.Rolling[i] = rank(r.load), rank(r.rolling)
		for k := range r.spacing {
			out.Spacing[k][i] = rank(r.spacing[k])
		}
	}
	return out
}
