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
			if stretch <= 1 {
				return fmt.Sprintf("band %s would hang loose", b.Name)
			}
			is, least := apart(100*(stretch-1), 100*(window.Lo-1), 0)
			return fmt.Sprintf("band %s would be limp: stretched %s %%, and it needs %s %%", b.Name, is, least)
		})
	case stretch > window.Hi+stretchNoise:
		return refuse(Stretch, stretch-window.Hi, func() string {
			is, most := apart(100*(stretch-1), 100*(window.Hi-1), 0)
			return fmt.Sprintf("band %s would be too tight: stretched %s %%, and the most is %s %%", b.Name, is, most)
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
		is, most := apart(100*(tight-1), 100*(limit-1), 0)
		return fmt.Sprintf("under load the tight side of band %s would stretch %s %%, and the most is %s %%", b.Name, is, most)
	})
}

// TooShort refuses a band that cannot go round a pair of pulleys side by side.
func TooShort(b *parts.Band) *Refusal {
	return refuse(Stretch, 1, func() string {
		return fmt.Sprintf("band %s is too short to go round the two pulleys even when they almost touch", b.Name)
	})
}

// TooLong refuses a band that would hang loose at any spacing in the frame.
func TooLong(b *parts.Band, needs, frame units.Millimetres) *Refusal {
	return refuse(Stretch, float64(needs/frame)-1, func() string {
		is, most := apart(needs, frame, 0)
		return fmt.Sprintf("band %s is too long: it is snug only with the axles %s mm apart or more, and the frame has room for %s mm", b.Name, is, most)
	})
}
