package groups_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/parts"
)

// box has motors for so many, and pulleys for several different drives.
func box(t *testing.T, motors, small, large, huge int) *parts.Cupboard {
	t.Helper()
	pulley := func(name string, outside, floor, bore float64, count int) string {
		return fmt.Sprintf("[pulley.%s]\noutside = \"%g mm\"\ngroove_floor = \"%g mm\"\ngroove_width = \"4 mm\"\nbore = \"%g mm\"\ncount = %d\n", name, outside, floor, bore, count)
	}
	cup, err := parts.Read("cupboard.toml", []byte(pulley("small", 9, 6, 2, small)+pulley("medium", 11, 7, 2, 3)+pulley("large", 40, 36, 4.9, large)+pulley("huge", 52, 48, 4.9, huge)+
		fmt.Sprintf(`
[band.short]
flat_length = "63 mm"
width = "1.5 mm"
count = 30
[band.middling]
flat_length = "89 mm"
width = "1.5 mm"
count = 30
[motor.m]
rated = "3 V"
free_speed = "5200 rpm"
stall_torque = "2.4 mN.m"
count = %d
[cells.one]
cells = 1
count = 30
[axle.dowel]
diameter = "5 mm"
length = "300 mm"
count = 30
`, motors)))
	require.NoError(t, err)
	cup.Holders[0].Measured = true // to be 1.5 V
	return cup
}

func ride(t *testing.T, sets int, more string) *brief.Brief {
	t.Helper()
	b, err := brief.Read("brief.toml", fmt.Appendf(nil, "name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"250 rpm\"\ntolerance = \"45 %%\"\nmax_stages = 1\nsets = %d\n%s\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n", sets, more))
	require.NoError(t, err)
	return b
}

// Plans are held to the stock, part by part, and to the sharing out of every drive
// that there is.
func TestPlans(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name                       string
		motors, small, large, huge int
		sets                       int
		served                     int
		different                  int
	}{
		{"one drive for all", 9, 9, 9, 9, 8, 8, 1},
		{"different drives serve all", 9, 9, 4, 4, 8, 8, 2},
		{"motors run out", 5, 9, 4, 4, 8, 5, 2},
		{"pulleys of the axle run out", 9, 9, 3, 2, 8, 5, 2},
		{"pulleys of the motor run out", 9, 2, 9, 9, 8, 5, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			cup, b := box(t, c.motors, c.small, c.large, c.huge), ride(t, c.sets, "")
			r, err := groups.Plan(context.Background(), cup, b, groups.Options{})
			require.NoError(t, err)
			assert.Equal(t, c.served, r.Served)
			assert.True(t, r.Proved())
			assert.Equal(t, c.different, min(2, len(r.Shares)), "drives, 2 for more than one")
			assert.False(t, r.Stopped)
			sum := 0
			used := map[string]int{}
			for _, s := range r.Shares {
				sum += s.Groups
				for _, u := range s.Drive.Uses {
					used[u.Kind+" "+u.Name] += u.Each * s.Groups
				}
			}
			assert.Equal(t, r.Served, sum)
			for i := range cup.Pulleys {
				assert.LessOrEqual(t, used["pulley "+cup.Pulleys[i].Name], cup.Pulleys[i].Count)
			}
			assert.LessOrEqual(t, used["motor m"], c.motors)
			assert.GreaterOrEqual(t, c.served, everyDrive(t, cup, b), "the sharing out of all drives serves no more")
			assert.GreaterOrEqual(t, r.Served, r.Single.Sets)
			if c.served < c.sets {
				assert.NotEmpty(t, r.Gone)
				require.NotEmpty(t, r.Bound)
				have := 0
				for _, p := range r.Bound {
					have += p.Have
				}
				assert.Equal(t, r.Served, have/r.BoundEach)
				return
			}
			assert.Empty(t, r.Unlock)
		})
	}
}

// everyDrive shares out all drives that there are for one set.
func everyDrive(t *testing.T, cup *parts.Cupboard, b *brief.Brief) int {
	one := *b
	one.Sets = 1
	all, err := design.Find(context.Background(), cup, &one, design.Options{Keep: 1000})
	require.NoError(t, err)
	require.Equal(t, design.ProvedBest, all.Status)
	p := &allot.Problem{Groups: b.Sets}
	at := map[string]int{}
	for _, d := range all.Proposals {
		for _, u := range d.Uses {
			if _, met := at[u.Kind+u.Name]; !met {
				at[u.Kind+u.Name] = len(p.Stock)
				p.Stock = append(p.Stock, u.Have)
			}
		}
	}
	for _, d := range all.Proposals {
		takes := make([]int, len(p.Stock))
		for _, u := range d.Uses {
			takes[at[u.Kind+u.Name]] += u.Each
		}
		p.Choices = append(p.Choices, allot.Choice{Takes: takes})
	}
	return allot.Best(context.Background(), p).Served
}

// What is said to serve another group does: the cupboard with it is asked again.
func TestUnlockServesAnother(t *testing.T) {
	t.Parallel()
	b := ride(t, 8, "")
	cup := box(t, 9, 9, 3, 2)
	r, err := groups.Plan(context.Background(), cup, b, groups.Options{})
	require.NoError(t, err)
	require.NotEmpty(t, r.Unlock)
	for _, u := range r.Unlock {
		require.Equal(t, "pulley", u.Kind)
		more := box(t, 9, 9, 3, 2)
		for i := range more.Pulleys {
			if more.Pulleys[i].Name == u.Name {
				more.Pulleys[i].Count += u.Pieces
			}
		}
		again, err := groups.Plan(context.Background(), more, b, groups.Options{})
		require.NoError(t, err)
		assert.Greater(t, again.Served, r.Served, u.Name)
	}
}

func TestNoneAndStopped(t *testing.T) {
	b := ride(t, 8, "cells = [3]")
	r, err := groups.Plan(context.Background(), box(t, 9, 9, 9, 9), b, groups.Options{})
	require.NoError(t, err)
	assert.True(t, r.None)
	assert.True(t, r.Proved())
	ctx, stop := context.WithCancel(context.Background())
	stop()
	r, err = groups.Plan(ctx, box(t, 9, 9, 9, 9), ride(t, 8, ""), groups.Options{})
	require.NoError(t, err)
	assert.False(t, r.None)
	assert.False(t, r.Proved())
	assert.True(t, r.Stopped)
}
