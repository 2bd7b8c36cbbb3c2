package proof_test

import (
	"context"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/proof"
)

func check(t testing.TB, data []byte, cup *parts.Cupboard, b *brief.Brief) (*proof.Verdict, error) {
	v, err := proof.Check(context.Background(), data, cup, b)
	if err != nil {
		require.Nil(t, v)
	}
	return v, err
}

func TestProofsHold(t *testing.T) {
	cases := []struct {
		name   string
		keep   int
		change func(cup *parts.Cupboard, b *brief.Brief)
		ranked int
	}{
		{"a full ranking", 2, func(*parts.Cupboard, *brief.Brief) {}, 2},
		{"one drive", 1, func(*parts.Cupboard, *brief.Brief) {}, 1},
		{"none at all", 3, func(_ *parts.Cupboard, b *brief.Brief) { b.Speed.Turning = 2 }, 0},
	}
	for _, tt := range cases {
		t.Run(tt.name, func(t *testing.T) {
			cup, b := few(t)
			tt.change(cup, b)
			v, err := check(t, proved(t, cup, b, tt.keep), cup, b)
			require.NoError(t, err)
			assert.Len(t, v.Ranked, tt.ranked)
			assert.Zero(t, v.Trusted)
			assert.Positive(t, v.Total())
		})
	}
}

func TestSameProofEachTime(t *testing.T) {
	cup, b := few(t)
	answer := certificate(t, cup, b, 1)
	one, err := proof.Record(context.Background(), cup, b, 1, answer)
	require.NoError(t, err)
	two, err := proof.Record(context.Background(), cup, b, 1, answer)
	require.NoError(t, err)
	assert.Equal(t, one, two)
}

