package stocktake_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/demo"
	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

const twoRods = `# ours
schema = 1
[axle.thin]
diameter = "4 mm"
length = "300 mm"
[axle.thick] # oak
diameter = "6 mm"
length = "300 mm"
count = 1_0   # counted in May
price = "0.30"

# Bands.
[band."our own"]
size = 16
count = 50
`

func back(t testing.TB, kit, cupboard string) *stocktake.Return {
	r, err := stocktake.Back(stocktake.Sheet{Name: "kit.csv", Data: []byte(kit)}, nil, &stocktake.Sheet{Name: "c.toml", Data: []byte(cupboard)}, "")
	require.NoError(t, err)
	return r
}

// Each way to fill a line in: what is missing, and the count that is left of fifty.
func TestLines(t *testing.T) {
	for _, c := range []struct {
		name, cells                  string // of take, picked, returned and damaged
		taken, missing, damaged, now int
		says                         string
	}{
		{"all back", "12,12,12,", 12, 0, 0, 50, ""},
		{"picked as the list says", "12,,12,", 12, 0, 0, 50, ""},
		{"other numbers picked", "12,15,12,", 15, 3, 0, 47, ""},
		{"some damaged", "12,12,12,2", 12, 0, 2, 48, ""},
		{"damaged in words", "12,12,12 (2 broken),", 12, 0, 2, 48, ""},
		{"both", "12,12,10 (1 broken),2", 12, 2, 3, 45, ""},
		{"none back", "12,12,0,", 12, 12, 0, 38, ""},
		{"more back", "12,12,14,", 12, -2, 0, 52, ""},
		{"roughly", "12,12,10ish,", 12, 2, 0, 48, `"10ish" taken as 10`},
		{"not counted", "12,12,,", 12, 0, 0, 50, ""},
		{"not counted, but marked", "12,12,?,", 12, 0, 0, 50, ""},
		{"more taken than there were", "60,60,0,", 60, 60, 0, 0, ""},
		{"words", "12,12,most,", 0, 0, 0, 50, `"most" is not a number: count them`},
		{"damaged only", "12,12,,3", 0, 0, 0, 50, "it says how many are damaged, but not how many are back"},
		{"more damaged than back", "12,12,3,4", 0, 0, 0, 50, "4 damaged are more than are back, 3: count the damaged ones among those that are back"},
		{"nothing taken", ",,3,", 0, 0, 0, 50, "it does not say how many were taken"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := back(t, "kind,part,take,picked,returned,damaged\nband,our own,"+c.cells+"\n", twoRods)
			require.True(t, r.Kit)
			says := ""
			for _, m := range r.Rows[1].Remarks {
				says += m.Text
			}
			assert.Equal(t, c.says, says)
			if len(r.Lines) > 0 {
				l := r.Lines[0]
				assert.Equal(t, []int{c.taken, c.missing, c.damaged}, []int{l.Taken, l.Missing(), l.Damaged})
			} else {
				assert.Equal(t, stocktake.Ignored, r.Rows[1].Verdict)
			}
			if c.now == 50 {
				assert.Nil(t, r.Cupboard)
				return
			}
			cup, err := parts.Read("c.toml", r.Cupboard)
			require.NoError(t, err)
			if it := cup.Item("band", "our own"); c.now > 0 {
				assert.Equal(t, c.now, it.Count)
			} else {
				assert.Nil(t, it)
			}
		})
	}
}

// Nothing but the counts changes in the file: comments, order and spelling stay.
func TestRecountLeavesTheRest(t *testing.T) {
	r := back(t, "kind,part,take,returned\nrod,thick,4,1\nband,our own,9,7\naxle,thin,1,3\n", twoRods)
	want := strings.NewReplacer("[axle.thin]\n", "[axle.thin]\ncount = 3\n", "1_0 ", "7 ", "count = 50", "count = 48").Replace(twoRods)
	assert.Equal(t, "# Counts brought up to date by findrive stock from kit.csv.\n"+want, string(r.Cupboard))
	assert.Equal(t, []stocktake.Change{{Kind: "axle", Name: "thick", Before: 10, After: 7}, {Kind: "band", Name: "our own", Before: 50, After: 48}, {Kind: "axle", Name: "thin", Before: 1, After: 3}}, r.Changes)

	// None left: the table becomes comments, up to the next one's.
	r = back(t, "part,count\nthick,0\n", twoRods)
	assert.False(t, r.Kit)
	assert.Contains(t, string(r.Cupboard), "# None left:\n# [axle.thick] # oak\n# diameter = \"6 mm\"\n# length = \"300 mm\"\n# count = 1_0   # counted in May\n# price = \"0.30\"\n\n# Bands.\n[band.\"our own\"]\n")
	_, err := parts.Read("c.toml", r.Cupboard)
	assert.NoError(t, err)
}

// A cupboard written in another way than with a table for each part is not changed by
// guessing.
func TestRecountByHand(t *testing.T) {
	for _, file := range []string{
		"axle.thin = { diameter = \"4 mm\", length = \"300 mm\" }\n",
		"[axle]\nthin.diameter = \"4 mm\"\nthin.length = \"300 mm\"\n",
	} {
		_, err := stocktake.Back(stocktake.Sheet{Name: "kit.csv", Data: []byte("part,count\nthin,5\n")}, nil, &stocktake.Sheet{Name: "c.toml", Data: []byte(file)}, "")
		assert.EqualError(t, err, "c.toml: it is written in a way that findrive cannot change safely; change these counts yourself: axle thin from 1 to 5")
	}
	// Where the count stands in the table, it can be changed.
	r := back(t, "part,count\nthin,5\n", "axle.thin = { diameter = \"4 mm\", count = 2, length = \"300 mm\" }\n")
	assert.Contains(t, string(r.Cupboard), "count = 5,")
}

