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

// The list of packages in DEVELOPERS.md names every one, and what a package imports
// stands further down than it, or in its row.
func TestImportsPointDownTheList(t *testing.T) {
	text, err := os.ReadFile("../DEVELOPERS.md")
	require.NoError(t, err)
	name, row := regexp.MustCompile("`((?:cmd|internal|scripts)/[a-z/0-9]+)`"), map[string]int{}
	for i, line := range strings.Split(string(text), "\n") {
		if cells := strings.Split(line, "|"); len(cells) == 4 && strings.HasPrefix(cells[1], " `") {
			for _, n := range name.FindAllStringSubmatch(cells[1], -1) {
				row["findrive/"+n[1]] = i
			}
		}
	}
	for _, of := range listed(t, "-f", `{{$p := .ImportPath}}{{$p}}:{{"\n"}}{{range .Imports}}{{$p}}:{{.}}{{"\n"}}{{end}}`, "findrive/...") {
		by, what, _ := strings.Cut(of, ":")
		if by == "findrive/internal" {
			continue // this test
		}
		if assert.Contains(t, row, by, "no row") && strings.HasPrefix(what, "findrive/") {
			assert.GreaterOrEqual(t, row[what], row[by], "%s imports %s", by, what)
		}
	}
}

// Where the comment of a package says what is in which file, it names every file but its
// own, and none that is not there.
func TestMapsOfFilesAreWhole(t *testing.T) {
	packages, err := filepath.Glob("*")
	require.NoError(t, err)
	comment, named := regexp.MustCompile(`(?m)(^//.*\n)+^package `), regexp.MustCompile(`[a-z0-9_*]+\.go\b`)
	maps := 0
	for _, p := range packages {
		files, err := filepath.Glob(filepath.Join(p, "*.go"))
		require.NoError(t, err)
		there, all := map[string]bool{}, [][]string{}
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			src, err := os.ReadFile(f)
			require.NoError(t, err)
			there[filepath.Base(f)] = false
			if c := comment.FindString(string(src)); strings.Count(c, ".go") > 1 {
				all = append(all, append(named.FindAllString(c, -1), filepath.Base(f)))
			}
		}
		for _, m := range all {
			maps++
			for _, n := range m {
				found := false
				for f := range there {
					if is, _ := filepath.Match(n, f); is {
						found, there[f] = true, true
					}
				}
				assert.True(t, found, "%s: there is no %s", p, n)
			}
			for f, told := range there {
				assert.True(t, told, "%s: the map leaves out %s", p, f)
			}
		}
	}
	assert.Greater(t, maps, 20)
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
