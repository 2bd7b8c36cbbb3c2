package why

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/conflict"
	"findrive/internal/leeway"
	"findrive/internal/parts"
)

// within is a ride in a frame, from the box with rods so long.
func within(t *testing.T, frame string, rods int) leeway.Case {
	t.Helper()
	cup, err := parts.Read("cupboard.toml", []byte(strings.Replace(box, `length = "300 mm"`, fmt.Sprintf(`length = "%d mm"`, rods), 1)))
	require.NoError(t, err)
	b, err := brief.Read("brief.toml", []byte("name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"300 rpm\"\ntolerance = \"60 %\"\nmax_stages = 1\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"120 mm\"\nheight = \"100 mm\"\n"+frame))
	require.NoError(t, err)
	return leeway.Case{Cupboard: cup, Brief: b}
}

// What does by a little and not by much, since rods are cut longer for it, is found by how
// little, and nothing is said to be impossible that it makes possible.
func TestALittleDoesWhereMuchDoesNot(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		key string
		leeway.Case
		by         int
		then, much int // what does, and what does not
	}{
		{"strip", within(t, "depth = \"80 mm\"\nrails = [\"30 mm\", \"60 mm\"]\nstrip = \"9 mm\"\n", 130), 1, 2, 4},
		{"frame depth", within(t, "depth = \"32 mm\"\n", 72), 4, 7, 8},
	} {
		t.Run(c.key, func(t *testing.T) {
			t.Parallel()
			k := &asker{base: c.Case, levers: leeway.Levers(c.Case)}
			lever := slices.IndexFunc(k.levers, func(l leeway.Lever) bool { return l.Key == c.key })
			way := &k.levers[lever].Ways[0]
			with := func(n int) bool {
				changed := c.Copy()
				way.Apply(changed, n)
				return settled(t, changed)
			}
			require.False(t, with(0))
			require.False(t, with(c.by-1))
			require.True(t, with(c.by))
			require.True(t, with(c.then))
			require.False(t, with(c.much))
			require.False(t, with(way.Most))
			all := conflict.Set(1)<<len(k.levers) - 1
			assert.Equal(t, conflict.Possible, k.ask(context.Background(), all&^conflict.Of(lever)), "all else can be kept")
			found, settled := k.least(context.Background(), c.Copy(), []int{lever}, 1)
			assert.True(t, settled)
			require.Len(t, found, 1)
			assert.Equal(t, c.by, found[0].Steps[0].By)
			assert.True(t, found[0].Steps[0].Least)
			assert.Zero(t, k.open)
		})
	}
}

// Where no rod is long enough by any amount that would do, nothing is offered, and that is proved.
func TestNoAmountDoes(t *testing.T) {
	t.Parallel()
	c := within(t, "depth = \"32 mm\"\n", 68)
	k := &asker{base: c, levers: leeway.Levers(c)}
	lever := slices.IndexFunc(k.levers, func(l leeway.Lever) bool { return l.Key == "frame depth" })
	all := conflict.Set(1)<<len(k.levers) - 1
	assert.Equal(t, conflict.Impossible, k.ask(context.Background(), all&^conflict.Of(lever)))
	found, settled := k.least(context.Background(), c.Copy(), []int{lever}, 1)
	assert.Empty(t, found)
	assert.True(t, settled)
}

// With something else it is found too, where a little of that is only enough as long as axles
// are not longer.
func TestLongerAxlesAndFewerSets(t *testing.T) {
	t.Parallel()
	c := within(t, "depth = \"32 mm\"\n", 137)
	for i := range c.Cupboard.Pulleys {
		c.Cupboard.Pulleys[i].Count = 8
	}
	c.Cupboard.Axles[0].Count, c.Brief.Sets = 4, 8 // two axles of each rod, and one where it is deep enough
	k := &asker{base: c, levers: leeway.Levers(c)}
	var pair conflict.Set
	for i, l := range k.levers {
		if l.Key == "sets" || l.Key == "frame depth" {
			pair |= conflict.Of(i)
		}
	}
	found, _ := k.changes(context.Background(), []conflict.Set{pair})
	require.Len(t, found, 1)
	require.Len(t, found[0].Steps, 2)
	assert.Equal(t, "build 4 sets at once, not 8", found[0].Steps[0].Words)
	assert.Equal(t, "make the frame 36 mm deep, 4 mm more", found[0].Steps[1].Words)
	assert.True(t, settled(t, found[0].Case))
}
