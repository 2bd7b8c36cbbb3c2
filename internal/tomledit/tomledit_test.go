package tomledit_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/tomledit"
)

// doc has everything in it that our files have, and what they might.
const doc = `# The cupboard of an invented school.
# Counted in May.

schema = 1
name = "Brook Lane"   # as on the door

# Pulleys, all of wood.
[pulley.disc-60]
outside = "60 mm"
count = 16

[pulley."disc 80"] # the large ones
	outside = "80 mm"
	count = 0o14	# twelve
# two are cracked

# Others.
[frame]
length = "260 mm"
rails = [
  "10 mm", # low
  "90 mm",
]
note = """
count = 3
[pulley.none]
"""
size.x = 1
size.y = 2
place = { shelf = "A", box = 2 }
none = {}

[[tie]]
name = "left"
n = 1

[[tie]]
name = "right"
n = 2
[tie.of]
cord = true

[[tie]]
name = "1"
`

func TestApply(t *testing.T) {
	set := tomledit.Set
	for _, c := range []struct {
		name string
		edit tomledit.Edit
		old  string // stands in doc, and what stands in its place
		new  string
	}{
		{"a number", set(tomledit.Whole(20), "pulley", "disc-60", "count"), "count = 16", "count = 20"},
		{"a remark behind it stays", set(tomledit.Whole(3), "pulley", "disc 80", "count"), "	count = 0o14	# twelve", "	count = 3	# twelve"},
		{"a text", set(tomledit.Text("280 mm"), "frame", "length"), `"260 mm"`, `"280 mm"`},
		{"a list", set(tomledit.List(tomledit.Text("5 mm")), "frame", "rails"), "[\n  \"10 mm\", # low\n  \"90 mm\",\n]", `["5 mm"]`},
		{"a long text", set(tomledit.Text("-"), "frame", "note"), "\"\"\"\ncount = 3\n[pulley.none]\n\"\"\"", `"-"`},
		{"a key with a dot", set(tomledit.Number(2), "frame", "size", "y"), "size.y = 2", "size.y = 2.0"},
		{"in braces", set(tomledit.Text("B"), "frame", "place", "shelf"), `shelf = "A"`, `shelf = "B"`},
		{"of the root", set(tomledit.Text("Mill"), "name"), `"Brook Lane"`, `"Mill"`},
		{"by number", set(tomledit.Whole(5), "tie", "0", "n"), "n = 1", "n = 5"},
		{"by name", set(tomledit.Whole(5), "tie", "right", "n"), "n = 2", "n = 5"},
		{"in a table of one of an array", set(tomledit.Yes(false), "tie", "right", "of", "cord"), "cord = true", "cord = false"},

		{"new in a table", set(tomledit.Text("A"), "pulley", "disc-60", "location"), "count = 16\n", "count = 16\nlocation = \"A\"\n"},
		{"new, as far in as the others", set(tomledit.Text("A"), "pulley", "disc 80", "location"), "# twelve\n", "# twelve\n	location = \"A\"\n"},
		{"new in the root", set(tomledit.Whole(2), "sets"), "# as on the door\n", "# as on the door\nsets = 2\n"},
		{"new with a dot", set(tomledit.Whole(3), "frame", "size", "z"), "size.y = 2\n", "size.y = 2\nsize.z = 3\n"},
		{"new in braces", set(tomledit.Whole(3), "frame", "place", "row"), "box = 2 }", "box = 2, row = 3 }"},
		{"new in empty braces", set(tomledit.Whole(3), "frame", "none", "row"), "{}", "{ row = 3 }"},
		{"new and deep in braces", set(tomledit.Whole(3), "frame", "none", "a", "b c"), "{}", "{ a.\"b c\" = 3 }"},
		{"new in one of an array", set(tomledit.Whole(3), "tie", "0", "m"), "n = 1\n", "n = 1\nm = 3\n"},
		{"new table of a kind", set(tomledit.Whole(3), "pulley", "disc.100", "count"), "# two are cracked\n", "# two are cracked\n\n[pulley.\"disc.100\"]\ncount = 3\n"},
		{"new table of another kind", set(tomledit.Whole(3), "axle", "rod", "count"), "name = \"1\"\n", "name = \"1\"\n\n[axle.rod]\ncount = 3\n"},
		{"new table in one of an array", set(tomledit.Whole(3), "tie", "left", "of", "cord"), "n = 1\n", "n = 1\n\n[tie.of]\ncord = 3\n"},
		{"new table over tables", set(tomledit.Whole(3), "pulley", "count"), "# two are cracked\n", "# two are cracked\n\n[pulley]\ncount = 3\n"},

		{"away", tomledit.Remove("pulley", "disc-60", "count"), "count = 16\n", ""},
		{"away with its remark", tomledit.Remove("name"), "name = \"Brook Lane\"   # as on the door\n", ""},
		{"away, of several lines", tomledit.Remove("frame", "rails"), "rails = [\n  \"10 mm\", # low\n  \"90 mm\",\n]\n", ""},
		{"away, first in braces", tomledit.Remove("frame", "place", "shelf"), `shelf = "A", `, ""},
		{"away, last in braces", tomledit.Remove("frame", "place", "box"), `, box = 2`, ""},
		{"a table away", tomledit.Remove("pulley", "disc 80"), "[pulley.\"disc 80\"] # the large ones\n	outside = \"80 mm\"\n	count = 0o14	# twelve\n", ""},
		{"a table with dots away", tomledit.Remove("frame", "size"), "size.x = 1\nsize.y = 2\n", ""},
		{"one of an array away", tomledit.Remove("tie", "right"), "[[tie]]\nname = \"right\"\nn = 2\n[tie.of]\ncord = true\n\n", ""},
		{"what is not there", tomledit.Remove("frame", "height"), "", ""},
		{"what is not there of what is not there", tomledit.Remove("hoist", "height"), "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, doc, c.old)
			want := strings.Replace(doc, c.old, c.new, 1)
			got, err := tomledit.Apply("a.toml", []byte(doc), c.edit)
			require.NoError(t, err)
			assert.Equal(t, want, string(got))

			// Line ends, the mark some editors begin with, and a last line that does not
			// end stay as they are.
			windows := func(s string) string { return "\ufeff" + strings.ReplaceAll(s, "\n", "\r\n") }
			got, err = tomledit.Apply("a.toml", []byte(windows(doc)), c.edit)
			require.NoError(t, err)
			assert.Equal(t, windows(want), string(got))
			got, err = tomledit.Apply("a.toml", []byte(strings.TrimSpace(doc)), c.edit)
			require.NoError(t, err)
			assert.Equal(t, strings.TrimSpace(want), string(got))
		})
	}
}

