package design_test

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/score"
)

func winch(t *testing.T, tackles string) (*parts.Cupboard, *brief.Brief) {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	// One motor, few pulleys and bands: the outer choice is what is tried here.
	cup.Motors = cup.Motors[:1]
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool {
		return !slices.Contains([]string{"motor-6", "axle-40", "axle-50"}, p.Name)
	})
	cup.Bands = slices.DeleteFunc(cup.Bands, func(b parts.Band) bool { return !slices.Contains([]string{"no-16", "no-18"}, b.Name) })
	b, err := brief.Read("brief.toml", []byte(`model = "lift"
speed = "300 mm/s"
tolerance = "80 %"
max_stages = 1
cells = [1]
[load]
mass = "15 g"
tackle_parts = `+tackles+`
[frame]
length = "150 mm"
height = "100 mm"
depth = "100 mm"
`))
	require.NoError(t, err)
	return cup, b
}

// Drive and tackle chosen together: the best of the searches with each tackle by
// itself, in one list, fewest points and then fewest rope parts first.
func TestTackleIsChosenWithTheDrive(t *testing.T) {
	type drive struct {
		total float64
		parts int
	}
	find := func(tackles string) *design.Result {
		cup, b := winch(t, tackles)
		r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 6, Threads: 2})
		require.NoError(t, err)
		require.Equal(t, design.ProvedBest, r.Status)
		return r
	}
	listed := func(r *design.Result) []drive {
		var out []drive
		for i, p := range r.Proposals {
			require.NotNil(t, p.Tackle)
			assert.Equal(t, i+1, p.Rank)
			out = append(out, drive{p.Total.Float(), p.Tackle.Parts})
		}
		return out
	}
	var want []drive
	for _, one := range []string{"1", "2", "4"} {
		want = append(want, listed(find(one))...)
	}
	slices.SortStableFunc(want, func(x, y drive) int { return cmp.Or(cmp.Compare(x.total, y.total), cmp.Compare(x.parts, y.parts)) })
	together := find("[4, 1, 2]")
	require.Subset(t, want, []drive{{want[0].total, 1}}, "drives without a tackle")
	best := want[0].total
	want = slices.DeleteFunc(want, func(d drive) bool { return d.total > best+score.Worth.Float() })
	assert.Equal(t, want[:min(6, len(want))], listed(together))
	for _, p := range together.Proposals {
		// Statics: parts x efficiency x pull of the drum is the weight.
		assert.InEpsilon(t, 0.015*9.80665, float64(p.Tackle.Pull)*float64(p.Tackle.Parts)*p.Tackle.Efficiency, 1e-9)
		assert.Contains(t, p.Notes, "with the motor off the load runs back: hold it with a peg or catch")
	}
}

func TestTacklesStoppedOrImpossible(t *testing.T) {
	cup, b := winch(t, "[1, 2]")
	ctx, stop := context.WithCancel(context.Background())
	stop()
	r, err := design.Find(ctx, cup, b, design.Options{})
	require.NoError(t, err)
	assert.Equal(t, design.StoppedEarly, r.Status)

	cup, b = winch(t, "[1, 2]")
	cup.Bands = nil
	r, err = design.Find(context.Background(), cup, b, design.Options{})
	require.NoError(t, err)
	assert.Equal(t, design.NonePossible, r.Status)
	assert.Empty(t, r.Proposals)
}

// As many drives are found with all tackles together as are asked for, or all there are.
func TestExistsWithAnyTackle(t *testing.T) {
	ctx := context.Background()
	cup, b := winch(t, "[1, 2, 3]")
	all, err := design.Find(ctx, cup, b, design.Options{Keep: 50})
	require.NoError(t, err)
	require.Equal(t, design.ProvedBest, all.Status)
	n := len(all.Proposals)
	require.GreaterOrEqual(t, n, 1)
	for _, keep := range []int{1, 2, n, n + 1} {
		r, err := design.Exists(ctx, cup, b, design.Options{Keep: keep})
		require.NoError(t, err)
		require.Equal(t, design.ProvedBest, r.Status)
		// There are more that the list leaves out as not worth building.
		require.GreaterOrEqual(t, len(r.Proposals), min(keep, n))
		require.LessOrEqual(t, len(r.Proposals), keep)
		for i := range r.Proposals {
			require.Equal(t, i+1, r.Proposals[i].Rank)
		}
	}
}
