package mechanics

import (
	"errors"
	"fmt"
	"math"

	"findrive/internal/units"
)

// Loop is a rubber band as it is put on: a closed loop of so many equal
// sections side by side.
type Loop struct {
	// Rest is the length of the loop at rest, twice the flat length of the
	// band; half of that when looped twice.
	Rest units.Millimetres
	// Width and Thickness are the sides of one section at rest.
	Width, Thickness units.Millimetres
	// Strands is how many sections lie side by side in one run: 1, or 2 when
	// looped twice or paired.
	Strands int
	// PullFactor scales the pull of the default rubber: 1 unless measured, see
	// PullFactorFromHungMass.
	PullFactor float64
	Rubber     Rubber
}

// LoopedTwice is the same band wound round twice: half the rest length, twice
// the section.
func (l Loop) LoopedTwice() Loop {
	l.Rest /= 2
	l.Strands *= 2
	return l
}

// Paired is two such bands side by side in one groove: the same rest length,
// twice the section.
func (l Loop) Paired() Loop {
	l.Strands *= 2
	return l
}

// Area is the section of one run at rest, all strands together, in mm².
func (l Loop) Area() float64 { return float64(l.Strands) * float64(l.Width*l.Thickness) }

// force turns stress (MPa, of the default rubber) into pull of one run (N).
func (l Loop) force() float64 { return l.Area() * l.PullFactor }

// Pull is the pull of one run of the loop, all its strands together, at a
// stretch. The two runs between the pulleys each pull that much.
func (l Loop) Pull(stretch float64) units.Newtons {
	p, _ := l.Rubber.tension(stretch - 1)
	return units.Newtons(l.force() * p)
}

// StretchAt is the stretch at which one run of the loop pulls so much, all its strands
// together: the inverse of Pull.
func (l Loop) StretchAt(pull units.Newtons) float64 {
	return l.Rubber.StretchAt(units.Megapascals(float64(pull) / l.force()))
}

// ThicknessAt is the thickness of one strand at a stretch. Rubber keeps its
// volume, so both sides of the section shrink as 1/sqrt(stretch).
func (l Loop) ThicknessAt(stretch float64) units.Millimetres {
	return l.Thickness / units.Millimetres(math.Sqrt(stretch))
}

// WidthAt is the width of all strands side by side at a stretch: what the
// groove must have room for.
func (l Loop) WidthAt(stretch float64) units.Millimetres {
	return units.Millimetres(l.Strands) * l.Width / units.Millimetres(math.Sqrt(stretch))
}

// Errors of PullFactorFromHungMass.
var (
	ErrNoHungMass    = errors.New("the hung mass must be above 0 g")
	ErrHungTooShort  = errors.New("the band is stretched by less than 5 %: hang a larger mass, or pull harder")
	ErrHungTooLong   = errors.New("the band is stretched to more than three times its length: hang a smaller mass")
	ErrHungOtherwise = errors.New("measure again, inside the loop from its top to its bottom, and the band lying flat")
	ErrNoSection     = errors.New("rest length, width and thickness must be above 0 mm")
)

// PullFactorFromHungMass calibrates a band with one weight. The band hangs as
// a loop from a thin peg, the mass hangs from the loop's lower end, and reached
// is the length of the hanging loop from the inside of its top bend to the
// inside of its bottom bend, which is half its path: so the stretch is
// 2 reached / l.Rest, and each of the two runs carries half the weight.
//
// The factor is that half weight over what l would pull with a factor of 1;
// l.PullFactor itself is not used. Errors: no mass, no section, or a stretch
// outside 1.05 to 3, where the rubber law is no guide: ErrHungOtherwise where no band of
// these sizes would be stretched so little or so much, so that another mass is no help.
func PullFactorFromHungMass(l Loop, mass units.Grams, reached units.Millimetres) (float64, error) {
	if !(mass > 0) {
		return 0, ErrNoHungMass
	}
	if !(l.Area() > 0) || !(l.Rest > 0) {
		return 0, ErrNoSection
	}
	const least, most = 1.05, 3.0
	l.PullFactor = 1
	run := mass.Weight() / 2
	otherwise := func() error {
		return fmt.Errorf("a band of these sizes should then reach about %.0f mm: %w", float64(l.Rest)/2*l.StretchAt(run), ErrHungOtherwise)
	}
	switch stretch := float64(2 * reached / l.Rest); {
	case stretch < least && l.StretchAt(run/strangest) >= least, stretch > most && l.StretchAt(run*strangest) <= most:
		return 0, otherwise()
	case !(stretch >= least):
		return 0, ErrHungTooShort
	case stretch > most:
		return 0, ErrHungTooLong
	default:
		return float64(run / l.Pull(stretch)), nil
	}
}

// strangest is how many times as hard or as weakly as plain rubber a band may pull at the
// most (judgement: twice what the bands of a bag do).
const strangest = 2
