package design_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/design"
)

// BenchmarkOutside puts ordinary cupboards, one stage and two, to the search as it ships and
// to the outside solver, and holds the one to the other. "list" is the whole search, of six
// drives; "tables" is what the solver is given, every design worked out and asked for holes;
// "gecode" is what it takes to choose from them, its start and reading included.
func BenchmarkOutside(b *testing.B) {
	const firstSeed, n = 1_019_000, 10
	needMiniZinc(b)
	for seed := uint64(firstSeed); seed < firstSeed+n; seed++ {
		cup, task, err := cases.Ordinary(seed)
		require.NoError(b, err)
		task.MaxStages = 2
		if len(task.Load.Tackles) > 1 {
			task = task.With(task.Load.Tackles[0])
		}
		b.Run(fmt.Sprintf("%s, %d", task.Model, seed), func(b *testing.B) {
			for range b.N {
				from := time.Now()
				lap := func(unit string) {
					b.ReportMetric(float64(time.Since(from).Microseconds())/1000, unit)
					from = time.Now()
				}
				r, err := design.Find(context.Background(), cup, task, design.Options{})
				require.NoError(b, err)
				lap("ms/list")
				all := tabulate(cup, task)
				lap("ms/tables")
				theirs, possible := solve(b, all)
				lap("ms/gecode")
				b.ReportMetric(float64(len(all.works)), "works")
				require.Equal(b, possible, len(r.Proposals) > 0)
				if possible {
					require.EqualValues(b, theirs, r.Proposals[0].Total)
				}
			}
		})
	}
}
