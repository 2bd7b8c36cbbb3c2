package tomlfile_test

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// readEverything reads a document with one key of each type, a table and named
// tables.
func readEverything(data string) error {
	d, err := tomlfile.Open("f.toml", []byte(data))
	if err != nil {
		return err
	}
	root := d.Root()
	readKeys(root)
	sub := root.Table("sub")
	readKeys(sub)
	sub.Close()
	names, tables := root.Named("part")
	if len(names) != len(tables) {
		return fmt.Errorf("%d names of %d tables", len(names), len(tables))
	}
	for _, t := range tables {
		readKeys(t)
		t.Close()
	}
	root.Close()
	return d.Err()
}

func readKeys(t *tomlfile.Table) {
	t.Text("text", "")
	t.Choice("choice", "red", "red", "green")
	t.Whole("whole", 1, 1, 9)
	t.Number("number", 1, 0.5, 2)
	t.Yes("yes", false)
	t.List("list", "[1]", 3)
	tomlfile.Quantity(t, "length", &units.Lengths, 1, tomlfile.Range[units.Millimetres]{Least: 1, Most: 100})
}

func TestProblems(t *testing.T) {
	for _, c := range []struct{ name, data, want string }{
		{"nothing", "", ""},
		{"all right", "text = \"a\"\nchoice = \"green\"\nwhole = 3\nnumber = 1\nyes = true\nlist = [1]\nlength = \"2 cm\"\n[part.x]\nlength = \"1 mm\"\n[sub]\nwhole = 2", ""},
		{"a mark at the beginning", "\ufeffwhole = 3", ""},
		{"carriage returns", "whole = 3\r\nlength = 5\r\n", `f.toml:2:10: length: 5 has no unit: write "5 mm"`},
		{"wrong types", "text = 1\nchoice = 2\nwhole = \"four\"\nnumber = [1]\nyes = \"true\"\nlist = 1\nlength = true\n", `f.toml:1:8: text: found 1, a text in quotes is needed
f.toml:2:10: choice: found 2, a text in quotes is needed
f.toml:3:9: whole: found "four", a whole number without quotes is needed
f.toml:4:10: number: found a list, a number without quotes is needed
f.toml:5:7: yes: found "true", true or false without quotes is needed
f.toml:6:8: list: found 1, a list is needed: write for example list = [1]
f.toml:7:10: length: found true, a length in quotes is needed, such as "150 mm"`},
		{"out of range", "whole = 10\nnumber = 3\nlist = [1, 2, 3, 4]\nlength = \"2 m\"", `f.toml:1:9: whole: 10 is out of range: it must be from 1 to 9
f.toml:2:10: number: 3 is out of range: it must be from 0.5 to 2
f.toml:3:8: list: the list has 4 values, the most is 3
f.toml:4:10: length: "2 m" is out of range: it must be from 1 mm to 100 mm`},
		{"no numbers", "number = nan\nlength = inf", `f.toml:1:10: number: NaN is out of range: it must be from 0.5 to 2
f.toml:2:10: length: "+Inf" does not begin with a number: a length is written like "150 mm"`},
		{"dates", "whole = 2020-01-01", `f.toml:1:9: whole: found a date or time, a whole number without quotes is needed`},
		{"unknown", "txet = 1\n[sbu]\n[sub]\nzzzzzzz = 1\n[part.\"a.b\"]\nlenght = 1", `f.toml:1:1: txet: this key is not known here, did you mean "text"?
f.toml:2:2: sbu: this table is not known here, did you mean "sub"?
f.toml:4:1: sub.zzzzzzz: this key is not known here; it can be text, choice, whole, number, yes, list or length
f.toml:6:1: part."a.b".lenght: this key is not known here, did you mean "length"?`},
		{"an unknown word", "choice = \"gren\"", `f.toml:1:10: choice: found "gren", which is not known here, did you mean "green"?`},
		{"inside one line", "part = { x = { whole = 0 }, y = { lenght = 1 } }", `f.toml:1:24: part.x.whole: 0 is out of range: it must be from 1 to 9
f.toml:1:35: part.y.lenght: this key is not known here, did you mean "length"?`},
		{"dotted", "sub.whole = 0\npart.x.whole = 0", `f.toml:1:13: sub.whole: 0 is out of range: it must be from 1 to 9
f.toml:2:16: part.x.whole: 0 is out of range: it must be from 1 to 9`},
		{"columns count letters", "[part.\"größe\"]\n\"größe\" = 1\ntext = \"größe\" # x\n", `f.toml:2:1: part."größe"."größe": this key is not known here; it can be text, choice, whole, number, yes, list or length`},
		{"columns behind wide letters", "part.\"größe\".whole = 0", `f.toml:1:22: part."größe".whole: 0 is out of range: it must be from 1 to 9`},
		{"no names", "[part]\nwhole = 1\ntext = \"x\"", `f.toml:3:1: part.text: each part needs a name of its own: write [part.NAME] above its keys`},
		{"lists of tables", "[[part]]\nwhole = 1\n[[sub]]\n", `f.toml:1:3: part: each part needs a name of its own: write [part.NAME], and its keys on the lines below
f.toml:3:3: sub: a table is needed: write [sub] once, and its keys on the lines below`},
		{"no tables", "part = 1\nsub = 2", `f.toml:1:1: part: each part needs a name of its own: write [part.NAME], and its keys on the lines below
f.toml:2:1: sub: a table is needed: write [sub] once, and its keys on the lines below`},
		{"bad names", "[part.\"\"]\n[part.\"a\\u001b\"]", `f.toml:1:2: part: the name "" cannot be used: a name has 1 to 60 letters, all on one line
f.toml:1:2: part: the name "a\x1b" cannot be used: a name has 1 to 60 letters, all on one line`},
		{"bad texts", "text = \"a\\u001b[31m\"", `f.toml:1:8: text: the text "a\x1b[31m" has signs in it that cannot be printed on one line: type it again`},
		{"quotes forgotten", "length = 20 mm\nchoice = green # mine\nwhole = 0\n[sub]\nlength = 3 cm\n", `f.toml:1:10: 20 mm must stand in quotes: write length = "20 mm"
f.toml:2:10: green must stand in quotes: write choice = "green"
f.toml:3:9: whole: 0 is out of range: it must be from 1 to 9
f.toml:5:10: 3 cm must stand in quotes: write length = "3 cm"`},
		{"names and keys twice", "whole = 2\nwhole = 11\n[part.x]\ntext = \"a\"\nlenght = 1\n[part.x] # again\nlength = 5\ntext = \"a\"\n  text = \"b\"\n[sub]\n[ part . x ]\nwhole = 0\n[sub]\n[part.\"a b\"]\n[part.\"a b\"]\nnumber = 9",
			`f.toml:2:1: whole is there already, in the same table: leave one of the two out
f.toml:5:1: part.x.lenght: this key is not known here, did you mean "length"?
f.toml:6:2: the name part.x is there already: every table needs a name of its own
f.toml:7:10: part.x.length: 5 has no unit: write "5 mm"
f.toml:9:3: text is there already, in the same table: leave one of the two out
f.toml:11:3: the name part .x is there already: every table needs a name of its own
f.toml:12:9: part.x.whole: 0 is out of range: it must be from 1 to 9
f.toml:13:2: the name sub is there already: every table needs a name of its own
f.toml:15:2: the name part.a b is there already: every table needs a name of its own
f.toml:16:10: part."a b".number: 9 is out of range: it must be from 0.5 to 2`},
		{"a name that is another's key", "[part.x]\ntext = \"a\"\n[part.x.text]\nwhole = 0", `f.toml:3:2: the name part.x.text is there already: every table needs a name of its own`},
		{"curly quotes", "length = “3 mm”", `f.toml:1:10: the quotes must be plain ones: write length = "3 mm"`},
		{"UTF-16", "t\x00e\x00x\x00t\x00", `f.toml:1:1: this is not UTF-8 text: save the file as plain text in UTF-8`},
		{"UTF-16, the other way", "\x00t\x00e\x00x\x00t", `f.toml:1:1: this is not UTF-8 text: save the file as plain text in UTF-8`},
		{"not UTF-8", "text = \"a\"\ntext = \"\xff\"", `f.toml:2:9: this is not UTF-8 text: save the file as plain text in UTF-8`},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := readEverything(c.data)
			if c.want == "" {
				assert.NoError(t, err)
				return
			}
			assert.EqualError(t, err, c.want)
		})
	}
}

