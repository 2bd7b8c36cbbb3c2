package prices_test

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/tealeg/xlsx/v3"

	"findrive/internal/prices"
)

// A price list that is kept as text is read as the file was: a workbook, with a title and a blank
// row, and letters of an older coding.
func TestTextReadsAlike(t *testing.T) {
	book := xlsx.NewFile()
	sheet, err := book.AddSheet("Prices")
	require.NoError(t, err)
	for _, cells := range [][]string{{"Autumn, all prices"}, {}, {"Supplier", "Item", "Pack", "Price each pack"}, {"Hill & Sons, \"York\"", "red", "10", "£2.80"}, {"Hill & Sons, \"York\"", "nothing", "10", "£1"}} {
		row := sheet.AddRow()
		for _, c := range cells {
			row.AddCell().SetString(c)
		}
	}
	var b bytes.Buffer
	require.NoError(t, book.Write(&b))
	old := []byte("Supplier;Item;Pack;Price\nHill;red;10;\xa32,80\n")
	for name, data := range map[string][]byte{"workbook": b.Bytes(), "Windows-1252": old} {
		want, err := prices.Read("p", data, ours(t))
		require.NoError(t, err, name)
		text, err := prices.Text(data)
		require.NoError(t, err, name)
		got, err := prices.Read("p", []byte(text), ours(t))
		require.NoError(t, err, name)
		assert.Equal(t, offersOf(want), offersOf(got), name)
		assert.Contains(t, offersOf(got)[0], "pulley.red 10 for £2.80", name)
		again, err := prices.Text([]byte(text))
		require.NoError(t, err)
		assert.Equal(t, text, again, "once it is text it stays so")
		if name == "workbook" {
			assert.Equal(t, want.Notes, got.Notes, "rows keep their numbers")
		}
	}
	_, err = prices.Text([]byte("PK\x03\x04 and nothing else"))
	assert.Error(t, err)
}
