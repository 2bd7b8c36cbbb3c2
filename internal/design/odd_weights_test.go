package design_test

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/design"
	"findrive/internal/proof"
)

// Weights that are no whole thousandths are rounded once each: the search, which charges part by
// part, the sum that is shown and the proof come to the same points.
func TestWeightsBetweenThousandths(t *testing.T) {
	t.Parallel()
	listed := 0
	for seed := range uint64(12) {
		cup, b := design.SmallerCase(seed)
		for i := range cup.Pulleys {
			cup.Pulleys[i].Assumed = []string{"its groove", "its bore"}[:1+i%2]
		}
		cup.Bands[0].Assumed, cup.Axles[0].Assumed = []string{"how thick it is"}, []string{"that it is straight"}
		cup.Motors[0].Assumed = []string{"its current", "its speed", "its torque"}
		w := &b.Weights
		w.Assumption, w.IdleStage, w.Stage, w.Cell, w.Classroom = 0.0101, 0.2504, 0.3333, 0.0107, 0.1235
		w.BandFit, w.MotorLoad, w.SpeedPerPercent, w.SpeedStep, w.Unforgiving, w.OnEdge = 0.1117, 0.0126, 0.0713, 0.7, 0.0504, 0.0504
		r, err := design.Find(context.Background(), cup, b, design.Options{Keep: 5, Threads: 2})
		require.NoError(t, err, "seed %d", seed)
		list := []proof.Listed{}
		for i := range r.Proposals {
			p := &r.Proposals[i]
			l, err := proof.ListedOf(p.Drive, p.Total, p.Bears, 0)
			require.NoError(t, err)
			list = append(list, l)
		}
		why := fmt.Sprintf("seed %d", seed)
		data, err := proof.Record(context.Background(), cup, b, 5, list)
		require.NoError(t, err, why)
		_, err = proof.Check(context.Background(), data, cup, b)
		require.NoError(t, err, why)
		listed += len(list)
	}
	require.Greater(t, listed, 5)
}
