package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// TestBuiltInIsSaid: a built-in file that is read beside one of the user's is named in the
// first line, before any work is done. Where all are the user's, or none, nothing is said.
func TestBuiltInIsSaid(t *testing.T) {
	dir, files := example(t, func(c string) string { return c })
	at := func(name string) string { return filepath.Join(dir, name) }
	write := func(name string, data []byte) { require.NoError(t, os.WriteFile(at(name), data, 0o600)) }
	require.NoError(t, os.Mkdir(at("library"), 0o755))
	write("library/brief.toml", demo.Brief())
	write("drive.toml", demo.Drive())
	write("hoist.toml", demo.Hoist())
	write("box.toml", demo.Club())
	write("challenge.toml", demo.Challenge("turns"))
	write("learned.toml", []byte("# learned\n"))
	write("class.csv", []byte("Table 1: 9 turns in 30 s\n"))
	code, _, stderr := command(append([]string{"propose", "-k", "1", "-o", at("drives.json"), "--proof", at("drives.proof")}, files...)...)
	require.Equal(t, exitProved, code, stderr)
	const (
		cup   = "Note: the cupboard is the built-in example. Name yours with -c."
		brief = "Note: the brief is the built-in example. Name yours with -b."
		both  = "Note: cupboard and brief are the built-in examples. Name yours with -c and -b."
	)
	c, b, p := []string{"-c", at("cupboard.toml")}, []string{"-b", at("brief.toml")}, []string{"-p", at("prices.toml")}
	learned := []string{"--calibration", at("learned.toml")}
	all := slices.Concat(c, b)
	none := []string{}
	var tested []string
	for _, cmd := range []struct {
		args   []string
		beside map[string][][]string // by what is said: what the user names
	}{
		{[]string{"propose"}, map[string][][]string{cup: {b}, brief: {c}, both: {learned}, "": {none, all}}},
		{[]string{"class"}, map[string][][]string{cup: {b}, brief: {c}, both: {learned}, "": {none, all}}},
		{[]string{"why"}, map[string][][]string{cup: {b}, brief: {c}, both: {learned, {at("drive.toml")}}, "": {none, all}}},
		{[]string{"explain"}, map[string][][]string{cup: {b, {at("drive.toml")}}, brief: {c}, both: {learned}, "": {none, all, {"--from", at("drives.json")}}}},
		{[]string{"sheet", "kit", "-o", at("paper")}, map[string][][]string{cup: {b}, brief: {c}, both: {learned}, "": {none, all}}},
		{[]string{"fairtest"}, map[string][][]string{cup: {b, {at("drive.toml")}}, brief: {c}, both: {learned}, "": {none, all}}},
		{[]string{"verify", at("drives.proof")}, map[string][][]string{cup: {b}, brief: {c}, both: {none, learned}, "": {all}}},
		{[]string{"shop"}, map[string][][]string{
			brief: {slices.Concat(c, p)}, cup: {slices.Concat(b, p)}, both: {p}, "": {none, slices.Concat(all, p)},
			"Note: cupboard and prices are the built-in examples. Name yours with -c and -p.":             {b},
			"Note: cupboard, brief and prices are the built-in examples.\nName yours with -c, -b and -p.": {learned},
		}},
		{[]string{"term"}, map[string][][]string{
			cup: {slices.Concat(b, p)}, "": {slices.Concat(all, p)},
			"Note: cupboard and prices are the built-in examples. Name yours with -c and -p.": {b, {at("brief.toml")}},
		}},
		{[]string{"ideas"}, map[string][][]string{
			cup: {{"--library", at("library")}}, "": {none, slices.Concat(c, []string{"--library", at("library")})},
			"Note: the briefs are the built-in examples. Name yours with --library.": {c},
		}},
		{[]string{"challenge"}, map[string][][]string{
			cup: {{"-b", at("challenge.toml")}}, brief: {{"-c", at("box.toml")}}, both: {{"--from", at("drives.json")}},
			"": {none, {"--example", "turns"}, {"-c", at("box.toml"), "--example", "turns"}, {"-c", at("box.toml"), "-b", at("challenge.toml")}},
		}},
		{[]string{"hoist"}, map[string][][]string{cup: {{"-b", at("hoist.toml")}}, brief: {c}, "": {none, slices.Concat(c, []string{"-b", at("hoist.toml")})}}},
		{[]string{"try"}, map[string][][]string{
			cup: {{at("drive.toml")}, b}, brief: {slices.Concat(c, []string{"--rank", "1"})}, "": {none, slices.Concat([]string{at("drive.toml")}, c), {"--from", at("drives.json")}},
			"Note: cupboard and drive are the built-in examples.\nName yours with -c and DRIVE.toml.": {{"--symptom", "far too fast"}, learned},
		}},
		{[]string{"measure"}, map[string][][]string{
			cup: {{at("drive.toml"), "--turns", "9 turns in 30 s"}}, "": {none, slices.Concat([]string{at("drive.toml"), "--turns", "9 turns in 30 s"}, c)},
			"Note: cupboard and drive are the built-in examples.\nName yours with -c and DRIVE.toml.": {{"--class", at("class.csv")}, {"--turns", "9 turns in 30 s"}},
		}},
		{[]string{"swap", "--broken", "motor"}, map[string][][]string{
			cup: {{at("drive.toml")}, {"--from", at("drives.json")}, b}, "": {slices.Concat([]string{at("drive.toml")}, c), all},
		}},
	} {
		begin := cmd.args
		tested = append(tested, begin[0])
		if named, _, err := rootCommand().Find(begin); assert.NoError(t, err) && named.Flags().Lookup("time-limit") != nil {
			begin = append(begin, "--time-limit", "50ms") // it is said before the search
		}
		for says, named := range cmd.beside {
			for _, files := range named {
				args := slices.Concat(begin, files)
				_, _, stderr := command(args...)
				if says == "" {
					assert.NotContains(t, stderr, "Note: ", "%q", args)
					continue
				}
				assert.True(t, strings.HasPrefix(stderr, says+"\n"), "%q: %q\nwants %q", args, stderr, says)
			}
		}
	}
	// Each command that has a built-in file is among these.
	for _, cmd := range rootCommand().Commands() {
		if cmd.Flags().Lookup("cupboard") != nil {
			assert.Contains(t, tested, cmd.Name())
		}
	}
}
