package pattern

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPatternIsMadeReadyOnce(t *testing.T) {
	t.Parallel()
	p := Must(`(\d+) mm`)
	require.Equal(t, []string{"12 mm", "12"}, p.FindStringSubmatch("a rod of 12 mm"))
	require.Same(t, p.ready(), p.ready())
}

func TestPatternThatIsNonePanicsWhenItIsUsed(t *testing.T) {
	t.Parallel()
	p := Must(`(`)
	require.Panics(t, func() { p.MatchString("a") })
}

// What is only made ready when it is used would only then be found wrong: so every pattern of the
// program is made here, but for a few that are put together from lists; and there are no others.
func TestEveryPatternIsOne(t *testing.T) {
	t.Parallel()
	packages := map[string][]*ast.File{}
	for _, root := range []string{"..", "../../cmd"} {
		require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			packages[filepath.Dir(path)] = append(packages[filepath.Dir(path)], f)
			return err
		}))
	}
	made, others := 0, 0
	for path, files := range packages {
		known := constants(files)
		for _, f := range files {
			for n := range ast.Preorder(f) {
				call, ok := n.(*ast.CallExpr)
				if ok && isCall(call, "regexp", "MustCompile") {
					require.Contains(t, forTests, filepath.Base(path), "is made ready at the start of every command")
				}
				if !ok || !isCall(call, "pattern", "Must") {
					continue
				}
				text, ok := known.of(call.Args[0])
				if !ok {
					others++
					continue
				}
				made++
				_, err := regexp.Compile(text)
				require.NoError(t, err, path)
			}
		}
	}
	require.Greater(t, made, 150)
	require.Less(t, others, made/10)
}

// forTests are the packages that only tests use, and this one.
var forTests = []string{"outsidetest", "reading", "pattern"}

// isCall tells whether a function of that name of a package is called.
func isCall(call *ast.CallExpr, of, name string) bool {
	f, ok := call.Fun.(*ast.SelectorExpr)
	if !ok || f.Sel.Name != name {
		return false
	}
	from, ok := f.X.(*ast.Ident)
	return ok && from.Name == of
}

// values are the constants of a package by name.
type values map[string]ast.Expr

func constants(files []*ast.File) values {
	out := values{}
	for _, f := range files {
		for n := range ast.Preorder(f) {
			spec, ok := n.(*ast.ValueSpec)
			if !ok || len(spec.Names) != len(spec.Values) {
				continue
			}
			for i, name := range spec.Names {
				out[name.Name] = spec.Values[i]
			}
		}
	}
	return out
}

// of is the text of an expression; false if it is not put together from constants alone.
func (v values) of(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil
	case *ast.ParenExpr:
		return v.of(e.X)
	case *ast.Ident:
		return v.of(v[e.Name])
	case *ast.BinaryExpr:
		a, okA := v.of(e.X)
		b, okB := v.of(e.Y)
		return a + b, okA && okB
	}
	return "", false
}
