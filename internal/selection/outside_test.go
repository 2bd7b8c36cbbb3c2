package selection_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/cases"
	"findrive/internal/selection"
)

// TestAgreesWithOutsideSolver asks MiniZinc with Gecode for the cheapest drive of
// cases of a class's size, in thousandths of a point.
func TestAgreesWithOutsideSolver(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("minizinc"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("minizinc is not installed, and without it the search is not held to another solver")
		}
		t.Skip("minizinc is not installed: apt-get install minizinc")
	}
	for i, family := range cases.SelectionFamilies() {
		t.Run(string(family), func(t *testing.T) {
			t.Parallel()
			q := cases.Selection(cases.Size{Pulleys: 12, Bands: 10, Stages: 2 + i%2}, family, 7)
			q.PerPoint = 1000
			ours, err := selection.Solve(context.Background(), q)
			require.NoError(t, err)
			table, err := selection.Tabulate(q)
			require.NoError(t, err)
			data := filepath.Join(t.TempDir(), "table.dzn")
			require.NoError(t, os.WriteFile(data, table.MiniZinc(), 0o600))
			cmd := exec.Command("minizinc", "--solver", "gecode", filepath.Join("testdata", "cheapest.mzn"), data)
			var stderr bytes.Buffer
			cmd.Stderr = &stderr
			out, err := cmd.Output()
			require.NoError(t, err, stderr.String())
			require.Contains(t, string(out), "==========", "it must have proved it")
			lines := strings.Fields(strings.ReplaceAll(string(out), "----------", ""))
			require.Greater(t, len(lines), 1)
			var theirs int64
			_, err = fmt.Sscan(lines[len(lines)-2], &theirs)
			require.NoError(t, err)
			require.Equal(t, theirs/table.Shares, ours.Drives[0].Cost)
		})
	}
}
