package design_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// A bound that is a little too near cuts off what only just keeps a rule, which drawn limits seldom
// meet. So the limits are set to what one of the drives itself does, a hair beyond, and the search
// is held to every design tried one by one: of the campaign's cases, and of rides whose load
// swings, in whose bounds the mean of a turn and its heaviest moment both count.
func TestADriveAtItsLimitsIsNotCutOff(t *testing.T) {
	t.Parallel()
	tried := 0
	for seed := range uint64(60) {
		if seed%8 == 0 {
			continue // of some of these it takes seconds to try every design
		}
		d := drawing{rand.New(rand.NewPCG(seed, 5))}
		cup, b := campaignCase(seed)
		if seed%2 == 1 {
			cup, b = design.SmallCase(seed)
			swinging(d, b)
		}
		for i, e := range design.EveryDrive(cup, b) {
			if i == 3 {
				break
			}
			c, ok := atLimitsOf(d, e.Drive, b)
			if !ok {
				continue
			}
			every := design.EveryDrive(cup, c)
			r, err := design.Find(context.Background(), cup, c, design.Options{Keep: 12, Threads: 1})
			require.NoError(t, err, "seed %d", seed)
			want := []string{}
			for _, e := range every[:min(12, len(every))] {
				want = append(want, e.Line)
			}
			require.Equal(t, want, design.Lines(worthBuilding(r)), "seed %d: %s, limits %+v", seed, b.Model, c.Limits)
			tried++
		}
	}
	require.Greater(t, tried, 25)
}

// swinging makes a brief that of a ride on a level axle, out of balance, that most drives will do for.
func swinging(d drawing, b *brief.Brief) {
	b.Model, b.Load.Torque, b.Load.Mass = brief.LevelRide, 0, units.Grams(d.pick(60, 300, 600, 1500))
	b.Load.OutOfBalance, b.Load.OutOfBalanceRadius = units.Grams(d.pick(1, 5, 10, 20)), d.mm(10, 20, 40)
	b.Limits.StartMin, b.Limits.RunMin, b.Limits.KeptSpeedMin, b.Limits.RunningStretchMax = 1, 1, 0, 2
	b.Frame.Pitch, b.Tolerance = 1, 0.9
	b.Speed.Turning = units.RPM(d.pick(40, 100, 200, 500))
}

// atLimitsOf is a brief whose limits are what a drive does, as far as a brief may set them so; false
// if the drive does not turn.
func atLimitsOf(d drawing, of *drive.Drive, b *brief.Brief) (*brief.Brief, bool) {
	const hair = 1e-7
	c := *b
	m, err := drive.Prepare(of, &c, drive.Conditions{})
	if err != nil || len(b.Load.Tackles) > 1 {
		return nil, false
	}
	g, _ := drive.Designed(of, &m)
	run, start := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	stall, free := m.Motor.StallTorque(m.Supply), m.Motor.FreeSpeed(m.Supply)
	speed := m.OutputSpeed(&g, &run)
	if speed <= 0 || start.MotorTorque > stall {
		return nil, false
	}
	ratio, tight := 1.0, 0.0
	w := constraints.WorkOf(of, &c, &m, &g)
	for i := range m.Count {
		ratio *= g.Fits[i].Ratio
		tight = max(tight, w.Tightest(i))
	}
	to := func(limit *float64, is float64) {
		if is >= 1 && is <= 10 {
			*limit = is * (1 - hair)
		}
	}
	to(&c.Limits.RunMin, float64(stall/run.MotorTorque))
	to(&c.Limits.StartMin, float64(stall/start.MotorTorque))
	if d.oneIn(2) {
		c.Limits.KeptSpeedMin = float64(speed) * ratio / float64(free) * (1 - hair)
	}
	if d.oneIn(2) && tight > c.Limits.FittedStretchMax {
		c.Limits.RunningStretchMax = tight * (1 + hair)
	}
	c.Tolerance = d.pick(0.01, 0.05, 0.3)
	edge := units.RPM(1 + c.Tolerance*(1-hair))
	if d.oneIn(3) {
		edge = units.RPM(1 - c.Tolerance*(1-hair))
	}
	if c.Speed.Linear > 0 {
		c.Speed.Linear *= units.MetresPerSecond(speed / edge / m.Demand.Target)
	} else {
		c.Speed.Turning = speed / edge
	}
	return &c, true
}
