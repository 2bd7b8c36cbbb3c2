package goals

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// proved is the best few arrangements that can enter, the best score first; every one if there
// are fewer.
func proved(t *testing.T, cup *parts.Cupboard, c *Challenge, keep int) *Result {
	t.Helper()
	r, err := Find(context.Background(), cup, c, Options{Keep: keep})
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, r.Status)
	require.Len(t, r.Entries, r.Proved)
	byScore(r)
	return r
}

// every is more than there are arrangements.
const every = 50

// contests are rules that leave some of the drives of a small cupboard and not the
// others. Where the parts alone decide, the rules only strike drives off the list;
// otherwise a drive may stay in by other bands or in other places than it would
// have without them.
func contests() map[string]struct {
	kind   Kind
	seed   uint64
	short  bool // the frame is so short that wheels reach beyond its ends
	rules  Rules
	strike bool
	keeps  func(Bill) bool
} {
	dear := Prices{Cell: 10, Pulley: 1, Band: 3}
	return map[string]struct {
		kind   Kind
		seed   uint64
		short  bool
		rules  Rules
		strike bool
		keeps  func(Bill) bool
	}{
		"cells":             {Heaviest, 1, false, Rules{Cells: 1}, true, func(b Bill) bool { return b.Cells <= 1 }},
		"budget for cells":  {Heaviest, 1, false, Rules{Budget: 19, Prices: dear}, true, func(b Bill) bool { return b.Price <= 19 }},
		"budget for a band": {Turns, 1, false, Rules{Budget: 25, Prices: dear}, false, func(b Bill) bool { return b.Price <= 25 }},
		"parts":             {Turns, 1, false, Rules{Parts: 6}, false, func(b Bill) bool { return b.Parts <= 6 }},
		"footprint": {Slowest, 4, true, Rules{Footprint: Footprint{Length: 140, Width: 125}}, false,
			func(b Bill) bool { return b.Stands.Length <= 125 && b.Stands.Width <= 140 }},
	}
}

// A contest's list is what is left of the list without its rules, and what stays in
// by being built otherwise, which makes no drive better.
func TestContestLeavesTheBestThatKeepItsRules(t *testing.T) {
	for name, x := range contests() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			cup, c := small(t, x.seed, x.kind)
			if x.short {
				c.Brief.Frame.Length = 100
			}
			c.Rules.Prices = x.rules.Prices
			free := proved(t, cup, c, every)
			c.Rules = x.rules
			ruled, g := proved(t, cup, c, every), goalOf(c)
			step := func(e *Entry) int { return onStep(e.Proposal.Drive, g, g.last()) }

			was := map[string]*Entry{}
			var left []*Entry
			struck := 0
			for i := range free.Entries {
				e := &free.Entries[i]
				was[arrangement(e.Proposal.Drive)] = e
				if x.keeps(e.Bill) {
					left = append(left, e)
				} else {
					struck++
				}
			}
			require.NotEmpty(t, left, "the rule must leave some")
			require.Positive(t, struck, "and strike some off")

			found := map[string]*Entry{}
			for i := range ruled.Entries {
				e := &ruled.Entries[i]
				require.True(t, x.keeps(e.Bill), "%+v", e.Bill)
				key := arrangement(e.Proposal.Drive)
				found[key] = e
				require.Contains(t, was, key, "rules add no drive")
				require.LessOrEqual(t, step(was[key]), step(e), "rules make no drive better")
			}
			if x.strike {
				require.Len(t, ruled.Entries, len(left))
			}
			best := step(&ruled.Entries[0])
			require.LessOrEqual(t, best, step(left[0]))
			for i, e := range left {
				key := arrangement(e.Proposal.Drive)
				require.Contains(t, found, key)
				require.Equal(t, step(e), step(found[key]))
				if x.strike {
					require.Equal(t, key, arrangement(ruled.Entries[i].Proposal.Drive), "in the same order")
					require.Equal(t, e.Proposal.Drive.Positions, ruled.Entries[i].Proposal.Drive.Positions)
				}
			}

			if !x.strike || x.rules.Cells > 0 {
				return // one case of this is enough for its time
			}
			require.Positive(t, best)
			// No drive of all there are keeps the rules and is better.
			better := g.asks(best - 1)
			everyDrive(cup, c, func(d *drive.Drive) {
				require.False(t, x.keeps(billOf(d, c.Brief, x.rules.Prices)) && sound(d, better))
			})
		})
	}
}

// A rule that nothing can meet gives a proof, and the answer names the rule.
func TestContestThatNothingCanEnter(t *testing.T) {
	for name, x := range map[string]struct {
		rules Rules
		says  string
	}{
		"cells":     {Rules{Cells: 1}, "a drive would take 2 cells, and the contest allows 1"},
		"budget":    {Rules{Budget: 3, Prices: usualPrices()}, "a drive would cost 16 pretend pounds, and the contest allows 3"},
		"parts":     {Rules{Parts: 4}, "a drive would take 7 parts, and the contest allows 4"},
		"footprint": {Rules{Footprint: Footprint{Length: 210, Width: 148}}, "a model would cover at least 300 by 140 mm, and the contest allows 210 by 148"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			cup, c := small(t, 0, Heaviest)
			cup.Holders = cup.Holders[1:]
			require.Equal(t, 2, cup.Holders[0].Cells)
			c.Rules = x.rules
			r := proved(t, cup, c, 1)
			require.Equal(t, design.NonePossible, r.Status)
			require.Empty(t, r.Entries)
			var says []string
			for _, no := range r.Refused {
				if no.Rule == constraints.Contest {
					says = append(says, no.Nearest)
				}
			}
			require.Equal(t, []string{x.says}, says)
		})
	}
}

// The wheels may stand anywhere in a zone of which the footprint allows a small part:
// the place that stands for all that are alike is taken from there.
func TestWheelsAreKeptOnTheFootprint(t *testing.T) {
	for _, zone := range []brief.Rect{{X0: 2, X1: 32, Y1: 200}, {X0: 268, X1: 298, Y1: 200}} {
		cup, c := small(t, 2, Steepest)
		c.Brief.Frame.OutputZone = zone
		free := proved(t, cup, c, every)
		c.Rules.Footprint = Footprint{Length: 150, Width: 300}
		ruled := proved(t, cup, c, every)
		require.Len(t, ruled.Entries, len(free.Entries))
		for i := range ruled.Entries {
			require.LessOrEqual(t, ruled.Entries[i].Bill.Stands.Length, units.Millimetres(300))
			require.Equal(t, free.Entries[i].Score.Climbs, ruled.Entries[i].Score.Climbs)
		}
	}
}

// Stages in another order are the same arrangement, and others are not.
func TestOrderOfStagesMakesNoArrangement(t *testing.T) {
	a, b, c := &parts.Pulley{Item: parts.Item{Name: "a"}}, &parts.Pulley{Item: parts.Item{Name: "b"}}, &parts.Pulley{Item: parts.Item{Name: "c"}}
	of := func(stages ...drive.Stage) string {
		return arrangement(&drive.Drive{Motor: &parts.Motor{}, Holder: &parts.CellHolder{}, Stages: stages})
	}
	ab, ac := drive.Stage{Driver: a, Driven: b}, drive.Stage{Driver: a, Driven: c}
	require.Equal(t, of(ab, ac), of(ac, ab))
	require.NotEqual(t, of(ab, ab), of(ab, ac))
	require.NotEqual(t, of(ab), of(drive.Stage{Driver: b, Driven: a}))
}
