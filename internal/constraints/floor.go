package constraints

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// ClearOfFloor is the floor rule for what sits on the wheels' own axle: it stays
// Limits.Clearance above the floor, on which the wheels stand (geometry). Where
// the brief says how high the floor is, the axle may be half a hole pitch off
// the height at which the wheels stand on it exactly. Whatever else is in the
// frame is held clear of the floor by its placement.
func ClearOfFloor(b *brief.Brief, wheel *parts.Wheel, pulley *parts.Pulley) *Refusal {
	room := wheel.Diameter - 2*b.Limits.Clearance
	if b.Frame.HasGround {
		room += b.Frame.Pitch
	}
	if pulley.Outside <= room {
		return nil
	}
	return refuse(Floor, float64(pulley.Outside-room)/float64(wheel.Diameter), func() string {
		return fmt.Sprintf("%s, %.3g mm across, would drag on the floor: it is on the axle of wheel %s, %.3g mm across", pulley.Name, pulley.Outside, wheel.Name, wheel.Diameter)
	})
}

// WheelsStand is the rule that a wheel's axle, at the height at which the wheels
// stand on the floor of the brief, give or take half a hole pitch, has a place in
// the output zone and, where there are rails, on one of them (geometry). It has
// nothing to say where the brief leaves the floor open.
func WheelsStand(b *brief.Brief, wheel *parts.Wheel) *Refusal {
	f := &b.Frame
	if !f.HasGround {
		return nil
	}
	height := f.Ground + wheel.Diameter/2
	miss := max(f.OutputZone.Y0-height, height-f.OutputZone.Y1, 0)
	where := fmt.Sprintf("its place is from %.3g to %.3g mm", f.OutputZone.Y0, f.OutputZone.Y1)
	if len(f.Rails) > 0 {
		nearest := units.Millimetres(math.Inf(1))
		heights := make([]string, len(f.Rails))
		for i, rail := range f.Rails {
			heights[i] = fmt.Sprintf("%.3g", rail)
			if rail >= f.OutputZone.Y0 && rail <= f.OutputZone.Y1 {
				nearest = min(nearest, units.Millimetres(math.Abs(float64(rail-height))))
			}
		}
		miss = max(miss, nearest)
		where += ", on rails at " + strings.Join(heights, ", ") + " mm"
	}
	if miss <= f.Pitch/2 {
		return nil
	}
	return refuse(Floor, float64(miss/wheel.Diameter), func() string {
		return fmt.Sprintf("wheel %s, %.3g mm across, on a floor %.3g mm below the frame, has its axle at a height of %.3g mm, and %s",
			wheel.Name, wheel.Diameter, max(0, -f.Ground), height, where)
	})
}
