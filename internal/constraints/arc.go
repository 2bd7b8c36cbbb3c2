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
		return fmt.Sprintf("the band would touch only %.4g degrees of the smaller pulley, and %.4g are needed: set the axles further apart", under(arc.Degrees()), l.ArcMin.Degrees())
	})
}
