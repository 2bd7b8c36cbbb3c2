package proof_test

import (
	"context"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cases"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/units"
)

func check(t testing.TB, data []byte, cup *parts.Cupboard, b *brief.Brief) (*proof.Verdict, error) {
	v, err := proof.Check(context.Background(), data, cup, b)
	if err != nil {
		require.Nil(t, v)
	}
	return v, err
}

func TestProofsHold(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		keep   int
		change func(cup *parts.Cupboard, b *brief.Brief)
		listed int
	}{
		{"a full list", 2, func(*parts.Cupboard, *brief.Brief) {}, 2},
		{"one drive", 1, func(*parts.Cupboard, *brief.Brief) {}, 1},
		{"all that are worth building", 50, func(*parts.Cupboard, *brief.Brief) {}, 9},
		{"none at all", 3, func(_ *parts.Cupboard, b *brief.Brief) { b.Speed.Turning = 2 }, 0},
		{"holes anywhere", 2, func(_ *parts.Cupboard, b *brief.Brief) { b.Limits.HoleError = 0 }, 2},
		{"sleeves in tubs", 2, func(cup *parts.Cupboard, b *brief.Brief) {
			cup.Pulleys = slices.DeleteFunc(cup.Pulleys, func(p parts.Pulley) bool { return strings.HasPrefix(p.Name, "motor-") })
			tub := func(name string, inner units.Millimetres, count int) parts.Sleeve {
				return parts.Sleeve{Item: parts.Item{Name: name, Count: count}, Inner: inner, Outer: 5, Length: 10}
			}
			cup.Sleeves = []parts.Sleeve{tub("an odd one", 1.9, 1), tub("tub 1", 2, b.Sets-1), tub("tub 2", 2, 1)}
		}, 2},
		{"both ways to turn", 2, func(_ *parts.Cupboard, b *brief.Brief) { b.Direction.MotorTurns = brief.Clockwise }, 2},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			cup, b := few(t)
			tt.change(cup, b)
			v, err := check(t, proved(t, cup, b, tt.keep), cup, b)
			require.NoError(t, err)
			assert.Len(t, v.Ranked, tt.listed)
			assert.Positive(t, v.Parts)
			assert.NotEmpty(t, v.Left)
		})
	}
}

// TestProofsOfDrawnCupboards has the answers of the search proved.
func TestProofsOfDrawnCupboards(t *testing.T) {
	t.Parallel()
	listed := 0
	for _, family := range cases.Families() {
		for seed := uint64(701); seed < 704; seed++ {
			cup, b := cases.Make(cases.Size{Pulleys: 5, Bands: 3, Stages: 2}, family, seed)
			v, err := check(t, proved(t, cup, b, 3), cup, b)
			require.NoError(t, err, "%v, %d", family, seed)
			listed += len(v.Ranked)
		}
	}
	assert.Greater(t, listed, 10)
}

// TestProofsWithFewRods has them proved where rods are few and of several lengths, so that
// it is the saw that decides.
func TestProofsWithFewRods(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(15, 3))
	listed, none := 0, 0
	for _, family := range cases.Families() {
		for seed := uint64(801); seed < 807; seed++ {
			cup, b := cases.Make(cases.Size{Pulleys: 5, Bands: 3, Stages: 2}, family, seed)
			b.Sets = 1 + r.IntN(3)
			inner := drive.AxleLength(b)
			first := cup.Axles[0]
			cup.Axles = nil
			for i := range 1 + r.IntN(3) {
				rod := first
				rod.Name, rod.Count = fmt.Sprintf("rod %d", i), r.IntN(3)
				rod.Length = inner*units.Millimetres(1+r.IntN(3)) + units.Millimetres(r.IntN(60))
				cup.Axles = append(cup.Axles, rod)
			}
			v, err := check(t, proved(t, cup.InStock(), b, 3), cup.InStock(), b)
			require.NoError(t, err, "%v, %d", family, seed)
			if listed += len(v.Ranked); len(v.Ranked) == 0 {
				none++
			}
		}
	}
	assert.Greater(t, listed, 10)
	assert.Greater(t, none, 5)
}

func TestSameProofEachTime(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	assert.Equal(t, proved(t, cup, b, 1), proved(t, cup, b, 1))
}

