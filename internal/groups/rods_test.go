package groups_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Six rods of 300 mm give six groups an axle of 138 mm and one of 153 mm each; and rods of
// two lengths are shared out together.
func TestRodsAreSharedOutByCutting(t *testing.T) {
	for _, c := range []struct {
		name string
		rods map[string][2]int // length in mm, count
		most int
	}{
		{"a rod for each group", map[string][2]int{"dowel-5": {300, 6}}, 6},
		{"a hair too short", map[string][2]int{"dowel-5": {291, 6}}, 4}, // 2 x 138, or 153: four of either are the most
		{"ends of two lengths", map[string][2]int{"dowel-5": {140, 6}, "ends": {160, 6}}, 6},
		{"too few of the longer", map[string][2]int{"dowel-5": {140, 6}, "ends": {160, 2}}, 2},
	} {
		cup, err := parts.Read("cupboard.toml", demo.Cupboard())
		require.NoError(t, err)
		dowel := cup.Axles[slices.IndexFunc(cup.Axles, func(a parts.AxleStock) bool { return a.Name == "dowel-5" })]
		cup.Axles = nil
		for _, name := range []string{"dowel-5", "ends"} {
			if rod, ok := c.rods[name]; ok {
				dowel.Name, dowel.Count = name, rod[1]
				dowel.Length = units.Millimetres(rod[0])
				cup.Axles = append(cup.Axles, dowel)
			}
		}
		b, err := brief.ReadFor("brief.toml", demo.Brief(), cup)
		require.NoError(t, err)
		b.Frame.Depth, b.Frame.Sheet, b.Frame.Strip, b.MaxStages, b.Sets = 120, 4, 0, 2, 6
		r, err := groups.Plan(context.Background(), cup, b, groups.Options{})
		require.NoError(t, err)
		assert.Equal(t, c.most, r.Served, c.name)
		var pieces []cutting.Piece
		for _, s := range r.Shares {
			require.Len(t, s.Drive.Axles, 2)
			for _, a := range design.CutAxles(s.Drive.Drive, b) {
				pieces = append(pieces, cutting.Piece{Length: a.Length, Count: s.Groups * a.Count})
			}
		}
		var rods []cutting.Stock
		for _, a := range cup.Axles {
			rods = append(rods, cutting.Stock{Name: a.Name, Length: a.Length, Count: a.Count})
		}
		_, err = cutting.Cuts(pieces, rods, cutting.Kerf)
		assert.NoError(t, err, c.name)
	}
}
