package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/ideas"
)

// The wrong file is named in one line, whatever it is and wherever it is given.
func TestWrongFile(t *testing.T) {
	dir, _ := example(t, func(c string) string { return c })
	write := func(name, data string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600))
	}
	write("drive.toml", string(demo.Drive()))
	write("inline.toml", "name = \"Buggy\"\nmodel = \"vehicle\"\ndrive = {motor = \"slow\"}\nstage.1 = {driver = \"a\"}\n")
	write("hoist.toml", string(demo.Hoist()))
	write("learned.toml", "# learned\n[motor.slow]\ncounted_speed = \"41 turns/s\"\n")
	write("drives.toml", "# learned\n[motor.slow]\nfree_speed = \"41 turns/s\"\n\n[counted.1]\nmodel = \"ride\"\nstage.1 = {driver = \"a\"}\n")
	write("list.csv", "what,how many,where\nrubber bands,20,tray 3\n")
	write("list.xlsx", "PK\x03\x04\x00\x01\xff")
	write("notes.pdf", "%PDF-1.7\n")
	write("drives.json", "\xff\xfe{\x00 \x00\"\x00k\x00i\x00n\x00d\x00\"\x00:\x00\"\x00f\x00i\x00n\x00d\x00r\x00i\x00v\x00e\x00 \x00c\x00e\x00r\x00t\x00i\x00f\x00i\x00c\x00a\x00t\x00e\x00\"\x00}\x00")
	write("drives.proof", "\x1f\x8b\x08\x00")
	files := map[string]string{
		"cupboard.toml": "this is a cupboard", "brief.toml": "this is a brief", "prices.toml": "this is a price list", "drive.toml": "this is a drive that was built",
		"inline.toml": "this is a drive that was built", "hoist.toml": "this is a brief of a hoist", "learned.toml": "this is what findrive measure learned", "drives.toml": "this is what findrive measure learned",
		"list.csv": "this is a spreadsheet", "list.xlsx": "this is a workbook", "notes.pdf": "this is a PDF", "drives.json": "this is a certificate", "drives.proof": "this is a proof",
	}
	cupboard, brief := filepath.Join(dir, "cupboard.toml"), filepath.Join(dir, "brief.toml")
	for _, place := range []struct {
		wanted string
		right  []string
		args   []string // FILE is the file
	}{
		{"cupboard", []string{"cupboard.toml"}, []string{"propose", "-c", "FILE"}},
		{"brief", []string{"brief.toml"}, []string{"propose", "-b", "FILE"}},
		{"price list", []string{"prices.toml", "list.csv"}, []string{"shop", "-c", cupboard, "-b", brief, "-p", "FILE"}},
		{"drive", []string{"drive.toml", "inline.toml"}, []string{"try", "FILE", "-c", cupboard}},
		{"hoist brief", []string{"hoist.toml"}, []string{"hoist", "-b", "FILE"}},
		{"calibration", []string{"learned.toml", "drives.toml"}, []string{"propose", "-c", cupboard, "--calibration", "FILE"}},
		{"certificate", []string{"drives.json"}, []string{"sheet", "-o", dir, "--from", "FILE"}},
		{"certificate", []string{"drives.json"}, []string{"try", "--from", "FILE"}},
		{"certificate", []string{"drives.json"}, []string{"swap", "--broken", "band", "--from", "FILE"}},
		{"proof", []string{"drives.proof"}, []string{"verify", "FILE", "-c", cupboard, "-b", brief}},
	} {
		for name, says := range files {
			path := filepath.Join(dir, name)
			args := strings.Split(strings.ReplaceAll(strings.Join(place.args, "\n"), "FILE", path), "\n")
			right := false
			for _, r := range place.right {
				right = right || r == name
			}
			if right && place.wanted != "certificate" && place.wanted != "proof" && name != "learned.toml" && name != "drives.toml" {
				data, err := os.ReadFile(path)
				require.NoError(t, err)
				assert.Empty(t, mistaken(data, place.wanted), "%s as a %s", name, place.wanted)
			}
			if right {
				continue
			}
			code, stdout, stderr := command(args...)
			assert.Equal(t, exitInput, code, "%v: %s", args, stderr)
			assert.Empty(t, stdout)
			said := strings.TrimPrefix(strings.TrimPrefix(stderr, "findrive: "), "one mistake to put right first:\n")
			assert.True(t, strings.HasPrefix(said, path+": "+says), "%v: %s", args, stderr)
			assert.True(t, strings.HasSuffix(said, "; here a "+place.wanted+" is needed\n"), "%v: %s", args, stderr)
			assert.Equal(t, 1, strings.Count(said, "\n"), "%v: %s", args, stderr)
		}
	}
	// A slip in a file of the right kind does not make it another.
	for _, data := range []string{"[pulley.a]\nbore = \"5 mm\"\nmodel = \"x\"\n", "[band.a]\n", "[motor.a]\nlift = 3\n"} {
		assert.Empty(t, mistaken([]byte(data), aCupboard), data)
	}
	briefs, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, briefs)
	for _, path := range briefs {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Empty(t, mistaken(data, aBrief), path)
	}
	for _, f := range ideas.Library() {
		assert.Empty(t, mistaken(f.Data, aBrief), f.Name)
	}
	for _, name := range demo.Challenges() {
		assert.Empty(t, mistaken(demo.Challenge(name), aBrief), name)
	}
	for _, part := range []string{"pulley.big", "band.long", "offer.a", "supplier.b"} { // columns of a price list stand in any order
		assert.Empty(t, mistaken([]byte("part;pack_size;pack_price\n"+part+";10;2,80\n"), aPriceList), part)
		assert.Empty(t, mistaken([]byte("Our prices\npart,pack_size,pack_price\n"+part+",10,2.80\n"), aPriceList), part)
	}
	assert.NotEmpty(t, mistaken([]byte("pulley.big = {bore = \"5 mm\"}\n"), aPriceList))
	assert.Empty(t, mistaken([]byte("[frame]\nlength = \"20 mm\"\n[cells.one]\n"), aBrief))
	assert.Empty(t, mistaken([]byte("[band.a]\n[motor.m]\nfree_speed = \"100 rpm\"\n"), aCalibration))
}

// A built-in brief or drive never stands beside a cupboard of the user's in silence.
func TestBuiltInIsNamed(t *testing.T) {
	dir, _ := example(t, func(c string) string { return c })
	cupboard, prices := filepath.Join(dir, "cupboard.toml"), filepath.Join(dir, "prices.toml")
	for _, args := range [][]string{
		{"propose", "-k", "1"}, {"why"}, {"class"}, {"shop", "-p", prices}, {"sheet", "kit", "--as", "csv", "-o", t.TempDir()}, {"fairtest", "--bases", "1"}, {"explain"}, {"hoist"},
	} {
		code, _, stderr := command(append(args, "-c", cupboard)...)
		assert.Contains(t, []int{exitProved, exitNone, exitStopped}, code, "%v: %s", args, stderr)
		assert.True(t, strings.HasPrefix(stderr, "Note: the brief is the built-in example. Name yours with -b.\n"), "%v: %q", args, stderr)
	}
	for _, args := range [][]string{{"try"}, {"measure"}, {"try", "--ask", "one cell or two"}} {
		code, stdout, stderr := command(append(args, "-c", cupboard)...)
		assert.Equal(t, exitUsage, code)
		assert.Empty(t, stdout)
		assert.Contains(t, stderr, "which drive? The built-in one belongs to the built-in cupboard", "%v", args)
	}
}
