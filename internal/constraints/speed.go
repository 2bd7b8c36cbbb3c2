package constraints

import (
	"fmt"
	"math"

	"findrive/internal/units"
)

// SpeedWithin is the speed rule: the likely loaded speed lies within the brief's
// tolerance of the target.
func SpeedWithin(n, target units.RPM, tolerance float64) *Refusal {
	off := math.Abs(float64(n/target) - 1)
	if off <= tolerance {
		return nil
	}
	return refuse(Speed, off-tolerance, func() string {
		return fmt.Sprintf("the output would turn at %.3g rpm, %.3g %% off the %.3g rpm wanted, and %.3g %% is allowed", float64(n), over(100*off), float64(target), 100*tolerance)
	})
}
