package why

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/conflict"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/leeway"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// The fastest that can be had is found, and no band of speeds beyond it has a drive.
func TestExtreme(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		speed  string
		faster bool
		says   string
	}{
		{"9000 rpm", true, "nothing here turns faster than "},
		{"4 rpm", false, "slows this motor to "},
	} {
		t.Run(c.speed, func(t *testing.T) {
			base := of(t, c.speed, "")
			near := base.Copy()
			near.Brief.Tolerance = 1000 // any speed will do
			r, err := design.Exists(context.Background(), near.Cupboard, near.Brief, design.Options{})
			require.NoError(t, err)
			require.Len(t, r.Proposals, 1)
			k := &asker{base: base}
			a := &Answer{Case: base}
			a.Extreme = k.extreme(context.Background(), &r.Proposals[0])
			require.NotNil(t, a.Extreme)
			require.True(t, a.Extreme.Proved)
			require.Equal(t, c.faster, a.Extreme.Faster)
			require.Contains(t, a.Extreme.words(base.Cupboard, base.Brief), c.says)
			n := float64(a.Extreme.Drive.Speed.Likely)
			with := func(at, tolerance float64) bool {
				c := a.Case.Copy()
				c.Brief.Speed.Turning, c.Brief.Tolerance = units.RPM(at), tolerance
				return settled(t, c)
			}
			require.True(t, with(n, 0.01), "it can be had")
			const half = 0.2
			way := (1 + half) / (1 - half)
			at := n * (1 + 1.5*nearEnough) / (1 - half)
			if !c.faster {
				way, at = 1/way, n/(1+1.5*nearEnough)/(1+half)
			}
			for range 10 {
				assert.False(t, with(at, half), "%g rpm", at)
				at *= way
			}
		})
	}
}

func TestNothingFits(t *testing.T) {
	cup := func(bore, shaft, rod float64) *parts.Cupboard {
		item := parts.Item{Name: "p", Count: 1}
		return &parts.Cupboard{
			Pulleys: []parts.Pulley{{Item: item, GrooveFloor: 30, Bore: units.Millimetres(bore)}},
			Motors:  []parts.Motor{{Item: item, ShaftDiameter: units.Millimetres(shaft)}},
			Axles:   []parts.AxleStock{{Item: item, Diameter: units.Millimetres(rod)}},
		}
	}
	b := &brief.Brief{}
	assert.Empty(t, nothingFits(cup(2, 2, 2), b))
	assert.Equal(t, "no pulley here fits the motor's 2 mm shaft: the bores are 6 mm, too loose", nothingFits(cup(6, 2, 6), b))
	assert.Equal(t, "no pulley here fits the 5 mm axles: the bores are 2 mm, too tight", nothingFits(cup(2, 2, 5), b))
	with := cup(6, 2, 6)
	with.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "s", Count: 1}, Inner: 2, Outer: 6}}
	assert.Empty(t, nothingFits(with, b))
	lift := &brief.Brief{Model: brief.Lift}
	with = cup(2, 2, 2)
	with.Drums = []parts.Drum{{Item: parts.Item{Name: "d", Count: 1}, Diameter: 20, Bore: 4}}
	assert.Equal(t, "no drum here fits the 2 mm axles: the bores are 4 mm, too loose", nothingFits(with, lift))
}

func TestOneSize(t *testing.T) {
	cup := &parts.Cupboard{Pulleys: []parts.Pulley{{Item: parts.Item{Count: 4}, GrooveFloor: 26}, {Item: parts.Item{Count: 1}, GrooveFloor: 26}}}
	assert.Equal(t, "equal pulleys change no speed, and all of these are 26 mm across where the band runs", oneSize(cup))
	cup.Pulleys[1].GrooveFloor = 30
	assert.Empty(t, oneSize(cup))
	cup.Pulleys[1].Count = 0
	assert.NotEmpty(t, oneSize(cup), "of what there is none of nothing can be built")
	assert.Empty(t, oneSize(&parts.Cupboard{}))
}

