package constraints

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// stretchNoise forgives the last bits of a root find.
const stretchNoise = 1e-9

// FittedStretch is the stretch window: how far a fitted band at rest may be
// stretched. Defaults 1.05 to 1.50 (common practice: aim at 10 to 30 %).
func FittedStretch(l brief.Limits, b *parts.Band, stretch float64) *Refusal {
	window := FittedWindow(l, b)
	switch {
	case stretch < window.Lo-stretchNoise:
		return refuse(Stretch, window.Lo-stretch, func() string {
			return fmt.Sprintf("band %s would be limp: stretched %.4g %%, and it needs %.4g %%", b.Name, under(100*(stretch-1)), 100*(window.Lo-1))
		})
	case stretch > window.Hi+stretchNoise:
		return refuse(Stretch, stretch-window.Hi, func() string {
			return fmt.Sprintf("band %s would be too tight: stretched %.4g %%, and the most is %.4g %%", b.Name, over(100*(stretch-1)), 100*(window.Hi-1))
		})
	}
	return nil
}

// FittedWindow is the window of fitted stretch for a band.
func FittedWindow(l brief.Limits, b *parts.Band) units.Interval[float64] {
	return units.Interval[float64]{Lo: l.FittedStretchMin, Hi: min(l.FittedStretchMax, RunningLimit(l, b))}
}

// RunningLimit is the largest running tight stretch of a band: its own limit if
// the cupboard gives one, else the brief's. The default 2.0 is as far as the
// rubber law was fitted.
func RunningLimit(l brief.Limits, b *parts.Band) float64 {
	if b.StretchLimit > 0 {
		return min(b.StretchLimit, l.RunningStretchMax)
	}
	return l.RunningStretchMax
}

// RunningTight is the running-stretch rule: under load the tight side is
// stretched further than the band at rest, and must stay below RunningLimit.
func RunningTight(l brief.Limits, b *parts.Band, tight float64) *Refusal {
	limit := RunningLimit(l, b)
	if tight <= limit+stretchNoise {
		return nil
	}
	return refuse(RunningStretch, tight/limit-1, func() string {
		return fmt.Sprintf("under load the tight side of band %s would stretch %.4g %%, and the most is %.4g %%", b.Name, over(100*(tight-1)), 100*(limit-1))
	})
}

// TooShort refuses a band that cannot go round a pair of pulleys side by side.
func TooShort(b *parts.Band) *Refusal {
	return refuse(Stretch, 1, func() string {
		return fmt.Sprintf("band %s is too short to go round the two pulleys even side by side", b.Name)
	})
}

// TooLong refuses a band that would hang loose at any spacing in the frame.
func TooLong(b *parts.Band, needs, frame units.Millimetres) *Refusal {
	return refuse(Stretch, float64(needs/frame)-1, func() string {
		return fmt.Sprintf("band %s is too long: it is snug only at centres from %.0f mm, and the frame's longest is %.0f mm", b.Name, needs, frame)
	})
}
