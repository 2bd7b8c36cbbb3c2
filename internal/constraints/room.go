package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/units"
)

// LanesFit is the depth rule: the lanes of all stages, with the motor's body,
// must fit between the frame's sides.
func LanesFit(depth units.Millimetres, stages, plans int) *Refusal {
	if plans > 0 {
		return nil
	}
	return refuse(Depth, 1, func() string {
		return fmt.Sprintf("%d stages and the motor do not fit side by side in %.0f mm of depth", stages, depth)
	})
}

// RoomInFrame is the placement rule, for when the search over every position on
// the hole grid has found none.
func RoomInFrame(length, height units.Millimetres) *Refusal {
	return refuse(Room, 1, func() string {
		return fmt.Sprintf("no holes in a frame of %.0f by %.0f mm keep these pulleys, bands and axles apart at spacings the bands allow", length, height)
	})
}

// HoleInset is the hole-wall rule: how far inside the frame's edge the centre
// of an axle must be so that Limits.HoleWall of material stays round its
// running hole. 2 mm by default: a 10 mm strip with a 5.5 mm hole keeps 2.25 mm
// and holds, an 8 mm strip keeps 1.25 mm and splits (common practice). An axle
// carried in clips or straws needs no hole.
func HoleInset(l brief.Limits, m brief.Making, axle units.Millimetres) units.Millimetres {
	if !m.DrillFrame {
		return 0
	}
	return (axle+l.RunningFit)/2 + l.HoleWall
}
