package design_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/parts"
)

// Common practice, as facts that every builder knows.

// Equal pulleys turn equally.
func TestEqualPulleysTurnEqually(t *testing.T) {
	t.Parallel()
	cup, b := exampleCupboard(t), exampleBriefs(t)["built-in"]
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool { return p.Name != "axle-20" && p.Name != "motor-10" })
	for i := range cup.Pulleys {
		cup.Pulleys[i].GrooveFloor, cup.Pulleys[i].Outside = 16, 20
	}
	free := *b
	free.Speed.Turning, free.Tolerance, free.MaxStages = 2000, 0.9, 1
	free.Load.Mass = 20
	r := find(t, cup, &free, design.Options{})
	require.NotEmpty(t, r.Proposals)
	for _, p := range r.Proposals {
		require.InDelta(t, 1, p.Ratio, 1e-12)
		require.Less(t, p.Speed.Likely, p.Motor.Speed)
		require.InEpsilon(t, float64(p.Motor.Speed)*(1-p.Stages[0].Creep), float64(p.AtHoles), 1e-9, "but for the band's creep")
	}
}

// One pair of pulleys from a bare 3 V motor leaves a carousel far too fast.
func TestOnePairLeavesACarouselTooFast(t *testing.T) {
	t.Parallel()
	cup, b := exampleCupboard(t), *exampleBriefs(t)["carousel.toml"]
	cup.Motors = slices.DeleteFunc(cup.Motors, func(m parts.Motor) bool { return m.Name != "hobby" })
	require.Len(t, cup.Motors, 1)
	require.InDelta(t, 3, float64(cup.Motors[0].Rated), 1e-12)
	b.Cells, b.MaxStages = []int{2}, 1
	none := find(t, cup, &b, design.Options{})
	require.Equal(t, design.NonePossible, none.Status)

	b.Tolerance = math.MaxInt32 // any speed at all
	r := find(t, cup, &b, design.Options{Keep: 1})
	require.Len(t, r.Proposals, 1)
	require.Greater(t, float64(r.Proposals[0].Speed.Likely), 5*float64(b.Speed.Turning), "the slowest that one pair can do")
}

// Two pairs bring a big wheel to a speed at which its riders can be watched: one
// turn in 2 to 10 seconds.
func TestTwoPairsBringABigWheelToAWatchableSpeed(t *testing.T) {
	t.Parallel()
	cup, b := exampleCupboard(t), *exampleBriefs(t)["big-wheel.toml"]
	b.MaxStages = 1
	require.Equal(t, design.NonePossible, find(t, cup, &b, design.Options{}).Status)
	b.MaxStages = 2
	r := find(t, cup, &b, design.Options{Keep: 1})
	require.Len(t, r.Proposals, 1)
	seconds := float64(r.Proposals[0].Speed.Likely.SecondsPerTurn())
	require.Greater(t, seconds, 2.0)
	require.Less(t, seconds, 10.0)
}
