package selection

import (
	"context"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// bruteStage is one stage that can be built, by names.
type bruteStage struct {
	driver, driven, band, step int
	log, off                   int64
}

// bruteCosts are the costs of all drives, clones counted as one, cheapest first, in
// units. It goes through all of them by name and shares nothing with the search but
// the formulas of mechanics.
func bruteCosts(q *Question) []int64 {
	const parts = 60
	unit := float64(q.PerPoint * parts)
	log := func(d float64) int64 { return int64(math.Round(100 * unit * math.Log(d))) }
	var first, later []bruteStage
	for i, a := range q.Pulleys {
		for j, b := range q.Pulleys {
			if b.OnMotor {
				continue
			}
			for h, r := range q.Bands {
				for step := 1; step < 60; step++ {
					belt := mechanics.Belt{Driver: a.Diameter, Driven: b.Diameter, Centre: units.Millimetres(step) * q.Limits.Grid}
					if belt.Centre < (a.Diameter+b.Diameter)/2+q.Limits.Clearance-1e-9 {
						continue
					}
					x, y := belt.Arcs()
					stretch := float64(belt.Length() / r.Rest)
					if min(x, y) < q.Limits.LeastArc-1e-9 || stretch < q.Limits.LeastStretch || stretch > q.Limits.MostStretch {
						continue
					}
					s := bruteStage{i, j, h, step, log(float64(b.Diameter)) - log(float64(a.Diameter)),
						parts * int64(math.Round(10/0.35*float64(q.PerPoint)*math.Abs(stretch-q.Limits.IdealStretch)))}
					if a.OnMotor {
						first = append(first, s)
					} else {
						later = append(later, s)
					}
				}
			}
		}
	}
	costs := map[string]int64{}
	var chosen []bruteStage
	var extend func()
	extend = func() {
		if k := len(chosen); k > 0 {
			if !bruteStock(q, chosen) {
				return
			}
			sum, off := -log(q.Ratio), int64(0)
			for _, s := range chosen {
				sum, off = sum+s.log, off+s.off
			}
			costs[bruteName(q, chosen)] = max(sum, -sum) + int64(4*(k-1))*q.PerPoint*parts + off/int64(k)
			if k == q.MostStages {
				return
			}
		}
		list := later
		if len(chosen) == 0 {
			list = first
		}
		for _, s := range list {
			chosen = append(chosen, s)
			extend()
			chosen = chosen[:len(chosen)-1]
		}
	}
	extend()
	var out []int64
	for _, c := range costs {
		out = append(out, c/parts)
	}
	slices.Sort(out)
	return out
}

func bruteStock(q *Question, chosen []bruteStage) bool {
	pulleys, bands := map[int]int{}, map[int]int{}
	for _, s := range chosen {
		pulleys[s.driver]++
		pulleys[s.driven]++
		bands[s.band]++
	}
	for i, n := range pulleys {
		if n*q.Sets > q.Pulleys[i].Count {
			return false
		}
	}
	for i, n := range bands {
		if n*q.Sets > q.Bands[i].Count {
			return false
		}
	}
	return true
}

// bruteName tells drives apart by their dimensions.
func bruteName(q *Question, chosen []bruteStage) string {
	var names []string
	for _, s := range chosen {
		var b []byte
		for _, v := range []float64{float64(q.Pulleys[s.driver].Diameter), float64(q.Pulleys[s.driven].Diameter), float64(q.Bands[s.band].Rest), float64(s.step)} {
			for u := math.Float64bits(v); u > 0; u >>= 8 {
				b = append(b, byte(u))
			}
			b = append(b, ';')
		}
		names = append(names, string(b))
	}
	slices.Sort(names[1:])
	out := ""
	for _, n := range names {
		out += n + "|"
	}
	return out
}

func drawQuestion(t *rapid.T) *Question {
	q := &Question{Limits: UsualLimits(), PerPoint: rapid.SampledFrom([]int64{1000, 1e9}).Draw(t, "units")}
	sizes := rapid.SampledFrom([][]float64{{10, 20, 30, 40, 60}, {8, 11.3, 17.9, 26.4, 44.1, 61.7}, {10, 12.1, 14.641, 30}}).Draw(t, "sizes")
	motors := rapid.SampledFrom([]int{0, 1, 1, 2, 2}).Draw(t, "motors")
	count := rapid.IntRange(1, 4)
	for i := range motors + rapid.IntRange(1, 5).Draw(t, "pulleys") {
		q.Pulleys = append(q.Pulleys, Pulley{OnMotor: i < motors, Count: count.Draw(t, "count"), Diameter: units.Millimetres(rapid.SampledFrom(sizes).Draw(t, "size"))})
		if i < motors {
			q.Pulleys[i].Diameter /= 2
		}
	}
	for range rapid.IntRange(1, 3).Draw(t, "bands") {
		q.Bands = append(q.Bands, Band{Count: count.Draw(t, "count"), Rest: units.Millimetres(rapid.SampledFrom([]float64{64, 90, 100, 126.5, 152}).Draw(t, "rest"))})
	}
	q.Ratio = rapid.Float64Range(0.5, 200).Draw(t, "ratio")
	q.MostStages = rapid.SampledFrom([]int{1, 2, 2, 3, 3, 4, 5}).Draw(t, "stages")
	q.Sets = rapid.IntRange(1, 2).Draw(t, "sets")
	q.Keep = rapid.SampledFrom([]int{1, 3, 10}).Draw(t, "keep")
	if rapid.Bool().Draw(t, "narrow") {
		low := rapid.Float64Range(1.05, 1.5).Draw(t, "low")
		q.Limits.LeastStretch, q.Limits.MostStretch = low, low+rapid.Float64Range(0, 0.1).Draw(t, "window")
	}
	if q.MostStages == 3 { // a hundred thousand ways are enough
		q.Bands, q.Limits.Grid = q.Bands[:1], 10
		q.Pulleys = q.Pulleys[:min(len(q.Pulleys), 4)]
	}
	if q.MostStages > 3 { // deep, so of few sizes, with enough of each
		q.Bands, q.Limits.Grid = q.Bands[:1], 20
		q.Pulleys = q.Pulleys[:min(len(q.Pulleys), 3)]
		for i := range q.Pulleys {
			q.Pulleys[i].Count *= 4
		}
		q.Bands[0].Count *= 4
	}
	return q
}

// TestSameAsTryingAll compares the cheapest drives with all that there are.
func TestSameAsTryingAll(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) { compareWithAll(t, drawQuestion(t)) })
}

