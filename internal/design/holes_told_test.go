package design

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/units"
)

// A drive that is likely out of the tolerance, or of its range, at the holes as they are drawn, or
// works in fewer classrooms there by a tenth of them, says so, and no other does.
func TestWhatADriveDoesAtItsHolesIsTold(t *testing.T) {
	told := map[string]int{}
	for seed := range uint64(6) {
		cup, b := cases.Make(cases.Size{Pulleys: 7, Bands: 7, Stages: 3}, cases.TightFrame, seed)
		b.Tolerance = 0.12
		r, err := Find(context.Background(), cup, b, Options{Keep: 4, Threads: 2})
		require.NoError(t, err)
		for i := range r.Proposals {
			p := &r.Proposals[i]
			says := ""
			if off := float64(p.AtHoles/p.Target) - 1; math.Abs(off) > b.Tolerance || p.AtHoles < p.Speed.Low || p.AtHoles > p.Speed.High {
				says = fmt.Sprintf("is likely %.0f %% %s than asked", 100*math.Abs(off), map[bool]string{true: "faster", false: "slower"}[off > 0])
			}
			rooms, err := InClassrooms(p.Drive, b)
			require.NoError(t, err)
			works := 0
			for _, n := range rooms {
				if math.Abs(float64(n/p.Target)-1) <= b.Tolerance {
					works++
				}
			}
			if works <= p.Works-10 {
				told["works"]++
				says = strings.TrimPrefix(says+fmt.Sprintf(" and works in %d classrooms of 100", works), " and ")
			}
			at := slices.IndexFunc(p.Notes, func(n string) bool { return strings.HasPrefix(n, "with the holes just as they are drawn it ") })
			require.Equal(t, says != "", at >= 0, "seed %d, drive %d", seed, p.Rank)
			if says != "" {
				require.Contains(t, p.Notes[at], says, "seed %d, drive %d", seed, p.Rank)
			}
			told[fmt.Sprint(says != "")]++
		}
	}
	require.Positive(t, told["true"])
	require.Positive(t, told["false"])
	require.Positive(t, told["works"])
}

// Whatever says where to look first if a band slips says the same of one drive: the band that the
// sums have slipping first, which need not be that with the shortest arc.
func TestWhereABandSlipsFirstIsToldOnce(t *testing.T) {
	told := map[bool]int{}
	for seed := range uint64(4) {
		cup, b := cases.Make(cases.Size{Pulleys: 7, Bands: 7, Stages: 3}, cases.TightFrame, seed)
		b.Limits.ArcWarn = units.Degrees(180)
		r, err := Find(context.Background(), cup, b, Options{Keep: 4, Threads: 2})
		require.NoError(t, err)
		for i := range r.Proposals {
			p := &r.Proposals[i]
			least := 0
			for k := range p.Stages {
				if min(p.Stages[k].GripRunning, p.Stages[k].GripStarting) < min(p.Stages[least].GripRunning, p.Stages[least].GripStarting) {
					least = k
				}
			}
			for _, note := range p.Notes {
				var stage int
				if n, _ := fmt.Sscanf(note, "stage %d has only", &stage); n == 1 && strings.Contains(note, "degrees of band") {
					require.Equal(t, stage == least+1, strings.HasSuffix(note, ": the first place to look if it slips"), "seed %d: %s", seed, note)
					require.Equal(t, stage != least+1, strings.HasSuffix(note, fmt.Sprintf(": if a band slips, look first at that of stage %d, and then here", least+1)), "seed %d: %s", seed, note)
					told[stage == least+1]++
				}
			}
		}
	}
	require.Positive(t, told[true])
	require.Positive(t, told[false])
}