func TestBackRefuses(t *testing.T) {
	for _, c := range []struct{ kit, counted, want string }{
		{"part,take\na,1\n", "", "kit.csv: there is no column returned or count, in which what came back is written: write it among the headings"},
		{"kind,returned\na,1\n", "", "kit.csv: there is no column part, which says what was counted: write it among the headings"},
		{"once upon a time\n", "", "kit.csv: no row of headings was found: write those of the kit list, with part, kind, take and returned"},
		{"part,returned\na,1\n", "part,returned\na,1\n", "kit.csv: this is no kit list: it has no column take"},
		{"part,take\na,1\n", "part,where\na,1\n", "count.csv: there is no column returned or count: write it among the headings"},
		{strings.Repeat("x", 2<<20), "", "kit.csv: the file has over 1 MB, which no stock list needs: is it the right one?"},
	} {
		var counted *stocktake.Sheet
		if c.counted != "" {
			counted = &stocktake.Sheet{Name: "count.csv", Data: []byte(c.counted)}
		}
		_, err := stocktake.Back(stocktake.Sheet{Name: "kit.csv", Data: []byte(c.kit)}, counted, nil, "")
		assert.EqualError(t, err, c.want)
	}
}

// Whatever is counted on the sheet of a cupboard, the cupboard made of it has these
// counts and is the same otherwise.
func TestCountSheetThereAndBack(t *testing.T) {
	files := map[string][]byte{"starter": demo.StarterCupboard(), "example": demo.Cupboard()}
	rapid.Check(t, func(t *rapid.T) {
		file := files[rapid.SampledFrom([]string{"starter", "example"}).Draw(t, "file")]
		cup, err := parts.Read("c.toml", file)
		require.NoError(t, err)
		var page bytes.Buffer
		require.NoError(t, stocktake.CountCSV(&page, cup))
		counts := map[string]int{}
		lines := strings.Split(strings.TrimSuffix(page.String(), "\r\n"), "\r\n")
		for i, row := range stocktake.CountRows(cup) {
			n := rapid.IntRange(-1, 30).Draw(t, "count")
			if n < 0 {
				continue // not counted
			}
			counts[row.Kind+"."+row.Name] = n
			require.True(t, strings.HasSuffix(lines[i+1], fmt.Sprintf(",%d,,,", row.Last)), lines[i+1])
			lines[i+1] = strings.TrimSuffix(lines[i+1], ",,,") + fmt.Sprintf(",%d,,", n)
		}
		r, err := stocktake.Back(stocktake.Sheet{Name: "count.csv", Data: []byte(strings.Join(lines, "\n"))}, nil, &stocktake.Sheet{Name: "c.toml", Data: file}, "")
		require.NoError(t, err)
		require.Empty(t, r.Strange)
		want := cup.Recounted(func(kind string, it *parts.Item) int {
			if n, counted := counts[kind+"."+it.Name]; counted {
				return n
			}
			return it.Count
		})
		if r.Cupboard == nil {
			require.Equal(t, cup, want)
			return
		}
		got, err := parts.Read("c.toml", r.Cupboard)
		require.NoError(t, err)
		require.Equal(t, want, got)
	})
}

// A blank sheet that is filled in is read without a heading that is not known.
func TestBlankSheetIsRead(t *testing.T) {
	var page bytes.Buffer
	require.NoError(t, stocktake.CountCSV(&page, nil))
	filled := strings.Replace(page.String(), "pulley,,,,,,,,,,,,,,,,,,,,", "pulley,red,40,36,5,,,,,,,,,,,,,8,1,tray A,", 1)
	r := read(t, filled, stocktake.Options{})
	for _, c := range r.Lists[0].Tables[0].Columns {
		assert.Empty(t, c.Note, c.Heading)
		assert.True(t, c.Field != "" || c.Heading == "notes", c.Heading)
	}
	assert.Equal(t, []stocktake.Part{{Kind: "pulley", Name: "red", Count: 7, Rows: []stocktake.Place{{Row: 1}}}}, r.Parts)
	assert.Contains(t, string(r.Cupboard), "outside = \"40 mm\"\ngroove_floor = \"36 mm\"\nbore = \"5 mm\"\ncount = 7\nlocation = \"tray A\"\n")
}

func FuzzBack(f *testing.F) {
	f.Add([]byte("kind,part,take,picked,returned,damaged\nband,our own,12,,10 (1 broken),2\nrod,thick,4,4,\n"), []byte("part;count\nthin;3\n"), []byte(twoRods))
	f.Add([]byte("part,count,of these damaged\nthin,0,\nthick,5ish,1\n"), []byte(""), []byte("axle.thin = { diameter = \"4 mm\", count = 2, length = \"300 mm\" }\n"))
	f.Fuzz(func(t *testing.T, kit, counted, cupboard []byte) {
		var second *stocktake.Sheet
		if len(counted) > 0 {
			second = &stocktake.Sheet{Name: "count.csv", Data: counted}
		}
		r, err := stocktake.Back(stocktake.Sheet{Name: "kit.csv", Data: kit}, second, &stocktake.Sheet{Name: "c.toml", Data: cupboard}, "")
		if (r == nil) == (err == nil) {
			t.Fatal("either a result or an error")
		}
		if err != nil || r.Cupboard == nil {
			return
		}
		cup, err := parts.Read("c.toml", r.Cupboard)
		if err != nil {
			t.Fatalf("%v\n%s", err, r.Cupboard)
		}
		for _, c := range r.Changes {
			if it := cup.Item(c.Kind, c.Name); (it == nil) != (c.After == 0) || it != nil && it.Count != c.After {
				t.Fatalf("%+v\n%s", c, r.Cupboard)
			}
		}
	})
}
