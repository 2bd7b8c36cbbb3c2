package groups_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/outsidetest"
	"findrive/internal/parts"
)

// listed is the sharing out of every drive there is, told by what they take: weights so
// small that no list leaves a drive out for being dear.
func listed(t *testing.T, cup *parts.Cupboard, b *brief.Brief) *allot.Problem {
	t.Helper()
	one := *b
	one.Sets = 1
	w := &one.Weights
	for _, p := range []*float64{&w.Classroom, &w.MayStand, &w.SpeedPerPercent, &w.Stage, &w.BandFit, &w.Sleeve, &w.DrillOut, &w.Glue, &w.Crossed,
		&w.DoubledBand, &w.Assumption, &w.IdleStage, &w.Unforgiving, &w.OnEdge, &w.Cell, &w.MotorLoad} {
		*p /= 10
	}
	all, err := design.Find(context.Background(), cup, &one, design.Options{Keep: 1000})
	require.NoError(t, err)
	require.NotEqual(t, design.StoppedEarly, all.Status)
	p := &allot.Problem{Groups: b.Sets}
	at := map[string]int{}
	for _, d := range all.Proposals {
		for _, u := range d.Uses {
			if _, met := at[u.Kind+u.Name]; !met {
				at[u.Kind+u.Name] = len(p.Stock)
				p.Stock = append(p.Stock, u.Have)
			}
		}
	}
	for _, d := range all.Proposals {
		takes := make([]int, len(p.Stock))
		for _, u := range d.Uses {
			takes[at[u.Kind+u.Name]] += u.Each
		}
		p.Choices = append(p.Choices, allot.Choice{Takes: takes})
	}
	return p
}

// program is a sharing out with at most so many different drives in CPLEX LP format.
func program(p *allot.Problem, different int) string {
	var goal, rows, used, whole, binary strings.Builder
	for c := range p.Choices {
		fmt.Fprintf(&goal, " + x%d", c)
		fmt.Fprintf(&rows, "x%d - %d u%d <= 0\n", c, p.Groups, c)
		fmt.Fprintf(&used, " + u%d", c)
		fmt.Fprintf(&whole, "x%d\n", c)
		fmt.Fprintf(&binary, "u%d\n", c)
	}
	fmt.Fprintf(&rows, "%s <= %d\n%s <= %d\n", goal.String(), p.Groups, used.String(), different)
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

// most is how many groups all drives serve, at most so many different ones: by GLPK's
// solver of mixed integer programs, or by our own where it is not installed.
func most(t *testing.T, p *allot.Problem, different int) int {
	t.Helper()
	if len(p.Choices) == 0 {
		return 0
	}
	if !outsidetest.Have() && os.Getenv("CI") != "true" {
		q := *p
		q.Different = different
		return allot.Best(context.Background(), &q).Served
	}
	served, ok := outsidetest.Solve(t, program(p, different))
	require.True(t, ok)
	return int(served)
}

// As many groups are served as the listing of every drive, put to an outside solver, lets
// be served; with as few different drives; and one drive for all goes as far.
func TestServesAsManyAsEveryDriveDoes(t *testing.T) {
	t.Parallel()
	mixed, short := 0, 0
	for seed := range uint64(14) {
		rnd := rand.New(rand.NewPCG(seed, 31))
		cup := box(t, 3+rnd.IntN(9), 1+rnd.IntN(8), 1+rnd.IntN(7), 1+rnd.IntN(7))
		for i := range cup.Pulleys {
			if cup.Pulleys[i].Name == "medium" {
				cup.Pulleys[i].Count = rnd.IntN(6)
			}
		}
		b := ride(t, 4+rnd.IntN(8), "")
		all := listed(t, cup.InStock(), b)
		served := most(t, all, len(all.Choices)+1)
		r, err := groups.Plan(context.Background(), cup.InStock(), b, groups.Options{})
		require.NoError(t, err)
		require.Equal(t, served, r.Served, "seed %d", seed)
		require.True(t, r.Proved(), "seed %d", seed)
		if served == 0 {
			continue
		}
		require.Equal(t, most(t, all, 1), r.Single.Sets, "one drive for all, seed %d", seed)
		require.Equal(t, r.Single.Sets, r.Single.Most, "seed %d", seed)
		require.Equal(t, r.Fewest, len(r.Shares), "seed %d", seed)
		if n := len(r.Shares); n > 1 {
			mixed++
			require.Less(t, most(t, all, n-1), served, "no fewer different drives will do, seed %d", seed)
		}
		if served < b.Sets {
			short++
		}
		for n := 1; n < 4; n++ {
			r, err := groups.Plan(context.Background(), cup.InStock(), b, groups.Options{Different: n})
			require.NoError(t, err)
			require.Equal(t, most(t, all, n), r.Served, "seed %d, at most %d different", seed, n)
			require.True(t, r.Proved(), "seed %d, at most %d different", seed, n)
			require.LessOrEqual(t, len(r.Shares), n)
		}
	}
	require.Greater(t, mixed, 3)
	require.Greater(t, short, 3)
}
