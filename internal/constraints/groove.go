package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// BandInGroove is the groove rule: the band, as used, must lie in the groove.
// It takes the width at rest: a stretched band is narrower, so this leaves a
// little room (common practice: wide bands climb out).
func BandInGroove(p *parts.Pulley, b *parts.Band, use drive.Use) *Refusal {
	width := b.Width
	if use != drive.Single {
		width *= 2
	}
	if width <= p.GrooveWidth {
		return nil
	}
	return refuse(Groove, float64(width/p.GrooveWidth)-1, func() string {
		name := b.Name
		if use != drive.Single {
			name += ", " + use.String() + ","
		}
		is, most := apart(width, p.GrooveWidth, 1)
		return fmt.Sprintf("band %s is %s mm wide and the groove of %s only %s mm", name, is, p.Name, most)
	})
}

// BigEnoughGroove is the smallest-groove rule: the groove floor is at least
// Limits.SectionRatio times the band's section thickness. The default 4 is
// O-ring belt practice (Apple Rubber, Seal Design Guide, "Drive Belt").
func BigEnoughGroove(l brief.Limits, p *parts.Pulley, b *parts.Band) *Refusal {
	least := units.Millimetres(l.SectionRatio) * b.Thickness
	if p.GrooveFloor >= least {
		return nil
	}
	return refuse(SmallGroove, float64(least/p.GrooveFloor)-1, func() string {
		is, wanted := apart(p.GrooveFloor, least, 1)
		return fmt.Sprintf("%s is too small for band %s: its groove floor is %s mm across, and rubber %s mm thick wants at least %s mm", p.Name, b.Name, is, figure(b.Thickness), wanted)
	})
}
