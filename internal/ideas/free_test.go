package ideas_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/ideas"
	"findrive/internal/parts"
)

// With leave to be further off, two sizes of pulley come into question, of which together
// there are enough: all can build, though no one drive is there for all.
func TestFreeWithDifferentDrives(t *testing.T) {
	t.Parallel()
	pulley := func(name string, outside, floor, bore float64, count int) string {
		return fmt.Sprintf("[pulley.%s]\noutside = \"%g mm\"\ngroove_floor = \"%g mm\"\ngroove_width = \"4 mm\"\nbore = \"%g mm\"\ncount = %d\n", name, outside, floor, bore, count)
	}
	cup, err := parts.Read("cupboard.toml", []byte(pulley("small", 9, 6, 2, 9)+pulley("large", 40, 36, 4.9, 4)+pulley("huge", 52, 48, 4.9, 4)+
		"[band.short]\nflat_length = \"63 mm\"\nwidth = \"1.5 mm\"\ncount = 30\n[band.middling]\nflat_length = \"89 mm\"\nwidth = \"1.5 mm\"\ncount = 30\n"+
		"[motor.m]\nrated = \"3 V\"\nfree_speed = \"5200 rpm\"\nstall_torque = \"2.4 mN.m\"\ncount = 9\n[cells.one]\ncells = 1\ncount = 30\n[axle.dowel]\ndiameter = \"5 mm\"\nlength = \"300 mm\"\ncount = 30\n"))
	require.NoError(t, err)
	cup.Holders[0].Measured = true // to be 1.5 V
	b, err := brief.Read("brief.toml", []byte("name = \"ride\"\nmodel = \"ride on an upright axle\"\nspeed = \"230 rpm\"\ntolerance = \"8 %\"\nmax_stages = 1\nsets = 7\n[load]\nmass = \"60 g\"\n[frame]\nlength = \"200 mm\"\nheight = \"100 mm\"\ndepth = \"80 mm\"\n"))
	require.NoError(t, err)
	slower := func(found []ideas.Change) *ideas.Change {
		for i := range found {
			if strings.HasPrefix(found[i].Words, "let the speed be") {
				return &found[i]
			}
		}
		return nil
	}
	found, _, err := ideas.Free(context.Background(), cup, b, false, ideas.Options{})
	require.NoError(t, err)
	assert.Nil(t, slower(found), "one drive for all there is not")
	found, _, err = ideas.Free(context.Background(), cup, b, true, ideas.Options{})
	require.NoError(t, err)
	change := slower(found)
	require.NotNil(t, change)
	assert.Equal(t, 2, change.Different)
	assert.Equal(t, b.Sets, change.Sets)
}
