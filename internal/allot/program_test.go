package allot_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
)

// TestFewDifferentAgreesWithIntegerProgram puts cases with a limit on how many different
// choices a plan may hold to GLPK's solver of mixed integer programs.
func TestFewDifferentAgreesWithIntegerProgram(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("glpsol"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("glpsol is not installed, and without it the sharing out is not held to another solver")
		}
		t.Skip("glpsol is not installed: apt-get install glpk-utils")
	}
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
		require.Equal(t, solved(t, program(p)), plan.Served, "seed %d", seed)
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

var objective = regexp.MustCompile(`Objective: +goal = (-?[0-9.e+]+)`)

// solved is the most that a program comes to.
func solved(t *testing.T, lp string) int {
	t.Helper()
	in, out := filepath.Join(t.TempDir(), "p.lp"), filepath.Join(t.TempDir(), "p.txt")
	require.NoError(t, os.WriteFile(in, []byte(lp), 0o600))
	said, err := exec.Command("glpsol", "--lp", in, "--output", out, "--cuts").CombinedOutput()
	require.NoError(t, err, string(said))
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	require.Contains(t, string(text), "INTEGER OPTIMAL")
	v, err := strconv.ParseFloat(objective.FindStringSubmatch(string(text))[1], 64)
	require.NoError(t, err)
	return int(v + 0.5)
}