// Changes that ask least come first: a little more frame before parts to get, a speed
// far off after them.
func TestByCost(t *testing.T) {
	k := &asker{levers: []leeway.Lever{{Key: "speed"}, {Key: "pulleys"}, {Key: "frame length"}, {Key: "stages"}, {Key: "clearances"}, {Key: "frame depth"}, {Key: "frame height"}}}
	change := func(lever, by int, cost leeway.Cost, off float64) Change {
		return Change{Steps: []Step{{Lever: lever, By: by}}, Cost: cost, Drive: &design.Proposal{Target: 100, Speed: design.SpeedRange{Likely: units.RPM(100 * math.Exp(off))}}}
	}
	order := func(frame int, off float64) (keys []string) {
		all := []Change{change(4, 1, leeway.Rule, 0), change(2, frame, leeway.Frame, 0), change(1, 1, leeway.Part, 0), change(0, 9, leeway.Speed, off), change(3, 1, leeway.Words, 0)}
		k.byCost(all)
		for _, c := range all {
			keys = append(keys, k.levers[c.Steps[0].Lever].Key)
		}
		return keys
	}
	assert.Equal(t, []string{"stages", "speed", "frame length", "pulleys", "clearances"}, order(12, 0.3))
	assert.Equal(t, []string{"stages", "pulleys", "frame length", "speed", "clearances"}, order(40, -1.5))
	for _, size := range []int{2, 5, 6} { // length, depth, height
		all := []Change{change(1, 1, leeway.Part, 0), change(size, littleFrame, leeway.Frame, 0)}
		k.byCost(all)
		assert.Equal(t, size, all[0].Steps[0].Lever, k.levers[size].Key)
	}
	// A speed that is far off is so with another step too.
	two := func(lever int, off float64) Change {
		c := change(lever, 1, leeway.Frame, off)
		c.Steps = append(c.Steps, Step{Lever: 2, By: 60})
		return c
	}
	all := []Change{two(0, 1.5), two(1, 0)}
	k.byCost(all)
	assert.Equal(t, "pulleys", k.levers[all[0].Steps[0].Lever].Key)
	all = []Change{two(0, 0.3), two(1, 0)}
	k.byCost(all)
	assert.Equal(t, "speed", k.levers[all[0].Steps[0].Lever].Key)
}

// How slow it can be made is told with as many stages only as that drive has, and for as
// many groups as it is held to.
func TestExtremeWords(t *testing.T) {
	t.Parallel()
	c := of(t, "4 rpm", "sets = 2")
	c.Brief.MaxStages = 3
	e := &Extreme{Drive: &design.Proposal{Drive: &drive.Drive{Stages: make([]drive.Stage, 2)}, Speed: design.SpeedRange{Likely: 17}}, Proved: true}
	assert.Equal(t, "with what there is for 2 groups this motor can be slowed to 17 a minute at best", e.words(c.Cupboard, c.Brief))
	c.Brief.MaxStages = 2
	assert.Equal(t, "with what there is for 2 groups 2 stages slow this motor to 17 a minute at best", e.words(c.Cupboard, c.Brief))
	c.Brief.Sets = 1
	assert.Equal(t, "2 stages slow this motor to 17 a minute at best", e.words(c.Cupboard, c.Brief))
}

