package why

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/conflict"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/leeway"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
)

// box is a small cupboard.
const box = `
[pulley.small]
outside = "9 mm"
groove_floor = "6 mm"
bore = "2 mm"
count = 4
[pulley.large]
outside = "40 mm"
groove_floor = "36 mm"
bore = "4.9 mm"
count = 3
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 20
[motor.m]
rated = "3 V"
free_speed = "5200 rpm"
stall_torque = "2.4 mN.m"
count = 9
[cells.one]
cells = 1
count = 9
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 10
`

func of(t *testing.T, speed, more string) leeway.Case {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", []byte(box))
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", fmt.Appendf(nil, "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = %q\nmax_stages = 1\n%s\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"120 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n", speed, more))
	require.NoError(t, err)
	return leeway.Case{Cupboard: cup, Brief: b}
}

// settled is whether there is a drive.
func settled(t *testing.T, c leeway.Case) bool {
	t.Helper()
	r, err := design.Exists(context.Background(), c.Cupboard, c.Brief, design.Options{Pins: c.Pins})
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, r.Status)
	return len(r.Proposals) > 0
}

// Every conflict is impossible with all else set aside, and possible without any one
// of its members; every change unlocks it, and one step less does not.
func TestWhyNotIsTrue(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		leeway.Case
		keys []string // of the first conflict
	}{
		{"too slow for one stage", of(t, "100 rpm", `tolerance = "10 %"`), []string{"speed", "pulleys"}},
		{"too many sets", of(t, "300 rpm", "sets = 4\ntolerance = \"60 %\""), []string{"sets", "pulleys"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			a, err := Ask(context.Background(), c.Case, Options{})
			require.NoError(t, err)
			require.False(t, a.Possible())
			require.True(t, a.Complete())
			k := &asker{base: c.Case, levers: a.Levers}
			require.NotEmpty(t, a.Conflict.Conflicts)
			var keys []string
			for _, m := range a.Conflict.Conflicts[0].Members.Rules() {
				keys = append(keys, a.Levers[m].Key)
			}
			for _, want := range c.keys {
				assert.Contains(t, keys, want)
			}
			for _, x := range a.Conflict.Conflicts {
				require.False(t, settled(t, k.relaxed(x.Members, nil)), "together they are impossible")
				for _, m := range x.Members.Rules() {
					rest := k.relaxed(x.Members&^conflict.Of(m), nil)
					found := settled(t, rest)
					for i := range a.Levers {
						if a.Levers[i].Both && !found {
							found = settled(t, k.relaxed(x.Members&^conflict.Of(m), &a.Levers[i]))
						}
					}
					require.True(t, found, "without %s the rest is possible", a.Levers[m].Key)
				}
			}
			require.NotEmpty(t, a.Changes)
			for _, change := range a.Changes {
				require.Len(t, change.Steps, 1)
				s := change.Steps[0]
				matched := false
				for _, w := range a.Levers[s.Lever].Ways {
					with := func(n int) leeway.Case {
						c := c.Copy()
						w.Apply(c, n)
						return c
					}
					if s.By > w.Most || w.Words(with(s.By), change.Drive) != s.Words {
						continue
					}
					matched = true
					assert.True(t, settled(t, with(s.By)), s.Words)
					assert.True(t, s.Least, s.Words)
					assert.False(t, settled(t, with(s.By-1)), "one step less than %q", s.Words)
				}
				assert.True(t, matched, s.Words)
			}
		})
	}
}

// What is left out briefly changes neither the sentence nor what unlocks it.
func TestBriefly(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		leeway.Case
		left bool // out
	}{
		{"too slow for one stage", of(t, "100 rpm", `tolerance = "10 %"`), true},
		{"too fast", of(t, "9000 rpm", `tolerance = "10 %"`), true},
		{"too many sets", of(t, "300 rpm", "sets = 4\ntolerance = \"60 %\""), true},
		{"nothing alone", of(t, "30 rpm", "tolerance = \"10 %\"\nsets = 4"), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			whole, err := Ask(context.Background(), c.Case, Options{})
			require.NoError(t, err)
			briefly, err := Ask(context.Background(), c.Case, Options{Briefly: true})
			require.NoError(t, err)
			require.NotEmpty(t, whole.Conflict.Conflicts)
			assert.Equal(t, c.left, len(briefly.Conflict.Conflicts) == 0)
			require.NotEmpty(t, briefly.Obstacle())
			assert.Equal(t, whole.Obstacle(), briefly.Obstacle())
			words := func(a *Answer) (out []string) {
				for _, change := range a.Changes {
					for _, s := range change.Steps {
						out = append(out, s.Words)
					}
				}
				return out
			}
			assert.Equal(t, words(whole), words(briefly))
			assert.Equal(t, whole.Tried, briefly.Tried)
		})
	}
}

