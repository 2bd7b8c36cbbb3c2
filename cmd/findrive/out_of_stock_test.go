package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// command runs a whole command in this process.
func command(args ...string) (code int, stdout, stderr string) {
	var out, errs bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(""), &out, &errs)
	return code, out.String(), errs.String()
}

// example writes the built-in files into a new folder, the cupboard changed, and gives
// the flags that name them.
func example(t *testing.T, change func(cupboard string) string) (dir string, flags []string) {
	t.Helper()
	dir = t.TempDir()
	for name, data := range map[string]string{"cupboard.toml": change(string(demo.Cupboard())), "brief.toml": string(demo.Brief()), "prices.toml": string(demo.Prices())} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600))
	}
	return dir, []string{"-c", filepath.Join(dir, "cupboard.toml"), "-b", filepath.Join(dir, "brief.toml")}
}

func none(cupboard, table string) string {
	return regexp.MustCompile(`(?s)(\[`+table+`\][^\[]*?)count = \d+`).ReplaceAllString(cupboard, "${1}count = 0")
}

// A part of which the cupboard says count = 0 is in no drive, and is the first thing a
// purchase is for.
func TestOutOfStock(t *testing.T) {
	_, flags := example(t, func(c string) string {
		return none(none(none(c, `pulley\.motor-10`), `sleeve\.tube-2-5`), `block\.single`)
	})
	code, stdout, stderr := command(append([]string{"propose", "-k", "3"}, flags...)...)
	require.Equal(t, exitProved, code, stderr)
	assert.NotContains(t, stdout, "motor-10")
	assert.NotContains(t, stdout, "tube-2-5")

	dir, flags := example(t, func(c string) string { return none(c, `band\.[^\]]*`) })
	code, stdout, stderr = command(append([]string{"propose"}, flags...)...)
	require.Equal(t, exitNone, code, stderr)
	assert.Regexp(t, `^Proved: no drive for Carousel for eight groups can be built: the cupboard has no\s+rubber\s+band;\s+there\s+are\s+none\s+left\s+of\s+\S+,\s+\S+,\s+\S+\s+and\s+\d+\s+others\.`, stdout)
	code, stdout, stderr = command(append([]string{"shop", "-p", filepath.Join(dir, "prices.toml"), "--time-limit", "8s"}, flags...)...)
	require.Contains(t, []int{exitProved, exitStopped}, code, stderr)
	assert.Regexp(t, `\d x \d+  band `, stdout)
	code, stdout, stderr = command("stock", "blank", flags[0], flags[1])
	require.Equal(t, exitProved, code, stderr)
	assert.Regexp(t, `band,no-18,[^\n]*,0,`, stdout, "it is counted again all the same")
	code, _, stderr = command("hoist", flags[0], flags[1])
	require.Equal(t, exitProved, code, stderr)
}

// Where all of a kind is out of stock, that is what is said, and nothing besides.
func TestNothingLeftOfAKind(t *testing.T) {
	_, flags := example(t, func(c string) string { return none(c, `motor\.[^\]]*`) })
	code, stdout, stderr := command(append([]string{"why"}, flags...)...)
	require.Equal(t, exitNone, code, stderr)
	const obstacle = `the\s+cupboard\s+has\s+no\s+motor;\s+there\s+are\s+none\s+left\s+of\s+hobby\s+and\s+slow\.`
	assert.Regexp(t, `In short: `+obstacle, stdout)
	assert.Regexp(t, `Every drive for this brief needs one, and each of the 8 groups has its own\.`, stdout)
	_, stdout, _ = command(append([]string{"propose"}, flags...)...)
	assert.Regexp(t, `can be built: `+obstacle, stdout, "in the same words")

	_, flags = example(t, func(c string) string { return none(none(c, `block\.[^\]]*`), `cord\.[^\]]*`) })
	code, stdout, stderr = command("hoist", flags[0], flags[1])
	require.Equal(t, exitNone, code, stderr)
	assert.Contains(t, stdout, "The cupboard has no pulley block and no cord left (count = 0)")
	assert.NotContains(t, stdout, "What stood in the way")
}

// The count of what came back is written where there was none.
func TestCameBack(t *testing.T) {
	dir, flags := example(t, func(c string) string { return none(c, `band\.no-18`) })
	list, after := filepath.Join(dir, "count.csv"), filepath.Join(dir, "after.toml")
	require.NoError(t, os.WriteFile(list, []byte("kind,part,count\nband,no-18,7\nband,no-19,4\n"), 0o600))
	code, _, stderr := command("stock", "back", list, flags[0], flags[1], "-o", after)
	require.Contains(t, []int{exitProved, exitStopped, exitNone}, code, stderr)
	data, err := os.ReadFile(after)
	require.NoError(t, err, stderr)
	assert.Regexp(t, `(?s)\[band\.no-18\][^\[]*count = 7`, string(data))
	assert.Regexp(t, `(?s)\[band\.no-19\][^\[]*count = 4`, string(data))
}