// What is no TOML is reported in the parser's words, so only the place and what
// else is found are held here.
func TestSyntaxProblems(t *testing.T) {
	for _, c := range []struct {
		name, data string
		places     []string
	}{
		{"no value, and more", "whole =\nnumber = 9", []string{"f.toml:1:", "f.toml:2:10: number"}},
		{"no equals sign", "text = \"a\"\nwhole 3\nnumber = 9", []string{"f.toml:2:6: there is no = behind the key: write whole = 3", "f.toml:3:10: number"}},
		{"a quote left open", "text = \"a\nwhole = 0", []string{"f.toml:1:", "f.toml:2:9: whole"}},
		{"a bracket left open", "list = [1,\nwhole = 0\n", []string{"f.toml:1:8: the list that begins here is not closed: write ] at its end", "f.toml:2:9: whole"}},
		{"a header left open", "[sub\nwhole = 0\n", []string{"f.toml:1:1: the ] at the end is missing: write [sub]", "f.toml:2:9: sub.whole"}},
		{"signs that cannot be printed", "text = \x1bc\nwhole = \u202e", []string{"f.toml:1:", "f.toml:2:"}},
		{"an open quote behind wide letters", "text = \"größe", []string{"f.toml:1:8: the quote mark at the end is missing: write text = \"größe\""}},
		{"the same table twice", "[sub]\n[sub]\n", []string{"f.toml:2:"}},
		{"wrong inside a long text", "text = \"\"\"\nwhole = 3 mm \\q\n\"\"\"\n", []string{"f.toml:2:"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := readEverything(c.data)
			var problems tomlfile.Problems
			require.ErrorAs(t, err, &problems)
			require.Len(t, problems, len(c.places), "%v", err)
			assert.False(t, strings.ContainsFunc(strings.ReplaceAll(err.Error(), "\n", ""), func(r rune) bool { return !unicode.IsPrint(r) }))
			for i, p := range problems {
				assert.True(t, strings.HasPrefix(p.Error(), c.places[i]), p.Error())
			}
		})
	}
}

