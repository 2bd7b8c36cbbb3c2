package stocktake

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is offered for a column is a heading that is known, each of something else.
func TestColumnKindsAreHeadings(t *testing.T) {
	seen := map[field]string{}
	for _, k := range ColumnKinds() {
		f, _, _ := lookUp(k, stockWords)
		assert.NotEmpty(t, f, k)
		assert.Empty(t, seen[f], k)
		seen[f] = k
	}
	assert.Equal(t, AskedNone, seen[unusedField])
}

func TestAsk(t *testing.T) {
	for _, c := range []struct {
		text, guess string
		headed      bool
	}{
		{"red;22\nblue;9", "Item, How many", false},
		{"1;red;22\n2;blue;9\n3;green;4", "Notes, Item, How many", false},
		{"red,40 mm,5 mm,22,box\nblue,30 mm,5 mm,9,tin", "Item, Size, Hole, How many, Where", false},
		{"pulley,red,40,22\npulley,blue,30,9\nband,short,63,4", "Kind, Item, Size, How many", false},
		{"Bez.|Menge|Ort\nred|10ish|box\nblue|9|tin", "Item, How many, Where", true},
		{"Teil\tcount\nred\t9\nblue\t8", "Item, ", true},
		{"red\tlots\nblue\tsome", "Item, Notes", false},
		{"Our box\nred;1\nblue;9", "Item, How many", false},
		{strings.Repeat("a;", 20) + "7\n" + strings.Repeat("b;", 20) + "9\n", "Item, Notes, Notes, Notes, Notes, Notes, Notes, Notes", false},
	} {
		columns, headed := Ask([]byte(c.text))
		var guess []string
		for _, a := range columns {
			guess = append(guess, a.Guess)
		}
		assert.Equal(t, c.guess, strings.Join(guess, ", "), c.text)
		assert.Equal(t, c.headed, headed, c.text)
	}
	for _, text := range []string{"", "\n\n", "once upon a time", "a\nb\nc", "\x00\xff"} {
		columns, _ := Ask([]byte(text))
		assert.Empty(t, columns, text)
	}
}

// A list is read by what was said of its columns: rows keep their numbers, headings of its own
// are no row of stock, and a heading that is known may stay.
func TestReadByWhatWasSaidOfColumns(t *testing.T) {
	r, err := Read("a.csv", []byte("red pulley;35 mm;22\nmotor pulley;9 mm;9\n"), Options{Usual: true, Headings: []string{"Item", "Size", "How many"}})
	require.NoError(t, err)
	assert.Contains(t, string(r.Cupboard), "# row 1: red pulley\n[pulley.red-pulley]")
	r, err = Read("a.csv", []byte("Our box\nTeil;size;Anzahl\nred pulley;35 mm;22\n"), Options{Usual: true, Headings: []string{"Item", "", "How many"}, Headed: true})
	require.NoError(t, err)
	assert.Contains(t, string(r.Cupboard), "# row 3: red pulley\n[pulley.red-pulley]\noutside = \"35 mm\"")
	assert.Equal(t, 1, r.Count(Used)+r.Count(Assumed))
	_, err = Read("a.csv", []byte("red;1\n"), Options{Headings: []string{"Notes", "Notes"}})
	assert.Error(t, err)
}

// Of every list that is held anything can be said of its columns, and all rows are there once.
func TestColumnsOfHeldListsCanBeAskedFor(t *testing.T) {
	files, err := filepath.Glob("testdata/held/*")
	require.NoError(t, err)
	asked := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		columns, headed := Ask(data)
		assert.LessOrEqual(t, len(columns), MostAsked)
		var heads []string
		for _, a := range columns {
			heads = append(heads, a.Guess)
		}
		if len(heads) == 0 {
			continue
		}
		asked++
		for _, instead := range []bool{headed, !headed} {
			r, err := Read(file, data, Options{Usual: true, Headings: heads, Headed: instead})
			if err != nil {
				continue
			}
			for _, l := range r.Lists {
				seen := map[int]bool{}
				for _, row := range l.Rows {
					assert.False(t, seen[row.Number], "%s, row %d", file, row.Number)
					seen[row.Number] = true
				}
			}
		}
	}
	assert.Greater(t, asked, 20)
}
