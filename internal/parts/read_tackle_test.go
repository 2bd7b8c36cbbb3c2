package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/parts"
)

func TestReadBlocksAndCord(t *testing.T) {
	c, err := parts.Read("c.toml", []byte(`
[block.home]
made = "home"
sheaves = 2
sheave = "34 mm"
groove_floor = "28 mm"
groove_width = "4 mm"
sheave_width = "7 mm"
bore = "5.6 mm"
axle = "5 mm"
axle_material = "steel"
sheet = "4 mm"
sheet_kind = "plywood"
spacer = "2 mm"
mass = "40 g"
count = 6

[block.bought]
sheaves = 3
sheave = "30 mm"

[cord.string]
diameter = "2 mm"
length = "20 m"
strength = "0.15 kN"
`))
	require.ErrorContains(t, err, `cord.string.strength: "0.15 kN" is not a force`)
	assert.Nil(t, c)

	c, err = parts.Read("c.toml", []byte(`
[block.home]
made = "home"
sheaves = 2
sheave = "34 mm"
groove_floor = "28 mm"
groove_width = "4 mm"
sheave_width = "7 mm"
bore = "5.6 mm"
axle = "5 mm"
axle_material = "steel"
sheet = "4 mm"
sheet_kind = "plywood"
spacer = "2 mm"
mass = "40 g"
count = 6

[block.bought]
sheaves = 3
sheave = "30 mm"

[cord.string]
diameter = "2 mm"
length = "20 m"
`))
	require.NoError(t, err)
	assert.Equal(t, parts.Block{
		Item: parts.Item{Name: "home", Count: 6}, HomeMade: true, Sheaves: 2, Outside: 34, GrooveFloor: 28, GrooveWidth: 4, Width: 7,
		Bore: 5.6, Axle: 5, AxleMaterial: parts.Steel, Sheet: 4, SheetKind: parts.Plywood, Spacer: 2, Mass: 40,
	}, c.Blocks[1])
	assert.Equal(t, parts.Block{
		Item: parts.Item{Name: "bought", Count: 1, Assumed: []string{
			"groove floor taken as 26 mm (outside less 4 mm)", "groove width taken as 3 mm", "sheave width taken as 7 mm",
			"axle to hook taken as 35 mm", "axle to nose taken as 20 mm", "mass taken as 34 g",
		}},
		Sheaves: 3, Outside: 30, GrooveFloor: 26, GrooveWidth: 3, Width: 7, AxleMaterial: parts.Wood, Mass: 34, Drop: 35, Nose: 20,
	}, c.Blocks[0])
	assert.Equal(t, []parts.Cord{{Item: parts.Item{Name: "string", Count: 1}, Diameter: 2, Length: 20_000}}, c.Cords)
}

func TestBlocksThatDoNotGoTogether(t *testing.T) {
	_, err := parts.Read("c.toml", []byte(`[block.a]
sheaves = 1
sheave = "20 mm"
groove_floor = "22 mm"
drop = "5 mm"
[block.b]
sheaves = 1
sheave = "20 mm"
bore = "17 mm"
axle = "5 mm"
sheet_kind = "card"
spacer = "1 mm"
[block.c]
sheaves = 0
sheave = "20 mm"
made = "hme"
[block.d]
sheaves = 1
sheave = "20 mm"
made = "home"
bore = "5 mm"
axle = "5.3 mm"
sheet = "4 mm"
nose = "12 mm"
`))
	assert.EqualError(t, err, `c.toml:4:16: block.a.groove_floor: the groove floor, 22 mm, cannot be larger than the sheave, 20 mm: measure both again
c.toml:5:8: block.a.drop: "5 mm" is out of range: it must be from 10 mm to 400 mm
c.toml:9:8: block.b.bore: a bore of 17 mm leaves nothing of a groove floor of 16 mm: measure both again
c.toml:11:1: block.b.sheet_kind: this belongs to a home-made block: write made = "home" as well
c.toml:12:1: block.b.spacer: this belongs to a home-made block: write made = "home" as well
c.toml:14:11: block.c.sheaves: 0 is out of range: it must be from 1 to 4
c.toml:16:8: block.c.made: found "hme", which is not known here, did you mean "home"?
c.toml:22:8: block.d.axle: an axle of 5.3 mm does not go into a bore of 5 mm: measure both again
c.toml:24:1: block.d.nose: this belongs to a bought block; a home-made one has its cheeks worked out`)
}
