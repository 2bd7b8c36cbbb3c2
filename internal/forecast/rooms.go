// Package forecast says how fast the models of a class will turn, of which no two are
// alike: motors of one packet differ, cells are fresh or tired, a band pulls more or
// less, an axle runs stiff. A drive is worked out once, on the likely day; what it does
// in each of a hundred classrooms follows from that to first order. Range, share and
// rank all come from the same hundred rooms, and the same rooms serve every drive, so
// that two drives are told apart by what they are and not by luck.
//
//	rooms.go   the hundred classrooms
//	motor.go   a motor and its cells in one of them
//	class.go   what a motor, its cells and the load do in each of them
//	work.go    a drive in them: its range, and in how many it works
//	bound.go   in how many any of several drives can work at most
//	chart.go   the same in small steps of what drives differ in
//	each.go    the classrooms one by one; table.go: and as a table
package forecast

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"findrive/internal/drive"
)

// Rooms is how many classrooms there are. A hundred make shares whole per cent.
const Rooms = 100

// room is what is different in one classroom: in what share of all rooms there is less of
// each thing. Most are so far through their range, from 0 at the low end to 1 at the high;
// the voltage of a cell, a spacing and what is cut by hand are drawn from a triangle. The ranges are those of
// drive's spreads.go.
type room struct {
	open       float64 // voltage of a cell
	resistance float64 // of the cells
	free       float64 // speed of the motor at its rated voltage
	stall      float64 // torque
	idle       float64 // current of the motor without load
	pull       float64 // of every band
	grip       float64 // coefficient of friction in the grooves
	bearing    float64 // coefficient of friction in the bearings
	load       float64 // what is carried
	rolling    float64 // resistance of wheels on the floor
	// spacing is by how much the holes of each stage, the motor's first, are too far
	// apart or too near.
	spacing [drive.MaxStages]float64
	// cut is by how much the velocity ratio is out where pulleys are cut of discs.
	cut float64
}

const (
	// Every room is a Latin square of these: each thing takes each hundredth of its
	// range once (McKay, Beckman and Conover 1979), in orders drawn from a generator
	// with this seed, for which no two things go together by chance by more than a
	// rank correlation of 0.15.
	seed = 719751
)

// rooms are the classrooms, spreads still to be applied: each thing from 0 to 1. They are
// always the same, so that they are drawn once.
var rooms = sync.OnceValue(func() *[Rooms]room {
	r := rand.New(rand.NewPCG(seed, seed))
	ranks := func() []float64 {
		out := make([]float64, Rooms)
		for i, at := range r.Perm(Rooms) {
			out[i] = (float64(at) + 0.5) / Rooms
		}
		return out
	}
	var all [Rooms]room
	columns := []func(*room) *float64{
		func(r *room) *float64 { return &r.open }, func(r *room) *float64 { return &r.resistance },
		func(r *room) *float64 { return &r.free }, func(r *room) *float64 { return &r.stall },
		func(r *room) *float64 { return &r.idle }, func(r *room) *float64 { return &r.pull },
		func(r *room) *float64 { return &r.grip }, func(r *room) *float64 { return &r.bearing },
		func(r *room) *float64 { return &r.load }, func(r *room) *float64 { return &r.rolling },
	}
	for i := range drive.MaxStages {
		columns = append(columns, func(r *room) *float64 { return &r.spacing[i] })
	}
	columns = append(columns, func(r *room) *float64 { return &r.cut })
	for _, column := range columns {
		for i, v := range ranks() {
			*column(&all[i]) = v
		}
	}
	tie(&all)
	return &all
})

// tie gives stall torques their rank correlation with free speeds, keeping their ranks
// (Iman and Conover 1982).
func tie(all *[Rooms]room) {
	const magnet = drive.MagnetCorrelation
	own := math.Sqrt(1 - magnet*magnet)
	mixed := make([]float64, Rooms)
	order := make([]int, Rooms)
	for i := range all {
		mixed[i], order[i] = magnet*(all[i].free-0.5)+own*(all[i].stall-0.5), i
	}
	slices.SortFunc(order, func(a, b int) int {
		if mixed[a] < mixed[b] {
			return -1
		}
		return 1
	})
	for rank, i := range order {
		all[i].stall = (float64(rank) + 0.5) / Rooms
	}
}
