package prices

import (
	"bytes"
	"encoding/csv"
	"strings"

	"findrive/internal/stocktake"
)

// Text is a price list as text that Read reads alike, to be kept and changed as such: a workbook as
// comma-separated rows with the numbers that they have in it, and of any other file its letters,
// whatever they are coded in. The error is a plain sentence: it is neither.
func Text(data []byte) (string, error) {
	if !isWorkbook(data) {
		return stocktake.Text(data)
	}
	rows, err := stocktake.Cells(data, known)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	line := 0
	for _, r := range rows {
		for line++; line < r.Number; line++ {
			w.Flush()
			b.WriteByte('\n')
		}
		_ = w.Write(r.Cells)
	}
	w.Flush()
	return b.String(), nil
}

func isWorkbook(data []byte) bool { return bytes.HasPrefix(data, []byte("PK\x03\x04")) }
