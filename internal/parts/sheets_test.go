package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
	"findrive/internal/units"
)

func TestReadSheetsAndCutters(t *testing.T) {
	c, err := parts.Read("c.toml", []byte(`
[sheet.grey]
thickness = "2 mm"
length = "210 mm"
width = "297 mm"
count = 12

[sheet.ply]
kind = "plywood"
thickness = "4 mm"
length = "600 mm"
width = "300 mm"

[cutter.hand]

[cutter.saws]
way = "hole saw"
sizes = ["44 mm", "32 mm", "44 mm"]

[discs]
bores = ["5 mm", "4 mm"]
most = 6
`))
	require.NoError(t, err)
	require.Len(t, c.Sheets, 2)
	grey := c.Sheets[0]
	assert.Equal(t, parts.PlainCard, grey.Kind)
	assert.Equal(t, [2]units.Millimetres{297, 210}, [2]units.Millimetres{grey.Length, grey.Width}, "the longer way first")
	assert.Equal(t, parts.Card, grey.Material())
	assert.Equal(t, parts.Wood, c.Sheets[1].Material())
	require.Len(t, c.Cutters, 2)
	assert.Equal(t, parts.Scissors, c.Cutters[0].Way)
	all := c.Cutters[0].Diameters()
	assert.Equal(t, units.Millimetres(20), all[0])
	assert.Equal(t, units.Millimetres(120), all[len(all)-1])
	assert.Len(t, all, 21)
	assert.Equal(t, []units.Millimetres{32, 44}, c.Cutters[1].Diameters())
	require.NotNil(t, c.Discs)
	assert.Equal(t, parts.Discs{Bores: []units.Millimetres{4, 5}, Most: 6}, *c.Discs)
	assert.Equal(t, 12, c.Item("sheet", "grey").Count)
	assert.NotNil(t, c.Item("cutter", "saws"))
	assert.Nil(t, c.Item("sheet", "blue"))
}

func TestCuttersKeepToTheStep(t *testing.T) {
	c, err := parts.Read("c.toml", []byte("[cutter.a]\nsmallest = \"22 mm\"\nlargest = \"41 mm\"\nstep = \"4 mm\"\n"))
	require.NoError(t, err)
	assert.Equal(t, []units.Millimetres{24, 28, 32, 36, 40}, c.Cutters[0].Diameters(), "on whole steps from 0")
}

func TestBadSheetsAreLocated(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"no thickness", "[sheet.a]\nlength = \"1 m\"\nwidth = \"1 m\"\n", `c.toml:1:2: sheet.a: thickness is missing`},
		{"unknown kind", "[sheet.a]\nkind = \"crd\"\nthickness = \"2 mm\"\nlength = \"1 m\"\nwidth = \"1 m\"\n", `c.toml:2:8: sheet.a.kind`},
		{"thick", "[sheet.a]\nthickness = \"20 mm\"\nlength = \"1 m\"\nwidth = \"1 m\"\n", `c.toml:2:13: sheet.a.thickness`},
		{"saws without sizes", "[cutter.a]\nway = \"hole saw\"\n", `c.toml:1:2: cutter.a: sizes is missing`},
		{"saws with a step", "[cutter.a]\nway = \"hole saw\"\nsizes = [\"32 mm\"]\nstep = \"5 mm\"\n", `hole saws have sizes`},
		{"scissors with sizes", "[cutter.a]\nsizes = [\"32 mm\"]\n", `sizes are those of hole saws`},
		{"upside down", "[cutter.a]\nsmallest = \"50 mm\"\nlargest = \"40 mm\"\n", `c.toml:3:11: cutter.a.largest: the largest round, 40 mm, is smaller than the smallest, 50 mm`},
		{"between two steps", "[cutter.a]\nsmallest = \"21 mm\"\nlargest = \"24 mm\"\n", `no whole number of steps of 5 mm is from 21 mm to 24 mm`},
		{"no length", "[cutter.a]\n[discs]\nbores = [\"five\"]\n", `c.toml:3:9: discs.bores: in the list`},
		{"no bore", "[cutter.a]\n[discs]\nbores = []\n", `the list is empty`},
		{"too few", "[cutter.a]\n[discs]\nmost = 2\n", `c.toml:3:8: discs.most`},
		{"another key", "[discs]\nmots = 4\n", `most`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := parts.Read("c.toml", []byte(c.text))
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestWhatIsCutHow(t *testing.T) {
	for _, c := range []struct {
		way   parts.CuttingWay
		sheet parts.Sheet
		thick units.Millimetres
		want  bool
	}{
		{parts.Scissors, parts.PlainCard, 2, true}, {parts.Scissors, parts.PlainCard, 3, false}, {parts.Scissors, parts.FlutedPlastic, 2, false},
		{parts.CraftKnife, parts.FlutedPlastic, 4, true}, {parts.CraftKnife, parts.Plywood, 3, false},
		{parts.HoleSaw, parts.Plywood, 6, true}, {parts.HoleSaw, parts.FlutedPlastic, 4, false},
		{parts.Laser, parts.Fibreboard, 3, true}, {parts.Laser, parts.FlutedPlastic, 4, false},
	} {
		assert.Equal(t, c.want, c.way.Cuts(c.sheet, c.thick), "%s, %s %v mm", c.way, c.sheet, c.thick)
	}
	assert.False(t, parts.Scissors.Adult())
	assert.True(t, parts.CraftKnife.Adult())
}

func TestSheetsThatRanOut(t *testing.T) {
	c, err := parts.Read("c.toml", []byte("[sheet.a]\nthickness = \"2 mm\"\nlength = \"1 m\"\nwidth = \"1 m\"\ncount = 0\n[cutter.a]\n"))
	require.NoError(t, err)
	left := c.InStock()
	assert.Empty(t, left.Sheets)
	assert.Len(t, left.Cutters, 1)
	assert.NotNil(t, left.Discs)
}
