package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
)

// The wrong file behind a flag is named in one line.
func TestWrongFile(t *testing.T) {
	dir, _ := example(t, func(c string) string { return c })
	write := func(name, data string) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, []byte(data), 0o600))
		return path
	}
	cupboard, brief := filepath.Join(dir, "cupboard.toml"), filepath.Join(dir, "brief.toml")
	for _, c := range []struct{ flag, path, want string }{
		{"-c", brief, "this is a brief, which belongs behind -b"},
		{"-b", cupboard, "this is a cupboard, which belongs behind -c"},
		{"-c", filepath.Join(dir, "prices.toml"), ""},
		{"-b", write("drive.toml", string(demo.Drive())), ""},
		{"-c", write("list.csv", "what,how many,where\nrubber bands,20,tray 3\n"), "this is a spreadsheet: findrive stock reads it and writes a cupboard"},
		{"-c", write("list.xlsx", "PK\x03\x04\x00\x01\xff"), "this is a workbook: save its sheet as CSV, which findrive stock reads"},
		{"-b", write("drives.json", `{"schema": 1, "kind": "findrive certificate"}`), "this is a certificate, which findrive sheet --from reads"},
	} {
		code, _, stderr := command("propose", c.flag, c.path)
		assert.Equal(t, exitInput, code, stderr)
		if c.want != "" {
			assert.Equal(t, "findrive: one mistake to put right first:\n"+c.path+": "+c.want+"\n", stderr)
		}
	}
}
