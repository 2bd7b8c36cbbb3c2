package leeway_test

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/leeway"
	"findrive/internal/parts"
)

// strict is a case in which nearly everything can give.
func strict(t *testing.T) leeway.Case {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	b.Direction.MotorTurns = brief.Clockwise
	b.Direction.Sense = brief.Clockwise
	b.Direction.SeenFrom = "front"
	b.Making = brief.Making{DrillFrame: true}
	b.Frame.Pitch = 5
	b.Frame.OutputZone.X0 = 100
	b.MaxStages = 2
	open, single := false, drive.Single
	pins := &design.Pins{Motor: "slow", Holder: "one", Stages: 2, Output: "odd-30", Each: []design.StagePins{
		{Driver: "motor-6", Driven: "disc-80", Band: "no-24", Use: &single, Crossed: &open}, {Driver: "axle-10", Axle: "dowel-4"}}}
	return leeway.Case{Cupboard: cup, Brief: b, Pins: pins}
}

func exists(t *testing.T, c leeway.Case) design.Status {
	t.Helper()
	r, err := design.Exists(context.Background(), c.Cupboard, c.Brief, design.Options{Pins: c.Pins})
	require.NoError(t, err)
	return r.Status
}

// What is possible stays so when anything gives, by little or as far as it goes; and
// nothing changes in the case that was copied.
func TestGivingNeverMakesLessPossible(t *testing.T) {
	t.Parallel()
	c := strict(t)
	c.Pins.Each[1].Axle = "" // which only gives where it is not asked
	require.Equal(t, design.ProvedBest, exists(t, c))
	before := c.Copy()
	keys := map[string]bool{}
	for _, l := range leeway.Levers(c) {
		assert.False(t, keys[l.Key], l.Key)
		keys[l.Key] = true
		assert.NotEmpty(t, l.Words)
		assert.NotEmpty(t, l.Aside)
		assert.NotEmpty(t, l.Ways, l.Key)
		if l.Both {
			continue
		}
		relaxed := c.Copy()
		l.Relax(relaxed)
		assert.NotEqual(t, c, relaxed, "%s gives", l.Key)
		assert.Equal(t, design.ProvedBest, exists(t, relaxed), l.Key)
		for _, w := range l.Ways {
			same := c.Copy()
			w.Apply(same, 0)
			assert.Equal(t, c, same, "%s by nothing", l.Key)
			if w.Most > 0 {
				changed := c.Copy()
				w.Apply(changed, w.Most)
				assert.NotEqual(t, c, changed, "%s by its most", l.Key)
			}
		}
	}
	assert.Equal(t, before, c)
	for _, key := range []string{"speed", "sets", "stages", "cells", "pulleys", "bands", "motors", "rods and sleeves", "frame length", "frame height", "frame depth",
		"hole pitch", "motor zone", "output zone", "glue", "drilling out", "motor direction", "direction", "load", "stretch", "arc of contact", "grip", "motor in hand",
		"clearances", "wall round holes", "groove for the band", "wanted motor", "wanted cells", "wanted stages", "wanted output pulley",
		"wanted driver of stage 1", "wanted driven pulley of stage 1", "wanted band of stage 1", "wanted driver of stage 2"} {
		assert.True(t, keys[key], key)
	}
}

// Where it is the volts that are too many, that is what is said.
func TestTooManyVoltsIsWhatIsSaid(t *testing.T) {
	words := func(cells, allowed int) string {
		c := strict(t)
		for i := range c.Cupboard.Holders {
			c.Cupboard.Holders[i].Cells = cells
		}
		c.Brief.Cells = []int{allowed}
		for _, l := range leeway.Levers(c) {
			if l.Key == "cells" {
				return l.Words
			}
		}
		return ""
	}
	assert.Equal(t, "the holders there are, whose cells give more volts than the motors bear", words(6, 6))
	assert.Equal(t, "the numbers of cells allowed and the holders there are", words(2, 1))
}