// relisted is a proof of another list: the text of a true one, with its list changed.
func relisted(t *testing.T, text string, change func([]proof.Listed) []proof.Listed) []byte {
	before, rest, found := strings.Cut(text, "\ndrives ")
	require.True(t, found)
	at := strings.Index(rest, "\nnames ")
	var l []proof.Listed
	for _, line := range strings.Split(rest[:at], "\n")[1:] {
		var one proof.Listed
		require.NoError(t, json.Unmarshal([]byte(line), &one))
		l = append(l, one)
	}
	l = change(l)
	out := fmt.Sprintf("%s\ndrives %d", before, len(l))
	for i := range l {
		said, err := json.Marshal(&l[i])
		require.NoError(t, err)
		out += "\n" + string(said)
	}
	return pack(t, out+rest[at:])
}

// TestFalseLists has lists that a search with a fault would give, and such as somebody
// would write who wants another drive to be best. Neither is a proof of one written, nor
// does a proof hold that is told of one.
func TestFalseLists(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	true3 := list(t, cup, b, keep+1)
	require.Len(t, true3, keep+1)
	text := unpack(t, proved(t, cup, b, keep))
	first := func(change func(l *proof.Listed)) func([]proof.Listed) []proof.Listed {
		return func(l []proof.Listed) []proof.Listed {
			change(&l[0])
			return l
		}
	}
	for _, tt := range []struct {
		name   string
		change func(l []proof.Listed) []proof.Listed
		says   string
	}{
		{"the first struck out", func([]proof.Listed) []proof.Listed { return slices.Clone(true3[1:]) }, "a better drive is not listed: motor slow"},
		{"the second left out", func([]proof.Listed) []proof.Listed { return []proof.Listed{true3[0], true3[2]} }, "a better drive is not listed: motor slow"},
		{"the last dropped", func(l []proof.Listed) []proof.Listed { return l[:1] }, "a better drive is not listed: motor slow"},
		{"all dropped", func([]proof.Listed) []proof.Listed { return nil }, "a better drive is not listed: motor slow"},
		{"two swapped", func(l []proof.Listed) []proof.Listed { return []proof.Listed{l[1], l[0]} }, "in the wrong order"},
		{"one twice", func(l []proof.Listed) []proof.Listed { return []proof.Listed{l[0], l[0]} }, "are the same drive"},
		{"too many", func(l []proof.Listed) []proof.Listed { return slices.Clone(true3) }, "2 drives were asked for and 3 are listed"},
		{"a cheaper cost", first(func(l *proof.Listed) { l.Points-- }), "is said to cost"},
		{"a dearer cost", first(func(l *proof.Listed) { l.Points += 0.25 }), "is said to cost"},
		{"a spacing off the ruler", first(func(l *proof.Listed) { l.Stages[0].Spacing++ }), "stage 1 has no mark at a spacing of"},
		{"a lie that there is not", first(func(l *proof.Listed) { l.Stages[0].Lie = "\x1b[31mup" }), `no lie such as "\x1b[31mup"`},
		{"a hole out of its cell", first(func(l *proof.Listed) { l.Holes[2][0] -= 20 }), "its holes will not do"},
		{"a hole off the grid", first(func(l *proof.Listed) { l.Holes[0][1]++ }), "its holes will not do"},
		{"a hole too few", first(func(l *proof.Listed) { l.Holes = l.Holes[:2] }), "its holes will not do"},
		{"other lanes", first(func(l *proof.Listed) { l.Lanes = []int{0, 0} }), "its lanes"},
		{"more forgiving", first(func(l *proof.Listed) { l.HoleError = 3 }), "no design is held to holes 3 mm out of place"},
		{"another motor", first(func(l *proof.Listed) { l.Motor = "fast" }), "not to be had together"},
		{"a pulley that there is not", first(func(l *proof.Listed) { l.Stages[1].Driver = "axle-11" }), "the pulleys of stage 2 cannot be there"},
		{"another rod", first(func(l *proof.Listed) { l.Stages[0].Rod = "dowel-9" }), "axle 1 cannot be made so"},
		{"another joint", first(func(l *proof.Listed) { l.Stages[0].DriverJoint = "sleeve" }), "does not sit so"},
		{"another band", first(func(l *proof.Listed) { l.Stages[0].Band = "no-16" }), "has no mark"},
		{"a band used otherwise", first(func(l *proof.Listed) { l.Stages[0].Use = "thrice" }), "has no mark"},
		{"no stages", first(func(l *proof.Listed) { l.Stages = nil }), "not to be had together"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			_, err := check(t, relisted(t, text, tt.change), cup, b)
			var no *proof.Rejection
			require.ErrorAs(t, err, &no)
			assert.Contains(t, err.Error(), tt.says)
			assert.NotContains(t, err.Error(), "\x1b")
			_, err = proof.Record(context.Background(), cup, b, keep, tt.change(list(t, cup, b, keep)))
			require.ErrorContains(t, err, tt.says)
		})
	}
}