// A wish that cannot be had is told apart from a brief that cannot be met.
func TestWishes(t *testing.T) {
	t.Parallel()
	c := of(t, "300 rpm", `tolerance = "60 %"`)
	require.True(t, settled(t, c))
	c.Pins = &design.Pins{Stages: 1, Output: "small"}
	a, err := Ask(context.Background(), c, Options{})
	require.NoError(t, err)
	require.False(t, a.Possible())
	require.NotEmpty(t, a.Conflict.Conflicts)
	require.Equal(t, "wanted output pulley", a.Levers[a.Conflict.Cures[0].Rules()[0]].Key)
	require.Equal(t, "settle for any pulley on the last axle", a.Changes[0].Steps[0].Words)
	require.NotNil(t, a.Best)

	c.Pins = &design.Pins{Stages: 1, Output: "large"}
	a, err = Ask(context.Background(), c, Options{})
	require.NoError(t, err)
	require.True(t, a.Possible())
	require.True(t, a.Complete())
	assert.True(t, Same(a.Best, a.Wanted))
}

func TestLackingEndsIt(t *testing.T) {
	c := of(t, "300 rpm", "")
	c.Cupboard.Motors = nil
	a, err := Ask(context.Background(), c, Options{})
	require.NoError(t, err)
	assert.Equal(t, []string{"motor"}, a.Lacking)
	assert.True(t, a.Complete())
}

// With no time nothing is claimed.
func TestNoTime(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	a, err := Ask(ctx, of(t, "300 rpm", ""), Options{})
	require.NoError(t, err)
	assert.False(t, a.Complete())
	assert.Empty(t, a.Conflict.Conflicts)
	assert.Empty(t, a.Changes)
	assert.Equal(t, design.StoppedEarly, a.Found.Status)
}

// The terms add up to the difference, and between equals the tie rule speaks.
func TestCompare(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", demo.Brief())
	require.NoError(t, err)
	r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 12})
	require.NoError(t, err)
	byMotor := 0
	for i := range r.Proposals[1:] {
		first, other := &r.Proposals[i], &r.Proposals[i+1]
		c := Compare(first, other)
		if m, o := first.Drive.Motor, other.Drive.Motor; c.Tie == "of the two motors "+m.Name+" is the stronger" {
			byMotor++
			assert.Greater(t, m.Strength(), o.Strength())
		}
		sum := other.Total - first.Total
		for k := range c.Terms {
			sum -= c.Terms[k].By()
		}
		require.Zero(t, sum)
		if first.Total == other.Total {
			assert.NotEmpty(t, c.Tie, "%d", i)
		} else {
			assert.Empty(t, c.Tie)
		}
	}
	assert.Positive(t, byMotor, "some tie is decided by the motors")
}

// Where two drives are charged differently for the same words, the figures are told that make
// the difference.
func TestFiguresWhereWordsAreTheSame(t *testing.T) {
	t.Parallel()
	drive := func(fit, motor score.Points, share float64, stretch ...float64) *design.Proposal {
		q := &design.Proposal{Drive: &drive.Drive{}, Total: fit + motor}
		q.Penalty = []score.Term{{Name: "band fit", Points: fit, Why: "band b is rather tight"}, {Name: "motor load", Points: motor, Why: "the motor runs at 35 % of stall"}}
		q.Motor.Share = share
		for _, s := range stretch {
			q.Stages = append(q.Stages, design.StageReport{Fitted: mechanics.Fitted{Stretch: s}})
		}
		return q
	}
	c := Compare(drive(3, 1, 0.346, 1.2, 1.37, 1.46), drive(2, 2, 0.354, 1.36, 1.331))
	assert.Equal(t, "band b is rather tight (stretched 20 %, 37 % and 46 %)", c.Terms[0].WhyFirst)
	assert.Equal(t, "band b is rather tight (stretched 36 % and 33.1 %)", c.Terms[0].WhyOther)
	assert.Equal(t, "the motor runs at 35 % of stall (34.6 %)", c.Terms[1].WhyFirst)
	assert.Equal(t, "the motor runs at 35 % of stall (35.4 %)", c.Terms[1].WhyOther)
	c = Compare(drive(3, 1, 0.346, 1.37), drive(3, 2, 0.354, 1.36))
	assert.Equal(t, "band b is rather tight", c.Terms[0].WhyFirst, "charged the same")
}

