package selection_test

import (
	"context"
	"fmt"
	"testing"

	"findrive/internal/cases"
	"findrive/internal/selection"
)

// BenchmarkSolve asks for the ten cheapest of every family, of three sizes.
func BenchmarkSolve(b *testing.B) {
	for name, size := range map[string]cases.Size{"cupboard": cases.Cupboard(), "service": cases.Service(), "catalogue": cases.Catalogue()} {
		for _, family := range cases.SelectionFamilies() {
			b.Run(fmt.Sprintf("%s/%s", name, family), func(b *testing.B) {
				q := cases.Selection(size, family, 1)
				b.ReportAllocs()
				for b.Loop() {
					if a, err := selection.Solve(context.Background(), q); err != nil || !a.Proved {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
