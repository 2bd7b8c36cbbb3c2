package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// -o writes the drives as a file that sheet reads; what may not be written is refused
// before the search.
func TestProposeOutput(t *testing.T) {
	dir, flags := example(t, func(c string) string { return c })
	out := filepath.Join(dir, "drives.json")
	propose := func(more ...string) (int, string) {
		code, _, stderr := command(append(append([]string{"propose", "-k", "1", "--time-limit", "1ns"}, flags...), more...)...)
		return code, stderr
	}
	code, stderr := propose("-o", out)
	require.Contains(t, []int{exitProved, exitStopped}, code, stderr)
	data, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.Contains(t, string(data), `"findrive certificate"`)

	for _, c := range []struct {
		flags []string
		want  string
	}{
		{[]string{"-o", out}, "is there already"},
		{[]string{"--proof", out}, "is there already"},
		{[]string{"-o", flags[1], "--force"}, "is read by this command"},
		{[]string{"--proof", flags[3], "--force"}, "is read by this command"},
		{[]string{"-o", os.DevNull, "--force"}, "is no plain file"},
		{[]string{"-o", os.DevNull}, "is no plain file"},
		{[]string{"-o", dir, "--force"}, "is a folder"},
	} {
		code, stderr := propose(c.flags...)
		assert.Equal(t, exitFailure, code)
		assert.Contains(t, stderr, c.want)
	}
	code, stderr = propose("-o", filepath.Join(dir, "new"), "--proof", filepath.Join(dir, "new"))
	assert.Equal(t, exitUsage, code, stderr)
	code, stderr = propose("-o", out, "--force")
	assert.Contains(t, []int{exitProved, exitStopped}, code, stderr)
}

// The built-in brief is never used silently beside a cupboard of the user's.
func TestBuiltInBriefIsSaid(t *testing.T) {
	_, flags := example(t, func(c string) string { return c })
	_, _, stderr := command("propose", "-k", "1", "--time-limit", "1ns", flags[0], flags[1])
	assert.Contains(t, stderr, "the brief is the built-in example. Name yours with -b.")
	_, _, stderr = command(append([]string{"propose", "-k", "1", "--time-limit", "1ns"}, flags...)...)
	assert.NotContains(t, stderr, "built-in")
}

func TestOffcutOfNothing(t *testing.T) {
	const lift = "../../internal/report/testdata/lift.json"
	code, _, stderr := command("sheet", "kit", "--from", lift, "-o", t.TempDir(), "--offcut", "dowl-5=180mm")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, stderr, `--offcut "dowl-5": nothing is cut from that`)
	assert.Contains(t, stderr, "did you mean")
}
