package constraints

import (
	"fmt"

	"findrive/internal/units"
)

// WheelTraction is the traction rule of a vehicle: the torque asked of the
// wheels may not be more than the floor holds: friction times the weight on the
// driven wheels times their radius.
func WheelTraction(needed, holds units.NewtonMillimetres) *Refusal {
	if needed <= holds {
		return nil
	}
	return refuse(Traction, float64(needed/holds)-1, func() string {
		return fmt.Sprintf("the wheels would spin: %.1f mN·m is needed and the floor holds %.1f mN·m; put more weight over the driven axle", float64(needed), float64(holds))
	})
}
