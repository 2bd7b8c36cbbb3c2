package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// TestNoEmptyHeading has every heading of what is read at the bench followed by something
// that it is the heading of. The first line is a title, which other headings may follow.
func TestNoEmptyHeading(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	write := func(name, text string) string {
		require.NoError(t, os.WriteFile(at(name), []byte(text), 0o600))
		return at(name)
	}
	stands := write("stands.toml", `
model = "lift"
load = {mass = "900 g", drum = "spool-16"}
drive = {motor = "slow", cells = "one"}
stage.1 = {driver = "motor-6", driven = "disc-60", band = "no-19", centre = "67 mm", axle = "dowel-5"}
stage.2 = {driver = "axle-10", driven = "axle-30", band = "no-18", centre = "74 mm", axle = "dowel-5"}`)
	drive := write("drive.toml", string(demo.Drive()))
	one := write("one.csv", "Table 1: 9 turns in 30 s\n")
	headings := 0
	for _, args := range [][]string{
		{"try", stands}, {"try", drive}, {"try", drive, "--symptom", "hums"}, {"try", drive, "--rules"}, {"try", "--fit", "axle-30 on dowel-4"},
		{"measure", drive, "--turns", "9 turns in 30 s"}, {"measure", drive, "--turns", "900 turns in 30 s"}, {"measure", drive, "--class", one},
		{"explain", stands, "--for", "pupil"}, {"explain", stands}, {"explain", stands, "--for", "technician"}, {"explain", drive, "--country", "none"},
		{"fairtest", drive}, {"fairtest", stands}, {"fairtest", "--time-limit", "1ns"},
		{"swap", drive, "--broken", "motor", "--none-left"}, {"swap", drive, "--broken", "cells"},
		{"hoist"}, {"hoist", "--pull", "0.1N"}, {"hoist", "--heaviest", "--pull", "0.1N"}, {"hoist", "--why", "--full", "0"},
		{"challenge", "--example", "turns"}, {"challenge", "--example", "turns", "--time-limit", "1ns"},
	} {
		_, stdout, stderr := command(append(args, "--colour", "always")...)
		lines := strings.Split(strings.TrimSpace(stdout), "\n")
		require.Greater(t, len(lines), 1, "%v: %s", args, stderr)
		heads := func(line string) bool { return strings.HasPrefix(line, "\x1b[1;35m") }
		for i := 1; i < len(lines); i++ {
			if !heads(lines[i]) || heads(lines[i-1]) { // a heading may take two lines
				continue
			}
			headings++
			next := i + 1
			for next < len(lines) && heads(lines[next]) {
				next++
			}
			if assert.Less(t, next, len(lines), "%v: nothing follows %q", args, lines[i]) {
				assert.NotEmpty(t, lines[next], "%v: nothing follows %q", args, lines[i])
				assert.False(t, strings.HasPrefix(lines[next], "Next: "), "%v: nothing follows %q", args, lines[i])
			}
		}
	}
	assert.Greater(t, headings, 50, "the headings are known by their colour")
}
