package design

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
)

// The bands of a level ride are stretched most at the heaviest moment of every turn, and
// that is what the rule about running stretch is held to: with a limit between that and the
// stretch at the mean torque a design is refused.
func TestLevelRidesAreHeldToTheirHeaviestMoment(t *testing.T) {
	// tightest are the greatest stretches of any band of a design, at the mean torque of a
	// turn and at the heaviest moment.
	tightest := func(p *Proposal, b *brief.Brief) (mean, heaviest float64) {
		m, err := drive.Prepare(p.Drive, b, drive.Conditions{})
		require.NoError(t, err)
		g, err := drive.Designed(p.Drive, &m)
		require.NoError(t, err)
		running, starting := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
		for i := range p.Stages {
			mean, heaviest = max(mean, running.Stages[i].Loaded.TightStretch), max(heaviest, starting.Stages[i].Loaded.TightStretch)
		}
		return mean, heaviest
	}
	refused, others := 0, 0
	for seed := range uint64(60) {
		cup, b := smallCase(seed)
		if b.Model != brief.LevelRide {
			continue
		}
		r, err := Find(context.Background(), cup, b, Options{Keep: 1})
		require.NoError(t, err)
		if len(r.Proposals) == 0 {
			continue
		}
		mean, heaviest := tightest(&r.Proposals[0], b)
		if heaviest < mean*1.005 {
			continue
		}
		b.Limits.RunningStretchMax = (mean + heaviest) / 2
		r, err = Find(context.Background(), cup, b, Options{Keep: 3})
		require.NoError(t, err)
		for i := range r.Proposals {
			_, heaviest := tightest(&r.Proposals[i], b)
			assert.LessOrEqual(t, heaviest, b.Limits.RunningStretchMax*(1+1e-9), "seed %d, drive %d", seed, i+1)
			others++
		}
		refused++
	}
	require.GreaterOrEqual(t, refused, 3)
	require.Positive(t, others, "something is left to hold")
}
