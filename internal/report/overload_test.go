package report

import (
	"math"
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

// A drive that is proposed is not said to carry a load that the rules refuse: what they ask to be
// kept in hand is named.
func TestLoadsThatARuleRefusesAreNotOffered(t *testing.T) {
	q := &design.Proposal{Ratio: 4, Overload: &design.Overload{Of: "mass_g", Brief: 234, Slips: 312, SlipsStage: 2, Stalls: 400}}
	assert.Equal(t, "It turns about 4 times slower than the motor. "+
		"The load is 234 g. At about 310 g the band of stage 2 slips, and the rules keep a margin below that.", pullWords(q))
	q.Overload = &design.Overload{Of: "out_of_balance_g", Brief: 20, Slips: math.Inf(1), Stalls: 61}
	assert.Contains(t, pullWords(q), " One side is 20 g heavier. At about 61 g the motor stalls, and the rules keep a margin below that.")
	q.Overload = &design.Overload{Of: "torque_mNm", Brief: 0.5, Slips: math.Inf(1), Stalls: math.Inf(1)}
	assert.Contains(t, pullWords(q), " The torque can grow from 0.5 mN·m a hundredfold before anything gives way.")
}
