package design

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// twoPulleys is a motor's and an axle's pulley, each with one place only, so far apart,
// and one band.
func twoPulleys(driver, driven parts.Pulley, apart, flat mm) (*parts.Cupboard, *brief.Brief) {
	cup, b := smallCase(1)
	driver.Name, driver.Bore, driven.Name, driven.Bore = "small", 2, "large", 5
	cup.Pulleys = []parts.Pulley{driver, driven}
	for i := range cup.Pulleys {
		p := &cup.Pulleys[i]
		p.GrooveWidth, p.Width, p.Count, p.Material = 3.5, 6, 3, parts.Plastic
	}
	cup.Bands = cup.Bands[:1]
	cup.Bands[0].FlatLength, cup.Bands[0].Count = flat, 3
	b.Model, b.Load, b.Tolerance = brief.PlainShaft, brief.Load{Torque: 1, TackleParts: 1, TackleEfficiency: 1}, 0.9
	b.Speed.Turning = 700
	b.Direction.Sense, b.Direction.MotorTurns = brief.Either, brief.Either
	// On a grid so wide that all of it can be tried.
	b.Frame.Length, b.Frame.Height, b.Frame.Depth, b.Frame.Pitch = 3*apart, 3*apart, 80, apart
	b.Frame.MotorZone = brief.Rect{X0: apart, Y0: apart, X1: apart, Y1: apart}
	b.Frame.OutputZone = brief.Rect{X0: 2 * apart, Y0: apart, X1: 2 * apart, Y1: apart}
	return cup, b
}

// Where each shaft has one place only, a hole out of place leads beyond it all the same,
// and pulleys may just touch: what is possible is found, and what forgives is known to.
func TestShaftsAsFarApartAsTheirPlaces(t *testing.T) {
	some, forgiving := 0, 0
	check := func(cup *parts.Cupboard, b *brief.Brief) {
		want := everyDrive(cup, b)
		for _, must := range []bool{false, true} {
			got, err := Find(t.Context(), cup, b, Options{Keep: 1, MustForgive: must})
			require.NoError(t, err)
			switch {
			case must:
				best, err := Find(t.Context(), cup, b, Options{Keep: 1})
				require.NoError(t, err)
				if len(best.Proposals) > 0 && best.Proposals[0].Forgives >= b.Limits.HoleError {
					require.Len(t, got.Proposals, 1, "band of %v mm", cup.Bands[0].FlatLength)
					forgiving++
				}
			case len(want) == 0:
				require.Empty(t, got.Proposals, "band of %v mm", cup.Bands[0].FlatLength)
			default:
				some++
				require.Len(t, got.Proposals, 1, "band of %v mm", cup.Bands[0].FlatLength)
				require.Equal(t, want[0].cost, got.Proposals[0].Total)
			}
		}
	}
	for flat := mm(100); flat <= 120; flat += 0.5 {
		cup, b := twoPulleys(parts.Pulley{GrooveFloor: 10, Outside: 12}, parts.Pulley{GrooveFloor: 40, Outside: 42}, 80, flat)
		b.Limits.HoleError = 2
		check(cup, b)
	}
	for flat := mm(50); flat <= 75; flat += 0.5 {
		cup, b := twoPulleys(parts.Pulley{GrooveFloor: 8, Outside: 10.1}, parts.Pulley{GrooveFloor: 31, Outside: 33.7}, 23, flat)
		b.Limits.Clearance, b.Limits.ArcMin = 1.1, 2
		check(cup, b)
	}
	require.Greater(t, some, 30)
	require.Greater(t, forgiving, 10)
}
