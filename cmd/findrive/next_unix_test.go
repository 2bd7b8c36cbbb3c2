//go:build unix

package main

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/demo"
	"findrive/internal/report"
)

// shellWords are the words that a shell makes of a line.
func shellWords(t *testing.T, line string) []string {
	t.Helper()
	out, err := exec.Command("sh", "-c", `printf '%s\0' `+line).Output()
	require.NoError(t, err, line)
	return strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00")
}

// nextLine is what stands after Next: at the end of an answer, as a shell reads it.
func nextLine(t *testing.T, stdout, stderr string) string {
	t.Helper()
	for _, said := range []string{stdout, stderr} {
		if said == "" {
			continue
		}
		all := regexp.MustCompile(`(?m)^Next: `).FindAllStringIndex(said, -1)
		if len(all) == 0 {
			continue
		}
		require.Len(t, all, 1, "one next step:\n%s", said)
		line := said[all[0][1]:]
		line = strings.ReplaceAll(line, "\\\n", "")
		require.Equal(t, 1, strings.Count(line, "\n"), "it stands at the end:\n%s", said)
		return strings.TrimSpace(line)
	}
	return ""
}

// documented are the exit codes that the help of a command names.
func documented(t *testing.T, args []string) []string {
	t.Helper()
	cmd, _, err := rootCommand().Find(args)
	require.NoError(t, err)
	at := strings.Index(cmd.Long, "Exit codes:")
	if !assert.GreaterOrEqual(t, at, 0, "%s names its exit codes", cmd.CommandPath()) {
		return nil
	}
	return append(regexp.MustCompile(`\b[0-5]\b`).FindAllString(cmd.Long[at:], -1), "0")
}

// fillIn counts something on a sheet that the next step is to read.
func fillIn(t *testing.T, line string) {
	t.Helper()
	words := shellWords(t, line)
	sheet := words[len(words)-1]
	if words[1] != "stock" || words[2] != sheet || filepath.Ext(sheet) != ".csv" {
		return
	}
	data, err := os.ReadFile(sheet)
	require.NoError(t, err)
	row := strings.Repeat(",", strings.Count(strings.SplitN(string(data), "\n", 2)[0], ","))
	filled := "pulley,p,40,,5" + row[4:len(row)-3] + "8,,,\n" // the count is the last but three
	require.NoError(t, os.WriteFile(sheet, append(data, filled...), 0o600))
}

// TestWordsForShell: names of any signs come back from a shell as they were, on one line and
// on several.
func TestWordsForShell(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sign := rapid.OneOf(rapid.RuneFrom([]rune("ab 'x\"$`\\!&|;<>()*?#~%={}[]-./")), rapid.RuneFrom(nil, unicode.Letter, unicode.Punct, unicode.Sc))
		words := rapid.SliceOfN(rapid.StringOfN(sign, 0, 30, -1), 1, 12).Draw(r, "words")
		var line []string
		for _, w := range words {
			line = append(line, quoted(w))
		}
		var page strings.Builder
		require.NoError(r, report.Next(&page, strings.Join(line, " "), rapid.IntRange(40, 100).Draw(r, "width"), false))
		said := strings.TrimPrefix(strings.TrimPrefix(page.String(), "\n"), "Next: ")
		require.Equal(r, words, shellWords(t, strings.TrimSuffix(said, "\n")))
	})
}

