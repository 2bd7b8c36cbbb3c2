package swap_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/demo"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/report"
	"findrive/internal/swap"
)

// A drive of a saved list, and the file that is written of it, stand on the table as they
// were proposed: as fast, turning the same way, with every rule kept.
func TestBuildOfACertificate(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	briefs, err := filepath.Glob("../../testdata/briefs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, briefs)
	for _, file := range briefs {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		b, err := brief.ReadFor(file, data, cup)
		require.NoError(t, err)
		found, err := design.Find(context.Background(), cup, b, design.Options{Keep: 2, Threads: 1})
		require.NoError(t, err)
		var saved bytes.Buffer
		require.NoError(t, report.JSON(&saved, found, report.JSONOptions{}))
		c, err := certificate.Read(saved.Bytes())
		require.NoError(t, err)
		for rank := 1; rank <= len(found.Proposals); rank++ {
			p := &found.Proposals[rank-1]
			// What stands on the table has its very holes.
			asked := b
			if p.Tackle != nil {
				asked = b.With(p.Tackle.Tackle)
			}
			there := design.SpeedRangeOf(p.Drive, asked)
			m, err := swap.FromCertificate(c, rank)
			require.NoError(t, err)
			stands := m.Build(nil)
			assert.Equal(t, p.Drive.MotorTurns, stands.Drive.MotorTurns, "%s %d", file, rank)
			was := *c // where it may turn either way, the motor turns as the file has it
			was.Brief.Direction.Sense, was.Brief.Direction.MotorTurns = "either", "either"
			for turns, sense := range map[string]int{"clockwise": -1, "anticlockwise": 1} {
				was.Proposals = slices.Clone(c.Proposals)
				was.Proposals[rank-1].Motor.Turns = turns
				other, err := swap.FromCertificate(&was, rank)
				require.NoError(t, err)
				assert.Equal(t, sense, other.Build(nil).Drive.MotorTurns, "%s %d", file, rank)
			}
			again, err := built.Read("again.toml", stands.Write(""), &parts.Cupboard{})
			require.NoError(t, err)
			for _, o := range []*built.Build{stands, again} {
				w, err := built.Work(o)
				require.NoError(t, err)
				assert.InEpsilon(t, float64(p.AtHoles), float64(w.Speed.Likely), 1e-6, "%s %d", file, rank)
				assert.InEpsilon(t, float64(there.High), float64(w.Speed.High), 1e-6, "%s %d", file, rank)
				assert.Equal(t, p.Drive.OutputTurns(), o.Drive.OutputTurns(), "%s %d", file, rank)
				for _, f := range w.Findings {
					assert.False(t, f.Broken, "%s %d: %s", file, rank, f.Says)
				}
			}
		}
		_, err = swap.FromCertificate(c, 99)
		assert.Error(t, err)
	}
}

// What is left of a cupboard once a model is built is what it had less the model's parts.
func TestWithout(t *testing.T) {
	t.Parallel()
	cup, err := parts.Read("cupboard.toml", demo.Cupboard())
	require.NoError(t, err)
	b, err := built.Read("drive.toml", demo.Drive(), cup)
	require.NoError(t, err)
	m, err := swap.FromBuild(b)
	require.NoError(t, err)
	left := m.Without(cup)
	for _, name := range []string{"motor-6", "disc-80", "axle-10", "axle-30"} {
		assert.Equal(t, cup.Item("pulley", name).Count-1, left.Item("pulley", name).Count, name)
	}
	assert.Equal(t, cup.Item("pulley", "axle-50").Count, left.Item("pulley", "axle-50").Count)
	assert.Equal(t, cup.Item("band", "no-24").Count-1, left.Item("band", "no-24").Count)
}
