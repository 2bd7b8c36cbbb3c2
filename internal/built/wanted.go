package built

import (
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
)

// wanted is the way the output is to turn, seen from the front: +1 anticlockwise,
// -1 clockwise, 0 if either will do.
func (b *Build) wanted() int {
	switch design.Seen(b.Brief.Direction) {
	case brief.Anticlockwise:
		return 1
	case brief.Clockwise:
		return -1
	}
	return 0
}

func traction(b *Build, s *state) drive.Traction {
	return drive.TractionOf(b.Brief, b.Drive.Wheel, s.model.Demand)
}

// motorTurns is the motor's way seen from the front. Where its wires may be
// swapped they are taken to be as the output needs them.
func (b *Build) motorTurns() int {
	switch b.Brief.Direction.MotorTurns {
	case brief.Anticlockwise:
		return 1
	case brief.Clockwise:
		return -1
	}
	if b.wanted() != 0 && b.Drive.Reversals()%2 == 1 {
		return -b.wanted()
	}
	if b.wanted() == 0 {
		return -1
	}
	return b.wanted()
}
