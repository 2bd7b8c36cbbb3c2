package design_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
)

// outsideSeeds are how many small cases the outside solver is asked.
const outsideSeeds = 80

// TestOutsideSolverAgrees asks MiniZinc with Gecode for the cheapest drive of small
// cupboards, one stage and two, as docs/model.md has it, and holds the first of the list to
// it. What the solver chooses and what tables give it is said in
// testdata/outside/cheapest.mzn; the tables are worked out by the plain route in
// outside_tables_test.go, and the search takes no part in them.
func TestOutsideSolverAgrees(t *testing.T) {
	t.Parallel()
	needMiniZinc(t)
	found, deep, none := 0, 0, 0
	models := map[brief.Model]int{}
	for seed := uint64(400_000); seed < 400_000+outsideSeeds; seed++ {
		cup, b := campaignCase(seed)
		if len(b.Load.Tackles) > 1 {
			b = b.With(b.Load.Tackles[seed%2])
		}
		t.Run(fmt.Sprintf("%s, %d", b.Model, seed), func(t *testing.T) {
			r := list(t, cup, b, 1)
			theirs, possible := solve(t, tabulate(cup, b))
			if !possible {
				none++
				require.Empty(t, r.Proposals, "the solver finds none possible")
				return
			}
			require.NotEmpty(t, r.Proposals, "the solver finds one of %d", theirs)
			require.EqualValues(t, theirs, r.Proposals[0].Total, "%v", design.Lines(r))
			found++
			models[b.Model]++
			if len(r.Proposals[0].Stages) > 1 {
				deep++
			}
		})
	}
	t.Logf("%d with a drive, %d of them of two stages, %d with none; %v", found, deep, none, models)
	require.Greater(t, found, 20, "the cases must be worth solving")
	require.Greater(t, deep, 1)
	require.Greater(t, none, 5)
	require.Len(t, models, 5)
}

// TestOutsideSolverSawsAlike asks it of cupboards whose rods are few and of several lengths,
// so that the saw decides what there is.
func TestOutsideSolverSawsAlike(t *testing.T) {
	t.Parallel()
	needMiniZinc(t)
	found, none := 0, 0
	for seed := uint64(401_000); seed < 401_048; seed++ {
		cup, b := campaignCase(seed)
		if len(b.Load.Tackles) > 1 {
			b = b.With(b.Load.Tackles[seed%2])
		}
		r := rand.New(rand.NewPCG(seed, 6))
		cup.Axles = cup.Axles[:1]
		inner := drive.AxleLength(b)
		for i := range 3 {
			rod := cup.Axles[0]
			rod.Name, rod.Count = fmt.Sprintf("end %d", i), r.IntN(2)
			rod.Length = inner*mm(1+r.IntN(2)) + mm(r.IntN(40))
			cup.Axles = append(cup.Axles, rod)
		}
		cup.Axles = cup.Axles[1:]
		cup = cup.InStock()
		b.Sets = 1 + r.IntN(2)
		t.Run(fmt.Sprintf("%s, %d", b.Model, seed), func(t *testing.T) {
			answer, err := design.Find(context.Background(), cup, b, design.Options{Keep: 1})
			require.NoError(t, err)
			if answer.Status == design.StoppedEarly {
				return // not of rods
			}
			theirs, possible := solve(t, tabulate(cup, b))
			require.Equal(t, possible, len(answer.Proposals) > 0)
			if !possible {
				none++
				return
			}
			require.EqualValues(t, theirs, answer.Proposals[0].Total, "%v", design.Lines(answer))
			found++
		})
	}
	t.Logf("%d with a drive, %d with none", found, none)
	require.Greater(t, found, 5)
	require.Greater(t, none, 5)
}

func needMiniZinc(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("minizinc"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("minizinc is not installed, and without it the search is not held to another solver")
		}
		t.Skip("minizinc is not installed: apt-get install minizinc")
	}
}

// solve has the solver find the least cost, and prove it; false if it proves that there is
// no drive.
func solve(t testing.TB, tables *tables) (int64, bool) {
	t.Helper()
	if len(tables.works) == 0 {
		return 0, false // a table of nothing
	}
	data := filepath.Join(t.TempDir(), "tables.dzn")
	require.NoError(t, os.WriteFile(data, tables.minizinc(), 0o600))
	cmd := exec.Command("minizinc", "--solver", "gecode", filepath.Join("testdata", "outside", "cheapest.mzn"), data)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, stderr.String())
	if strings.Contains(string(out), "=====UNSATISFIABLE=====") {
		return 0, false
	}
	require.Contains(t, string(out), "==========", "it must have proved it")
	lines := strings.Fields(strings.ReplaceAll(string(out), "----------", ""))
	var least int64
	_, err = fmt.Sscan(lines[slices.Index(lines, "==========")-1], &least)
	require.NoError(t, err)
	return least, true
}
