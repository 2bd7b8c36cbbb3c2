package mechanics

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/units"
)

// figures are the named numbers of a check; a number is a list of one.
type figures map[string]any

func (f figures) list(t *testing.T, name string) []float64 {
	t.Helper()
	v, ok := f[name]
	require.True(t, ok, "no figure %q", name)
	one := func(v any) float64 {
		switch v := v.(type) {
		case float64:
			return v
		case int64:
			return float64(v)
		}
		t.Fatalf("%s is no number", name)
		return 0
	}
	if many, ok := v.([]any); ok {
		var out []float64
		for _, v := range many {
			out = append(out, one(v))
		}
		return out
	}
	return []float64{one(v)}
}

// check is one published value; see the head of the files.
type check struct {
	ID         string  `toml:"id"`
	Source     string  `toml:"source"`
	Inputs     figures `toml:"inputs"`
	Expected   figures `toml:"expected"`
	Recomputed figures `toml:"recomputed"`
	Tolerance  float64 `toml:"tolerance"`
	Agrees     bool    `toml:"agrees"`
}

// given are a check's inputs, read by name.
type given struct {
	t *testing.T
	check
}

func (g given) in(name string) float64 { return g.Inputs.list(g.t, name)[0] }

func (g given) mm(name string) units.Millimetres { return units.Millimetres(g.in(name)) }

func (g given) wants(name string) float64 { return g.Expected.list(g.t, name)[0] }

func (g given) stretches() []float64 { return g.Inputs.list(g.t, "stretch") }

// answers are what the program says to a check.
type answers map[string]any

func (a answers) list(name string) []float64 {
	switch v := a[name].(type) {
	case float64:
		return []float64{v}
	case units.Millimetres:
		return []float64{float64(v)}
	case units.Newtons:
		return []float64{float64(v)}
	case units.RPM:
		return []float64{float64(v)}
	case units.Amps:
		return []float64{float64(v)}
	case []float64:
		return v
	}
	return nil
}

// recomputedTo is what the seven figures of the recomputed values allow.
const recomputedTo = 5e-6

// printedTo is what seven printed figures allow, whatever tolerance is stated.
const printedTo = 5e-7

// Every row of the published check values: the program's answer is the
// recomputed value and, where the print is right, the printed one; where the
// print is wrong the program must not say the same.
func TestPublishedValues(t *testing.T) {
	used := map[string]bool{}
	for _, name := range []string{"belts", "trains", "belt_friction", "creep", "rubber", "motors", "coefficients", "rides", "constants"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/mechanics", name+".toml"))
		require.NoError(t, err)
		var file struct {
			Check []check `toml:"check"`
		}
		require.NoError(t, toml.Unmarshal(data, &file))
		require.NotEmpty(t, file.Check)
		for _, c := range file.Check {
			used[c.ID] = true
			t.Run(c.ID, func(t *testing.T) {
				ask, ok := questions[c.ID]
				require.True(t, ok, "nothing is asked of the program")
				assertCheck(t, c, ask(given{t, c}))
			})
		}
	}
	for id := range questions {
		assert.True(t, used[id], "%s is in no file", id)
	}
}

func assertCheck(t *testing.T, c check, got answers) {
	t.Helper()
	for name := range c.Recomputed {
		want := c.Recomputed.list(t, name)
		have := got.list(name)
		require.Len(t, have, len(want), name)
		for i := range want {
			assert.InEpsilon(t, want[i], have[i], recomputedTo, "%s against its recomputed value", name)
		}
	}
	for name := range c.Expected {
		have := got.list(name)
		if have == nil {
			require.Empty(t, c.Recomputed, "%s is not worked out", name)
			continue // plain data, compared where it is asked for
		}
		want := c.Expected.list(t, name)
		require.Len(t, have, len(want), name)
		for i := range want {
			if c.Agrees {
				assert.InEpsilon(t, want[i], have[i], max(c.Tolerance, printedTo), "%s against print", name)
			} else if !sharedWithMisprint[c.ID+"/"+name] {
				off := math.Abs(have[i]/want[i] - 1)
				assert.Greater(t, off, 2e-4, "%s repeats a misprint", name)
			}
		}
	}
}

// The one printed figure of the misprints that is right.
var sharedWithMisprint = map[string]bool{"belt-open-trap-arctan/span_mm": true}
