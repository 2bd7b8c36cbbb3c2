// Package internal_test holds what every package of the engine keeps to.
package internal_test

import (
	"bytes"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listed are the packages that go list names, a line each.
func listed(t *testing.T, args ...string) []string {
	t.Helper()
	var said strings.Builder
	cmd := exec.Command("go", append([]string{"list"}, args...)...)
	cmd.Stderr = &said
	out, err := cmd.Output()
	require.NoError(t, err, said.String())
	return strings.Fields(string(out))
}

// engine are the packages of the engine, without those that only tests use.
func engine(t *testing.T) []string {
	var out []string
	for _, p := range listed(t, "./...") {
		if !strings.HasSuffix(p, "test") {
			out = append(out, p)
		}
	}
	require.Greater(t, len(out), 40)
	return out
}

// The engine is loaded by a browser, where every megabyte is waited for. net/http is
// one, and a program that executes templates is nearly one larger, since the linker
// must keep every exported method of it (golang/go#72895).
func TestTheEngineLeavesOutWhatIsLarge(t *testing.T) {
	packages := engine(t)
	var imports []string
	deps := listed(t, append([]string{"-deps", "-f", `{{$p := .ImportPath}}{{range .Imports}}{{$p}}:{{.}}{{"\n"}}{{end}}`}, packages...)...)
	for _, d := range deps {
		by, of, _ := strings.Cut(d, ":")
		switch of {
		case "net/http", "text/template", "html/template":
			imports = append(imports, d)
		}
		if strings.HasPrefix(by, "findrive/") {
			assert.NotContains(t, []string{"net/http", "text/template", "html/template"}, of, by)
		}
	}
	// gomponents takes no more than one function from html/template, which escapes.
	assert.ElementsMatch(t, []string{"maragu.dev/gomponents:html/template", "html/template:text/template"}, imports)
}

// No template is executed by the pages either.
func TestPagesAreLinkedWithoutTemplates(t *testing.T) {
	program := filepath.Join(t.TempDir(), "page.wasm")
	build := exec.Command("go", "build", "-o", program, "./sheet/testdata/linked")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	said, err := build.CombinedOutput()
	require.NoError(t, err, string(said))
	linked, err := os.ReadFile(program) // with the names of all functions that are in it
	require.NoError(t, err)
	assert.True(t, bytes.Contains(linked, []byte("sheet.(*Page).HTML")))
	assert.False(t, bytes.Contains(linked, []byte("text/template.(*Template).")))
}

// A loop of the engine that asks the context itself would keep a browser from ever
// hearing of a Stop.
func TestTheEngineAsksNoContextItself(t *testing.T) {
	asks := regexp.MustCompile(`\b[cC]tx\.(Err|Done)\(\)`)
	seen := 0
	require.NoError(t, fs.WalkDir(os.DirFS("."), ".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || filepath.Dir(path) == "pause" {
			return err
		}
		seen++
		src, err := os.ReadFile(path)
		for i, line := range strings.Split(string(src), "\n") {
			assert.NotRegexp(t, asks, line, "%s:%d: long work asks pause.Err(ctx)", path, i+1)
		}
		return err
	}))
	assert.Greater(t, seen, 100, "files of the engine")
}
