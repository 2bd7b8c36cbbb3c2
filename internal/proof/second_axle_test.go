package proof_test

import (
	"context"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/units"
)

// buggyIn is the buggy of the examples, in a frame of that length and its shafts anywhere in it,
// with the pulleys of a few drives.
func buggyIn(t *testing.T, length int) (*parts.Cupboard, *brief.Brief) {
	cup, _ := example(t)
	cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool {
		return !slices.Contains([]string{"motor-6", "axle-10", "odd-30", "disc-60"}, p.Name)
	})
	cup.Motors = slices.DeleteFunc(cup.Motors, func(p parts.Motor) bool { return p.Name != "slow" })
	text, err := os.ReadFile("../../testdata/briefs/buggy.toml")
	require.NoError(t, err)
	b, err := brief.ReadFor("buggy.toml", text, cup)
	require.NoError(t, err)
	b.Frame.Length = units.Millimetres(length)
	b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
	b.Frame.OutputZone = b.Frame.MotorZone
	return cup, b
}

// TestTheSecondAxleIsAskedFor: a frame just too short for a second axle is proved to have no drive,
// whatever is listed for it; of one a hole longer nobody can say so.
func TestTheSecondAxleIsAskedFor(t *testing.T) {
	t.Parallel()
	const enough = 62
	cup, b := buggyIn(t, enough)
	true1 := list(t, cup, b, 1)
	require.Len(t, true1, 1)
	data, err := proof.Record(context.Background(), cup, b, 1, true1)
	require.NoError(t, err)
	_, err = check(t, data, cup, b)
	require.NoError(t, err)
	_, err = proof.Record(context.Background(), cup, b, 1, nil)
	require.ErrorContains(t, err, "a better drive is not listed")

	cup, short := buggyIn(t, enough-1)
	none := proved(t, cup, short, 1)
	v, err := check(t, none, cup, short)
	require.NoError(t, err)
	require.Empty(t, v.Ranked)
	_, err = proof.Record(context.Background(), cup, short, 1, true1)
	require.ErrorContains(t, err, "its holes will not do: there is no hole for a second axle")
}
