package constraints

import (
	"fmt"

	"findrive/internal/parts"
)

// DiscsOfAGroup is the rule about how many discs a group may cut: what the cupboard's
// [discs] say.
func DiscsOfAGroup(use, most int) *Refusal {
	if use <= most {
		return nil
	}
	return refuse(Stock, float64(use-most)/float64(most), func() string {
		return fmt.Sprintf("a group would have to cut %d discs, and %d is the most ([discs] in the cupboard)", use, most)
	})
}

// SheetForDiscs is the stock rule for sheets: short says of which there are too few, nil
// if they take all the discs.
func SheetForDiscs(short error) *Refusal {
	if short == nil {
		return nil
	}
	return refuse(Stock, 1, short.Error)
}

// MadeOnMotor refuses a pulley made of discs on a motor's shaft: what is cut by hand is
// never quite true, and at thousands of turns a minute it shakes and comes off (common
// practice: small turned or moulded pulleys go on motors).
func MadeOnMotor(p *parts.Pulley) *Refusal {
	if p.Made == nil {
		return nil
	}
	return refuse(Fit, 1, func() string {
		return fmt.Sprintf("%s is made of discs, which shake at the speed of a motor's shaft", p.Name)
	})
}
