package constraints_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// The first two cases are common practice: a 10 mm strip takes a 5.5 mm hole, an
// 8 mm strip keeps 1.25 mm each side and splits.
func TestHoleInStrip(t *testing.T) {
	rails := []units.Millimetres{20}
	for _, c := range []struct {
		name       string
		strip      units.Millimetres
		rails      []units.Millimetres
		axle, wall units.Millimetres
		drilled    bool
		says       string // "" if the hole is allowed
	}{
		{"10 mm strip", 10, rails, 5, 2, true, ""},
		{"8 mm strip", 8, rails, 5, 2, true, "the 5.5 mm hole for axle dowel leaves 1.25 mm of the 8 mm strip above and below, and 2 mm are asked"},
		{"just enough", 9.5, rails, 5, 2, true, ""},
		{"a thinner axle", 8, rails, 3, 2, true, ""},
		{"less wall asked", 8, rails, 5, 1, true, ""},
		{"no strip left", 5, rails, 5, 2, true, "axle dowel needs a 5.5 mm hole, and the strip is only 5 mm"},
		{"carried in clips", 8, rails, 5, 2, false, ""},
		{"sheet sides", 0, nil, 5, 2, true, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := &brief.Brief{Frame: brief.Frame{Strip: c.strip, Rails: c.rails}, Making: brief.Making{DrillFrame: c.drilled}, Limits: brief.DefaultLimits()}
			b.Limits.HoleWall = c.wall
			no := constraints.HoleInStrip(b, &parts.AxleStock{Item: parts.Item{Name: "dowel"}, Diameter: c.axle})
			if c.says == "" {
				require.Nil(t, no)
				return
			}
			require.NotNil(t, no)
			require.Equal(t, constraints.HoleWall, no.Rule)
			require.Positive(t, no.Miss)
			require.Equal(t, c.says, no.Say())
		})
	}
}
