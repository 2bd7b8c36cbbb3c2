package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"findrive/internal/design"
)

// The load of the brief is said as the brief has it, and only what it may grow to is about so much.
func TestLoadsAreSaidAsTheyWereGiven(t *testing.T) {
	assert.Equal(t, "The load can grow from 234 to about 310 g before the band of stage 2 slips.",
		overloadWords(&design.Overload{Of: "mass_g", Brief: 234, Slips: 312, SlipsStage: 2, Stalls: 400}))
	assert.Equal(t, "The torque can grow from 0.5 to about 1.2 mN·m before the motor stalls.",
		overloadWords(&design.Overload{Of: "torque_mNm", Brief: 0.5, Slips: 4, SlipsStage: 1, Stalls: 1.23}))
}
