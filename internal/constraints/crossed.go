package constraints

import (
	"fmt"

	"findrive/internal/units"
)

// crossedSpacing is the least centre distance of a crossed band as a multiple
// of the sum of the pitch diameters, so that it crosses at a shallow angle and
// rubs lightly (common practice; the general rule for new belts is 0.7 to 2
// times the sum).
const crossedSpacing = 1.0

// CrossedBandSpacing is the crossed-band spacing rule.
func CrossedBandSpacing(driver, driven, centre units.Millimetres) *Refusal {
	least := CrossedCentreMin(driver, driven)
	if centre >= least-1e-9 {
		return nil
	}
	return refuse(CrossedSpacing, float64(least/centre)-1, func() string {
		is, wanted := apart(centre, least, 0)
		return fmt.Sprintf("a crossed band would rub itself hard with the axles %s mm apart: these pulleys want at least %s mm", is, wanted)
	})
}

// CrossedCentreMin is the least centre distance for a crossed band between
// pulleys of the given pitch diameters.
func CrossedCentreMin(driver, driven units.Millimetres) units.Millimetres {
	return crossedSpacing * (driver + driven)
}
