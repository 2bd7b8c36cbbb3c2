package forecast

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// A bound on several drives holds of each of them, whatever is known of more of them
// already: with it fewer rooms are looked at, and no drive is wronged.
func TestAtMostHoldsOfEachDrive(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		motor := rapid.IntRange(0, len(cup.Motors)-1).Draw(t, "motor")
		holder := rapid.IntRange(0, len(cup.Holders)-1).Draw(t, "holder")
		asked := *b // where any speed will do, the tolerance is above 1
		asked.Tolerance = rapid.SampledFrom([]float64{b.Tolerance, 3}).Draw(t, "tolerance")
		c, err := NewClass(&asked, &cup.Motors[motor], &cup.Holders[holder], nil, nil, Known{})
		require.NoError(t, err)
		w := Work{
			Ratio: between("ratio", 20, 400), Demand: units.NewtonMillimetres(between("demand", 0.1, 20)), Friction: units.NewtonMillimetres(between("friction", 0, 1)),
			Creep: -between("creep", 0, 0.3), Cut: rapid.SampledFrom([]float64{0, 0.01, 0.05}).Draw(t, "cut"), Count: rapid.IntRange(1, drive.MaxStages).Draw(t, "stages"),
		}
		if rapid.Bool().Draw(t, "swings") {
			w.Swing = units.NewtonMillimetres(between("swing", 0.1, 10))
		}
		w.Heavy = w.Creep - between("heavier", 0, 0.1)
		for i := range w.Count {
			w.Grips[i] = Grip{Margin: between("margin", 1, 4), Growth: between("growth", 0, 0.1), Exponent: between("exponent", 0.3, 3)}
		}
		exact := c.Of(&w)

		around := func(share float64) Extent {
			x := Extent{Demand: w.Demand, Swing: w.Swing, Count: w.Count, Cut: w.Cut,
				Ratio:    units.Interval[float64]{Lo: w.Ratio * (1 - share), Hi: w.Ratio * (1 + share)},
				Friction: units.Interval[units.NewtonMillimetres]{Lo: w.Friction * units.NewtonMillimetres(1-share), Hi: w.Friction * units.NewtonMillimetres(1+share)},
				Creep:    units.Interval[float64]{Lo: w.Creep * (1 + share), Hi: w.Creep * (1 - share)},
				Heavy:    units.Interval[float64]{Lo: w.Heavy * (1 + share), Hi: w.Heavy * (1 - share)},
			}
			for i, g := range w.Grips[:w.Count] {
				x.Margin[i] = g.Margin * (1 + share)
				x.Growth[i] = units.Interval[float64]{Lo: g.Growth * (1 - share), Hi: g.Growth * (1 + share)}
				x.Exponent[i] = units.Interval[float64]{Lo: g.Exponent * (1 - share), Hi: g.Exponent * (1 + share)}
			}
			return x
		}
		wide := between("wide", 0, 0.5)
		var told Told
		for _, share := range []float64{wide, wide / 2, 0} {
			x := around(share)
			need := rapid.IntRange(0, Rooms).Draw(t, "need")
			works, stands := c.AtMost(&x, need, &told)
			if exact.Works >= need {
				require.GreaterOrEqual(t, works, exact.Works, "within %g", share)
			}
			require.LessOrEqual(t, min(stands, ManyStand), exact.Stands, "within %g", share)
		}
	})
}
