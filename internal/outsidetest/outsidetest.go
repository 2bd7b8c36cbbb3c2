// Package outsidetest puts programs to GLPK's solver of mixed integer programs, for tests
// that hold our own to another. It shares nothing with what is tested.
package outsidetest

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Need passes a test over where the solver is not installed, and fails it in CI, which
// installs it: what would then not be held says why it matters.
func Need(t *testing.T, held string) {
	t.Helper()
	if Have() {
		return
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("glpsol is not installed, and without it %s", held)
	}
	t.Skip("glpsol is not installed: apt-get install glpk-utils")
}

// Have is whether the solver is installed.
func Have() bool {
	_, err := exec.LookPath("glpsol")
	return err == nil
}

// seconds is how long it may think of one program: a test that hangs says nothing.
const seconds = "60"

// best is the value of the goal, which is to have that name, in the solver's report.
var best = regexp.MustCompile(`Objective: +goal = (-?[0-9.e+]+)`)

// Solve is the best that a program in CPLEX LP format comes to, whose goal is named "goal"
// and takes whole values; not ok if the solver proves that nothing satisfies it.
func Solve(t *testing.T, lp string) (value int64, ok bool) {
	t.Helper()
	dir := t.TempDir()
	in, out := filepath.Join(dir, "p.lp"), filepath.Join(dir, "p.txt")
	require.NoError(t, os.WriteFile(in, []byte(lp), 0o600))
	said, err := exec.Command("glpsol", "--lp", in, "--output", out, "--cuts", "--tmlim", seconds).CombinedOutput()
	require.NoError(t, err, string(said))
	text, err := os.ReadFile(out)
	require.NoError(t, err)
	if !strings.Contains(string(text), "INTEGER OPTIMAL") {
		require.Contains(t, string(said), "NO ", "the solver proves that there is none: %s", said)
		return 0, false
	}
	v, err := strconv.ParseFloat(best.FindStringSubmatch(string(text))[1], 64)
	require.NoError(t, err)
	return int64(v + 0.5), true
}
