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
		way := "too fast"
		if n < target {
			way = "too slow"
		}
		is, most := apart(100*off, 100*tolerance, 0)
		return fmt.Sprintf("the output would turn at %s rpm where %s rpm is wanted: %s %% %s, and %s %% is allowed", figure(n), figure(target), is, way, most)
	})
}
