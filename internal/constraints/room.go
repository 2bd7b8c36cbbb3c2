package constraints

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// LanesFit is the depth rule: the lanes of all stages, with the motor's body,
// must fit between the frame's sides.
func LanesFit(depth units.Millimetres, stages, plans int) *Refusal {
	if plans > 0 {
		return nil
	}
	return refuse(Depth, 1, func() string {
		if stages == 1 {
			return fmt.Sprintf("the motor and the pulleys do not fit one behind the other in %.0f mm of depth", depth)
		}
		return fmt.Sprintf("the motor and the pulleys of %d stages do not fit one behind the other in %.0f mm of depth", stages, depth)
	})
}

// RoomInFrame is the placement rule, for when the search over every position on
// the hole grid has found none.
func RoomInFrame(b *brief.Brief) *Refusal {
	return refuse(Room, 1, func() string { return noRoom(b) })
}

func noRoom(b *brief.Brief) string {
	with := ""
	if b.Model == brief.Vehicle {
		with = ", and leave room for a second axle with wheels"
	}
	return fmt.Sprintf("a frame of %.0f by %.0f mm has no holes that keep these pulleys, bands and axles clear of each other at spacings the bands allow%s", b.Frame.Length, b.Frame.Height, with)
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

// HoleMayStray is how far the running hole of an axle may be out of place before it leaves less
// than half of Limits.HoleWall to the edge of the wood: across the strip that it is drilled in, or
// from any edge of a side of sheet, which is as large as the frame. At is from the frame's lower
// left corner. It is without end where nothing is drilled.
func HoleMayStray(b *brief.Brief, atX, atY, axle units.Millimetres) units.Millimetres {
	if !b.Making.DrillFrame {
		return units.Millimetres(math.Inf(1))
	}
	edge := min(atX, atY, b.Frame.Length-atX, b.Frame.Height-atY)
	if b.Frame.Strip > 0 {
		edge = b.Frame.Strip / 2
	}
	return max(0, edge-(axle+b.Limits.RunningFit+b.Limits.HoleWall)/2)
}

// HoleInStrip is the hole-wall rule for frames with rails: the axle's running
// hole, drilled through the middle of the strip, must leave Limits.HoleWall of
// it above and below (for the figures see HoleInset). It has nothing to say of
// sheet sides, nor where nothing is drilled.
func HoleInStrip(b *brief.Brief, axle *parts.AxleStock) *Refusal {
	strip := b.Frame.Strip
	need := 2 * HoleInset(b.Limits, b.Making, axle.Diameter)
	if len(b.Frame.Rails) == 0 || strip >= need {
		return nil
	}
	return refuse(HoleWall, float64(need/strip)-1, func() string {
		hole := axle.Diameter + b.Limits.RunningFit
		if hole >= strip {
			return fmt.Sprintf("axle %s needs a %.3g mm hole, and the strip is only %.3g mm", axle.Name, hole, strip)
		}
		return fmt.Sprintf("the %.3g mm hole for axle %s leaves %.3g mm of the %.3g mm strip above and below, and %.3g mm are asked",
			hole, axle.Name, (strip-hole)/2, strip, b.Limits.HoleWall)
	})
}
