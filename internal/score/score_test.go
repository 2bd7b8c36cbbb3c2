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
		{"in every room", Classrooms(w, 100, 100), 0},
		{"in all but a tenth", Classrooms(w, 91, 100), 0}, // less than a whole tenth
		{"a whole tenth out", Classrooms(w, 90, 100), 2},
		{"half", Classrooms(w, 50, 100), 10},
		{"in no room", Classrooms(w, 0, 100), 20},
		{"stands in one of twenty", MayStand(w, 5, 100), 0},
		{"stands in more", MayStand(w, 6, 100), 10},

		{"within the range", Speed(w, 15, 26, 20), 0},
		{"within a step of it", Speed(w, 20.4, 26, 20), 0},                 // 100 ln(20.4/20) = 1.98
		{"one step", Speed(w, 20.41, 26, 20), 2},                           // 2.03
		{"a quarter fast", Speed(w, 25, 30, 20), 22},                       // 22.3
		{"a quarter slow costs more", Speed(w, 10, 15, 20), 28},            // 28.8
		{"a whole number of steps", Speed(w, 20*expPercent(4), 30, 20), 4}, // to the last bit
		{"it may stand and is slow at best", Speed(w, 0, 10, 20), 68},      // 69.3
		{"every stage changes the speed", Idle(w, 0), 0},
		{"a stage of equal pulleys", Idle(w, 1), 6},

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

		{"forgives", Forgiveness(w, 2, 2), 0},
		{"bears a millimetre", Forgiveness(w, 1, 2), 5},
		{"on the edge", Forgiveness(w, 0.9, 2), 15},
		{"nothing is asked of it", Forgiveness(w, 0, 0), 0},
	} {
		assert.InDelta(t, c.want, c.got.Float(), 1e-12, c.name)
	}
}

func expPercent(p float64) units.RPM { return units.RPM(math.Exp(p / 100)) }

// TestWeightsScaleTheirTerm doubles every weight and wants every term doubled.
func TestWeightsScaleTheirTerm(t *testing.T) {
	l, w := brief.DefaultLimits(), brief.DefaultWeights()
	double := brief.Weights{
		Classroom: 2 * w.Classroom, MayStand: 2 * w.MayStand, IdleStage: 2 * w.IdleStage, OnEdge: 2 * w.OnEdge,
		SpeedPerPercent: 2 * w.SpeedPerPercent, SpeedStep: w.SpeedStep, Stage: 2 * w.Stage, BandFit: 2 * w.BandFit, Sleeve: 2 * w.Sleeve,
		DrillOut: 2 * w.DrillOut, Glue: 2 * w.Glue, Crossed: 2 * w.Crossed, DoubledBand: 2 * w.DoubledBand, Assumption: 2 * w.Assumption,
		Unforgiving: 2 * w.Unforgiving, Cell: 2 * w.Cell, MotorLoad: 2 * w.MotorLoad,
	}
	terms := func(w brief.Weights) []Points {
		return []Points{Classrooms(w, 71, 100), MayStand(w, 9, 100), Idle(w, 1), Speed(w, 23, 25, 20), Stages(w, 2), Cells(w, 3), BandFit(l, w, 1.4), Joint(w, drive.Glued), Joint(w, drive.Sleeved),
			Joint(w, drive.DrilledOut), BandUse(w, drive.Paired, true), Assumptions(w, 1), MotorLoad(l, w, 0.4), Forgiveness(w, 1, 2), Forgiveness(w, 0, 2)}
	}
	for i, once := range terms(w) {
		require.Positive(t, once)
		assert.Equal(t, 2*once, terms(double)[i], "term %d", i)
	}
}

// Weights that are no whole thousandths are rounded before they are counted, so that what is
// charged for several things is the sum of what is charged for each.
func TestWeightsAreRoundedBeforeTheyAreCounted(t *testing.T) {
	l, w := brief.DefaultLimits(), brief.DefaultWeights()
	w.Assumption, w.IdleStage, w.Stage, w.Cell, w.Classroom = 0.0101, 0.2504, 0.3333, 0.0107, 0.1235
	w.BandFit, w.MotorLoad, w.SpeedPerPercent, w.SpeedStep, w.Unforgiving, w.OnEdge = 0.1117, 0.0126, 0.0713, 0.7, 0.0504, 0.0504
	for _, c := range []struct {
		name string
		got  Points // in thousandths
		want Points
	}{
		{"five assumed", Assumptions(w, 5), 5 * 10},
		{"two idle", Idle(w, 2), 2 * 250},
		{"four stages", Stages(w, 4), 3 * 333},
		{"four cells", Cells(w, 4), 3 * 11},
		{"half the classrooms", Classrooms(w, 50, 100), 5 * 124},
		{"three steps of stretch", BandFit(l, w, 1.50), 3 * 112},
		{"five steps of load", MotorLoad(l, w, 0.5), 5 * 13},
		{"steps of 0.7 percent", Speed(w, 25, 30, 20), 31 * 50}, // 22.3 percent, a step is 0.0499
		{"on the edge", Forgiveness(w, 0, 2), 50 + 50},
	} {
		assert.Equal(t, c.want, c.got, c.name)
	}
}

// TestTenthsAreWholeClassrooms: a drive works in as many classrooms of ten as it is
// charged for not working in the others, and more rooms never cost more.
func TestTenthsAreWholeClassrooms(t *testing.T) {
	w := brief.DefaultWeights()
	for works := range 101 {
		tenths := Tenths(works, 100)
		require.GreaterOrEqual(t, 10*tenths, works)
		require.Less(t, 10*tenths, works+10)
		require.Equal(t, Classrooms(w, 0, 100)-points(w.Classroom*float64(tenths)), Classrooms(w, works, 100))
		if works > 0 {
			require.LessOrEqual(t, Classrooms(w, works, 100), Classrooms(w, works-1, 100))
		}
	}
}

// TestSpeedOfNestedRanges: a wider range never costs more.
func TestSpeedOfNestedRanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := brief.DefaultWeights()
		w.SpeedStep = rapid.SampledFrom([]float64{0.1, 0.5, 1, 3}).Draw(t, "step")
		low := units.RPM(rapid.Float64Range(1, 100).Draw(t, "low"))
		high := low * units.RPM(rapid.Float64Range(1, 3).Draw(t, "high"))
		by := units.RPM(rapid.Float64Range(1, 3).Draw(t, "by"))
		require.LessOrEqual(t, Speed(w, low/by, high*by, 40), Speed(w, low, high, 40))
	})
}