// TestTamperedProofs makes a hundred and more false proofs out of a true one.
func TestTamperedProofs(t *testing.T) {
	cup, b := few(t)
	text := unpack(t, proved(t, cup, b, keep))
	head, lines := tree(t, text)
	join := func(head string, lines []string) string {
		return fmt.Sprintf("%stree %d\n%s\n", head, len(lines), strings.Join(lines, "\n"))
	}
	require.Equal(t, text, join(head, lines))
	r := rand.New(rand.NewPCG(7, 11))
	// having picks a line with a word in it.
	having := func(words ...string) int {
		for {
			if i := r.IntN(len(lines)); slices.ContainsFunc(words, func(w string) bool { return strings.Contains(lines[i], w) }) {
				return i
			}
		}
	}
	with := func(i int, line string) []string {
		out := slices.Clone(lines)
		out[i] = line
		return out
	}
	tamperings := map[string]func() string{
		"a line left out": func() string {
			i := r.IntN(len(lines))
			return join(head, slices.Delete(slices.Clone(lines), i, i+1))
		},
		"a branch dropped for a made-up reason": func() string {
			i := having(" +", " /")
			key, _, _ := strings.Cut(lines[i], " ")
			word := []string{"dear 99", "room", "speed 1", "grip 0.5", "motor-runs 1.2", "stock", "ways", "stretch"}[r.IntN(8)]
			// Its children go with it: those of a box are the next two, and theirs.
			return join(head, slices.Delete(with(i, key+" "+word), i+1, under(lines, i)))
		},
		"a bound lowered": func() string {
			i := having("dear ")
			at := strings.LastIndex(lines[i], " ")
			return join(head, with(i, lines[i][:at]+fmt.Sprintf(" %d", 1+r.IntN(3))))
		},
		"a bound raised": func() string {
			i := having("dear ")
			at := strings.LastIndex(lines[i], " ")
			return join(head, with(i, lines[i][:at]+" 1"+lines[i][at+1:]))
		},
		"another reason": func() string {
			i := having("dear ", "room", "speed ", "motor-runs ", "seen ")
			key, _, _ := strings.Cut(lines[i], " ")
			return join(head, with(i, key+" grip 1.01"))
		},
		"a figure changed": func() string {
			i := having("speed ", "motor-runs ")
			at := strings.LastIndex(lines[i], " ")
			return join(head, with(i, lines[i][:at]+" 9"+lines[i][at+1:]))
		},
		"a hole moved": func() string {
			i := having("seen ")
			words := strings.Split(lines[i], " ")
			at := 3 + r.IntN(len(words)-3)
			words[at] = fmt.Sprintf("%d,%d", r.IntN(260), r.IntN(120))
			if words[at] == strings.Split(lines[i], " ")[at] {
				words[at] = "0,0"
			}
			return join(head, with(i, strings.Join(words, " ")))
		},
		"a box cut elsewhere": func() string {
			i := having(" / ")
			axis := lines[i][len(lines[i])-1]
			return join(head, with(i, lines[i][:len(lines[i])-1]+string('0'+(axis-'0'+1)%3)))
		},
		"two lines swapped": func() string {
			out := slices.Clone(lines)
			i := r.IntN(len(lines) - 1)
			for out[i] == out[i+1] {
				i = r.IntN(len(lines) - 1)
			}
			out[i], out[i+1] = out[i+1], out[i]
			return join(head, out)
		},
		"a line twice": func() string {
			i := r.IntN(len(lines))
			return join(head, slices.Insert(slices.Clone(lines), i, lines[i]))
		},
		"the end cut off": func() string { return join(head, lines[:1+r.IntN(len(lines)-1)]) },
		"a figure of the answer": func() string {
			keys := []string{"total_points", "centre_distance_mm", "stretch", "ratio", "idle_pull_N", "load_N", "x_mm", "likely", "each"}
			key := `"` + keys[r.IntN(len(keys))] + `":`
			at := strings.Index(head, `"proposals"`)
			at += strings.Index(head[at:], key) + len(key)
			return join(head[:at]+"9"+head[at:], lines)
		},
		"another cupboard": func() string { return join(strings.Replace(head, "cupboard ", "cupboard 0", 1), lines) },
		"more asked for":   func() string { return join(strings.Replace(head, "\nkeep 2\n", "\nkeep 3\n", 1), lines) },
		"fewer asked for":  func() string { return join(strings.Replace(head, "\nkeep 2\n", "\nkeep 1\n", 1), lines) },
	}
	made := 0
	for _, name := range slices.Sorted(mapsKeys(tamperings)) {
		for k := range 8 {
			false := tamperings[name]()
			require.NotEqual(t, text, false)
			_, err := check(t, pack(t, false), cup, b)
			assert.Error(t, err, "%s, %d", name, k)
			made++
		}
	}
	assert.GreaterOrEqual(t, made, 100)
}