// What is said of a tie is what decides it, and true of the parts.
func TestTieSaysWhatDecides(t *testing.T) {
	t.Parallel()
	two := func(kind, more string) string { // two kinds of a part that differ in no points
		return fmt.Sprintf("\n[%s.zed]\n%s\ncount = 9\n", kind, more)
	}
	axle := "\n[axle.dowel]"
	for _, c := range []struct {
		name, from, to, says string
	}{
		{"motor", axle, two("motor", "rated = \"3 V\"\nfree_speed = \"5200 rpm\"\nstall_torque = \"2.41 mN.m\"") + axle, "of the two motors zed is the stronger"},
		{"driven", axle, two("pulley", "outside = \"40 mm\"\ngroove_floor = \"36 mm\"\nbore = \"4.9 mm\"\nmaterial = \"wood\"") + axle, "of two driven pulleys equally large zed comes before large in the order of equals"},
		{"driver", axle, two("pulley", "outside = \"9 mm\"\ngroove_floor = \"6 mm\"\nbore = \"2 mm\"\nmaterial = \"wood\"") + axle, "of two drivers equally large small comes before zed in the order of equals"},
		{"holder", axle, two("cells", "cells = 1\ncapacity = \"900 mAh\"") + axle, "of the two holders, for equally many cells, one comes before zed in the order of equals"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			cup, err := parts.Read("cupboard.toml", []byte(strings.Replace(box, c.from, c.to, 1)))
			require.NoError(t, err)
			r, err := design.Find(context.Background(), cup, of(t, "300 rpm", "tolerance = \"60 %\"").Brief, design.Options{Keep: 2})
			require.NoError(t, err)
			require.Len(t, r.Proposals, 2)
			first, other := &r.Proposals[0], &r.Proposals[1]
			require.Equal(t, first.Total, other.Total)
			assert.Equal(t, c.says, Compare(first, other).Tie)
			assert.Empty(t, Compare(other, first).Tie, "the other does not come first")
		})
	}
}

// What is said to come of a change is what a search comes to once it is made: the best drive of
// the change that asks least, and of another speed, where many drives would do.
func TestThenIsTheAnswerOnceTheChangeIsMade(t *testing.T) {
	t.Parallel()
	told := 0
	for name, c := range map[string]leeway.Case{
		"too slow":      of(t, "100 rpm", `tolerance = "10 %"`),
		"too many sets": of(t, "300 rpm", "sets = 4\ntolerance = \"60 %\""),
	} {
		a, err := Ask(context.Background(), c, Options{})
		require.NoError(t, err)
		require.NotEmpty(t, a.Changes)
		require.NotNil(t, a.Changes[0].Best, "the first is always told of")
		for i := range a.Changes {
			change := &a.Changes[i]
			made := a.Made(change)
			r, err := design.Find(context.Background(), made.Cupboard, made.Brief, design.Options{Keep: design.Usual})
			require.NoError(t, err)
			require.Equal(t, design.ProvedBest, r.Status)
			require.NotEmpty(t, r.Proposals)
			if change.Best == nil {
				assert.Same(t, change.Drive, change.Then())
				continue
			}
			told++
			assert.True(t, Same(change.Then(), &r.Proposals[0]), "%s: %s", name, change.Steps[0].Words)
			assert.InDelta(t, float64(r.Proposals[0].Total), float64(change.Then().Total), 1e-9)
			assert.InDelta(t, float64(r.Proposals[0].Speed.Likely), float64(change.Then().Speed.Likely), 1e-9)
		}
	}
	assert.GreaterOrEqual(t, told, 2)
}

// What was settled is not asked again, and what is done with the drive does not change it.
func TestAskedOnce(t *testing.T) {
	t.Parallel()
	over, stop := context.WithCancel(context.Background())
	stop()
	for _, c := range []leeway.Case{of(t, "300 rpm", `tolerance = "60 %"`), of(t, "100 rpm", `tolerance = "10 %"`)} {
		k := &asker{}
		first, answer := k.within(context.Background(), c, nil)
		require.NotEqual(t, conflict.Open, answer)
		before := c.Copy()
		c.Brief.Sets++ // of the caller's own, later
		_, open := k.within(over, c, nil)
		require.Equal(t, conflict.Open, open)
		if first != nil {
			first.Target /= 2
		}
		again, same := k.within(over, before, nil)
		require.Equal(t, answer, same)
		if first != nil {
			require.Equal(t, 2*first.Target, again.Target)
		}
	}
}
