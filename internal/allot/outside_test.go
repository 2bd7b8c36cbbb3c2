package allot_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/allot"
)

// TestBestAgreesWithOutsideSolver puts cases too large to try every plan of to
// MiniZinc with Gecode, whose model shares nothing with the search.
func TestBestAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("minizinc"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("minizinc is not installed, and without it the sharing out is not held to another solver")
		}
		t.Skip("minizinc is not installed: apt-get install minizinc")
	}
	for seed := range uint64(12) {
		rnd := rand.New(rand.NewPCG(seed, 5))
		p := &allot.Problem{Groups: 6 + rnd.IntN(5), Stock: make([]int, 8), Another: int64(rnd.IntN(9))}
		for i := range p.Stock {
			p.Stock[i] = 2 + rnd.IntN(7)
		}
		for range 12 {
			takes := make([]int, len(p.Stock))
			for range 4 {
				takes[rnd.IntN(len(takes))]++
			}
			p.Choices = append(p.Choices, allot.Choice{Cost: int64(4 + rnd.IntN(20)), Takes: takes})
		}
		plan := allot.Best(context.Background(), p)
		require.True(t, plan.Proved)
		data := filepath.Join(t.TempDir(), "allot.dzn")
		require.NoError(t, os.WriteFile(data, minizinc(p), 0o600))
		out, err := exec.Command("minizinc", "--solver", "gecode", filepath.Join("testdata", "allot.mzn"), data).Output()
		require.NoError(t, err)
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		require.GreaterOrEqual(t, len(lines), 3)
		require.Equal(t, "==========", lines[len(lines)-1], "the solver proves its answer")
		require.Equal(t, fmt.Sprintf("%d %d", plan.Served, plan.Cost), lines[len(lines)-3], "seed %d", seed)
	}
}

// minizinc writes a problem as data of the model.
func minizinc(p *allot.Problem) []byte {
	var out bytes.Buffer
	list := func(v []int) string { return strings.ReplaceAll(fmt.Sprint(v), " ", ", ") }
	fmt.Fprintf(&out, "groups = %d;\nparts = %d;\nchoices = %d;\nanother = %d;\nstock = %s;\n", p.Groups, len(p.Stock), len(p.Choices), p.Another, list(p.Stock))
	var costs []int
	var rows strings.Builder
	for _, c := range p.Choices {
		costs = append(costs, int(c.Cost))
		rows.WriteString("| " + strings.Trim(list(c.Takes), "[]") + "\n")
	}
	fmt.Fprintf(&out, "cost = %s;\ntakes = [%s|];\n", list(costs), rows.String())
	return out.Bytes()
}
