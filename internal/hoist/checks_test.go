package hoist

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// check is one published tackle; see the head of testdata/hoist/tackles.toml.
type check struct {
	ID        string
	Rule      string
	Source    string
	Tolerance float64
	Inputs    map[string]any
	Expected  map[string]any
}

func numbers(t *testing.T, from map[string]any, name string) []float64 {
	t.Helper()
	one := func(v any) float64 {
		switch v := v.(type) {
		case float64:
			return v
		case int64:
			return float64(v)
		}
		t.Fatalf("%s is no number but %v", name, v)
		return 0
	}
	many, is := from[name].([]any)
	if !is {
		return []float64{one(from[name])}
	}
	var out []float64
	for _, v := range many {
		out = append(out, one(v))
	}
	return out
}

func TestPublishedTackles(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "hoist", "tackles.toml"))
	require.NoError(t, err)
	var file struct{ Check []check }
	require.NoError(t, toml.Unmarshal(data, &file))
	require.Len(t, file.Check, 12)
	for _, c := range file.Check {
		t.Run(c.ID, func(t *testing.T) {
			require.NotEmpty(t, c.Source)
			in := func(name string) float64 { return numbers(t, c.Inputs, name)[0] }
			wants := func(name string) float64 { return numbers(t, c.Expected, name)[0] }
			switch c.Rule {
			case "tenth":
				assert.InEpsilon(t, wants("pull"), float64(RuleOfTenth(units.Newtons(in("load")), int(in("parts")), int(in("sheaves")))), c.Tolerance)
			case "observed":
				observedTackles(t, c)
			case "travel":
				r := withParts(t, int(in("parts")))
				assert.InEpsilon(t, wants("cord_pulled"), float64(r.CordPulled(units.Millimetres(in("lift")))), c.Tolerance)
			case "efficiency":
				mass := units.Grams(in("load") * 1000 / units.StandardGravity)
				assert.InEpsilon(t, wants("pull"), float64(mechanics.LiftPull(mass, int(in("parts")), in("efficiency_percent")/100)), c.Tolerance)
			case "classroom":
				classroom(t, c)
			default:
				t.Fatalf("no rule %q", c.Rule)
			}
		})
	}
}

// withParts is a tackle of n parts pulled down.
func withParts(t *testing.T, n int) Reeving {
	t.Helper()
	r := Reeving{Tied: Place(n % 2), Turns: n, Cord: &parts.Cord{Diameter: 2}}
	r.Fixed, r.Moving = unmeasured(min(r.FixedTurns(), 4)), unmeasured(r.MovingTurns())
	require.Equal(t, n, r.Parts())
	require.Equal(t, Down, r.Way())
	return r
}

// Blocks of which nothing is known have the observed efficiency.
func observedTackles(t *testing.T, c check) {
	for i, n := range numbers(t, c.Inputs, "parts") {
		r := withParts(t, int(n))
		e := r.Efficiency()
		assert.InEpsilon(t, numbers(t, c.Expected, "efficiency_percent")[i], 100*e.Likely, 1e-9)
		assert.InEpsilon(t, numbers(t, c.Expected, "pull")[i], 1/(n*e.Likely), c.Tolerance)
		assert.Less(t, e.Low, e.Likely)
		assert.Greater(t, e.High, e.Likely)
	}
	single := Reeving{Tied: Load, Turns: 1, Fixed: unmeasured(1), Cord: &parts.Cord{Diameter: 2}}
	assert.InEpsilon(t, 0.90, single.Efficiency().Likely, 1e-9)
}

// Free-running home-made blocks: 40 mm sheaves loose on a thin steel axle.
func classroom(t *testing.T, c check) {
	free := func(name string, sheaves int) parts.Block {
		b := block(name, sheaves, 2)
		b.Outside, b.GrooveFloor, b.Bore, b.Axle, b.AxleMaterial, b.Mass = 40, 36, 3.5, 3, parts.Steel, 0
		return b
	}
	cup := cupboard(free("single", 1), free("double", 2))
	rows := lesson(cup, &Brief{Lift: 300, Beam: 900, Hook: 60, Pull: 20}, units.Grams(numbers(t, c.Inputs, "mass_g")[0]), &cup.Cords[0])
	for i, name := range []string{"one_fixed", "", "two_singles", "double_over_single", "two_doubles"} {
		assert.Empty(t, rows[i].Missing)
		if name != "" {
			assert.InEpsilon(t, numbers(t, c.Expected, name)[0], float64(rows[i].Raising.Likely), c.Tolerance, name)
		}
	}
	assert.Greater(t, float64(rows[3].Raising.Likely), 3.0, "double over single: a little above 3 N")
}
