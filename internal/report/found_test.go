package report

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/recheck"
)

// TestFoundDrivesHold has a real search write a certificate, and the independent
// checker agree with it. The drives have one stage, so that the search is over
// at once; the time limit only keeps a slow machine from waiting.
func TestFoundDrivesHold(t *testing.T) {
	for _, m := range []brief.Model{brief.PlainShaft, brief.LevelRide, brief.Vehicle} {
		t.Run(string(m), func(t *testing.T) {
			b := testBrief(m)
			b.MaxStages, b.Tolerance = 1, 0.6
			b.Speed = brief.Speed{Turning: 350, Words: "350 rpm"}
			b.Load.Torque = min(b.Load.Torque, 1)
			b.Frame.MotorZone = brief.Rect{X0: 30, Y0: 40, X1: 60, Y1: 100}
			ctx, stop := context.WithTimeout(context.Background(), 3*time.Second)
			defer stop()
			cup := testCupboard()
			if m == brief.Vehicle { // that stands on its wheels, wherever that is
				b.Frame.HasGround, b.Frame.Ground = false, 0
				cup.Wheels[0].Diameter = 70
			}
			r, err := design.Find(ctx, cup, b, design.Options{Keep: 3})
			require.NoError(t, err)
			require.NotEmpty(t, r.Proposals)
			require.Empty(t, recheck.Recheck(certificateBytes(t, r)))
			for _, line := range strings.Split(page80(t, r, TextOptions{Why: true}), "\n") {
				require.LessOrEqual(t, cellWidth.StringWidth(line), defaultWidth)
			}
		})
	}
}

// TestFoundWinchesHold has drive and tackle chosen together, and the checker agree
// with every drive at its own tackle.
func TestFoundWinchesHold(t *testing.T) {
	b := testBrief(brief.Lift)
	b.MaxStages, b.Tolerance = 1, 0.8
	b.Speed = brief.Speed{Linear: 0.3, Words: "0.3 m/s"}
	b.Load.Mass = 10
	b.Load.Tackles = []brief.Tackle{{Parts: 1, Efficiency: 1}, {Parts: 2, Efficiency: 0.81}, {Parts: 4, Efficiency: 0.68}}
	b.Frame.MotorZone = brief.Rect{X0: 30, Y0: 40, X1: 60, Y1: 100}
	ctx, stop := context.WithTimeout(context.Background(), 3*time.Second)
	defer stop()
	r, err := design.Find(ctx, testCupboard(), b, design.Options{Keep: 20})
	require.NoError(t, err)
	with := map[int]bool{}
	for i := range r.Proposals {
		with[r.Proposals[i].Tackle.Parts] = true
	}
	require.Greater(t, len(with), 1, "the choice is a real one")
	require.Empty(t, recheck.Recheck(certificateBytes(t, r)))
	page := page80(t, r, TextOptions{})
	require.Contains(t, page, "Rope parts")
	require.Contains(t, strings.Join(strings.Fields(page), " "), "hold it with a peg or catch")

	// The checker is not to be fooled by a tackle that is not allowed, or a pull
	// that is not the load's.
	for i := range r.Proposals {
		r.Proposals[i].Tackle.Pull *= 1.01
	}
	require.NotEmpty(t, recheck.Recheck(certificateBytes(t, r)))
	for i := range r.Proposals {
		r.Proposals[i].Tackle.Pull /= 1.01
	}
	r.Brief.Load.Tackles = r.Brief.Load.Tackles[:0]
	require.NotEmpty(t, recheck.Recheck(certificateBytes(t, r)))
}