// Of which parts there are too few is said of each by itself, and not of one or another where it
// is known of one of them.
func TestTooFew(t *testing.T) {
	t.Parallel()
	cup := &parts.Cupboard{Motors: []parts.Motor{{Item: parts.Item{Name: "a", Count: 3}}, {Item: parts.Item{Name: "b", Count: 1}}}, Pulleys: []parts.Pulley{{Item: parts.Item{Name: "a", Count: 9}}}}
	a := &Answer{Case: leeway.Case{Brief: &brief.Brief{Sets: 5}, Cupboard: cup}, Levers: []leeway.Lever{
		{Key: "sets", Cost: leeway.Sets}, {Key: "speed", Cost: leeway.Speed}, {Key: "rods and sleeves", Cost: leeway.Part}, {Key: "cells"}, {Key: "pulleys", Cost: leeway.Part}, {Key: "motors", Cost: leeway.Part},
	}}
	says := func(of ...conflict.Set) string {
		a.Conflict.Conflicts = nil
		for _, s := range of {
			a.Conflict.Conflicts = append(a.Conflict.Conflicts, conflict.Conflict{Members: s, Needed: s})
		}
		return a.tooFew()
	}
	assert.Equal(t, "there are not enough rods and sleeves, and not enough pulleys for 5 sets", says(conflict.Of(0, 1, 2), conflict.Of(0, 3, 4, 5), conflict.Of(0, 1, 4)))
	assert.Equal(t, "there are not enough cell holders, pulleys or motors for 5 sets", says(conflict.Of(0, 3, 4, 5), conflict.Of(0, 1, 3, 4, 5)))
	assert.Equal(t, "there are not enough pulleys for 5 sets", says(conflict.Of(0, 4)))
	assert.Empty(t, says(conflict.Of(1, 4)))
	cup.Motors[1].Count, cup.Pulleys[0].Count = 2, 10
	assert.Equal(t, "there are not enough cell holders, suitable pulleys or suitable motors for 5 sets", says(conflict.Of(0, 3, 4, 5)), "there are enough of some sort or another")
}

// What it is enough to change alone tells what stands in the way, but for some cases.
func TestInTheWay(t *testing.T) {
	t.Parallel()
	sizes := func(floors ...units.Millimetres) *parts.Cupboard {
		cup := &parts.Cupboard{}
		for _, f := range floors {
			cup.Pulleys = append(cup.Pulleys, parts.Pulley{Item: parts.Item{Count: 9}, GrooveFloor: f})
		}
		return cup
	}
	discs := &Answer{Levers: []leeway.Lever{{Key: "discs", Words: "no discs"}, {Key: "pulleys", Words: "the pulleys"}}}
	for of, words := range map[conflict.Set]string{conflict.Of(0): "it cannot be done without pulleys made of discs", conflict.Of(0, 1): "it cannot be done with the pulleys"} {
		discs.Conflict.Conflicts = []conflict.Conflict{{Members: of, Needed: of}}
		assert.Equal(t, words, discs.together(0))
	}
	whole := conflict.Conflict{Members: conflict.Of(0, 1, 2, 3), Needed: conflict.Of(1, 2, 3)}
	levers := []leeway.Lever{{Key: "sets", Cost: leeway.Sets}, {Key: "speed", Cost: leeway.Speed}, {Key: "pulleys", Cost: leeway.Part}, {Key: "motors", Cost: leeway.Part}}
	for _, c := range []struct {
		name    string
		all     conflict.Answer
		alone   conflict.Set
		cup     *parts.Cupboard
		byAlone bool
	}{
		{"one thing", conflict.Impossible, conflict.Of(1), sizes(10, 20), true},
		{"not proved", conflict.Open, conflict.Of(1), sizes(10, 20), false},
		{"nothing alone", conflict.Impossible, 0, sizes(10, 20), false},
		{"fewer sets, and a stock is short", conflict.Impossible, conflict.Of(0, 3), sizes(10, 20), true},
		{"fewer sets, and of one stock or another there is too little", conflict.Impossible, conflict.Of(0, 1), sizes(10, 20), false},
		{"another speed, and equal pulleys change none", conflict.Impossible, conflict.Of(1), sizes(10, 10), false},
		{"other pulleys, of which all are equal", conflict.Impossible, conflict.Of(1, 2), sizes(10, 10), true},
	} {
		a := &Answer{Case: leeway.Case{Brief: &brief.Brief{Sets: 5}, Cupboard: c.cup}, Levers: levers}
		a.Conflict = conflict.Result{All: c.all, Alone: c.alone, Conflicts: []conflict.Conflict{whole}}
		want := whole
		if c.byAlone {
			want = conflict.Conflict{Members: c.alone, Needed: c.alone}
		}
		assert.Equal(t, []conflict.Conflict{want}, a.inTheWay(), c.name)
	}
}
