package tomledit_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/tomledit"
)

var (
	names   = rapid.SampledFrom([]string{"a", "b", "c", "disc-60", `"two words"`, `"a.b"`, `'it"s'`})
	values  = rapid.SampledFrom([]string{"1", "0x1f", "2.50", `"60 mm"`, "'#'", "true", "[1, 2]", "[\n  1, # one\n  2,\n]", "\"\"\"\n[a]\n# no remark\n\"\"\"", "2026-11-29", "{ p = 1, q.r = 2 }", "{}"})
	behind  = rapid.SampledFrom([]string{"", "", "  # a remark", "\t"})
	between = rapid.SampledFrom([]string{"", "", "\n", "# a remark\n", "\n# a remark\n\n"})
)

// document is a text with tables, keys with dots, tables in braces, arrays of tables and
// remarks, in which no key stands twice.
func document(t *rapid.T) string {
	var out strings.Builder
	// Keys with dots in an array of tables are left out: the parser that the tests read
	// with (BurntSushi/toml 1.6.0) loses some of them.
	keys := func(label string) {
		used := map[string]bool{}
		for range rapid.IntRange(0, 4).Draw(t, label) {
			key := names.Draw(t, "key")
			if used[key] {
				continue
			}
			used[key] = true
			out.WriteString(between.Draw(t, "between"))
			value, after := values.Draw(t, "value"), behind.Draw(t, "behind")
			switch how := rapid.IntRange(0, 4).Draw(t, "how"); {
			case how == 0 && label != "tie" && label != "deep":
				fmt.Fprintf(&out, "%s.x = %s%s\n%s.y.z = 1\n", key, value, after, key)
			case how == 1:
				fmt.Fprintf(&out, "  %s = %s%s\n", key, value, after)
			default:
				fmt.Fprintf(&out, "%s = %s%s\n", key, value, after)
			}
		}
		out.WriteString(between.Draw(t, "between"))
	}
	keys("root")
	for _, kind := range rapid.Permutation([]string{"pulley", "frame", "tie"}).Draw(t, "kinds") {
		switch kind {
		case "pulley":
			for _, name := range rapid.SliceOfDistinct(names, rapid.ID[string]).Draw(t, "pulleys") {
				fmt.Fprintf(&out, "[pulley.%s]%s\n", name, behind.Draw(t, "behind"))
				keys("pulley")
			}
		case "frame":
			out.WriteString("[ frame ]\n")
			keys("frame")
		case "tie":
			for range rapid.IntRange(0, 3).Draw(t, "ties") {
				out.WriteString("[[tie]]\n")
				keys("tie")
				if rapid.Bool().Draw(t, "deep") {
					out.WriteString("[tie.deep]\n")
					keys("deep")
				}
			}
		}
	}
	text := out.String()
	if rapid.Bool().Draw(t, "cut") {
		text = strings.TrimRight(text, "\n")
	}
	if rapid.Bool().Draw(t, "windows") {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return text
}

// read is what a text says.
func read(t require.TestingT, text string) map[string]any {
	out := map[string]any{}
	_, err := toml.Decode(text, &out)
	require.NoError(t, err, text)
	return out
}

// leaves are the keys of all values, joined by line feeds, with what they are.
func leaves(v any, at string, out map[string]string) map[string]string {
	switch v := v.(type) {
	case map[string]any:
		for k, inner := range v {
			leaves(inner, at+"\n"+k, out)
		}
	case []map[string]any:
		for i, inner := range v {
			leaves(inner, fmt.Sprint(at, "\n", i), out)
		}
	default:
		out[at[1:]] = fmt.Sprintf("%T %v", v, v)
	}
	return out
}

// lines are all lines with their ends, without those that are empty.
func lines(text string) []string {
	return slices.DeleteFunc(strings.SplitAfter(text, "\n"), func(l string) bool { return strings.TrimSpace(l) == "" })
}

// within reports whether all lines of a are among those of b, in order, and how many of
// b are not among those of a.
func within(a, b []string) (all bool, more int) {
	for _, line := range b {
		if len(a) > 0 && a[0] == line {
			a = a[1:]
		} else {
			more++
		}
	}
	return len(a) == 0, more
}

func TestSetChangesOneKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := document(t)
		before := leaves(read(t, text), "", map[string]string{})
		if len(before) == 0 {
			return
		}
		all := slices.Sorted(func(yield func(string) bool) {
			for k := range before {
				if !yield(k) {
					return
				}
			}
		})
		id := rapid.SampledFrom(all).Draw(t, "key")
		after, err := tomledit.Apply("a.toml", []byte(text), tomledit.Set(tomledit.Whole(4711), strings.Split(id, "\n")...))
		require.NoError(t, err)
		want := before
		want[id] = "int64 4711"
		assert.Equal(t, want, leaves(read(t, string(after)), "", map[string]string{}))

		// Only the lines of that value are others.
		a, b := lines(text), lines(string(after))
		for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
			a, b = a[1:], b[1:]
		}
		for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
			a, b = a[:len(a)-1], b[:len(b)-1]
		}
		assert.Len(t, b, 1)
		assert.LessOrEqual(t, len(a), 4)

		again, err := tomledit.Apply("a.toml", after, tomledit.Set(tomledit.Whole(4711), strings.Split(id, "\n")...))
		require.NoError(t, err)
		assert.Equal(t, string(after), string(again))
	})
}

