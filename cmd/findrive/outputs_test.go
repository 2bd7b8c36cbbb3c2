package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// What is read by a command is not written by it, nor what is no plain file, whatever is
// said; and that is told before any work is done.
func TestOutputsThatAreInputs(t *testing.T) {
	dir, flags := example(t, func(c string) string { return c })
	at := func(name string) string { return filepath.Join(dir, name) }
	require.NoError(t, os.WriteFile(at("drive.toml"), demo.Drive(), 0o600))
	require.NoError(t, os.WriteFile(at("class.csv"), []byte("Table 1: 9 turns in 30 s\n"), 0o600))
	require.NoError(t, os.WriteFile(at("learned.toml"), []byte("# learned\n"), 0o600))
	require.NoError(t, os.WriteFile(at("our old.toml"), []byte("x"), 0o600))
	code, _, stderr := command(append([]string{"propose", "-k", "1", "-o", at("drives.json")}, flags...)...)
	require.Equal(t, exitProved, code, stderr)
	require.NoError(t, os.WriteFile(at("new-report.txt"), []byte("kind,name,outside mm,bore mm,qty\npulley,p,40,5,8\n"), 0o600))
	require.NoError(t, os.Symlink(at("drives.json"), at("link.json")))
	require.NoError(t, os.Link(at("cupboard.toml"), at("also.toml")))
	counted := []string{"measure", at("drive.toml"), "--turns", "9 turns in 30 s"}
	for _, args := range [][]string{
		append(flags, "propose", "--output", at("cupboard.toml")),
		append(flags, "propose", "--proof", at("brief.toml")),
		append(flags, "propose", "--output", at("also.toml")),
		append(flags, "propose", "--output", os.DevNull),
		append(counted, "--output", at("drive.toml")),
		append(counted, "-c", at("cupboard.toml"), "--output", at("cupboard.toml")),
		append(counted, "--calibration", at("learned.toml"), "--output", at("learned.toml")),
		{"measure", at("drive.toml"), "--class", at("class.csv"), "--plot", at("class.csv")},
		{"try", at("drive.toml"), "--output", at("drive.toml")},
		{"try", "--from", at("drives.json"), "--output", at("link.json")},
		{"hoist", "-c", at("cupboard.toml"), "--output", os.DevNull},
		{"stock", at("new-report.txt"), "--output", at("new.toml")}, // whose report goes by that name
	} {
		before := contents(t, dir)
		code, stdout, stderr := command(append(args, "--force")...)
		assert.Equal(t, exitFailure, code, "%v: %s", args, stderr)
		assert.Empty(t, stdout, "%v", args)
		assert.Regexp(t, `^findrive: "[^"]+" is (read by this command and is not written over|no plain file and is left as it is)\nhint: choose another name\n$`, stderr, "%v", args)
		assert.Equal(t, before, contents(t, dir), "%v", args)
	}
	// What is there is refused before the search, with its name in quotes.
	for _, args := range [][]string{
		append(flags, "propose", "--proof", at("our old.toml")),
		append(counted, "--output", at("our old.toml")),
		{"try", at("drive.toml"), "--output", at("our old.toml")},
		{"stock", at("class.csv"), "--output", at("our old.toml")},
		append(flags, "class", "--output", at("new.json"), "--output", at("our old.toml")),
		{"stock", "blank", "--output", at("our old.toml")},
	} {
		code, stdout, stderr := command(args...)
		assert.Equal(t, exitFailure, code, "%v: %s", args, stderr)
		assert.Empty(t, stdout, "%v", args)
		assert.Contains(t, stderr, strconv.Quote(at("our old.toml"))+" is there already and is left as it is\n", "%v", args)
	}
	// So is a folder that is not there.
	for _, flag := range []string{"--output", "--proof"} {
		code, stdout, stderr := command(append([]string{"propose", flag, at("no folder/x")}, flags...)...)
		assert.Equal(t, exitFailure, code, stderr)
		assert.Empty(t, stdout)
		assert.Equal(t, fmt.Sprintf("findrive: cannot write %q: there is no folder %q\nhint: make the folder, or choose another name\n", at("no folder/x"), at("no folder")), stderr)
	}
	// A name with a blank in it stands in quotes at the beginning of a line too.
	require.NoError(t, os.WriteFile(at("our old.toml"), []byte("[pulley.a]\nbore = 3\n"), 0o600))
	_, _, stderr = command("propose", "-c", at("our old.toml"))
	assert.Contains(t, stderr, strconv.Quote(at("our old.toml"))+":2:8: pulley.a.bore: ")
}

// contents are the files of a folder.
func contents(t *testing.T, dir string) map[string]string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		require.NoError(t, err)
		out[e.Name()] = string(data)
	}
	return out
}