func mapsKeys[V any](m map[string]V) func(func(string) bool) {
	return func(yield func(string) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// under is the line after a branch: boxes have two halves, anything else is cut off
// at the next line that could be its sister.
func under(lines []string, i int) int {
	if strings.Contains(lines[i], " / ") {
		open := 2
		for j := i + 1; j < len(lines); j++ {
			if strings.Contains(lines[j], " / ") {
				open += 2
			}
			if open--; open == 0 {
				return j + 1
			}
		}
	}
	for j := i + 1; j < len(lines); j++ {
		if lines[j][0] == lines[i][0] {
			return j
		}
	}
	return len(lines)
}

func TestProofOfOtherThings(t *testing.T) {
	cup, b := few(t)
	data := proved(t, cup, b, 1)
	changes := map[string]func(cup *parts.Cupboard, b *brief.Brief){
		"a pulley more":  func(cup *parts.Cupboard, _ *brief.Brief) { cup.Pulleys[0].Count++ },
		"a wider groove": func(cup *parts.Cupboard, _ *brief.Brief) { cup.Pulleys[0].GrooveWidth += 0.5 },
		"a band less":    func(cup *parts.Cupboard, _ *brief.Brief) { cup.Bands = cup.Bands[1:] },
		"another speed":  func(_ *parts.Cupboard, b *brief.Brief) { b.Speed.Turning++ },
		"another frame":  func(_ *parts.Cupboard, b *brief.Brief) { b.Frame.Length += 10 },
		"other weights":  func(_ *parts.Cupboard, b *brief.Brief) { b.Weights.Stage++ },
	}
	for name, change := range changes {
		cup, b := few(t)
		change(cup, b)
		_, err := check(t, data, cup, b)
		var no *proof.Rejection
		require.ErrorAs(t, err, &no, name)
		assert.Contains(t, err.Error(), "has changed since", name)
	}
}

// TestWrongAnswers has answers that a search with a fault would give. The proof of
// one comes to a drive that should have been ranked, and does not hold.
func TestWrongAnswers(t *testing.T) {
	answers := map[string][]byte{"the second is left out": leaving(t, 1)}
	for name, answer := range answers {
		t.Run(name, func(t *testing.T) {
			cup, b := few(t)
			data, err := proof.Record(context.Background(), cup, b, keep, answer)
			require.ErrorIs(t, err, proof.ErrMissed)
			_, err = check(t, data, cup, b)
			require.ErrorContains(t, err, "a better drive is not ranked")
		})
	}
}

// leaving is the answer without one of its drives, with the next in its place.
func leaving(t *testing.T, out int) []byte {
	cup, b := few(t)
	var c map[string]any
	require.NoError(t, json.Unmarshal(certificate(t, cup, b, keep+1), &c))
	list := c["proposals"].([]any)
	require.Len(t, list, keep+1)
	list = slices.Delete(list, out, out+1)
	for i := range list {
		list[i].(map[string]any)["rank"] = i + 1
	}
	c["proposals"] = list
	data, err := json.Marshal(c)
	require.NoError(t, err)
	return data
}

// TestFalseDrives has answers whose ranked drives are not what they are said to be.
func TestFalseDrives(t *testing.T) {
	cup, b := few(t)
	change := func(old, new string) []byte {
		text := string(certificate(t, cup, b, 1))
		require.Contains(t, text, old)
		return []byte(strings.Replace(text, old, new, 1))
	}
	for name, answer := range map[string][]byte{
		"a cheaper total":     change(`"total_points":4`, `"total_points":3`),
		"a pulley not there":  change(`"name":"axle-10"`, `"name":"axle-11"`),
		"a hole elsewhere":    change(`"y_mm":60`, `"y_mm":47`),
		"stopped early":       change(`"status":"proved best"`, `"status":"stopped early"`),
		"no certificate":      []byte("{}"),
		"another cell holder": change(`"name":"one"`, `"name":"two"`),
	} {
		_, err := proof.Record(context.Background(), cup, b, 1, answer)
		require.Error(t, err, name)
		require.NotErrorIs(t, err, proof.ErrMissed, name)
	}
}

func TestStopped(t *testing.T) {
	cup, b := few(t)
	answer := certificate(t, cup, b, 1)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	_, err := proof.Record(ctx, cup, b, 1, answer)
	require.ErrorIs(t, err, context.Canceled)
	_, err = proof.Check(ctx, proved(t, cup, b, 1), cup, b)
	require.ErrorIs(t, err, context.Canceled)
}

// TestSharesNothingWithTheSearch reads the package's own source: it must not use the
// search, its bounds, or the search for places.
func TestSharesNothingWithTheSearch(t *testing.T) {
	packages, err := parser.ParseDir(token.NewFileSet(), ".", func(f fs.FileInfo) bool { return !strings.HasSuffix(f.Name(), "_test.go") }, 0)
	require.NoError(t, err)
	files := packages["proof"].Files
	require.NotEmpty(t, files)
	for name, f := range files {
		for _, i := range f.Imports {
			assert.NotContains(t, []string{`"findrive/internal/design"`, `"findrive/internal/search"`}, i.Path.Value, name)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok {
				if of, ok := s.X.(*ast.Ident); ok {
					assert.NotContains(t, []string{"layout.Place", "layout.LanePlans", "drive.Extent", "drive.End", "drive.NewEnd", "drive.Envelope"}, of.Name+"."+s.Sel.Name, name)
				}
			}
			return true
		})
	}
}
