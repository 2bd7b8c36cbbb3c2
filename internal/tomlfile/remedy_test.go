package tomlfile_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/tomlfile"
)

// A mistake of syntax is told with its line, what was found and what would be right,
// and hides none of those behind it.
func TestRemedies(t *testing.T) {
	const behind = "\n[sub]\nwhole = 0\n"
	for _, c := range []struct{ name, data, want string }{
		{"a name with a space", "[part.axle large]\nlenght = 1", `f.toml:1:7: a name with a space or another such sign has quotes at both ends: write [part."axle large"]
f.toml:2:1: part."axle large".lenght: this key is not known here, did you mean "length"?`},
		{"a name with an accent", "[part.größe] # big", `f.toml:1:7: a name with a space or another such sign has quotes at both ends: write [part."größe"]`},
		{"a name in half its quotes", `[part."big]`, `f.toml:1:7: a name with a space or another such sign has quotes at both ends: write [part.big]`},
		{"a header left open", "[part.x\ntext = 1", `f.toml:1:1: the ] at the end is missing: write [part.x]
f.toml:2:8: part.x.text: found 1, a text in quotes is needed`},
		{"a header not opened", "part.x]", `f.toml:1:1: the [ at the beginning is missing: write [part.x]`},
		{"more behind a header", "[part.x] whole = 3", `f.toml:1:9: nothing may stand behind the ] but a remark after #: write [part.x], and the rest on the next line`},
		{"no name", "[part.]\nwhole = 0", `f.toml:1:2: a name is missing: write [part.NAME]
f.toml:2:9: part."nameless 7".whole: 0 is out of range: it must be from 1 to 9`},
		{"a colon", `length: "9 mm"`, `f.toml:1:7: a value stands behind =, and not behind ":": write length = "9 mm"`},
		{"a colon and no quotes", `length: 9 mm`, `f.toml:1:7: a value stands behind =, and not behind ":": write length = and then the value
f.toml:1:10: 9 mm must stand in quotes: write length = "9 mm"`},
		{"no equals sign", "whole 3", "f.toml:1:6: there is no = behind the key: write whole = 3"},
		{"no quote at the end", `length = "9 mm # measured`, `f.toml:1:10: the quote mark at the end is missing: write length = "9 mm"`},
		{"no quote at the beginning", `length = 9 mm"`, `f.toml:1:10: the quote mark at the beginning is missing: write length = "9 mm"`},
		{"a comma in a length", "length = 9,5", `f.toml:1:10: length: `},
		{"a comma in a number", "number = 1,5", `f.toml:1:10: number: found 1,5, a number has figures on both sides of its point: write number = 1.5`},
		{"a number without figures before its point", "number = .5", `f.toml:1:10: number: found .5, a number has figures on both sides of its point: write number = 0.5`},
		{"a whole number with a comma", "whole = 9,5", `f.toml:1:9: whole: found 9,5, a whole number from 1 to 9 is needed, in figures and without quotes`},
		{"a whole number as a word", "whole = eight", `f.toml:1:9: whole: found eight, a whole number from 1 to 9 is needed, in figures and without quotes`},
		{"a whole number of two figures", "whole = 05", `f.toml:1:9: whole: found 05, a whole number does not begin with 0: write whole = 5`},
		{"yes", "yes = yes", `f.toml:1:7: yes: found yes: write yes = true, without quotes`},
		{"False", "yes = False", `f.toml:1:7: yes: found False: write yes = false, without quotes`},
		{"neither", "yes = maybe", `f.toml:1:7: yes: found maybe, true or false without quotes is needed`},
		{"a length that is none", "length = big", `f.toml:1:10: length: "big" does not begin with a number: a length is written like "150 mm"`},
		{"a length too long", "length = 2 m", `f.toml:1:10: length: "2 m" is out of range: it must be from 1 mm to 100 mm`},
		{"a word nearly known", "choice = gren", `f.toml:1:10: choice: found gren, which is not known here: write choice = "green"`},
		{"a list without commas", "list = [1 2]", `f.toml:1:8: the values of a list have a comma between each two: write list = [1, 2]`},
		{"a list of texts without commas", `list = ["a" "b"]`, `the values of a list have a comma between each two: write list = ["a", "b"]`},
		{"a list without commas on lines", "list = [\n  1\n  2\n]", `the values of a list have a comma between each two: write [1, 2]`},
		{"a list left open", "list = [1, 2", `f.toml:1:8: the list that begins here is not closed: write ] at its end`},
		{"a sign in a key", `wh,ole = 0`, `f.toml:1:1: a key has no signs but letters, figures, - and _: write whole = 0
f.toml:1:9: whole: 0 is out of range: it must be from 1 to 9`},
		{"a quote mark in a key", `length" = "3 mm"`, `a key has no signs but letters, figures, - and _: write length = "3 mm"`},
		{"words", "bits and bobs", `f.toml:1:1: found "bits and bobs", which is neither [kind.name] nor key = value: put # before it if it is a remark`},
		{"no key", "= 3", `f.toml:1:1: there is no key before the =: write key = value`},
		{"no value", "whole =", `whole has no value: write one behind the =, or leave the line out`},
		{"more behind a value", `text = "a" b`, `nothing may stand behind the value but a remark after #: write text = "a"`},
		{"a back stroke", `text = "a\qb"`, `\ has a meaning of its own in quotes: write / or \\ in its place`},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := readEverything(c.data + behind)
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
			assert.Contains(t, err.Error(), "sub.whole: 0 is out of range", "hidden")
			assert.NotContains(t, err.Error(), "this cannot be read")
			assert.Len(t, err, 2+strings.Count(c.want, "\n"), "%v", err)
		})
	}
}

// What a message says to write is taken when it is written.
func TestAdviceIsTaken(t *testing.T) {
	write := regexp.MustCompile(`write (\[[^\n,]*\]|[a-z]+ = (?:\[.*\]|[^,\n]*))`)
	for _, line := range []string{
		"[part.axle large]", "[part.größe]", "[part.x", "part.x]", `[part."big]`, `length: "9 mm"`, "whole 3", `length = "9 mm`, `length = 9 mm"`, "length = 9 mm",
		"number = 1,5", "number = .5", "whole = 05", "yes = yes", "yes = no", "yes = True", "choice = gren", "choice = green", "list = [1 2]", `list = ["a" "b"]`, "text = hello", `text = "a" b`, "length = “9 mm”", "length = 9",
	} {
		err := readEverything(line)
		require.Error(t, err, line)
		advice := write.FindStringSubmatch(err.Error())
		if line == "length = 9" {
			advice = []string{"", `length = "9 mm"`} // it says so: write "9 mm"
			assert.Contains(t, err.Error(), `write "9 mm"`)
		}
		require.NotNil(t, advice, "%s: %v", line, err)
		assert.NoError(t, readEverything(advice[1]), "%s, advised: %s", line, advice[1])
	}
	assert.IsType(t, tomlfile.Problems{}, readEverything("yes = yes"))
}