// TestTheSameForFixedQuestions does so for questions that are the same in every run,
// among them enough that have many drives, and deep ones.
func TestTheSameForFixedQuestions(t *testing.T) {
	t.Parallel()
	full, deep := 0, 0
	questions := rapid.Custom(drawQuestion)
	for seed := range 600 {
		q := questions.Example(seed)
		all, got := compareWithAll(t, q)
		if len(all) > q.Keep {
			full++
		}
		if n := len(got.Drives); n > 0 && len(got.Drives[n-1].Stages) > 3 {
			deep++
		}
	}
	require.Greater(t, full, 100)
	require.Greater(t, deep, 4)
}

func compareWithAll(t require.TestingT, q *Question) ([]int64, *Answer) {
	all := bruteCosts(q)
	got, err := Solve(context.Background(), q)
	require.NoError(t, err)
	require.True(t, got.Proved)
	var costs []int64
	for _, d := range got.Drives {
		costs = append(costs, d.Cost)
	}
	require.Equal(t, append([]int64(nil), all[:min(q.Keep, len(all))]...), costs)
	checkDrives(t, q, got)
	return all, got
}

// checkDrives works the drives of an answer out again from their names.
func checkDrives(t require.TestingT, q *Question, a *Answer) {
	seen := map[string]bool{}
	for _, d := range a.Drives {
		var chosen []bruteStage
		sum, off := math.Log(q.Ratio), 0.0
		for i, s := range d.Stages {
			driver, driven := q.Pulleys[s.Driver], q.Pulleys[s.Driven]
			require.Equal(t, i == 0, driver.OnMotor)
			require.False(t, driven.OnMotor)
			belt := mechanics.Belt{Driver: driver.Diameter, Driven: driven.Diameter, Centre: s.Centre}
			x, y := belt.Arcs()
			require.GreaterOrEqual(t, float64(min(x, y)), float64(q.Limits.LeastArc)-1e-9)
			require.GreaterOrEqual(t, float64(s.Centre), float64((driver.Diameter+driven.Diameter)/2+q.Limits.Clearance)-1e-9)
			require.InEpsilon(t, float64(belt.Length()/q.Bands[s.Band].Rest), s.Stretch, 1e-12)
			require.True(t, s.Stretch >= q.Limits.LeastStretch && s.Stretch <= q.Limits.MostStretch)
			sum, off = sum-math.Log(float64(driven.Diameter/driver.Diameter)), off+math.Abs(s.Stretch-q.Limits.IdealStretch)
			chosen = append(chosen, bruteStage{driver: s.Driver, driven: s.Driven, band: s.Band, step: int(math.Round(float64(s.Centre / q.Limits.Grid)))})
		}
		points := 100*math.Abs(sum) + 4*float64(len(d.Stages)-1) + 10*off/0.35/float64(len(d.Stages))
		perPoint := float64(q.PerPoint)
		if perPoint == 0 {
			perPoint = 1e9
		}
		require.InDelta(t, points, float64(d.Cost)/perPoint, 15/perPoint)
		require.True(t, bruteStock(q, chosen), "more than the stock has")
		name := bruteName(q, chosen)
		require.False(t, seen[name], "a drive twice over")
		seen[name] = true
	}
}
