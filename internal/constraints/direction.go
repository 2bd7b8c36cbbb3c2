package constraints

import (
	"findrive/internal/brief"
)

// TurnsRight is the direction rule: an open band keeps the direction and each
// crossed one reverses it. It only bites when both the wanted direction and the
// motor's own are fixed; otherwise swapping the motor's wires settles it.
func TurnsRight(d brief.Direction, reversals int) *Refusal {
	if d.Sense == brief.Either || d.MotorTurns == brief.Either {
		return nil
	}
	if (d.Sense == d.MotorTurns) == (reversals%2 == 0) {
		return nil
	}
	return refuse(Direction, 1, func() string {
		if reversals%2 == 0 {
			return "the output would turn the motor's way, and the other way is asked: one band must be crossed"
		}
		return "the output would turn against the motor's way, and the motor's way is asked: an even number of bands must be crossed"
	})
}
