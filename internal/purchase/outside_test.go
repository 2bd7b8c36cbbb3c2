package purchase_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/outsidetest"
	"findrive/internal/purchase"
)

// TestLeastAgreesWithOutsideSolver puts cases too large to try every purchase of to
// GLPK's solver of mixed integer programs, whose model shares nothing with the search:
// first for the least money, then for the least cost at that money.
func TestLeastAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	outsidetest.Need(t, "purchases are not held to another solver")
	bought := 0
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 11))
		p := drawn(rnd, 7, 12, 1+int(seed%3), 5, 10, 3)
		plan := purchase.Least(context.Background(), p, purchase.Options{})
		require.True(t, plan.Proved, "seed %d", seed)
		least, ok := outsidetest.Solve(t, program(p, -1))
		require.Equal(t, ok, plan.Found, "seed %d", seed)
		if !ok {
			continue
		}
		held(t, p, plan)
		require.Equal(t, least, int64(plan.Money), "money, seed %d", seed)
		least, ok = outsidetest.Solve(t, program(p, int64(plan.Money)))
		require.True(t, ok)
		// The program counts every different choice, the search those after a task's first.
		for _, task := range p.Tasks {
			least -= task.Another
		}
		require.Equal(t, least, plan.Cost, "cost, seed %d", seed)
		require.True(t, plan.CostProved)
		if plan.Money > 0 {
			bought++
		}
	}
	require.Greater(t, bought, 5, "many cases need a purchase")
}

// program writes a problem in CPLEX LP format: the least money; or, for a money that is
// not negative, the least cost at that money.
func program(p *purchase.Problem, atMoney int64) string {
	var money, cost, rows, binary, whole strings.Builder
	used := make([]strings.Builder, len(p.Tasks))
	for c, choice := range p.Choices {
		n := p.Tasks[choice.Task].Groups
		fmt.Fprintf(&cost, " + %d x%d + %d u%d", choice.Cost, c, p.Tasks[choice.Task].Another, c)
		fmt.Fprintf(&rows, "x%d - %d u%d <= 0\n", c, n, c)
		if !p.Mix {
			fmt.Fprintf(&rows, "x%d - %d u%d = 0\n", c, n, c)
		}
		fmt.Fprintf(&used[choice.Task], " + x%d", c)
		fmt.Fprintf(&whole, "x%d\n", c)
		fmt.Fprintf(&binary, "u%d\n", c)
	}
	for t, task := range p.Tasks {
		fmt.Fprintf(&rows, "%s = %d\n", used[t].String(), task.Groups)
	}
	const most = 1000 // packs, more than anybody needs
	for r, row := range p.Rows {
		line := ""
		for c, choice := range p.Choices {
			if choice.Takes[r] > 0 {
				line += fmt.Sprintf(" + %d x%d", choice.Takes[r], c)
			}
		}
		for o, offer := range p.Offers {
			if offer.Part == row.Part && line != "" {
				line += fmt.Sprintf(" - %d y%d", offer.Pack*row.Scale, o)
			}
		}
		if line != "" {
			fmt.Fprintf(&rows, "%s <= %d\n", line, p.Stock[row.Part]*row.Scale)
		}
	}
	for o, offer := range p.Offers {
		fmt.Fprintf(&money, " + %d y%d", offer.Price, o)
		fmt.Fprintf(&rows, "y%d - %d w%d <= 0\ny%d - %d w%d >= 0\nw%d - z%d - f%d <= 0\n", o, most, o, o, offer.Least, o, o, offer.Supplier, offer.Supplier)
		fmt.Fprintf(&whole, "y%d\n", o)
		fmt.Fprintf(&binary, "w%d\n", o)
	}
	for i, s := range p.Suppliers {
		fmt.Fprintf(&money, " + %d z%d + 0 f%d", s.Carriage, i, i)
		spent := ""
		for o, offer := range p.Offers {
			if offer.Supplier == i {
				spent += fmt.Sprintf(" + %d y%d", offer.Price, o)
			}
		}
		fmt.Fprintf(&rows, "z%d + f%d <= 1\n", i, i)
		if s.FreeFrom == 0 || spent == "" {
			fmt.Fprintf(&rows, "f%d = 0\n", i)
		} else {
			fmt.Fprintf(&rows, "%s - %d f%d >= 0\n", spent, s.FreeFrom, i)
		}
		if spent != "" {
			fmt.Fprintf(&rows, "%s - %d z%d - %d f%d >= 0\n", spent, s.Minimum, i, s.Minimum, i)
		}
		fmt.Fprintf(&binary, "z%d\nf%d\n", i, i)
	}
	goal := money.String()
	if atMoney >= 0 {
		fmt.Fprintf(&rows, "%s <= %d\n", goal, atMoney)
		goal = cost.String()
	}
	return "Minimize\n goal:" + goal + "\nSubject To\n" + rows.String() + "General\n" + whole.String() + "Binary\n" + binary.String() + "End\n"
}
