package report

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
)

func TestRows(t *testing.T) {
	r := testResult(t, brief.Lift)
	var out bytes.Buffer
	require.NoError(t, CSV(&out, r, CSVOptions{}))
	golden(t, "lift.csv", out.Bytes())
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 1+2*2, "a header and a row for each stage")
	require.Equal(t, csvHeader, rows[0])
	require.NotContains(t, strings.Join(rows[1], "|"), "||", "no column is left empty here")
}

func TestRowsBOM(t *testing.T) {
	var with, without bytes.Buffer
	r := testResult(t, brief.PlainShaft)
	require.NoError(t, CSV(&with, r, CSVOptions{BOM: true}))
	require.NoError(t, CSV(&without, r, CSVOptions{}))
	require.Equal(t, "\xef\xbb\xbf"+without.String(), with.String())
}

// TestNamesAreNoFormulas covers the starts that spreadsheets run as formulas.
func TestNamesAreNoFormulas(t *testing.T) {
	r := testResult(t, brief.PlainShaft)
	q := &r.Proposals[0]
	names := []string{"=HYPERLINK(\"x\")", "+1", "-1", "@SUM(A1)", "\t=1", "  =1"}
	for _, name := range names {
		q.Stages[0].Driver, q.Stages[0].Driven, q.Axles[0].Stock = name, name, name
		q.Drive.Motor.Name, q.Stages[0].Band.Name = name, name
		var out bytes.Buffer
		require.NoError(t, CSV(&out, r, CSVOptions{}))
		rows, err := csv.NewReader(&out).ReadAll()
		require.NoError(t, err)
		n := 0
		for _, c := range rows[1] {
			if c == "'"+name {
				n++
			}
			require.NotEqual(t, name, c)
		}
		require.Equal(t, 5, n, "%q", rows[1])
	}
	require.Equal(t, "8 mm = big", safe("8 mm = big"))
	require.Equal(t, "", safe(""))
}
