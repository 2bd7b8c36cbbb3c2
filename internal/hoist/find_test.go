package hoist

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Find against the plainest reading: every reeving worked out, those that break no
// rule sorted, the first of each arrangement.
func TestFindAgainstSortingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		got := Find(context.Background(), cup, b, Options{})
		var all []Hoist
		looked := 0
		require.NoError(t, each(context.Background(), cup, func(r Reeving) {
			looked++
			if h := workOut(r, b); len(breaks(&h, b, cup)) == 0 {
				all = append(all, h)
			}
		}))
		slices.SortFunc(all, func(x, y Hoist) int { return compare(&x, &y, b) })
		var want []Reeving
		seen := map[arrangement]int{}
		for _, h := range all {
			if seen[h.arrangement()] == 0 {
				want = append(want, h.Reeving)
			}
			seen[h.arrangement()]++
		}
		assert.Equal(t, looked, got.Looked)
		assert.Equal(t, len(all), got.Passed)
		require.Len(t, got.Hoists, len(want))
		for i := range want {
			assert.Equal(t, want[i], got.Hoists[i].Reeving)
			assert.Equal(t, seen[got.Hoists[i].arrangement()]-1, got.Hoists[i].Alike)
		}
		if len(want) == 0 {
			assert.Equal(t, NonePossible, got.Status)
		}
		few := Find(context.Background(), cup, b, Options{Keep: 1})
		assert.Equal(t, got.Kept, few.Kept)
		assert.LessOrEqual(t, len(few.Hoists), 1)
	})
}

// Asked how heavy a load can be, everything is compared at the load that was found: what the
// best hoist lifts for sure, and no other hoist needs less than its share of.
func TestOneLoadForAll(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		b.Mass = 0
		r := Find(context.Background(), cup, b, Options{})
		for i := range r.Lesson {
			require.Equal(t, r.Load, r.Lesson[i].Mass)
		}
		if len(r.Hoists) == 0 || r.Hoists[0].Heaviest == 0 {
			require.Equal(t, HeaviestLoad, r.Load)
			return
		}
		found++
		best := &r.Hoists[0]
		require.LessOrEqual(t, r.Load, best.Heaviest)
		require.Greater(t, float64(r.Load), 0.9*float64(best.Heaviest)-1)
		require.LessOrEqual(t, float64(best.Raising.High), float64(b.Pull)*(1+1e-9), "lifted for sure")
		same := *b
		same.Mass = r.Load
		for i := range r.Hoists {
			h := &r.Hoists[i]
			require.Equal(t, workOut(h.Reeving, &same).Raising, h.Raising)
			require.Equal(t, r.Load, h.Mass)
			require.Equal(t, sets(h), h.SetsFromStock)
			require.Equal(t, assumed(&h.Reeving), h.Assumed)
		}
	})
	require.Positive(t, found)
}

// The order of hoists is total: the same both ways round, and 0 only for the same.
func TestCompareIsAnOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		var all []Hoist
		require.NoError(t, each(context.Background(), cup, func(r Reeving) { all = append(all, workOut(r, b)) }))
		pick := rapid.SampledFrom(all)
		x, y, z := pick.Draw(t, "x"), pick.Draw(t, "y"), pick.Draw(t, "z")
		assert.Equal(t, compare(&x, &y, b), -compare(&y, &x, b))
		if compare(&x, &y, b) == 0 {
			assert.Equal(t, x.Reeving, y.Reeving)
		}
		if compare(&x, &y, b) < 0 && compare(&y, &z, b) < 0 {
			assert.Negative(t, compare(&x, &z, b))
		}
	})
}

// A wish that gives way never loses a hoist, and a rule that stands alone in the
// way gives one when it goes.
func TestLooserWishes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cup := drawBrief(t), drawCupboard(t)
		before := Find(context.Background(), cup, b, Options{})
		looser := *b
		looser.Pull = 50
		looser.Way = AnyWay
		after := Find(context.Background(), cup, &looser, Options{})
		if b.Mass > 0 {
			assert.GreaterOrEqual(t, after.Passed, before.Passed)
		}
		for _, no := range before.Refusals {
			assert.NotEmpty(t, no.Nearest)
			assert.LessOrEqual(t, no.Alone, no.Count)
			if no.Rule == WayRule && no.Alone > 0 {
				only := *b
				only.Way = AnyWay
				assert.Equal(t, before.Passed+no.Alone, Find(context.Background(), cup, &only, Options{}).Passed)
			}
		}
	})
}

