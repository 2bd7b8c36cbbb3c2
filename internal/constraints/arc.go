package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/mechanics"
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