// TestTies shows another of equally cheap drives in the place of the one that comes first
// among equals.
func TestTies(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	all := list(t, cup, b, 50)
	tied := 0
	for k := range len(all) - 1 {
		if all[k].Points != all[k+1].Points {
			continue
		}
		tied++
		_, err := check(t, relisted(t, unpack(t, proved(t, cup, b, k+2)), func(l []proof.Listed) []proof.Listed {
			l[k], l[k+1] = l[k+1], l[k]
			return l
		}), cup, b)
		require.ErrorContains(t, err, "in the wrong order", "equals stand in theirs")
		data := proved(t, cup, b, k+1)
		_, err = check(t, data, cup, b)
		require.NoError(t, err)
		_, err = check(t, relisted(t, unpack(t, data), func(l []proof.Listed) []proof.Listed { return append(l[:k], all[k+1]) }), cup, b)
		var no *proof.Rejection
		require.ErrorAs(t, err, &no)
		first := all[k].Stages[0]
		assert.Contains(t, err.Error(), fmt.Sprintf("a better drive is not listed: motor slow, cells one, %s to %s", first.Driver, first.Driven))
		assert.Contains(t, err.Error(), fmt.Sprintf("at %g points", all[k].Points))
	}
	assert.Positive(t, tied)
}

// TestLiesAreKept moves the last hole of a drive in line round the one before, to where
// its two bands pull against one another less.
func TestLiesAreKept(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	b.Frame.Height, b.Frame.Overhang = 240, 60 // room for all pulleys anywhere
	b.Frame.OutputZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
	b.Frame.MotorZone = b.Frame.OutputZone
	true1 := list(t, cup, b, 1)
	require.Equal(t, "in line", true1[0].Stages[0].Lie)
	apart := func(a, b [2]float64) float64 { return math.Hypot(b[0]-a[0], b[1]-a[1]) }
	h, moved, most := true1[0].Holes, [2]float64{}, 0.0
	for x := 20.0; x <= 240; x += 10 {
		for y := 20.0; y <= 220; y += 10 {
			p := [2]float64{x, y}
			if math.Abs(apart(h[1], p)-apart(h[1], h[2])) < 1.5 && apart(h[0], p) < apart(h[0], h[2])-20 && apart(h[0], p) > most {
				moved, most = p, apart(h[0], p)
			}
		}
	}
	h[2] = moved
	_, err := proof.Record(context.Background(), cup, b, 1, true1)
	require.ErrorContains(t, err, "its holes will not do: shafts are nearer than their window (shafts 0 and 2")
}

