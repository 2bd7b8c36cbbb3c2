package design_test

import (
	"context"
	"maps"
	"math"
	"slices"
	"testing"
	"time"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// longest is how long a benchmark lets one search go on.
const longest = 20 * time.Second

// benchmarkFind searches for the proved best ten on one thread. It reports how many
// part-built drives were looked at and how many were worked out, and, whether
// the ten were proved best in time (1) or not (0), and then the gap in points
// between the tenth and the least that could still be found.
func benchmarkFind(b *testing.B, cup *parts.Cupboard, wanted *brief.Brief) {
	var last *design.Result
	b.ReportAllocs()
	for b.Loop() {
		ctx, cancel := context.WithTimeout(context.Background(), longest)
		r, err := design.Find(ctx, cup, wanted, design.Options{Threads: 1})
		cancel()
		if err != nil {
			b.Fatal(err)
		}
		last = r
	}
	gap, proved := 0.0, 1.0
	if last.Status == design.StoppedEarly {
		gap, proved = math.Inf(1), 0
		if n := len(last.Proposals); n == 10 {
			gap = (last.Proposals[n-1].Total - last.Open).Float()
		}
	}
	b.ReportMetric(float64(last.Stats.Nodes), "nodes/op")
	b.ReportMetric(float64(last.Stats.Finished), "finished/op")
	b.ReportMetric(proved, "proved")
	b.ReportMetric(gap, "gap-points")
}

// BenchmarkExamples are the built-in brief and those of testdata/briefs.
func BenchmarkExamples(b *testing.B) {
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	if err != nil {
		b.Fatal(err)
	}
	briefs := exampleBriefs(b)
	for _, name := range slices.Sorted(maps.Keys(briefs)) {
		b.Run(name, func(b *testing.B) { benchmarkFind(b, cup, briefs[name]) })
	}
}

// BenchmarkCupboard are generated cases of every family, of a class's size.
func BenchmarkCupboard(b *testing.B) { benchmarkFamilies(b, cases.Cupboard()) }

// BenchmarkService are generated cases of every family, of a loans service's size.
func BenchmarkService(b *testing.B) { benchmarkFamilies(b, cases.Service()) }

func benchmarkFamilies(b *testing.B, size cases.Size) {
	for _, family := range cases.Families() {
		b.Run(string(family), func(b *testing.B) {
			cup, wanted := cases.Make(size, family, 1)
			benchmarkFind(b, cup, wanted)
		})
	}
}