// Each rule refuses what it is for, with its figures.
func TestRules(t *testing.T) {
	single := block("single", 1, 4)
	brief := func(change func(*Brief)) *Brief {
		b := &Brief{Mass: 500, Lift: 300, Beam: 800, Hook: 60, Pull: 10, Way: Down, StandOff: 300, Sets: 1}
		change(b)
		return b
	}
	strong := cupboard(single)
	weak, thick, short := cupboard(single), cupboard(single), cupboard(single)
	weak.Cords[0].Strength = 15
	thick.Cords[0].Diameter = 3.5
	short.Cords[0].Length = 1000
	for _, c := range []struct {
		rule   Rule
		cup    *parts.Cupboard
		change func(*Brief)
		want   string
	}{
		{PullRule, strong, func(b *Brief) { b.Pull = 1 }, "two singles, lead block at the beam (3 rope parts, pulled down): the pull would be about 2.1 N, and 1 N is comfortable"},
		{RiseRule, strong, func(b *Brief) { b.Lift = 690 }, "one fixed pulley (1 rope part, pulled down): the blocks meet after a lift of 630 mm, and 690 mm is asked for"},
		{StockRule, strong, func(b *Brief) { b.Sets = 5 }, "one fixed pulley (1 rope part, pulled down): 5 of block single are needed and there are 4"},
		{WayRule, strong, func(b *Brief) { b.Way = Level; b.Sets = 4 }, "one moving pulley (2 rope parts, pulled up): it is pulled up, and level is asked for"},
		{StrongRule, weak, func(*Brief) {}, "two singles, lead block at the beam (3 rope parts, pulled down): cord string breaks at 15 N, and 8 times the pull is 18.7 N"},
		{FitRule, thick, func(*Brief) {}, "two singles (2 rope parts, pulled down): cord string of 3.5 mm does not lie in the groove of single, 3 mm wide"},
		{LengthRule, short, func(*Brief) {}, "one fixed pulley (1 rope part, pulled down): each hoist needs 2.0 m of cord in one piece, and there is enough of string for 0 of 1"},
	} {
		r := Find(context.Background(), c.cup, brief(c.change), Options{})
		require.Equal(t, NonePossible, r.Status, c.rule)
		require.NotEmpty(t, r.Refusals)
		assert.Equal(t, c.rule, r.Refusals[0].Rule)
		assert.Positive(t, r.Refusals[0].Alone)
		assert.Equal(t, c.want, r.Refusals[0].Nearest)
	}
}

// The cord needed is enough to run the course when it is measured out piece by piece
// for the plain case: one fixed pulley.
func TestCordOfOneFixedPulley(t *testing.T) {
	cup := cupboard(block("single", 1, 1))
	r := Reeving{Tied: Load, Turns: 1, Fixed: &cup.Blocks[0], Cord: &cup.Cords[0]}
	b := &Brief{Lift: 300, Beam: 800, Hook: 60, StandOff: 300}
	// Beam 800, loop 20, drop 35: sheave at 745. Up from the hook 685, half a turn at
	// 13.75 mm 43.2, down and aside 803.1, knot and hand 400: 1931, so 2 m.
	assert.InDelta(t, 2000, float64(r.CordNeeded(b)), 1e-9)
	// Nose 20 under the sheave at 745, hook and knot to 80, 15 between: 630.
	assert.InDelta(t, 630, float64(r.LiftAvailable(b)), 1e-9)
}

func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	cup := cupboard(block("single", 1, 4))
	assert.Equal(t, StoppedEarly, Find(ctx, cup, &Brief{Mass: 100, Lift: 100, Beam: 900, Pull: 10, Way: AnyWay, Sets: 1}, Options{}).Status)
}