// TestNextCanBeTyped takes the next step that each command prints at its word, to the end:
// each is split as a shell does and run, and does what it is for.
func TestNextCanBeTyped(t *testing.T) {
	small, err := txtar.ParseFile("testdata/script/why_apply.txtar")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	write := func(name string, data []byte) {
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, data, 0o600))
	}
	const (
		cupboard = "Ann's room/our cupboard.toml"
		brief    = "Ann's room/the $5 brief & more.toml"
		drive    = "Ann's room/it's built.toml"
	)
	write(cupboard, demo.StarterCupboard())
	write(brief, demo.StarterBrief())
	write("Ann's room/prices.toml", demo.StarterPrices())
	write("Ann's room/hoist.toml", demo.StarterHoist())
	write(drive, demo.StarterDrive())
	write("Ann's room/counts.csv", []byte("Table 1: 9 turns in 30 s\nTable 2: 10 turns in 30 s\n"))
	write("Ann's room/list.csv", []byte("kind,name,outside mm,bore mm,qty\npulley,p,40,5,8\n"))
	write("shop/cup board.toml", demo.Cupboard())
	write("shop/brief.toml", demo.Brief())
	write("shop/prices.toml", demo.Prices())
	write("club/the box.toml", demo.Club())
	write("club/turn's.toml", demo.Challenge("turns"))
	write("small/nothing.csv", []byte("kind,name,qty\nrubbish,p,8\n"))
	write("small/bare cupboard.toml", []byte("[motor.m]\nrated = \"3 V\"\nfree_speed = \"6000 rpm\"\ncount = 2\n"))
	for _, f := range small.Files {
		write("small/our "+f.Name, f.Data)
	}
	write("small/prices.toml", []byte("currency = \"GBP\"\n[supplier.hill]\n[offer.larges]\npart = \"pulley.large\"\nsupplier = \"hill\"\npack = 2\nprice = \"1.00\"\n"))
	write("order-hill.csv", []byte("of last year"))
	few := []string{"-c", "small/our box.toml", "-b", "small/our sets.toml"}
	mine := []string{"-c", cupboard, "-b", brief}
	with := func(words ...string) []string { return words }
	all := map[string][]string{
		"propose":       append(with("propose", "-k", "2"), mine...),
		"propose saved": append(with("propose", "-k", "2", "-o", "Ann's drives.json"), mine...),
		"propose proof": append(with("propose", "-k", "1", "--proof", "Ann's.proof"), mine...),
		"class":         append(with("class"), mine...),
		"class few":     append(with("class", "--groups", "40"), mine...),
		"shop":          with("shop", "-c", "shop/cup board.toml", "-b", "shop/brief.toml", "-p", "shop/prices.toml", "--groups", "10"),
		"shop buys":     append(with("shop", "-p", "small/prices.toml"), few...),
		"shop short":    append(with("shop", "-p", "Ann's room/prices.toml", "--groups", "12"), mine...),
		"term":          with("term", "shop/brief.toml", "-c", "shop/cup board.toml", "-p", "shop/prices.toml"),
		"why":           append(with("why"), mine...),
		"why wanted":    append(with("why", "--stages", "1"), mine...),
		"ideas":         with("ideas", "-c", cupboard),
		"try":           with("try", drive, "-c", cupboard),
		"try slow":      with("try", drive, "-c", cupboard, "--symptom", "far too slow"),
		"measure":       with("measure", drive, "-c", cupboard, "--turns", "11 turns in 30 s"),
		"measure class": with("measure", drive, "-c", cupboard, "--class", "Ann's room/counts.csv"),
		"explain":       append(with("explain"), mine...),
		"fairtest":      append(with("fairtest", "--bases", "2"), mine...),
		"swap":          append(with("swap", "--broken", "driven", "--stage", "1"), mine...),
		"hoist":         with("hoist", "-c", cupboard, "-b", "Ann's room/hoist.toml"),
		"hoist none":    with("hoist", "-c", cupboard, "-b", "Ann's room/hoist.toml", "--pull", "2N", "--groups", "900"),
		"propose none":  append(with("propose"), few...),
		"class some":    append(with("class"), few...),
		"ideas none":    with("ideas", "-c", "small/bare cupboard.toml"),
		"ideas copied":  with("ideas", "--write", "Ann's ideas"),
		"swap none":     with("swap", "--from", "Ann's drives.json", "-c", "small/bare cupboard.toml", "--broken", "driven", "--stage", "1"),
		"measure wrong": with("measure", drive, "-c", cupboard, "--turns", "900 turns in 30 s"),
		"challenge":     with("challenge", "-c", "club/the box.toml", "-b", "club/turn's.toml", "-k", "1"),
		"stock nothing": with("stock", "small/nothing.csv"),
		"stock blank":   with("stock", "blank", "-c", cupboard, "-o", "Ann's count.csv"),
		"verify plan":   with("verify", "plan.json"),
		"stock":         with("stock", "Ann's room/list.csv"),
		"start":         with("start", "Ann's class"),
	}
	done := map[string]bool{}
	number := regexp.MustCompile(`-[0-9]+(\.[a-z]+)?`) // of a file for which the plain name was not free
	for _, name := range slices.Sorted(maps.Keys(all)) {
		args := all[name]
		for depth := 0; ; depth++ {
			begun := time.Now()
			code, stdout, stderr := command(args...)
			t.Logf("%s %d: %v %q = %d", name, depth, time.Since(begun).Round(time.Millisecond), args, code)
			if depth > 0 {
				assert.NotContains(t, []int{exitFailure, exitUsage, exitInput}, code, "%s: %q\n%s", name, args, stderr)
				assert.Contains(t, documented(t, args), fmt.Sprint(code), "%q", args)
			}
			line := nextLine(t, stdout, stderr)
			known := number.ReplaceAllString(line, "$1")
			if !assert.NotEmpty(t, line, "%s: %q ends with a next step\n%s\n%s", name, args, stdout, stderr) || done[known] {
				break
			}
			done[known] = true
			steps := strings.Split(line, " && ")
			for i, step := range steps {
				fillIn(t, step)
				words := shellWords(t, step)
				require.Equal(t, "findrive", words[0])
				if args = words[1:]; i < len(steps)-1 {
					code, _, stderr := command(args...)
					assert.Equal(t, exitProved, code, "%q: %s", args, stderr)
				}
			}
		}
	}
}
