package score

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// The table of docs/score.md, by hand: each term at and beside its steps.
func TestEachTermByHand(t *testing.T) {
	l, w := brief.DefaultLimits(), brief.DefaultWeights()
	for _, c := range []struct {
		name string
		got  Points
		want float64
	}{
		{"as wanted", Speed(w, 20, 20), 0},
		{"within a step", Speed(w, 20.4, 20), 0},                       // 100 ln(20.4/20) = 1.98
		{"one step", Speed(w, 20.41, 20), 2},                           // 2.03
		{"a quarter fast", Speed(w, 25, 20), 22},                       // 22.3
		{"a quarter slow costs more", Speed(w, 15, 20), 28},            // 28.8
		{"half and double cost the same", Speed(w, 10, 20), 68},        // 69.3
		{"double", Speed(w, 40, 20), 68},                               // 69.3
		{"a whole number of steps", Speed(w, 20*expPercent(4), 20), 4}, // to the last bit

		{"one stage", Stages(w, 1), 0},
		{"three stages", Stages(w, 3), 8},
		{"one cell", Cells(w, 1), 0},
		{"two cells", Cells(w, 2), 0.5},

		{"least comfortable", BandFit(l, w, 1.10), 0},
		{"most comfortable", BandFit(l, w, 1.35), 0},
		{"a step begun below", BandFit(l, w, 1.099), 1},
		{"a whole step below", BandFit(l, w, 1.05), 1},
		{"a step begun above", BandFit(l, w, 1.351), 1},
		{"three steps above", BandFit(l, w, 1.50), 3},

		{"push fit", Joint(w, drive.PushFit), 0},
		{"glue", Joint(w, drive.Glued), 0.5},
		{"sleeve", Joint(w, drive.Sleeved), 1},
		{"drilled out", Joint(w, drive.DrilledOut), 2},

		{"single, open", BandUse(w, drive.Single, false), 0},
		{"looped twice", BandUse(w, drive.LoopedTwice, false), 0.5},
		{"a pair", BandUse(w, drive.Paired, false), 0.5},
		{"crossed", BandUse(w, drive.Single, true), 2},
		{"a crossed pair", BandUse(w, drive.Paired, true), 2.5},

		{"all measured", Assumptions(w, 0), 0},
		{"three assumed", Assumptions(w, 3), 0.75},

		{"idle", MotorLoad(l, w, 0), 0},
		{"as much as it bears for long", MotorLoad(l, w, 0.25), 0},
		{"a step begun", MotorLoad(l, w, 0.251), 1},
		{"half of stall", MotorLoad(l, w, 0.5), 5},

		{"forgives", Forgiveness(w, true), 0},
		{"does not", Forgiveness(w, false), 5},
	} {
		assert.InDelta(t, c.want, c.got.Float(), 1e-12, c.name)
	}
	assert.Greater(t, Speed(w, 0, 20).Float(), 1e9, "a drive that stands still is never among the best")
}

func expPercent(p float64) units.RPM { return units.RPM(math.Exp(p / 100)) }

// TestWeightsScaleTheirTerm doubles every weight and wants every term doubled.
func TestWeightsScaleTheirTerm(t *testing.T) {
	l, w := brief.DefaultLimits(), brief.DefaultWeights()
	double := brief.Weights{
		SpeedPerPercent: 2 * w.SpeedPerPercent, SpeedStep: w.SpeedStep, Stage: 2 * w.Stage, BandFit: 2 * w.BandFit, Sleeve: 2 * w.Sleeve,
		DrillOut: 2 * w.DrillOut, Glue: 2 * w.Glue, Crossed: 2 * w.Crossed, DoubledBand: 2 * w.DoubledBand, Assumption: 2 * w.Assumption,
		Unforgiving: 2 * w.Unforgiving, Cell: 2 * w.Cell, MotorLoad: 2 * w.MotorLoad,
	}
	terms := func(w brief.Weights) []Points {
		return []Points{Speed(w, 23, 20), Stages(w, 2), Cells(w, 3), BandFit(l, w, 1.4), Joint(w, drive.Glued), Joint(w, drive.Sleeved),
			Joint(w, drive.DrilledOut), BandUse(w, drive.Paired, true), Assumptions(w, 1), MotorLoad(l, w, 0.4), Forgiveness(w, false)}
	}
	for i, once := range terms(w) {
		require.Positive(t, once)
		assert.Equal(t, 2*once, terms(double)[i], "term %d", i)
	}
}

// TestSpeedBounds: no speed of a range costs less than the range's bound, and any
// speed within a budget lies in the budget's window.
func TestSpeedBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := brief.DefaultWeights()
		w.SpeedStep = rapid.SampledFrom([]float64{0.1, 0.5, 1, 3}).Draw(t, "step")
		w.SpeedPerPercent = rapid.SampledFrom([]float64{0, 0.3, 1, 2}).Draw(t, "price")
		target := units.RPM(rapid.Float64Range(5, 500).Draw(t, "target"))
		lo := target * units.RPM(rapid.Float64Range(0.2, 3).Draw(t, "lo"))
		hi := lo * units.RPM(rapid.Float64Range(1, 3).Draw(t, "wide"))
		n := lo + (hi-lo)*units.RPM(rapid.Float64Range(0, 1).Draw(t, "where"))
		cost := Speed(w, n, target)
		require.GreaterOrEqual(t, cost, SpeedBound(w, units.Interval[units.RPM]{Lo: lo, Hi: hi}, target))
		budget := Points(rapid.Int64Range(0, 200_000).Draw(t, "budget"))
		if cost <= budget {
			require.True(t, SpeedWindow(w, budget, target).Contains(n), "%v costs %v and lies outside the window of %v", n, cost, budget)
		}
	})
}
