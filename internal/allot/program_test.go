package allot_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
	"findrive/internal/outsidetest"
)

// TestFewDifferentAgreesWithIntegerProgram puts cases with a limit on how many different
// choices a plan may hold to GLPK's solver of mixed integer programs.
func TestFewDifferentAgreesWithIntegerProgram(t *testing.T) {
	t.Parallel()
	outsidetest.Need(t, "the sharing out is not held to another solver")
	fewer := 0
	for seed := range uint64(25) {
		rnd := rand.New(rand.NewPCG(seed, 17))
		p := &allot.Problem{Groups: 8 + rnd.IntN(12), Stock: make([]int, 10), Different: 1 + rnd.IntN(4)}
		for i := range p.Stock {
			p.Stock[i] = 3 + rnd.IntN(12)
		}
		for range 15 {
			takes := make([]int, len(p.Stock))
			for range 5 {
				takes[rnd.IntN(len(takes))]++
			}
			p.Choices = append(p.Choices, allot.Choice{Takes: takes})
		}
		plan := allot.Best(context.Background(), p)
		require.True(t, plan.Proved, "seed %d", seed)
		most, ok := outsidetest.Solve(t, program(p))
		require.True(t, ok)
		require.Equal(t, int(most), plan.Served, "seed %d", seed)
		p.Different = 0
		if allot.Best(context.Background(), p).Served > plan.Served {
			fewer++
		}
	}
	require.Greater(t, fewer, 5, "the limit must matter")
}

// program is a problem in CPLEX LP format: as many groups as can be.
func program(p *allot.Problem) string {
	var goal, rows, used, whole, binary strings.Builder
	for c := range p.Choices {
		fmt.Fprintf(&goal, " + x%d", c)
		fmt.Fprintf(&rows, "x%d - %d u%d <= 0\n", c, p.Groups, c)
		fmt.Fprintf(&used, " + u%d", c)
		fmt.Fprintf(&whole, "x%d\n", c)
		fmt.Fprintf(&binary, "u%d\n", c)
	}
	fmt.Fprintf(&rows, "%s <= %d\n%s <= %d\n", goal.String(), p.Groups, used.String(), p.Different)
	for part, have := range p.Stock {
		line := ""
		for c, choice := range p.Choices {
			if choice.Takes[part] > 0 {
				line += fmt.Sprintf(" + %d x%d", choice.Takes[part], c)
			}
		}
		if line != "" {
			fmt.Fprintf(&rows, "%s <= %d\n", line, have)
		}
	}
	return "Maximize\n goal:" + goal.String() + "\nSubject To\n" + rows.String() + "General\n" + whole.String() + "Binary\n" + binary.String() + "End\n"
}
