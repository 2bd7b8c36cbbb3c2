package assembly_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/assembly"
	"findrive/internal/assembly/assemblytest"
	"findrive/internal/certificate"
)

// every example there is a certificate of.
func examples(t testing.TB) map[string]*certificate.Certificate {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", "views", "testdata", "*.json"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 6)
	out := map[string]*certificate.Certificate{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		c, err := certificate.Read(data)
		require.NoError(t, err)
		out[filepath.Base(f)] = c
	}
	return out
}

func TestExamplesCanBeBuilt(t *testing.T) {
	for name, c := range examples(t) {
		for i := range c.Proposals {
			b, err := assembly.Of(&c.Brief, &c.Proposals[i])
			require.NoError(t, err, name)
			p, err := assembly.PlanOf(b)
			require.NoError(t, err, "%s, drive %d", name, i+1)
			carried(t, p)
		}
	}
}

type fataler interface {
	require.TestingT
	assert.TestingT
}

// carried does what is printed, from parts on the table to the end and back, in a
// state of its own.
func carried(t fataler, p *assembly.Plan) {
	s, err := assembly.Carry(p.Build, p.Steps)
	require.NoError(t, err)
	require.NoError(t, s.Finished())
	require.Empty(t, s.Loose(), "left over")
	glue := false
	for k := range p.Build.Parts {
		glue = glue || p.Build.Parts[k].Joint == "drop of glue"
	}
	for _, step := range p.Store {
		for _, a := range step.Actions {
			require.NoError(t, s.Do(a), "for storing")
		}
	}
	require.Empty(t, s.Stretched(), "bands are stored on their pulleys")
	if !glue {
		require.Empty(t, p.Stays)
		loose := map[int]bool{}
		for _, k := range s.Loose() {
			loose[k] = true
		}
		for k, part := range p.Build.Parts {
			switch part.Kind {
			case assembly.Piece, assembly.Bearing, assembly.Foot: // the frame stays whole
			case assembly.Sleeve: // in its pulley
			default:
				require.True(t, loose[k], "%s %s %s is not back on the table", part.Kind, part.Name, part.Letter)
			}
		}
	}
}

// Whatever drive is drawn, its steps lead to a whole model with nothing left over,
// and back.
func TestDrawnDrivesCanBeBuilt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			b, p := assemblytest.Drive(rapid.Uint64().Draw(t, "seed"))
			built, err := assembly.Of(b, p)
			require.NoError(t, err)
			plan, err := assembly.PlanOf(built)
			require.NoError(t, err)
			carried(t, plan)
		}
	})
}

// Ten thousand drives, some of each kind, always the same.
func TestTenThousandDrives(t *testing.T) {
	seen := map[string]int{}
	for seed := range uint64(10000) {
		b, p := assemblytest.Drive(seed)
		built, err := assembly.Of(b, p)
		require.NoError(t, err, "seed %d", seed)
		plan, err := assembly.PlanOf(built)
		require.NoError(t, err, "seed %d", seed)
		carried(t, plan)
		seen[b.Model]++
		if b.Frame.Strip > 0 {
			seen["strip"]++
		} else {
			seen["sheet"]++
		}
		if !b.Making.DrillFrame {
			seen["not drilled"]++
		}
		seen[string(rune('0'+len(p.Stages)))]++
		for i := range p.Stages {
			seen[p.Stages[i].Use]++
			seen[p.Stages[i].Driven.Joint.Kind]++
			if p.Stages[i].Crossed {
				seen["crossed"]++
			}
		}
		if len(plan.Stays) > 0 {
			seen["glued together"]++
		}
		if len(built.Shafts) > built.Stages+1 {
			seen["free axle"]++
		}
		for _, band := range built.Bands {
			for _, in := range band.Inside {
				seen[map[bool]string{true: "round the motor", false: "round another axle"}[in.Shaft == 0]]++
			}
		}
		if p.Tackle != nil && p.Tackle.Parts > 1 {
			seen["tackle"]++
		}
	}
	for _, kind := range append(assemblytest.Models, "strip", "sheet", "not drilled", "1", "2", "3", "4", "single", "looped twice", "two side by side", "crossed",
		"push fit", "drop of glue", "sleeve", "drill out", "glued together", "free axle", "tackle", "round another axle", "round the motor") {
		assert.Greater(t, seen[kind], 100, "%s: %v", kind, seen)
	}
	t.Log(seen)
}
