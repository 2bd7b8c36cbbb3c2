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

// What a chart says of a step holds of each drive in it: of drives that turn at about the speed
// that is wanted, with all sorts of friction and creep, and of what is beyond the last steps.
func TestChartHoldsOfEachDrive(t *testing.T) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	for name, text := range map[string][]byte{"level axle": demo.StarterBrief(), "upright axle": demo.Brief()} {
		b, err := brief.Read("brief.toml", text)
		require.NoError(t, err)
		classes := make([]*Class, len(cup.Holders))
		for i := range classes {
			classes[i], err = NewClass(b, &cup.Motors[0], &cup.Holders[i], nil, nil, Known{})
			require.NoError(t, err)
		}
		tighter := 0
		one := func(t *rapid.T) {
			between := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
			c := classes[rapid.IntRange(0, len(classes)-1).Draw(t, "holder")]
			on := c.charted(rapid.IntRange(fine, coarsest).Draw(t, "scale"))
			stall := c.rooms[Rooms-1].stall
			w := Work{Demand: c.demand, Swing: c.swing, Friction: units.NewtonMillimetres(stall * between("rubs", 0, 1.2)), Creep: -between("creep", 0, 0.6)}
			load := stall * between("asked", 0.001, 0.3)
			w.Ratio = max(0.1, float64(w.Demand)/load*between("off", 0.5, 2))
			// At the fast corner of a step what it says of rooms in which the drive is too slow is
			// tight, and at the slow corner what it says of those in which it is too fast.
			if corner := rapid.SampledFrom([]string{"", "fast", "slow"}).Draw(t, "corner"); corner != "" {
				edges, step := on.edges, int(float64(w.Friction)/on.friction)
				at := on.ratioAt(w.Ratio)
				down := int(-w.Creep / creepStep)
				w.Ratio, w.Friction, w.Creep = edges[at]*(1+1e-12), units.NewtonMillimetres(on.friction*float64(step)*(1+1e-12)), -creepStep*float64(down)-1e-12
				if corner == "slow" {
					w.Ratio, w.Friction, w.Creep = edges[at+1]*(1-1e-12), units.NewtonMillimetres(on.friction*float64(step+1)*(1-1e-12)), -creepStep*float64(down+1)+1e-12
				}
			}
			w.Heavy = w.Creep - between("heavier", 0, 0.5)
			exact := c.Of(&w)

			around := func(v float64, name string) units.Interval[float64] {
				return units.Interval[float64]{Lo: v - math.Abs(v)*between(name+" less", 0, 0.2), Hi: v + math.Abs(v)*between(name+" more", 0, 0.2)}
			}
			x := Extent{Demand: w.Demand, Swing: w.Swing, Ratio: around(w.Ratio, "ratio"), Heavy: around(w.Heavy, "heavy"), Creep: around(w.Creep, "creep")}
			rubs := around(float64(w.Friction), "friction")
			x.Friction = units.Interval[units.NewtonMillimetres]{Lo: units.NewtonMillimetres(rubs.Lo), Hi: units.NewtonMillimetres(rubs.Hi)}
			torque := w.Friction + w.Demand/units.NewtonMillimetres(w.Ratio)
			part := c.partOn(on, &x, units.Interval[units.NewtonMillimetres]{Lo: torque * 0.99, Hi: torque * 1.01})
			var told Told
			most, _ := c.AtMost(&x, 0, &told)

			seen := false
			for f := part.Frictions.First; f <= part.Frictions.Last; f++ {
				var strip Strip
				if !part.Friction(f).Contains(w.Friction) {
					continue
				}
				require.True(t, part.Strip(f, &strip))
				require.LessOrEqual(t, int(strip.Stands), exact.Stands)
				for k := part.Creeps.First; k <= part.Creeps.Last; k++ {
					if part.Creep(k).Contains(w.Creep) {
						require.GreaterOrEqual(t, strip.Works(k), exact.Works)
						seen = true
						if strip.Works(k) < most {
							tighter++
						}
					}
				}
			}
			require.True(t, seen, "the drive is in some step")
		}
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			for range 20 { // what it says is seldom just so
				one(t)
			}
		}))
		require.Positive(t, tighter, "no chart tells more than the bounds of all")
	}
}

func TestTheLargerOfEachByte(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a, b, larger uint64
		for k := range inWord {
			x, y := rapid.Uint64Range(0, 127).Draw(t, "a"), rapid.Uint64Range(0, 127).Draw(t, "b")
			a, b, larger = a|x<<(8*k), b|y<<(8*k), larger|max(x, y)<<(8*k)
		}
		require.Equal(t, larger, largerOfEach(a, b))
	})
}

func TestTheMostOfSomeSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s Strip
		for k := range s.works {
			for at := range inWord {
				s.works[k] |= rapid.Uint64Range(0, Rooms).Draw(t, "works") << (8 * at)
			}
		}
		first := rapid.IntRange(0, CreepSteps-1).Draw(t, "first")
		last := rapid.IntRange(first, CreepSteps-1).Draw(t, "last")
		most := 0
		for k := first; k <= last; k++ {
			most = max(most, s.Works(k))
		}
		require.Equal(t, most, s.Most(Steps{first, last}))
	})
}