// No holder is wished for that would give every motor more volts than it bears.
func TestNoHolderIsWishedForThatNoMotorBears(t *testing.T) {
	c := strict(t)
	var ways []string
	for _, l := range leeway.Levers(c) {
		for _, w := range l.Ways {
			if l.Key == "cells" && w.Most == 1 && w.Enough == nil {
				ways = append(ways, w.Words(c, nil))
			}
		}
	}
	require.Contains(t, ways, "get 8 holders for 3 cells each")
	require.NotContains(t, ways, "get 8 holders for 4 cells each")
}

// A brief without wishes that leaves all open has no levers for what is open.
func TestWhatGivesAlreadyIsNotListed(t *testing.T) {
	c := strict(t)
	c.Pins = nil
	c.Brief.Direction = brief.Direction{Sense: brief.Either, SeenFrom: "front", MotorTurns: brief.Either}
	c.Brief.Making = brief.Making{DrillFrame: true, DrillOut: true, Glue: true}
	c.Brief.Frame.Pitch = 1
	c.Brief.Sets, c.Brief.MaxStages = 1, drive.MaxStages
	c.Brief.Frame.MotorZone = brief.Rect{X1: c.Brief.Frame.Length, Y1: c.Brief.Frame.Height}
	c.Brief.Frame.OutputZone = c.Brief.Frame.MotorZone
	for _, l := range leeway.Levers(c) {
		assert.NotContains(t, []string{"direction", "motor direction", "glue", "drilling out", "hole pitch", "sets", "stages", "motor zone", "output zone", "rails"}, l.Key)
		assert.NotContains(t, l.Key, "wanted")
	}
}

// As many more of a rod or a sleeve can be got as a vehicle can take, whose free axle is
// a rod more and whose wheels are four.
func TestAsManyMoreAsASetTakes(t *testing.T) {
	c := strict(t)
	c.Cupboard.Axles[0].Count, c.Cupboard.Sleeves[0].Count, c.Brief.Sets = 0, 0, 1
	most := map[string]int{}
	for _, l := range leeway.Levers(c) {
		for _, w := range l.Ways {
			if l.Key == "rods and sleeves" && w.Most > 1 {
				most[w.Words(c, nil)] = w.Most
			}
		}
	}
	assert.Contains(t, most, "get 0 more of sleeve "+c.Cupboard.Sleeves[0].Name)
	assert.Equal(t, 12, most["get 0 more of sleeve "+c.Cupboard.Sleeves[0].Name])
	rods := 0
	for words, n := range most {
		if strings.HasPrefix(words, "get 0 more of rod "+c.Cupboard.Axles[0].Name+" ") {
			rods = n
		}
	}
	assert.Equal(t, 5, rods)
}

// As many more of a pulley or band can be got as a set can take: two for each stage. A drive
// tells how many of them are short, of all tubs of the like together.
func TestMorePulleysAndBandsThanTwo(t *testing.T) {
	c := strict(t)
	c.Brief.Sets = 5
	c.Cupboard.Pulleys[0].Count, c.Cupboard.Pulleys[1].Count, c.Cupboard.Bands[0].Count = 3, 9, 14
	pulley, like, band := c.Cupboard.Pulleys[0].Name, c.Cupboard.Pulleys[1].Name, c.Cupboard.Bands[0].Name
	q := &design.Proposal{Uses: []design.Use{
		{Kind: "pulley", Name: like, Also: []string{pulley}, Each: 3, Sets: 5},
		{Kind: "band", Name: band, Each: 3, Sets: 5},
	}}
	ways := map[string]leeway.Way{}
	for _, l := range leeway.Levers(c) {
		for _, w := range l.Ways {
			if w.Enough != nil && (l.Key == "pulleys" || l.Key == "bands") {
				ways[w.Words(c, nil)] = w
			}
		}
	}
	more := ways["get 0 more of pulley "+pulley]
	require.NotNil(t, more.Enough)
	assert.Equal(t, 5*8-3, more.Most)
	assert.Equal(t, 15-12, more.Enough(q))
	more = ways["get 0 more of band "+band]
	require.NotNil(t, more.Enough)
	assert.Equal(t, 5*8-14, more.Most)
	assert.Equal(t, 1, more.Enough(q))
}
