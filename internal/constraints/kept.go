package constraints

import (
	"fmt"

	"findrive/internal/brief"
)

// SpeedKept is the rule about what load and bands take: the output keeps at least
// Limits.KeptSpeedMin of the speed that the motor without load would give it through the
// same pulleys, half by default. What is lost to load, friction and creep is what differs
// most from table to table: in trials with the spreads of a classroom, drives that were
// slow by being held back stood or crawled on every second table (judgement).
func SpeedKept(l brief.Limits, kept float64) *Refusal {
	if kept >= l.KeptSpeedMin {
		return nil
	}
	return refuse(HeldBack, l.KeptSpeedMin-kept, func() string {
		is, least := apart(100*kept, 100*l.KeptSpeedMin, 0)
		return fmt.Sprintf("load, friction and bands would hold it back to %s %% of the speed it has without them, and at least %s %% must be left: how much they take differs from table to table", is, least)
	})
}
