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