func TestApplyToShortTexts(t *testing.T) {
	count := tomledit.Set(tomledit.Whole(3), "count")
	length := tomledit.Set(tomledit.Text("1 m"), "frame", "length")
	for _, c := range []struct {
		text string
		edit tomledit.Edit
		want string
	}{
		{"", count, "count = 3\n"},
		{"", length, "[frame]\nlength = \"1 m\"\n"},
		{"# Mine.\n", count, "# Mine.\ncount = 3\n"},
		{"# Mine.\n\n[a]\nb = 1\n", count, "# Mine.\ncount = 3\n\n[a]\nb = 1\n"},
		{"# Of a.\n[a]\nb = 1\n", count, "count = 3\n\n# Of a.\n[a]\nb = 1\n"},
		{"[frame]", length, "[frame]\nlength = \"1 m\""},
		{"[frame]\n# Of b.\n[b]\n", length, "[frame]\nlength = \"1 m\"\n# Of b.\n[b]\n"},
		{"a = 1", length, "a = 1\n\n[frame]\nlength = \"1 m\""},
		{"[frame.of]\n", length, "[frame.of]\n\n[frame]\nlength = \"1 m\"\n"},
		{"frame = { height = \"1 m\" }\n", length, "frame = { height = \"1 m\", length = \"1 m\" }\n"},
		{"frame.height = \"1 m\"\n[b]\n", length, "frame.height = \"1 m\"\nframe.length = \"1 m\"\n[b]\n"},
		{"a = { b.c = 1, b.d = 2, e = 3 }", tomledit.Remove("a", "b"), "a = { e = 3 }"},
		{"a = { b.c = 1 }", tomledit.Set(tomledit.Whole(2), "a", "b", "d"), "a = { b.c = 1, b.d = 2 }"},
		{"a = { b = 1 }", tomledit.Remove("a", "b"), "a = {  }"},
		{"a = { b = { c = 1 } }", tomledit.Set(tomledit.Whole(2), "a", "b", "d"), "a = { b = { c = 1, d = 2 } }"},
	} {
		got, err := tomledit.Apply("a.toml", []byte(c.text), c.edit)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, string(got), c.text)
	}
}