// TestDamagedProofs damages what a true proof says of the parts of the space.
func TestDamagedProofs(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	text := unpack(t, proved(t, cup, b, keep))
	head, lines := cut(t, text)
	join := func(head string, lines []string) string {
		return fmt.Sprintf("%sparts %d\n%s\n", head, len(lines), strings.Join(lines, "\n"))
	}
	require.Equal(t, text, join(head, lines))
	r := rand.New(rand.NewPCG(7, 11))
	saying := func(i int, word string) []string {
		out := slices.Clone(lines)
		out[i] = out[i][:strings.LastIndex(out[i], " ")+1] + word
		return out
	}
	// priced picks a line with a figure.
	priced := func() int {
		for {
			if i := r.IntN(len(lines)); !strings.HasSuffix(lines[i], "none") {
				return i
			}
		}
	}
	for _, tt := range []struct {
		name   string
		damage func() string
		says   string
	}{
		{"a line left out", func() string {
			i := r.IntN(len(lines))
			return join(head, slices.Delete(slices.Clone(lines), i, i+1))
		}, "is missing"},
		{"two lines swapped", func() string {
			out, i := slices.Clone(lines), r.IntN(len(lines)-1)
			out[i], out[i+1] = out[i+1], out[i]
			return join(head, out)
		}, "is missing: there is "},
		{"a line twice", func() string {
			i := r.IntN(len(lines))
			return join(head, slices.Insert(slices.Clone(lines), i, lines[i]))
		}, ""},
		{"the end cut off", func() string { return join(head, lines[:1+r.IntN(len(lines)-1)]) }, "is missing"},
		{"a line more", func() string { return join(head, append(slices.Clone(lines), "t9 1")) }, "the proof goes on"},
		{"a line after the end", func() string { return text + "t9 1\n" }, "goes on after the proof"},
		{"a bound raised", func() string { return join(head, saying(priced(), "999")) }, "is said to cost 999 points at least"},
		{"said to be empty", func() string { return join(head, saying(priced(), "none")) }, "is said to have no design at all"},
		{"not a figure", func() string { return join(head, saying(priced(), "NaN")) }, `"NaN" at least, which is no penalty`},
		{"escapes", func() string { return join(head, saying(r.IntN(len(lines)), "\x1b]0;hello\a")) }, ""},
		{"another cupboard", func() string { return join(strings.Replace(head, "cupboard ", "cupboard 0", 1), lines) }, "of another cupboard"},
		{"more asked for", func() string { return join(strings.Replace(head, "\nkeep 2\n", "\nkeep 3\n", 1), lines) }, "a better drive is not listed"},
		{"fewer asked for", func() string { return join(strings.Replace(head, "\nkeep 2\n", "\nkeep 1\n", 1), lines) }, "1 drives were asked for and 2 are listed"},
		{"another name", func() string { return join(strings.Replace(head, `p0: "`, "p0: \"\x1b", 1), lines) }, "and should be"},
	} {
		for k := range 8 {
			_, err := check(t, pack(t, tt.damage()), cup, b)
			var no *proof.Rejection
			require.ErrorAs(t, err, &no, "%s, %d", tt.name, k)
			assert.Contains(t, err.Error(), tt.says, "%s, %d", tt.name, k)
			assert.NotContains(t, err.Error(), "\x1b", "%s, %d", tt.name, k)
		}
	}
	// A figure is the very one that is found: a little above is false, a little below promises less.
	for range 12 {
		i := priced()
		is, err := strconv.ParseFloat(lines[i][strings.LastIndex(lines[i], " ")+1:], 64)
		require.NoError(t, err)
		_, err = check(t, pack(t, join(head, saying(i, strconv.FormatFloat(is+0.001, 'f', -1, 64)))), cup, b)
		var no *proof.Rejection
		require.ErrorAs(t, err, &no, lines[i])
		_, err = check(t, pack(t, join(head, saying(i, strconv.FormatFloat(max(0, is-0.25), 'f', -1, 64)))), cup, b)
		require.NoError(t, err, lines[i])
	}
	for i := range lines {
		_, err := check(t, pack(t, join(head, saying(i, "open"))), cup, b)
		require.ErrorIs(t, err, proof.ErrOpen, "nothing may be open")
	}
}

func TestProofOfOtherThings(t *testing.T) {
	t.Parallel()
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

// countdown is a context that ends after it has been looked at so often.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// TestStopped stops writer and checker at one moment after another: they say so, and
// that is all they say.
func TestStopped(t *testing.T) {
	t.Parallel()
	cup, b := few(t)
	answer, data := list(t, cup, b, keep), proved(t, cup, b, keep)
	looks := &countdown{context.Background(), math.MaxInt}
	_, err := proof.Record(looks, cup, b, keep, answer)
	require.NoError(t, err)
	all := math.MaxInt - looks.left
	require.Greater(t, all, 50)
	for at := 0; at < all; at += 1 + all/40 {
		out, err := proof.Record(&countdown{context.Background(), at}, cup, b, keep, answer)
		require.ErrorIs(t, err, context.Canceled, "at look %d of %d", at, all)
		require.Nil(t, out)
		_, err = proof.Check(&countdown{context.Background(), at}, data, cup, b)
		require.ErrorIs(t, err, context.Canceled, "at look %d of %d", at, all)
	}
}

// A long list is left where it is stopped: whether each drive is worth its place would take a
// second and more to find out.
func TestStoppedInTheList(t *testing.T) {
	cup, b := few(t)
	text := unpack(t, proved(t, cup, b, 2))
	swapped := relisted(t, text, func(l []proof.Listed) []proof.Listed { return []proof.Listed{l[1], l[0]} })
	_, err := check(t, swapped, cup, b)
	var no *proof.Rejection
	require.ErrorAs(t, err, &no, "its order is found to be wrong")
	_, err = proof.Check(&countdown{context.Background(), 1}, swapped, cup, b)
	require.ErrorIs(t, err, context.Canceled)
}

// TestSharesNothingWithTheSearch reads the package's own source: it must not use the
// search, its bounds, or what bounds several drives elsewhere.
func TestSharesNothingWithTheSearch(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	files = slices.DeleteFunc(files, func(name string) bool { return strings.HasSuffix(name, "_test.go") })
	require.NotEmpty(t, files)
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		for _, i := range f.Imports {
			assert.NotContains(t, []string{`"findrive/internal/design"`, `"findrive/internal/search"`}, i.Path.Value, name)
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if of, ok := n.(*ast.SelectorExpr); ok {
				assert.NotContains(t, []string{"Extent", "AtMost", "NewEnd"}, of.Sel.Name, name)
			}
			return true
		})
	}
}
