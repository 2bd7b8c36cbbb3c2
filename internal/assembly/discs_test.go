package assembly_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
)

func withDiscs(t testing.TB, seed uint64) *assembly.Plan {
	t.Helper()
	b, p := assemblytest.DriveWithDiscs(seed)
	built, err := assembly.Of(b, p)
	require.NoError(t, err)
	plan, err := assembly.PlanOf(built)
	require.NoError(t, err)
	return plan
}

// Drives with pulleys that are made of discs are built from the discs on, with nothing
// left over, and taken apart again with the pulleys whole.
func TestMadePulleysAreBuilt(t *testing.T) {
	made := 0
	for seed := range uint64(1500) {
		plan := withDiscs(t, seed)
		made += len(plan.Build.Made)
		s, err := assembly.Carry(plan.Build, plan.Steps)
		require.NoError(t, err)
		require.NoError(t, s.Finished())
		require.Empty(t, s.Loose())
		for _, step := range plan.Store {
			for _, a := range step.Actions {
				require.NoError(t, s.Do(a), "for storing")
			}
		}
		for _, k := range s.Loose() {
			require.NotEqual(t, assembly.Disc, plan.Build.Parts[k].Kind, "discs stay together")
		}
	}
	assert.Greater(t, made, 1000)
}

// Left out, no action on a disc can be done without.
func TestEveryDiscActionIsNeeded(t *testing.T) {
	tried := 0
	for seed := range uint64(60) {
		p := withDiscs(t, seed)
		for i := range p.Steps {
			if k := p.Steps[i].Kind; k < assembly.CutDiscsStep || k > assembly.TrueDiscsStep {
				continue
			}
			for k := range p.Steps[i].Actions {
				steps := slices.Clone(p.Steps)
				steps[i].Actions = slices.Delete(slices.Clone(steps[i].Actions), k, k+1)
				_, err := assembly.Carry(p.Build, steps)
				assert.Error(t, err, "seed %d, step %d without: %v", seed, i+1, p.Steps[i].Actions[k])
				tried++
			}
		}
	}
	assert.Greater(t, tried, 300)
}

// Knives, saws and drills are an adult's; scissors, glue and sandpaper are not.
func TestWhoMakesDiscs(t *testing.T) {
	for seed := range uint64(200) {
		p := withDiscs(t, seed)
		for _, s := range p.Steps {
			switch s.Kind {
			case assembly.BoreDiscsStep:
				assert.True(t, s.Adult)
			case assembly.GlueDiscsStep: // plastic wants a glue gun
				assert.Equal(t, slices.ContainsFunc(p.Build.Made, func(m assembly.Made) bool { return m.Plastic }), s.Adult)
			case assembly.TrueDiscsStep:
				assert.False(t, s.Adult)
			case assembly.CutDiscsStep:
				for _, a := range s.Actions {
					assert.Equal(t, s.Adult, p.Build.Parts[a.Part].Adult)
				}
			}
		}
	}
}
