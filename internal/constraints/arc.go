package constraints

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// ArcOfContact is the arc-of-contact limit: the band must wrap enough of the
// smaller pulley, 120 degrees unless the brief says otherwise (common rule of
// V-belt handbooks; flat-belt practice asks 150, Bhandari, Design of Machine
// Elements, ch. 13).
func ArcOfContact(l brief.Limits, f *mechanics.Fitted) *Refusal {
	arc := min(f.DriverArc, f.DrivenArc)
	if arc >= l.ArcMin-1e-9 {
		return nil
	}
	return refuse(Arc, float64(l.ArcMin/arc)-1, func() string {
		is, least := apart(arc.Degrees(), l.ArcMin.Degrees(), 0)
		return fmt.Sprintf("the band would wrap only %s degrees of the smaller pulley, and %s are needed: it wants a longer band with the axles further apart, or pulleys nearer in size", is, least)
	})
}

// ArcCentreMin is the least centre distance of an open band between pulleys of the
// given pitch diameters at which it wraps enough of the smaller: the arc there is
// pi - 2 asin(|driven - driver| / 2 centre).
func ArcCentreMin(l brief.Limits, driver, driven units.Millimetres) units.Millimetres {
	return units.Millimetres(math.Abs(float64(driven-driver)) / (2 * math.Cos(float64(l.ArcMin)/2)))
}
