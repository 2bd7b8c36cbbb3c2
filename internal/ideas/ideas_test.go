package ideas_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/ideas"
	"findrive/internal/parts"
)

// box is a small cupboard for two or three sets.
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
[pulley.huge]
outside = "80 mm"
groove_floor = "74 mm"
groove_width = "4 mm"
bore = "4.9 mm"
count = 2
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 20
[band.long]
flat_length = "152 mm"
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

func cupboard(t *testing.T, data string) *parts.Cupboard {
	t.Helper()
	c, err := parts.Read("cupboard.toml", []byte(data))
	require.NoError(t, err)
	return c
}

// turning is a brief for a light ride at a speed.
func turning(name, speed string, more ...string) ideas.File {
	return ideas.File{Name: name + ".toml", Data: fmt.Appendf(nil, "name = %q\nmodel = \"ride on an upright axle\"\nspeed = %q\n%s\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n", name, speed, strings.Join(more, "\n"))}
}

func find(t *testing.T, cup *parts.Cupboard, opt ideas.Options, files ...ideas.File) *ideas.Result {
	t.Helper()
	list, wrong := ideas.Read(files)
	require.Empty(t, wrong)
	r, err := ideas.Find(context.Background(), cup, list, opt)
	require.NoError(t, err)
	return r
}

// The speeds of the library are within what is common practice for each model.
func TestLibraryIsSensible(t *testing.T) {
	list, wrong := ideas.Read(ideas.Library())
	require.Empty(t, wrong)
	require.GreaterOrEqual(t, len(list), 10)
	models := map[brief.Model]int{}
	turns := map[string][2]float64{ // turns a minute, common practice
		"Carousel": {10, 30}, "Big wheel": {5, 15}, "Flying chairs": {40, 90}, "Spinning sign": {60, 300}, "Windmill": {60, 300}, "Lighthouse lamp": {10, 30},
	}
	travels := map[string][2]float64{ // m/s, common practice
		"Buggy": {0.2, 0.5}, "Parade float": {0.2, 0.5}, "Hall racer": {1, 1.4}, "Crane": {0.02, 0.05}, "Harbour crane": {0.02, 0.05}, "Cage lift": {0.02, 0.05},
	}
	for _, idea := range list {
		b := idea.Brief
		models[b.Model]++
		assert.Equal(t, 8, b.Sets, b.Name)
		if b.Speed.Turning > 0 {
			require.Contains(t, turns, b.Name)
			assert.GreaterOrEqual(t, float64(b.Speed.Turning), turns[b.Name][0], b.Name)
			assert.LessOrEqual(t, float64(b.Speed.Turning), turns[b.Name][1], b.Name)
			continue
		}
		require.Contains(t, travels, b.Name)
		assert.GreaterOrEqual(t, float64(b.Speed.Linear), travels[b.Name][0], b.Name)
		assert.LessOrEqual(t, float64(b.Speed.Linear), travels[b.Name][1], b.Name)
	}
	for _, m := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift} {
		assert.GreaterOrEqual(t, models[m], 2, m)
	}
}

func TestMistakesAreToldFileByFile(t *testing.T) {
	_, wrong := ideas.Read([]ideas.File{turning("good", "60 rpm"), {Name: "bad.toml", Data: []byte("speed = 3\n")}, {Name: "worse.toml", Data: []byte("[")}})
	require.Len(t, wrong, 2)
	assert.Contains(t, wrong[0].Error(), "bad.toml:")
	assert.Contains(t, wrong[1].Error(), "worse.toml:")
	same := turning("good", "60 rpm")
	same.Name = "copy.toml"
	_, wrong = ideas.Read([]ideas.File{turning("good", "60 rpm"), same})
	require.Len(t, wrong, 1)
	assert.EqualError(t, wrong[0], `copy.toml: name: "good" is the name of the brief in good.toml too: give each its own`)
}