func TestHintIsAField(t *testing.T) {
	var problems tomlfile.Problems
	require.ErrorAs(t, readEverything("lenght = 1"), &problems)
	assert.Equal(t, tomlfile.Problems{{File: "f.toml", Line: 1, Column: 1, Key: "lenght", Text: "this key is not known here", Hint: "length"}}, problems)
}

// Whatever is thrown at it is refused at once and in little memory.
func TestHostileDocuments(t *testing.T) {
	many := func(n int, line func(int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(line(i))
		}
		return b.String()
	}
	for _, c := range []struct{ name, data, want string }{
		{"too long", strings.Repeat("#", tomlfile.MaxBytes+1), "f.toml: the document has 1048577 bytes, the most is 1048576"},
		{"too many tables", many(100_000, func(i int) string { return fmt.Sprintf("[t%d]\n", i) }), "f.toml:2001:1: there are more than 2000 tables"},
		{"too many inline tables", "a = [" + strings.Repeat("{},", 100_000) + "]", "f.toml:1:6006: there are more than 2000 tables"},
		{"too many keys", many(100_000, func(i int) string { return fmt.Sprintf("k%d=1\n", i) }), "f.toml:40001:7: there are more than 40000 keys"},
		{"deep lists", "a = " + strings.Repeat("[", 500_000), "f.toml:1:13: brackets are nested more than 8 deep"},
		{"deep tables", "a = " + strings.Repeat("{a=", 300_000), "f.toml:1:29: brackets are nested more than 8 deep"},
		{"deep keys", strings.Repeat("a.", 500_000) + "a = 1", "f.toml:1:16: a key has more than 8 parts"},
		{"deep headers", "[" + strings.Repeat("a.", 500_000) + "a]", "f.toml:1:17: a key has more than 8 parts"},
		{"many unknown keys", many(39_000, func(i int) string { return fmt.Sprintf("k%d=1\n", i) }), "f.toml: there are 38900 problems more"},
		{"many unknown keys on one line", "sub = {" + many(39_000, func(i int) string { return fmt.Sprintf("ä%d=1,", i) }) + "}", "f.toml:1:8: "},
		{"many unknown quoted keys on one line", "text = 3 mm\nsub = {" + many(39_000, func(i int) string { return fmt.Sprintf("\"ä%d\"=1,", i) }) + "}", "f.toml: there are 38901 problems more"},
		{"a name of a megabyte", "[part." + strings.Repeat("x", 1<<20-10) + "]\n", "cannot be used"},
		{"a key of a megabyte", strings.Repeat("x", 1<<20-10) + " = 1\n", "this key is not known here"},
		{"a text of a megabyte", "text = \"" + strings.Repeat("x", 1<<20-10) + "\"", "the text has more than 200 letters"},
		{"a quantity of a megabyte", "length = \"" + strings.Repeat("1", 1<<20-20) + " mm\"", "is not a number that can be measured"},
		{"a bare number of a megabyte", "length = " + strings.Repeat("1", 1<<20-20), "f.toml:1:"},
		{"many lines without quotes", many(20_000, func(i int) string { return fmt.Sprintf("k%d = 20 mm\n", i) }), "f.toml:11:"},
		{"a list of half a million", "list = [" + strings.Repeat("1,", 500_000) + "]", "f.toml:1:8: list: the list has 500000 values, the most is 3"},
		{"noughts", strings.Repeat("\x00", 1000), "f.toml:1:1: "},
		{"a quote left open", "a = \"\"\"" + strings.Repeat("x\n", 500_000), "f.toml:"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			err := readEverything(c.data)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Less(t, len(err.Error()), 30_000)
			// It takes well under a second of one processor. The bound is only there for
			// what grows with the square of the document, on a busy machine as well.
			assert.Less(t, took, time.Minute)
			assert.Less(t, after.TotalAlloc-before.TotalAlloc, uint64(600<<20))
			t.Logf("%v, %d MB", took, (after.TotalAlloc-before.TotalAlloc)>>20)
		})
	}
}

// FuzzRead: whatever the bytes, reading ends with nothing or with problems that
// each have a text and a place within the document.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"", "whole = 0\n[sub]\nlength = 20 mm\n", "[part.\"a.b\"]\nlist = [1,\n2]\n", "part = { x = { whole = 0 } }", "text = '''\n'''\n", "\ufeff[[part]]\n", "a.b.c = 1\r\n[a]\n", "whole = \xff"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		err := readEverything(string(data))
		if err == nil {
			return
		}
		problems, is := err.(tomlfile.Problems)
		if !is || len(problems) == 0 {
			t.Fatalf("%T %v", err, err)
		}
		rows := 1 + bytes.Count(data, []byte("\n"))
		for _, p := range problems {
			if p.Text == "" || p.Line < 0 || p.Line > rows || (p.Line == 0) != (p.Column == 0) {
				t.Fatalf("%+v", p)
			}
		}
	})
}
