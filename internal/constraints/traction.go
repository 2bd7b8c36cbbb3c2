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
		is, most := apart(needed, holds, 1)
		return fmt.Sprintf("the wheels would spin: they need %s mN·m and the floor holds %s; put more of the weight over the driven axle", is, most)
	})
}
