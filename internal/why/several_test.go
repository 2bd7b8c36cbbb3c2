package why

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/parts"
)

// loose is a cupboard whose one kind of pulley does not go on the motor.
func loose(t *testing.T) *parts.Cupboard {
	t.Helper()
	text := strings.Replace(box, "[pulley.small]\noutside = \"9 mm\"\ngroove_floor = \"6 mm\"\nbore = \"2 mm\"\ncount = 4\n", "", 1)
	cup, err := parts.Read("cupboard.toml", []byte(text))
	require.NoError(t, err)
	require.Len(t, cup.Pulleys, 1)
	return cup
}

func asking(t *testing.T, speed, frame string) leeway.Case {
	t.Helper()
	b, err := brief.Read("brief.toml", []byte("name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \""+speed+"\"\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\n"+frame))
	require.NoError(t, err)
	return leeway.Case{Cupboard: loose(t), Brief: b}
}

const roomy = "length = \"160 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n"

// Every change, its amounts carried out as its words say, unlocks it.
func requireUnlocked(t *testing.T, a *Answer) {
	t.Helper()
	require.NotEmpty(t, a.Changes)
	for i := range a.Changes {
		assert.True(t, settled(t, a.Made(&a.Changes[i])), "%v", a.Changes[i].Steps)
	}
}

// Where nothing goes on the motor the smallest change is a pulley that does, and if it is
// not enough alone, with what else is needed.
func TestNothingOnTheMotor(t *testing.T) {
	t.Parallel()
	a, err := Ask(context.Background(), asking(t, "260 rpm", roomy), Options{})
	require.NoError(t, err)
	requireUnlocked(t, a)
	assert.Contains(t, a.Obstacle(), "no pulley here fits the motor's 2 mm shaft")
	assert.Equal(t, "get 1 of a pulley 10 mm across with a 2 mm bore", a.Changes[0].Steps[0].Words)

	a, err = Ask(context.Background(), asking(t, "120 rpm", roomy), Options{})
	require.NoError(t, err)
	requireUnlocked(t, a)
	var all []string
	for _, c := range a.Changes {
		all = append(all, c.Steps[0].Words)
	}
	assert.Regexp(t, "get 1 of a pulley 10 mm across with a 2 mm bore and 1 of a pulley [0-9]+ mm across with a 5 mm bore", strings.Join(all, "; "))
}

// Where no one or two things are enough, a set is found of which each is needed.
func TestSeveralTogether(t *testing.T) {
	t.Parallel()
	c := asking(t, "180 rpm", "length = \"60 mm\"\nheight = \"30 mm\"\ndepth = \"20 mm\"\n")
	a, err := Ask(context.Background(), c, Options{})
	require.NoError(t, err)
	requireUnlocked(t, a)
	steps := a.Changes[0].Steps
	require.Greater(t, len(steps), mostAside)
	require.Len(t, a.Conflict.Cures, 1)
	aside := a.Conflict.Cures[0]
	for _, i := range aside.Rules() {
		kept := c.Copy()
		for _, j := range aside.Rules() {
			if j != i {
				a.Levers[j].Relax(kept)
			}
		}
		assert.False(t, settled(t, kept), "without %s it stays impossible", a.Levers[i].Key)
	}
}

// Where a change is of the number of sets too, what is to be got is as much as those take,
// in its words and as it is carried out.
func TestGotForTheSetsThatAreLeft(t *testing.T) {
	t.Parallel()
	c := of(t, "300 rpm", "sets = 8")
	k := &asker{base: c, levers: leeway.Levers(c)}
	step := func(key, words string) Step {
		changed := c.Copy()
		for i := range k.levers {
			for w := range k.levers[i].Ways {
				way := &k.levers[i].Ways[w]
				if k.levers[i].Key != key {
					continue
				}
				way.Apply(changed, 1)
				if strings.Contains(way.Words(changed, &design.Proposal{}), words) {
					return Step{Lever: i, Way: w, By: 1}
				}
			}
		}
		t.Fatalf("no way of %s to %s", key, words)
		return Step{}
	}
	fewer := step("sets", "build")
	for by, want := range map[int]string{3: "get 5 holders for 2 cells each", 7: "get a holder for 2 cells"} {
		fewer.By = by
		change := &Change{Steps: []Step{step("cells", "for 2 cells"), fewer}, Drive: &design.Proposal{}}
		k.reword(c, change)
		assert.Equal(t, want, change.Steps[0].Words)
		made := (&Answer{Case: c, Levers: k.levers}).Made(change)
		assert.Equal(t, 8-by, made.Brief.Sets)
		assert.Equal(t, 8-by, made.Cupboard.Item("cells", "a holder for 2 cells").Count)
	}
}
