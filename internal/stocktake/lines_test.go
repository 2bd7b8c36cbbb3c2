package stocktake_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/stocktake"
)

// One line as it may be typed, and lines that the cupboard must hold; none where it is not read.
func TestPartsOnLines(t *testing.T) {
	for _, c := range []struct{ line, verdict, lines, says string }{
		{"12 x 40mm pulleys, 4mm hole", "assumed", `outside = "40 mm"|bore = "4 mm"|count = 12`, `"12" at its beginning taken for how many`},
		{"- 12 x 40 mm pulleys, 4mm hole", "assumed", `outside = "40 mm"|count = 12`, ""},
		{"* pulleys 40 mm, 4mm hole - 12", "assumed", `# row 5: pulleys 40 mm, 4mm hole|count = 12`, ""},
		{"40 x 8mm pulley, 4mm hole", "assumed", `outside = "40 mm"|count = 1`, "no count: taken as 1"},
		{"20 wooden wheels 50 mm, 5 mm hole", "assumed", `[wheel.|diameter = "50 mm"|count = 20`, ""},
		{"50 mm wooden wheels, 5 mm hole: 20", "assumed", `diameter = "50 mm"|count = 20`, `"20" at its end taken for how many`},
		{"dowel 5mm x 300mm (30)", "assumed", `diameter = "5 mm"|length = "300 mm"|count = 30`, ""},
		{"30 x dowel 5mm x 300mm", "assumed", `diameter = "5 mm"|length = "300 mm"|count = 30`, ""},
		{"5 x 300 mm dowel", "assumed", `diameter = "5 mm"|length = "300 mm"|count = 1`, "no count: taken as 1"},
		{"dowel 5mm x 300", "ignored", "", ""},
		{"dowel 5mm × 300", "ignored", "", ""},
		{"dowel 5mm x 300mm x 12", "assumed", `length = "300 mm"|count = 1`, "no count: taken as 1"},
		{"8 motors 3V 5200rpm", "assumed", `rated = "3 V"|free_speed = "5200 rpm"|count = 8`, ""},
		{"3V motors, 5200 rpm x 8", "assumed", `rated = "3 V"|count = 8`, ""},
		{"3 V motors, 5200 rpm", "assumed", `rated = "3 V"|count = 1`, "no count: taken as 1"},
		{"10x 2AA battery boxes", "assumed", `cells = 2|count = 10`, ""},
		{"2 x AA battery box", "assumed", `cells = 2|count = 1`, "no count: taken as 1"},
		{"2 x AA battery box - 10", "assumed", `cells = 2|count = 10`, ""},
		{"rubber bands 80x1.5mm - 100", "assumed", `flat_length = "80 mm"|width = "1.5 mm"|count = 100`, ""},
		{"100 rubber bands no 32", "assumed", `size = "32"|count = 100`, ""},
		{"rubber bands no 32", "assumed", `size = "32"|count = 1`, "no count: taken as 1"},
		{"12 rubber bands 80x1.5mm (30)", "assumed", `count = 1`, "no count: taken as 1"},
		{"pulley 60mm 4mm hole\t8", "assumed", `outside = "60 mm"|bore = "4 mm"|count = 8`, ""},
	} {
		t.Run(c.line, func(t *testing.T) {
			const others = "7 wheels 75 mm, 5 mm hole\n7 axles 6mm x 500mm\n"
			r, err := stocktake.Read("typed.txt", []byte("Our things\n-\n"+others+c.line+"\n"), stocktake.Options{})
			require.NoError(t, err)
			require.True(t, r.Lists[0].Lines)
			rows := r.Lists[0].Rows
			got := rows[len(rows)-1]
			require.Equal(t, 5, got.Number)
			assert.Equal(t, c.verdict, got.Verdict.String(), "%v", remarks(got))
			own, err := stocktake.Read("typed.txt", []byte(c.line+"\n"+others), stocktake.Options{})
			require.NoError(t, err)
			assert.Equal(t, got.Verdict, own.Lists[0].Rows[0].Verdict, "wherever it stands")
			if c.verdict == "ignored" {
				return
			}
			cup, err := parts.Read("c.toml", r.Cupboard)
			require.NoError(t, err)
			at := strings.Index(string(r.Cupboard), "# row 5: ")
			require.GreaterOrEqual(t, at, 0, "%s", r.Cupboard)
			table, _, _ := strings.Cut(string(r.Cupboard)[at:], "\n\n")
			for _, line := range strings.Split(c.lines, "|") {
				assert.Contains(t, table, line)
			}
			if c.says != "" {
				assert.Contains(t, remarks(got), c.says)
			}
			require.NotNil(t, cup)
		})
	}
}

// What has columns is not read line by line, and neither is what names no parts.
func TestNoPartsOnLines(t *testing.T) {
	for _, list := range []string{
		"red,40,5\nblue,50,5\n",
		"pulley,red,40,5,8\npulley,blue,50,5,8\n",
		"once upon a time there were 3 bears\nand 1 girl\n",
		"pulleys\nmotors\nbands\n",
	} {
		_, err := stocktake.Read("list.csv", []byte(list), stocktake.Options{})
		assert.ErrorContains(t, err, "no row of headings was found", list)
	}
	r, err := stocktake.Read("list.csv", []byte("what,qty\n12 x 40mm pulleys 4mm hole,3\n"), stocktake.Options{})
	require.NoError(t, err)
	assert.False(t, r.Lists[0].Lines)
	assert.Contains(t, string(r.Cupboard), "count = 3")
}
