package stocktake_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/tealeg/xlsx/v3"

	"findrive/internal/stocktake"
)

// rods is a workbook with a sheet of rods, each of 5 mm, and what is done to their cells.
func rods(t *testing.T, change func(s *xlsx.Sheet)) []byte {
	book := xlsx.NewFile()
	s, err := book.AddSheet("Rods")
	require.NoError(t, err)
	for _, row := range [][]string{{"Item", "Diameter", "Length", "Qty", "Notes"}, {"Dowel a", "5 mm", "300 mm", "12"}, {"Dowel b", "5 mm", "400 mm", "9", "3 broken"}, {"Dowel c", "5 mm", "500 mm", "7"}} {
		r := s.AddRow()
		for _, c := range row {
			r.AddCell().SetString(c)
		}
	}
	change(s)
	var out bytes.Buffer
	require.NoError(t, book.Write(&out))
	return out.Bytes()
}

// What is crossed out within a cell is not there; the rest of the cell is, whatever its type.
func TestCrossedOutWords(t *testing.T) {
	struck := &xlsx.RichTextFont{Strike: true}
	for _, c := range []struct {
		name        string
		row, column int
		runs        []xlsx.RichTextRun
		lines, not  string
		why         string
	}{
		{name: "a count that was another", row: 1, column: 3, runs: []xlsx.RichTextRun{{Font: struck, Text: "15"}, {Text: " 12"}}, lines: "count = 12"},
		{name: "words in bold", row: 1, column: 3, runs: []xlsx.RichTextRun{{Font: &xlsx.RichTextFont{Bold: true}, Text: "12"}, {Text: " (2 broken)"}}, lines: "count = 10"},
		{name: "all of a count", row: 1, column: 3, runs: []xlsx.RichTextRun{{Font: struck, Text: "12"}}, not: "dowel-a", why: `"12" is crossed out`},
		{name: "a note that holds no longer", row: 2, column: 4, runs: []xlsx.RichTextRun{{Font: struck, Text: "3 broken"}}, lines: "count = 9"},
	} {
		t.Run(c.name, func(t *testing.T) {
			book := rods(t, func(s *xlsx.Sheet) {
				cell, err := s.Cell(c.row, c.column)
				require.NoError(t, err)
				cell.SetRichText(c.runs)
			})
			r, err := stocktake.Read("rods.xlsx", book, stocktake.Options{})
			require.NoError(t, err)
			assert.Contains(t, string(r.Cupboard), c.lines)
			if c.not != "" {
				assert.NotContains(t, string(r.Cupboard), c.not)
			}
			var all string
			for _, row := range r.Lists[0].Rows {
				for _, m := range row.Remarks {
					all += m.Text + "\n"
				}
			}
			assert.Contains(t, all, c.why)
		})
	}
}

// A cell that goes over several rows says the same of each; but a count of several sorts
// together is none of each.
func TestMergedCells(t *testing.T) {
	for column, used := range map[int]bool{2: true, 3: false} {
		book := rods(t, func(s *xlsx.Sheet) {
			first, err := s.Cell(1, column)
			require.NoError(t, err)
			first.Merge(0, 1)
			second, err := s.Cell(2, column)
			require.NoError(t, err)
			second.SetString("")
		})
		r, err := stocktake.Read("rods.xlsx", book, stocktake.Options{})
		require.NoError(t, err)
		assert.Equal(t, used, bytes.Contains(r.Cupboard, []byte("dowel-a")))
		assert.Equal(t, used, bytes.Contains(r.Cupboard, []byte("dowel-b")))
		assert.Contains(t, string(r.Cupboard), "dowel-c")
	}
}

// A sheet that sums up the others is not counted once more, and one of what is lent is not
// counted at all.
func TestSheetsNotCounted(t *testing.T) {
	book := xlsx.NewFile()
	for _, name := range []string{"Rods", "Summary", "Lent to Year 3"} {
		s, err := book.AddSheet(name)
		require.NoError(t, err)
		for _, row := range [][]string{{"Item", "Diameter", "Length", "Qty"}, {"Dowel " + name, "5 mm", "300 mm", "12"}} {
			r := s.AddRow()
			for _, c := range row {
				r.AddCell().SetString(c)
			}
		}
	}
	var out bytes.Buffer
	require.NoError(t, book.Write(&out))
	r, err := stocktake.Read("rods.xlsx", out.Bytes(), stocktake.Options{})
	require.NoError(t, err)
	require.Len(t, r.Parts, 1)
	assert.Equal(t, "dowel-rods", r.Parts[0].Name)
	assert.Equal(t, "its name says that it sums up the others", r.Lists[1].Unread)
}