func TestReadBriefFillsIn(t *testing.T) {
	b, err := ReadBrief("hoist.toml", []byte("lift = \"30 cm\"\nbeam = \"1 m\"\n"), nil)
	require.NoError(t, err)
	assert.Equal(t, &Brief{Name: "hoist.toml", Lift: 300, Beam: 1000, Hook: 60, Pull: 10, Way: AnyWay, StandOff: 500, Sets: 1, Prefer: Simplest}, b)
	_, err = ReadBrief("h.toml", []byte("lift = \"30 cm\"\nbeam = \"1 m\"\ncord = \"strng\"\n"), cupboard(block("a", 1, 1)))
	assert.EqualError(t, err, "h.toml:3:8: cord: found \"strng\", which is not in the cupboard, did you mean \"string\"?")
}

func TestChange(t *testing.T) {
	b := &Brief{Lift: 300, Beam: 1000, Hook: 60}
	for key, text := range map[string]string{"mass": "0.5 kg", "lift": "20 cm", "beam": "0.9 m", "hook": "5 cm", "pull": "3 N", "way": "up", "sets": "4"} {
		require.NoError(t, b.Change(key, text), key)
	}
	assert.Equal(t, &Brief{Mass: 500, Lift: 200, Beam: 900, Hook: 50, Pull: 3, Way: Up, Sets: 4}, b)
	require.NoError(t, b.Check())
	assert.EqualError(t, b.Change("mass", "1.5 kg"), "1500 g is too heavy to lift in a classroom: it must be at most 1000 g, for a hand or foot may be under it when the cord slips")
	for _, none := range []string{"0", "two", "1.5", "1001"} {
		require.Error(t, b.Change("sets", none))
	}
	require.Error(t, b.Change("cord", "string"))
}

// A cheek keeps its promises for every block: material round every hole, the sheave
// clear of opening and tie bar, an axle through it all.
func TestCheeks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := block("home", rapid.IntRange(1, parts.MaxSheaves).Draw(t, "sheaves"), 1)
		b.HomeMade, b.Sheet, b.SheetKind = true, 4, parts.FlutedPlastic
		b.Outside = units.Millimetres(rapid.Float64Range(12, 120).Draw(t, "outside"))
		b.GrooveFloor, b.Spacer = b.Outside-4, units.Millimetres(rapid.Float64Range(0.5, 6).Draw(t, "spacer"))
		b.Axle = units.Millimetres(rapid.Float64Range(2, 6).Draw(t, "axle"))
		b.Bore = b.Axle + units.Millimetres(rapid.Float64Range(-0.2, 2).Draw(t, "room"))
		cord := units.Millimetres(rapid.Float64Range(0.3, 4).Draw(t, "cord"))
		m := Make(&b, cord)
		assert.GreaterOrEqual(t, float64(m.Above), 10.0, "at least 10 mm above the opening (common practice)")
		assert.GreaterOrEqual(t, m.AxleAt-b.Outside/2-cord, m.Above+m.OpeningHeight, "cord on the rim clears the opening")
		assert.GreaterOrEqual(t, m.TieAt-m.TieHole/2, m.AxleAt+b.Outside/2+cord, "and the tie bar")
		assert.GreaterOrEqual(t, m.Height-m.TieAt-m.TieHole/2, holeWall)
		assert.Greater(t, m.Width, b.Outside)
		assert.Equal(t, b.Sheaves+1, m.Spacers)
		assert.Greater(t, m.Inside, units.Millimetres(b.Sheaves)*b.Width+units.Millimetres(m.Spacers)*b.Spacer)
		assert.GreaterOrEqual(t, m.AxleLength, m.Inside+2*b.Sheet+2*stopRoom)
		if m.SheavesTurn {
			assert.Equal(t, b.Axle, m.AxleHole, "the cheeks hold the axle")
		} else {
			assert.Greater(t, m.AxleHole, b.Axle, "the axle turns in the cheeks")
			assert.NotEmpty(t, m.Warnings)
		}
	})
}