func TestSetAddsOneKey(t *testing.T) {
	tables := rapid.SampledFrom([][]string{nil, {"frame"}, {"frame", "a"}, {"frame", "new"}, {"pulley", "a"}, {"pulley", "new one"}, {"pulley"}, {"tie", "0"}, {"tie", "0", "deep"}, {"axle", "rod"}, {"a"}, {"a", "y"}})
	rapid.Check(t, func(t *rapid.T) {
		text := document(t)
		before := leaves(read(t, text), "", map[string]string{})
		key := append(slices.Clone(tables.Draw(t, "table")), "new key")
		after, err := tomledit.Apply("a.toml", []byte(text), tomledit.Set(tomledit.Text("x"), key...))
		if err != nil {
			// Only where the way to it is barred.
			barred := key[0] == "tie" && !strings.Contains(text, "[[tie]]") && strings.Contains(err.Error(), "no table")
			for i := range key[:len(key)-1] {
				_, value := before[strings.Join(key[:i+1], "\n")]
				barred = barred || value
			}
			assert.True(t, barred, "%v: %v", key, err)
			return
		}
		want := before
		want[strings.Join(key, "\n")] = "string x"
		assert.Equal(t, want, leaves(read(t, string(after)), "", map[string]string{}))
		for _, line := range lines(string(after)) {
			if strings.Contains(line, `"new key"`) && strings.Contains(line, "{") {
				return // in braces, whose line is another then
			}
		}
		ended := func(text string) string { // a last line that did not end may go on now
			if strings.Contains(text, "\r\n") && !strings.HasSuffix(text, "\n") {
				return text + "\r\n"
			}
			return text + "\n"
		}
		all, more := within(lines(ended(text)), lines(ended(string(after))))
		assert.True(t, all, "every line there was is there")
		assert.LessOrEqual(t, more, 2, "a header and a key")
	})
}

func TestRemoveTakesOneKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := document(t)
		before := leaves(read(t, text), "", map[string]string{})
		if len(before) == 0 {
			return
		}
		var all []string
		for k := range before {
			parts := strings.Split(k, "\n")
			for i := range parts {
				all = append(all, strings.Join(parts[:i+1], "\n"))
			}
		}
		slices.Sort(all)
		id := rapid.SampledFrom(slices.Compact(all)).Draw(t, "key")
		after, err := tomledit.Apply("a.toml", []byte(text), tomledit.Remove(strings.Split(id, "\n")...))
		require.NoError(t, err, "%q of\n%s", id, text)
		got := leaves(read(t, string(after)), "", map[string]string{})
		if parts := strings.Split(id, "\n"); len(parts) > 1 && parts[0] == "tie" && len(parts) == 2 {
			assert.Less(t, len(got), len(before)) // those behind it move up
			return
		}
		for k := range before {
			if k == id || strings.HasPrefix(k, id+"\n") {
				delete(before, k)
			}
		}
		assert.Equal(t, before, got, "%q of\n%s\nis\n%s", id, text, after)
	})
}

func FuzzApply(f *testing.F) {
	f.Add(doc, "pulley\ndisc 80\ncount", int64(3), false)
	f.Add(doc, "frame\nplace\nshelf", int64(0), true)
	f.Add("a = { b.c = 1, }\n", "a\nb\nd", int64(1), false)
	f.Fuzz(func(t *testing.T, text, id string, n int64, remove bool) {
		e := tomledit.Set(tomledit.Whole(int(n)), strings.Split(id, "\n")...)
		if remove {
			e = tomledit.Remove(strings.Split(id, "\n")...)
		}
		after, err := tomledit.Apply("a.toml", []byte(text), e)
		if err != nil {
			if after != nil {
				t.Fatal("a text and an error")
			}
			return
		}
		bare, _ := strings.CutPrefix(string(after), "\ufeff")
		read(t, bare)
		again, err := tomledit.Apply("a.toml", after, e)
		if err == nil && string(again) != string(after) && !(remove && strings.Contains(text, "[[")) {
			t.Fatalf("once %q, twice %q", after, again)
		}
	})
}

// A table of any text with another name says the same but for that name, on as many lines.
func TestRenamedSaysTheSame(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		text := document(rt)
		before := read(rt, text)
		kind := rapid.SampledFrom([]string{"pulley", "frame", "a"}).Draw(rt, "of")
		name := rapid.SampledFrom([]string{"a", "b", "c", "disc-60", "two words", "a.b", `it"s`}).Draw(rt, "name")
		now := rapid.SampledFrom([]string{"new", "quite new", `"`, "b"}).Draw(rt, "now")
		got, err := tomledit.Rename("a.toml", []byte(text), now, kind, name)
		in, _ := before[kind].(map[string]any)
		_, there := in[name]
		_, taken := in[now]
		if !there || taken && now != name {
			require.Error(rt, err, text)
			return
		}
		require.NoError(rt, err, text)
		want := map[string]string{}
		for key, value := range leaves(before, "", map[string]string{}) {
			if from := kind + "\n" + name; key == from || strings.HasPrefix(key, from+"\n") {
				key = kind + "\n" + now + key[len(from):]
			}
			want[key] = value
		}
		assert.Equal(rt, want, leaves(read(rt, string(got)), "", map[string]string{}), text)
		assert.Equal(rt, strings.Count(text, "\n"), strings.Count(string(got), "\n"))
	})
}
