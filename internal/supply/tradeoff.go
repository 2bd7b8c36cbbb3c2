package supply

import (
	"context"
	"math"

	"findrive/internal/pause"
)

// Point is one end of a trade: for so much money every group's likely speed is within so
// much of what was asked, and for less money it is not.
type Point struct {
	Percent int // of the wanted speed, whole, rounded up
	Plan    *Plan
	// Proved is true if no purchase for less money comes as near.
	Proved bool
}

// tradeOff goes from the tolerance of the brief down, one whole percent after the other,
// and finds the least money for each. Those points are kept that no other beats: none is
// nearer for no more money. It begins from the least money for the whole tolerance. all is
// false if it ended before the nearest speed that can be had, and at what percent.
func (a *asker) tradeOff(ctx context.Context, first *solution) (out []Point, all bool, err error) {
	s := first
	percent := roundUp(a.jobs[0].brief.Tolerance)
	for {
		worst := a.worst(s)
		percent = min(percent, max(1, roundUp(worst)))
		point := Point{percent, a.plan(s), s.proved}
		if n := len(out); n > 0 && out[n-1].Plan.Money >= point.Plan.Money {
			out[n-1] = point // as cheap and nearer
		} else {
			out = append(out, point)
		}
		percent--
		if percent < 1 {
			return out, true, nil
		}
		if pause.Err(ctx) != nil {
			return out, false, nil
		}
		next, err := a.least(ctx, []float64{float64(percent) / 100})
		if err != nil {
			return nil, false, err
		}
		if !next.plan.Found {
			return out, next.proved, nil
		}
		s = next
	}
}

// roundUp is a share in whole percent, rounded up.
func roundUp(share float64) int { return int(math.Ceil(100*share - 1e-9)) }

// worst is the greatest relative error of the speed of what groups build.
func (a *asker) worst(s *solution) float64 {
	worst := 0.0
	for i, n := range s.plan.Counts {
		if n > 0 {
			worst = math.Max(worst, s.choices[i].drive.off)
		}
	}
	return worst
}
