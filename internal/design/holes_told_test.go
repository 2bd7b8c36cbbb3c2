package design

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
)

// A drive that is likely out of the tolerance, or of its range, at the holes as they are drawn says
// so, and no other does.
func TestSpeedAtTheHolesIsTold(t *testing.T) {
	told := map[bool]int{}
	for seed := range uint64(6) {
		cup, b := cases.Make(cases.Size{Pulleys: 7, Bands: 7, Stages: 3}, cases.TightFrame, seed)
		b.Tolerance = 0.12
		r, err := Find(context.Background(), cup, b, Options{Keep: 4, Threads: 2})
		require.NoError(t, err)
		for i := range r.Proposals {
			p := &r.Proposals[i]
			out := math.Abs(float64(p.AtHoles-p.Target)) > b.Tolerance*float64(p.Target) || p.AtHoles < p.Speed.Low || p.AtHoles > p.Speed.High
			says := slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, "with the holes just as they are drawn") })
			require.Equal(t, out, says, "seed %d, drive %d", seed, p.Rank)
			told[says]++
		}
	}
	require.Positive(t, told[true])
	require.Positive(t, told[false])
}