// Each answer is held to searches of its own: as many sets as it says and no more.
func TestAnswers(t *testing.T) {
	t.Parallel()
	cup := cupboard(t, box)
	r := find(t, cup, ideas.Options{},
		turning("all", "200 rpm", "sets = 2", `tolerance = "60 %"`),
		turning("some", "130 rpm", "sets = 8", "max_stages = 1", `tolerance = "30 %"`),
		turning("none", "2000 rpm", "sets = 2", "max_stages = 1"),
		turning("no holder", "200 rpm", "cells = [2]", `tolerance = "60 %"`),
		ideas.File{Name: "cart.toml", Data: []byte("name = \"cart\"\nmodel = \"vehicle\"\nspeed = \"0.3 m/s\"\n[load]\nmass = \"100 g\"\nwheel = \"red\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n")},
	)
	require.False(t, r.Stopped)
	names := []string{}
	for i := range r.Answers {
		a := &r.Answers[i]
		names = append(names, a.Brief.Name)
		possible := func(sets int) bool {
			b := *a.Brief
			b.Sets = sets
			again, err := design.Find(context.Background(), cup, &b, design.Options{Keep: 1})
			require.NoError(t, err)
			require.NotEqual(t, design.StoppedEarly, again.Status)
			return again.Status == design.ProvedBest
		}
		switch a.Kind {
		case ideas.AllSets:
			assert.GreaterOrEqual(t, a.Sets, a.Brief.Sets)
			assert.True(t, possible(a.Brief.Sets))
		case ideas.FewerSets:
			assert.True(t, a.MostProved)
			assert.True(t, possible(a.Sets))
			assert.False(t, possible(a.Sets+1))
			require.NotEmpty(t, a.First)
			for _, u := range a.First {
				assert.Less(t, u.Have, u.Each*(a.Sets+1), "one set more takes more than there is of %s", u.Name)
			}
		default:
			assert.False(t, possible(1))
		}
	}
	assert.Equal(t, []string{"all", "some", "none", "no holder", "cart"}, names, "best first")
	assert.Equal(t, 3, r.Answers[1].Sets)
	assert.Equal(t, "large", r.Answers[1].First[0].Name)
	assert.Equal(t, []string{"holder for 2 cells"}, r.Answers[3].Lacking)
	assert.Equal(t, "allow every number of cells that there are holders for", r.Answers[3].Changes[0].Words)
	assert.Equal(t, []string{"wheel", "wheel red"}, r.Answers[4].Lacking)
	assert.Empty(t, r.Answers[4].Changes)

	none := r.Answers[2]
	require.NotNil(t, none.Nearest)
	require.NotEmpty(t, none.Changes)
	for _, c := range none.Changes {
		assert.NotNil(t, c.Drive)
		assert.Positive(t, c.Sets)
	}
}

// A change by degrees goes no further than it must.
func TestChangesAreTheLeast(t *testing.T) {
	t.Parallel()
	cup := cupboard(t, box)
	r := find(t, cup, ideas.Options{}, turning("none", "600 rpm", "max_stages = 1", `tolerance = "5 %"`))
	require.Equal(t, ideas.NoDrive, r.Answers[0].Kind)
	var wide *ideas.Change
	for i := range r.Answers[0].Changes {
		if c := &r.Answers[0].Changes[i]; strings.HasPrefix(c.Words, "let the speed be ") {
			wide = c
		}
	}
	require.NotNil(t, wide)
	var percent int
	_, err := fmt.Sscanf(wide.Words, "let the speed be %d %% off", &percent)
	require.NoError(t, err)
	off := float64(wide.Drive.Speed.Likely/wide.Drive.Target) - 1
	assert.LessOrEqual(t, max(off, -off), float64(percent)/100)
	b := *r.Answers[0].Brief
	b.Tolerance = float64(percent-1) / 100
	again, err := design.Find(context.Background(), cup, &b, design.Options{Keep: 1})
	require.NoError(t, err)
	assert.Equal(t, design.NonePossible, again.Status)
}

func TestStoppedIsSaidToBe(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	list, wrong := ideas.Read(ideas.Library())
	require.Empty(t, wrong)
	r, err := ideas.Find(ctx, cupboard(t, string(demo.Cupboard())), list, ideas.Options{Sets: 3})
	require.NoError(t, err)
	assert.True(t, r.Stopped)
	assert.Equal(t, len(list), r.Count(ideas.Open))
	for _, a := range r.Answers {
		assert.Equal(t, 3, a.Brief.Sets)
	}
	for _, idea := range list {
		assert.Equal(t, 8, idea.Brief.Sets, "the caller's briefs stay as they are")
	}
}
