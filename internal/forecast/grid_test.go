package forecast

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// What is said of a part of a grid holds of each drive in it: of drives that turn at about the
// speed that is wanted, with all sorts of friction and creep.
func TestApartHoldsOfEachDrive(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		holder := rapid.IntRange(0, len(cup.Holders)-1).Draw(t, "holder")
		c, err := NewClass(b, &cup.Motors[0], &cup.Holders[holder], nil, nil, Known{})
		require.NoError(t, err)
		middle := &c.rooms[Rooms-1]
		asked, rubs := middle.stall*between("asked", 0, 0.3), middle.stall*between("rubs", 0.01, 0.3)
		w := Work{Creep: -between("creep", 0.01, 0.3), Friction: units.NewtonMillimetres(rubs)}
		w.Ratio = middle.free * (1 - (asked+rubs)/middle.stall) * math.Exp(w.Creep) / float64(c.Target) * between("off", 0.8, 1.25)
		w.Demand = units.NewtonMillimetres(asked * w.Ratio)
		if rapid.Bool().Draw(t, "swings") {
			w.Swing = w.Demand * units.NewtonMillimetres(between("swing", 0, 0.5))
		}
		w.Heavy = w.Creep - between("heavier", 0, 0.1)
		exact := c.Of(&w)

		around := func(v float64, name string) units.Interval[float64] {
			return units.Interval[float64]{Lo: v - math.Abs(v)*between(name+" less", 0, 0.2), Hi: v + math.Abs(v)*between(name+" more", 0, 0.2)}
		}
		creep, friction := around(w.Creep, "creep"), around(rubs, "friction")
		x := Extent{Demand: w.Demand, Swing: w.Swing, Ratio: interval(w.Ratio), Heavy: interval(w.Heavy), Creep: creep,
			Friction: units.Interval[units.NewtonMillimetres]{Lo: units.NewtonMillimetres(friction.Lo), Hi: units.NewtonMillimetres(friction.Hi)}}
		var told Told
		works, _ := c.AtMost(&x, 0, &told)
		require.Equal(t, works, told.Works())
		var g Grid
		for k := range Parts {
			g.Creep[k], g.Friction[k] = x.Creep, x.Friction // but for the part that it is in
		}
		k, j := rapid.IntRange(0, Parts-1).Draw(t, "of friction"), rapid.IntRange(0, Parts-1).Draw(t, "of creep")
		g.Friction[k], g.Creep[j] = interval(w.Friction), interval(w.Creep)
		c.Apart(&x, &told, &g)
		require.GreaterOrEqual(t, g.Works[k][j], exact.Works)
		require.LessOrEqual(t, g.Works[k][j], works, "a part has no more than the whole")
	})
}

func interval[T ~float64](v T) units.Interval[T] { return units.Interval[T]{Lo: v, Hi: v} }
