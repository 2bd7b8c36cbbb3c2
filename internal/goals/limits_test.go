package goals

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// TestNothingIsTooFarOff has aims that no drive comes anywhere near: the nearest enters all
// the same, and no design there is comes nearer.
func TestNothingIsTooFarOff(t *testing.T) {
	for _, x := range []struct {
		kind Kind
		aim  float64
	}{{ExactTime, 1}, {ExactTime, 2.5}, {Turns, 2}, {Turns, 10}, {Turns, 9000}} {
		t.Run(fmt.Sprintf("%s %v", x.kind, x.aim), func(t *testing.T) {
			t.Parallel()
			cup, c := small(t, 1, x.kind)
			goal := goal(turns{c})
			if c.Turns = x.aim; x.kind == ExactTime {
				c.Time, goal = units.Seconds(x.aim), exactTime{c, true}
			}
			r, err := Find(context.Background(), cup, c, Options{Keep: 1})
			require.NoError(t, err)
			require.Equal(t, design.ProvedBest, r.Status)
			require.Len(t, r.Entries, 1)
			step := r.Entries[0].step
			require.Greater(t, step, exactSteps/2, "the case must be worth testing")
			better := goal.asks(step - 1)
			everyDrive(cup, c, func(d *drive.Drive) { require.False(t, sound(d, better)) })
		})
	}
}

// TestEveryRaceIsInReach has the worst step of a goal that is to be hit take in every drive,
// whatever the aim is.
func TestEveryRaceIsInReach(t *testing.T) {
	for _, aim := range []units.Seconds{1, 3, 10, 60, 599, 600} {
		e := exactTime{&Challenge{Kind: ExactTime, Time: aim, Distance: 3000, Brief: &brief.Brief{}}, true}
		a := e.asks(e.last())
		times := a.rule.(runRule).times
		require.LessOrEqual(t, float64(times.Lo), 0.0)
		require.GreaterOrEqual(t, float64(times.Hi), float64(longest)-1e-9)
	}
	for _, aim := range []float64{1, 20, 10_000} {
		n := turns{&Challenge{Kind: Turns, Time: 60, Turns: aim, Brief: &brief.Brief{}}}
		b := n.asks(n.last()).brief
		require.GreaterOrEqual(t, b.Tolerance, 1-1e-9, "from no turns")
		require.GreaterOrEqual(t, 2*float64(b.Speed.Turning), float64(spinThought)-1e-9)
	}
}
