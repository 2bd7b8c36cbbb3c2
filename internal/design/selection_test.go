package design_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/search"
)

// TestSearchAgreesWithOutsideSolver asks our search and MiniZinc with Gecode the
// same selection problems. The model is written apart from the search and shares
// nothing with it but the tables; the two must find the same least cost and the
// same choices that have it.
func TestSearchAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("minizinc"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("minizinc is not installed, and without it the search is not held to another solver")
		}
		t.Skip("minizinc is not installed: apt-get install minizinc")
	}
	const instances = 36
	possible, tied, deep := 0, 0, 0
	t.Run("instances", func(t *testing.T) {
		for seed := range uint64(instances) {
			s := drawSelection(seed)
			best := search.Best(context.Background(), picking{s}, search.Options{})
			require.True(t, best.Proved)
			var ours []string
			if len(best.Best) > 0 {
				every := search.Best(context.Background(), picking{s}, search.Options{Keep: 5000, Limit: max(1, best.Best[0].Cost)})
				require.True(t, every.Proved)
				require.Less(t, len(every.Best), 5000, "room for every choice that ties")
				for _, f := range every.Best {
					if f.Cost == best.Best[0].Cost {
						ours = append(ours, fmt.Sprintf("%d: %s", f.Cost, f.Solution))
					}
				}
				possible++
				if len(ours) > 1 {
					tied++
				}
				if best.Best[0].Node.stages > 1 {
					deep++
				}
			}
			t.Run(fmt.Sprint(seed), func(t *testing.T) {
				t.Parallel()
				data := filepath.Join(t.TempDir(), "selection.dzn")
				require.NoError(t, os.WriteFile(data, s.minizinc(), 0o600))
				theirs := solve(t, "best.mzn", data)
				if len(theirs) == 0 {
					require.Empty(t, ours, "the solver finds none possible")
					return
				}
				require.NotEmpty(t, ours, "the solver finds %v", theirs)
				cost, _, _ := strings.Cut(theirs[len(theirs)-1], ":")
				require.Equal(t, fmt.Sprint(best.Best[0].Cost), cost, "the least cost")
				theirs = solve(t, "every.mzn", data, "-a", "-D", "at="+cost)
				slices.Sort(theirs)
				slices.Sort(ours)
				require.Equal(t, theirs, ours, "the choices of least cost")
			})
		}
	})
	require.Greater(t, possible, instances/3, "the instances must be worth solving")
	require.Greater(t, tied, 5)
	require.Greater(t, deep, 5)
	require.Less(t, possible, instances, "some must have no solution")
}

// solve returns the solutions the solver prints, none if it proves there are
// none. That it searched to the end is checked.
func solve(t *testing.T, model, data string, args ...string) []string {
	cmd := exec.Command("minizinc", append(args, "--solver", "gecode", filepath.Join("testdata", "selection", model), data)...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	require.NoError(t, err, stderr.String())
	var found []string
	for _, line := range strings.Split(string(out), "\n") {
		switch line {
		case "=====UNSATISFIABLE=====":
			return nil
		case "==========":
			return found
		case "", "----------":
		default:
			found = append(found, line)
		}
	}
	t.Fatalf("the solver did not finish: %s\n%s", out, stderr.String())
	return nil
}

// minizinc writes the tables as data of the model.
func (s *selection) minizinc() []byte {
	var out bytes.Buffer
	put := func(name string, v any) { fmt.Fprintf(&out, "%s = %v;\n", name, v) }
	list := func(v []int) string { return strings.ReplaceAll(fmt.Sprint(v), " ", ", ") }
	table := func(v [][]int) string {
		var rows strings.Builder
		for _, r := range v {
			rows.WriteString("| " + strings.Trim(list(r), "[]") + "\n")
		}
		return "[" + rows.String() + "|]"
	}
	put("pulleys", len(s.cup.Pulleys))
	put("bands", len(s.cup.Bands))
	put("axles", len(s.cup.Axles))
	put("motors", len(s.cup.Motors))
	put("holders", len(s.cup.Holders))
	put("rows", len(s.rows))
	put("most_stages", s.mostStages)
	put("sets", s.sets)
	put("pulley_have", list(counts(s.cup.Pulleys, func(p parts.Pulley) int { return p.Count })))
	put("band_have", list(counts(s.cup.Bands, func(b parts.Band) int { return b.Count })))
	put("axle_have", list(s.pieces))
	put("motor_have", list(counts(s.cup.Motors, func(m parts.Motor) int { return m.Count })))
	put("holder_have", list(counts(s.cup.Holders, func(h parts.CellHolder) int { return h.Count })))
	put("on_axle", table(s.onAxle))
	put("on_motor", table(s.onMotor))
	put("too_fast", table(s.tooFast))
	put("holder_cost", list(s.holderCost))
	rows := make([][]int, len(s.rows))
	for i, r := range s.rows {
		rows[i] = []int{r.driver + 1, r.driven + 1, r.band + 1, r.taken, r.crossed, r.ratio, r.cost}
	}
	put("row", table(rows))
	put("wanted_reversal", s.reversal)
	put("tolerance_fast", s.fast)
	put("tolerance_slow", s.slow)
	put("stage_cost", s.stageCost)
	put("speed_step", s.step)
	put("step_cost", s.price)
	return out.Bytes()
}

func counts[P any](list []P, count func(P) int) []int {
	out := make([]int, len(list))
	for i, p := range list {
		out[i] = count(p)
	}
	return out
}