func TestApplyRefuses(t *testing.T) {
	one := tomledit.Whole(1)
	for _, c := range []struct {
		text string
		edit tomledit.Edit
		want string
	}{
		{"a = = 1", tomledit.Set(one, "b"), "a.toml:1:"},
		{"a = 1", tomledit.Set(one, "a", "b"), `a.toml: "a" is no table, so that nothing can be put into it`},
		{"[a]", tomledit.Set(one, "a"), `a.toml: "a" is a table`},
		{"[[a]]\nname = \"x\"", tomledit.Set(one, "a", "y", "b"), `a.toml: no table of "a" has the name "y"`},
		{"[[a]]\nname = \"x\"", tomledit.Set(one, "a", "1", "b"), `a.toml: there is no table 1 of "a", they are 0 to 0`},
		{"a = 1", tomledit.Set(one), "a.toml: a key has at least one part"},
	} {
		got, err := tomledit.Apply("a.toml", []byte(c.text), c.edit)
		assert.Nil(t, got)
		assert.ErrorContains(t, err, c.want, c.text)
	}
}

func TestSeveralEdits(t *testing.T) {
	got, err := tomledit.Apply("a.toml", []byte("[pulley.a]\ncount = 1\n"),
		tomledit.Set(tomledit.Text("60 mm"), "pulley", "new one", "outside"),
		tomledit.Set(tomledit.Whole(3), "pulley", "new one", "count"),
		tomledit.Set(tomledit.Whole(4), "pulley", "a", "count"))
	require.NoError(t, err)
	assert.Equal(t, "[pulley.a]\ncount = 4\n\n[pulley.\"new one\"]\noutside = \"60 mm\"\ncount = 3\n", string(got))
}

func TestEditsAreShownAsPeopleWriteThem(t *testing.T) {
	assert.Equal(t, `[pulley."disc 80"] count = 12`, tomledit.Set(tomledit.Whole(12), "pulley", "disc 80", "count").String())
	assert.Equal(t, `speed = "1 turn in 3 s"`, tomledit.Set(tomledit.Text("1 turn in 3 s"), "speed").String())
	assert.Equal(t, `leave out [load] wheel`, tomledit.Remove("load", "wheel").String())
}

func TestValues(t *testing.T) {
	for want, v := range map[string]tomledit.Value{
		`"a \"b\" \\ \n\t\u0007é"`: tomledit.Text("a \"b\" \\ \n\t\aé"),
		"1.0":                      tomledit.Number(1),
		"-0.25":                    tomledit.Number(-0.25),
		"1.0e+22":                  tomledit.Number(1e22),
		"-7":                       tomledit.Whole(-7),
		`[1, "b", true]`:           tomledit.List(tomledit.Whole(1), tomledit.Text("b"), tomledit.Yes(true)),
		"[]":                       tomledit.List(),
	} {
		assert.Equal(t, want, v.String())
	}
}

// The example cupboard is a real one: a count changes on one line, and a part is taken
// away with its lines and nothing else.
func TestExampleCupboard(t *testing.T) {
	before := string(demo.Cupboard())
	after, err := tomledit.Apply("cupboard.toml", demo.Cupboard(), tomledit.Set(tomledit.Whole(99), "pulley", "disc-80", "count"))
	require.NoError(t, err)
	cup, err := parts.Read("cupboard.toml", after)
	require.NoError(t, err)
	for _, p := range cup.Pulleys {
		assert.Equal(t, p.Name == "disc-80", p.Count == 99, p.Name)
	}
	a, b := strings.Split(before, "\n"), strings.Split(string(after), "\n")
	require.Len(t, b, len(a))
	differ := 0
	for i := range a {
		if a[i] != b[i] {
			differ++
		}
	}
	assert.Equal(t, 1, differ)
}
