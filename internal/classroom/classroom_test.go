package classroom

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// plain is a drive of one stage, 8 mm to 40 mm 62 mm straight above, with a load.
func plain(b *brief.Brief) Drive {
	b.Frame = brief.Frame{Depth: 80, Strip: 10}
	return Drive{
		Brief:  b,
		Motor:  &parts.Motor{Rated: 3, FreeSpeed: 6000, FreeCurrent: 0.1, StallTorque: 4, ShaftDiameter: 2},
		Holder: &parts.CellHolder{Cells: 2, OpenVoltage: 1.5, CellResistance: 0.3},
		Stages: []Stage{{
			Driver: &parts.Pulley{Outside: 10, GrooveFloor: 8, Width: 6, Material: parts.Wood},
			Driven: &parts.Pulley{Outside: 44, GrooveFloor: 40, Width: 6, Material: parts.Wood},
			Band:   &parts.Band{FlatLength: 75, Width: 3, Thickness: 1, PullFactor: 1}, Use: "single",
		}},
		Axles:  []*parts.AxleStock{{Diameter: 5, Length: 300, Material: parts.Wood}},
		Places: []Place{{}, {0, 62}}, Turns: 1,
	}
}

// By hand: a buggy of 300 g with 60 % on the driven axle and wheels of 60 mm on a table.
// W = 2.941995 N. The floor pushes up 1.765197 N. Rolling 0.02 x 2.941995 x 30 = 1.765197
// mN·m, and the free axle 0.35 x 1.176798 x 2.5 = 1.029698 mN·m.
func TestWhatAVehicleAsks(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.Vehicle, Load: brief.Load{Mass: 300, Surface: "table", DrivenShare: 0.6}})
	d.Wheel = &parts.Wheel{Diameter: 60, Width: 8, Material: parts.Wood}
	m := build(&d, exactly(&d))
	assert.InDelta(t, 1.765197, m.pressY, 1e-6)
	assert.InDelta(t, 1.765197+1.029698, m.torque, 1e-6)
	// The disc of 44 by 6 mm 5.474 g, two wheels 27.143 g, 100 mm of dowel 1.178 g.
	assert.InDelta(t, (5.474+27.143+1.178)/1000*gravity, m.weight[0], 1e-4)
}

// By hand: a motor that runs free at 6000 turns on 3 V and stalls at 4 mN·m, without any
// free current, has k = 3/628.32 = 4.77465 mV·s and R = 3 k/4 x 1000 = 3.58099 ohm. On
// 2.9 V behind 0.6 ohm it runs free at 2.9/k = 5800 turns and stalls at k x 2.9/4.18099 =
// 3.31176 mN·m.
func TestMotorOnItsCells(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.PlainShaft})
	d.Motor.FreeCurrent = 0
	m := build(&d, exactly(&d))
	assert.InDelta(t, 5800, m.free, 0.01)
	assert.InDelta(t, 3.31176, m.stall, 1e-4)
}

// An axle is pressed by the sum of what pulls on it: with no load at all the band at rest,
// twice its pull, and the weights, both straight down here.
func TestAxleIsPressed(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.PlainShaft, Load: brief.Load{Mass: 50}})
	m := build(&d, exactly(&d))
	m.shaft = 0
	torque, _, ok := m.carry(0)
	require.True(t, ok)
	b := &m.bands[0]
	effective := torque / b.r1
	tight, slack, _, _ := b.pulls(effective)
	pressed := math.Hypot((tight+slack)*math.Cos(b.lean)+0.05*gravity+m.weight[0], (tight-slack)*math.Sin(b.lean))
	assert.InEpsilon(t, 0.35*2.5*pressed/b.r2, effective, 1e-8)
}

// A level ride that swings takes as long for a turn as the pieces of the turn together.
func TestALevelRideSlowsAtItsHeaviest(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.LevelRide, Load: brief.Load{Mass: 100, OutOfBalance: 3, OutOfBalanceRadius: 80}})
	m := build(&d, exactly(&d))
	steady, heavy := m.at(0), m.at(m.swing)
	require.Positive(t, heavy)
	assert.InEpsilon(t, math.Sqrt(steady*steady-(steady-heavy)*(steady-heavy)), Likely(d), 0.003, "nearly a straight line")
	d.Brief.Load.OutOfBalance = 300
	assert.Zero(t, Likely(d))
}

func TestModelsDifferAsRoomsDo(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.PlainShaft, Load: brief.Load{Torque: 2}})
	r := rand.New(rand.NewPCG(1, 2))
	const n = 20_000
	var volts, free, stall, off []float64
	for range n {
		c := draw(r, &d)
		volts, free, stall = append(volts, c.volts), append(free, c.free), append(stall, c.stall)
		off = append(off, math.Hypot(c.places[1].X, c.places[1].Y-62))
	}
	mean := func(v []float64) float64 {
		sum := 0.0
		for _, x := range v {
			sum += x
		}
		return sum / n
	}
	assert.InDelta(t, 1.45, mean(volts), 0.002)
	assert.InDelta(t, 1, mean(free), 0.003)
	assert.InDelta(t, 1, mean(stall), 0.003)
	assert.GreaterOrEqual(t, slices.Min(volts), 1.3)
	assert.LessOrEqual(t, slices.Max(volts), 1.6)
	assert.LessOrEqual(t, slices.Max(off), 2.0)
	ranks := func(v []float64) []float64 {
		order := make([]int, n)
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(a, b int) int {
			if v[a] < v[b] {
				return -1
			}
			return 1
		})
		out := make([]float64, n)
		for rank, i := range order {
			out[i] = float64(rank)/n - 0.5
		}
		return out
	}
	a, b := ranks(free), ranks(stall)
	cov := 0.0
	for i := range a {
		cov += a[i] * b[i] / n
	}
	assert.InDelta(t, magnet, cov*12, 0.02)
}

func TestSpeeds(t *testing.T) {
	d := plain(&brief.Brief{Model: brief.PlainShaft, Load: brief.Load{Torque: 2}})
	a, b := Speeds(d, 60, 7), Speeds(d, 60, 7)
	assert.Equal(t, a, b, "the same seed, the same models")
	assert.NotEqual(t, a, Speeds(d, 60, 8))
	slices.Sort(a)
	assert.Less(t, a[3], Likely(d))
	assert.Greater(t, a[56], Likely(d))
	assert.InDelta(t, 1, Share(a, Likely(d), 1), 1e-9)
	d.Brief.Load.Torque = 60
	assert.Zero(t, slices.Max(Speeds(d, 20, 7)), "more than the motor, or the band, can do")
	d.Brief.Load.Torque = 0
	d.Places[1].Y = 30
	assert.Zero(t, Speeds(d, 1, 7)[0], "the band hangs loose")
}
