package stocktake_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

// accounted holds a result to the promise of the package: every row of the sheet is
// accounted for exactly once, and the cupboard holds what the rows say and no more.
func accounted(t require.TestingT, data []byte, r *stocktake.Result) {
	line, used := 1, 0
	for i, row := range r.Lists[0].Rows {
		require.Equal(t, i+1, row.Number)
		require.Equal(t, line, row.First, "row %d follows the one before", row.Number)
		require.GreaterOrEqual(t, row.Last, row.First)
		line = row.Last + 1
		assumes := slices.ContainsFunc(row.Remarks, func(m stocktake.Remark) bool { return m.Assumes })
		switch row.Verdict {
		case stocktake.Used:
			require.False(t, assumes, "%+v", row)
			used++
		case stocktake.Assumed:
			require.True(t, assumes, "%+v", row)
			used++
		default:
			require.NotEmpty(t, row.Remarks, "a reason")
			require.Empty(t, row.Part)
		}
	}
	if utf8.Valid(data) && !bytes.HasPrefix(data, []byte("\ufeff")) {
		text := strings.ReplaceAll(strings.ReplaceAll(string(data), "\r\n", "\n"), "\r", "\n")
		lines := strings.Count(text, "\n")
		if !strings.HasSuffix(text, "\n") {
			lines++
		}
		require.Equal(t, lines, line-1, "up to the last line")
	}
	require.Equal(t, len(r.Lists[0].Rows), r.Count(stocktake.Used)+r.Count(stocktake.Assumed)+r.Count(stocktake.Ignored))
	seen := map[stocktake.Place]bool{}
	for _, p := range r.Parts {
		for _, n := range p.Rows {
			require.False(t, seen[n], "row %d goes to one part", n)
			seen[n] = true
			require.Equal(t, p.Kind+"."+p.Name, r.Lists[n.List].Rows[n.Row].Part)
		}
	}
	require.Len(t, seen, used)
	require.Equal(t, used > 0, r.Cupboard != nil)
	if r.Cupboard == nil {
		return
	}
	cup, err := parts.Read("c.toml", r.Cupboard)
	require.NoError(t, err, "%s", r.Cupboard)
	for _, p := range r.Parts {
		it := cup.Item(p.Kind, p.Name)
		require.NotNil(t, it, "%s %s", p.Kind, p.Name)
		require.Equal(t, p.Count, it.Count)
	}
}

// messy draws a list from the words of such lists, in any order and in any form.
func messy(t *rapid.T) string {
	pick := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
	comma := pick("comma", ",", ";", "\t", "|")
	end := pick("end", "\n", "\r\n", "\r")
	columns := rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"kind", "Type", "name", "Tub", "size", "outside (mm)", "Ø", "bore", "hole mm", "qty", "Count", "good", "damaged", "where", "length in cm", "width", "volts", "rpm", "cells", "price", "notes", "material", "", "budget"}), 3, 12, rapid.ID).Draw(t, "columns")
	var rows []string
	for range rapid.IntRange(0, 3).Draw(t, "above") {
		rows = append(rows, pick("title", "", comma+comma, "Our stock", `"Counted, by hand"`))
	}
	rows = append(rows, strings.Join(columns, comma))
	for range rapid.IntRange(0, 12).Draw(t, "rows") {
		var cells []string
		for range rapid.IntRange(0, len(columns)+1).Draw(t, "cells") {
			cells = append(cells, pick("cell", "", "", "pulley", "Rubber bands", "motor", "dowel", "switch", "2 x AA", "No. 16", "5", "40", "300", "5 mm", `1/8"`, `"5,5"`, `"4,9 mm"`, "10ish", ">20", "lots", "0", "-3", "8 (2 broken)", "2 doz", "red", "Total", "?", "5 x 300 mm", `"a`, "b\"", "\"two\nlines\"", "63 x 1.5 mm", "3 V", "6000", "1e99", "£0.45", "'=1+1", "é½", "plywood"))
		}
		rows = append(rows, strings.Join(cells, comma))
	}
	return strings.Join(rows, end) + pick("last", "", end, end+end)
}

func TestEveryRowIsAccountedFor(t *testing.T) {
	read := 0
	rapid.Check(t, func(t *rapid.T) {
		list := messy(t)
		opt := stocktake.Options{Lots: rapid.IntRange(0, 3).Draw(t, "lots"), AddTubs: rapid.Bool().Draw(t, "add")}
		r, err := stocktake.Read("list.csv", []byte(list), opt)
		if err != nil {
			return
		}
		read++
		accounted(t, []byte(list), r)
		again, err := stocktake.Read("list.csv", []byte(list), opt)
		require.NoError(t, err)
		require.Equal(t, r, again)
	})
	require.Positive(t, read)
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("kind,name,outside mm,bore mm,qty\npulley,red,40,5,8\n"))
	f.Add([]byte("sep=;\nType;Tub;Ø;hole;count\n;\"a;1/8\"\";2;lots\nTotal;;;;9"))
	f.Add([]byte("what\tsize\tqty\nrubber bands\tNo. 16\t>20\ndowel\t5 x 300\t2 doz\n"))
	f.Add([]byte("\xff\xfek\x00,\x00q\x00t\x00y\x00"))
	f.Add([]byte("Our things\n- 12 x 40mm pulleys, 4mm hole\ndowel 5mm x 300mm (30)\n\n8 motors 3V 5200rpm\t\nno 32 bands - 40\n*\n• \n"))
	f.Add([]byte("kind,cells,qty\nbattery box,2\xbd,4\n"))
	held, err := filepath.Glob("testdata/held/*.csv")
	require.NoError(f, err)
	for _, list := range held {
		data, err := os.ReadFile(list)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := stocktake.Read("list.csv", data, stocktake.Options{Lots: 5, Bore: 5})
		if (r == nil) == (err == nil) {
			t.Fatal("either a result or an error")
		}
		if err == nil {
			accounted(t, data, r)
		}
	})
}
