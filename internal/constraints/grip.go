package constraints

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// GripMargin is the greatest effective pull over the one needed; infinite if
// none is needed, 0 if the band slips.
func GripMargin(greatest, needed units.Newtons) float64 {
	if needed <= 0 {
		return math.Inf(1)
	}
	return float64(greatest / needed)
}

// GripRunning is the grip rule while running: the margin is at least
// Limits.GripMin, 1.2 unless the brief says otherwise (judgement: grip itself
// is only known to a factor of two).
func GripRunning(l brief.Limits, b *parts.Band, stage int, margin float64) *Refusal {
	return gripRule(Grip, l.GripMin, b, stage, margin, "running")
}

// GripStarting is the grip rule at the starting torque.
func GripStarting(l brief.Limits, b *parts.Band, stage int, margin float64) *Refusal {
	return gripRule(GripStart, l.GripStartMin, b, stage, margin, "starting")
}

func gripRule(rule Rule, limit float64, b *parts.Band, stage int, margin float64, when string) *Refusal {
	if margin >= limit {
		return nil
	}
	return refuse(rule, 1-margin/limit, func() string {
		if margin < 1 {
			return fmt.Sprintf("band %s in stage %d would slip when %s: it cannot pull as hard as is needed", b.Name, stage+1, when)
		}
		is, least := apart(margin, limit, 2)
		return fmt.Sprintf("band %s in stage %d might slip when %s: it can pull %s times as hard as is needed, and should pull %s times", b.Name, stage+1, when, is, least)
	})
}
