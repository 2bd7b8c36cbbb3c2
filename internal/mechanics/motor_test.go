package mechanics

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"findrive/internal/units"
)

func TestNewMotorKeepsItsSheet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := units.Volts(rapid.Float64Range(1, 12).Draw(t, "volts"))
		free := units.RPM(rapid.Float64Range(500, 20000).Draw(t, "free"))
		i0 := units.Amps(rapid.Float64Range(0, 0.3).Draw(t, "free current"))
		stall := units.NewtonMillimetres(rapid.Float64Range(0.2, 30).Draw(t, "stall"))
		m, err := NewMotor(v, free, i0, stall, 0)
		require.NoError(t, err)
		s := Fixed(v)
		assert.InEpsilon(t, float64(free), float64(m.FreeSpeed(s)), 1e-9)
		assert.InEpsilon(t, float64(stall), float64(m.StallTorque(s)), 1e-9)
		assert.InDelta(t, 0, float64(m.SpeedAt(s, stall)/free), 1e-9)
		assert.Less(t, m.SpeedAt(s, 1.1*stall), units.RPM(0))
		assert.Equal(t, m.CurrentAt(s, 2*stall), m.StallCurrent(s), "held at stall")
		assert.InEpsilon(t, float64(free)/2, float64(m.SpeedAt(s, stall/2)), 1e-9)
		assert.InEpsilon(t, free.RadiansPerSecond()*float64(stall)/4000, m.PeakPowerWatts(s), 1e-9)

		// Resistance in the cells weakens it.
		weak := Supply{Open: v, Resistance: m.Resistance}
		assert.Less(t, m.StallTorque(weak), m.StallTorque(s))
		assert.LessOrEqual(t, m.FreeSpeed(weak), m.FreeSpeed(s))

		// Given the current that follows, the same motor and no conflict.
		both, err := NewMotor(v, free, i0, stall, m.StallCurrent(s))
		require.NoError(t, err)
		assert.Equal(t, m.KVoltSecondsPerRadian, both.KVoltSecondsPerRadian)
		assert.InDelta(t, 0, both.Conflict.Relative(), 1e-9)
		only, err := NewMotor(v, free, i0, 0, m.StallCurrent(s))
		require.NoError(t, err)
		assert.InEpsilon(t, float64(m.StallTorque(s)), float64(only.StallTorque(s)), 1e-6)
	})
}

func TestMotorConflict(t *testing.T) {
	m, err := NewMotor(6, 9100, 0.07, 1.96, 1.5)
	require.NoError(t, err)
	assert.True(t, m.Conflict.Serious())
	assert.Equal(t, "its stall torque means a stall current of 0.44 A, the sheet says 1.50 A (-71 %)", m.Conflict.String())
	m, err = NewMotor(6, 9100, 0.07, 0, 1.5)
	require.NoError(t, err)
	assert.False(t, m.Conflict.Serious())
	assert.Zero(t, m.Conflict.Relative())
}

func TestNewMotorRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		v       units.Volts
		free    units.RPM
		i0      units.Amps
		stall   units.NewtonMillimetres
		current units.Amps
		want    error
	}{
		{0, 9000, 0.1, 2, 0, ErrMotorRating},
		{3, 0, 0.1, 2, 0, ErrMotorRating},
		{3, 9000, -0.1, 2, 0, ErrMotorRating},
		{units.Volts(nan), 9000, 0.1, 2, 0, ErrMotorRating},
		{3, 9000, 0.1, 0, 0, ErrMotorStall},
		{3, 9000, 0.1, -2, 1, ErrMotorStall},
		{3, 9000, 0.1, units.NewtonMillimetres(nan), 1, ErrMotorStall},
		{3, 9000, 0.1, 0, 0.1, ErrMotorCurrent},
	} {
		_, err := NewMotor(c.v, c.free, c.i0, c.stall, c.current)
		assert.ErrorIs(t, err, c.want)
	}
}

func TestCells(t *testing.T) {
	s := CellsInSeries(2, 1.5, 0.2)
	assert.InDelta(t, 3, float64(s.Open), 1e-12)
	assert.InDelta(t, 0.4, float64(s.Resistance), 1e-12)
	assert.InDelta(t, 5*3600, float64(RunningTime(2500, 0.5)), 1e-9)
	m, err := NewMotor(6, 9100, 0.07, 1.96, 0)
	require.NoError(t, err)
	flat := Supply{Open: 0.5}
	assert.LessOrEqual(t, m.FreeSpeed(flat), units.RPM(0))
	assert.Zero(t, m.StallTorque(flat))
	share, _ := m.PeakEfficiency(flat)
	assert.Zero(t, share)
}

// Fixed is a supply of steady voltage without resistance, for example to read a
// motor at its rated voltage.
func Fixed(voltage units.Volts) Supply { return Supply{Open: voltage} }

// PowerAtWatts is the mechanical power at a torque, in watts; 0 at and beyond
// stall.
func (m Motor) PowerAtWatts(s Supply, torque units.NewtonMillimetres) float64 {
	return max(0, float64(torque)/1000*m.SpeedAt(s, torque).RadiansPerSecond())
}

// PeakPowerWatts is the greatest mechanical power, in watts, at half the stall
// torque and half the free speed.
func (m Motor) PeakPowerWatts(s Supply) float64 { return m.PowerAtWatts(s, m.StallTorque(s)/2) }

// PeakEfficiency is the greatest share of the electrical power that comes out,
// (1 - sqrt(I0/Istall))², and the current at which it does, sqrt(I0 Istall);
// standard for the straight-line motor (Hughes and Drury, Electric Motors and
// Drives, from memory). What the supply's resistance eats counts as lost.
func (m Motor) PeakEfficiency(s Supply) (share float64, at units.Amps) {
	stall := m.StallCurrent(s)
	if stall <= m.FreeCurrent {
		return 0, 0
	}
	root := 1 - math.Sqrt(float64(m.FreeCurrent/stall))
	return root * root, units.Amps(math.Sqrt(float64(m.FreeCurrent * stall)))
}
