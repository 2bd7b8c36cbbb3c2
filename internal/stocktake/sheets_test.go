package stocktake_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

// Sheets for discs are taken from a list that says what they are; card without a size is
// no part, as before.
func TestSheetsInAList(t *testing.T) {
	list := "Type,Name,Thickness mm,Length mm,Width mm,Material,Count\n" +
		"sheet,grey board,2,297,210,card,30\n" +
		"sheet,ply,4,600,300,birch plywood,2\n" +
		"sheet,flute,4,500,400,corrugated plastic,3\n" +
		"sheet,foil,0.2,300,300,aluminium,3\n" +
		"sheet,thin,,297,210,card,5\n"
	r, err := stocktake.Read("list.csv", []byte(list), stocktake.Options{})
	require.NoError(t, err)
	cup, err := parts.Read("made.toml", r.Cupboard)
	require.NoError(t, err)
	require.Len(t, cup.Sheets, 3)
	grey := cup.Item("sheet", "grey-board")
	if grey == nil {
		grey = cup.Item("sheet", "grey board")
	}
	require.NotNil(t, grey)
	assert.Equal(t, 30, grey.Count)
	kinds := map[parts.Sheet]int{}
	for _, s := range cup.Sheets {
		kinds[s.Kind]++
	}
	assert.Equal(t, map[parts.Sheet]int{parts.PlainCard: 1, parts.Plywood: 1, parts.FlutedPlastic: 1}, kinds)
}

// A count sheet of a cupboard names its sheets; what cuts rounds is a tool.
func TestSheetsAreCounted(t *testing.T) {
	cup, err := parts.Read("c.toml", []byte("[sheet.grey]\nthickness = \"2 mm\"\nlength = \"297 mm\"\nwidth = \"210 mm\"\ncount = 12\n[cutter.saws]\nway = \"hole saw\"\nsizes = [\"32 mm\", \"44 mm\"]\n"))
	require.NoError(t, err)
	rows := stocktake.CountRows(cup)
	require.Len(t, rows, 1)
	assert.Equal(t, stocktake.CountRow{Kind: "sheet", Name: "grey", Size: "card, 2 mm, 297 x 210 mm", Last: 12}, rows[0])
}
