package constraints

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// check is a rule asked about one thing, and the whole sentence it must refuse it
// with; none if it must not.
type check struct {
	name string
	got  *Refusal
	says string
}

// requireSaid holds refusals to their sentences, and to their rule.
func requireSaid(t *testing.T, rule Rule, checks []check) {
	t.Helper()
	require.Contains(t, Rules(), rule)
	for _, c := range checks {
		if c.says == "" {
			require.Nil(t, c.got, c.name)
			continue
		}
		require.NotNil(t, c.got, c.name)
		assert.Equal(t, rule, c.got.Rule, c.name)
		assert.Equal(t, c.says, c.got.Say(), c.name)
		assert.Greater(t, c.got.Miss, 0.0, c.name)
	}
}

func band() *parts.Band {
	return &parts.Band{Item: parts.Item{Name: "no-16"}, FlatLength: 63, Width: 1.5, Thickness: 0.9, PullFactor: 1}
}

func TestRulesAreListedOnce(t *testing.T) {
	rules := Rules()
	assert.Len(t, slices.Compact(slices.Sorted(slices.Values(rules))), len(rules))
}

func TestFiguresThatMissAreToldApart(t *testing.T) {
	for _, c := range []struct {
		value, limit float64
		decimals     int
		is, must     string
	}{
		{117.2, 120, 0, "117", "120"},
		{119.8, 120, 0, "119.8", "120"},
		{119.99, 120, 0, "just under 120", "120"},
		{50.2, 50, 0, "50.2", "50"},
		{50.001, 50, 0, "just over 50", "50"},
		{1.196, 1.2, 2, "1.196", "1.2"},
	} {
		is, must := apart(c.value, c.limit, c.decimals)
		assert.Equal(t, c.is, is)
		assert.Equal(t, c.must, must)
	}
}

func TestArcOfContact(t *testing.T) {
	l := brief.DefaultLimits()
	arcs := func(driver, driven float64) *mechanics.Fitted {
		return &mechanics.Fitted{DriverArc: units.Degrees(driver), DrivenArc: units.Degrees(driven)}
	}
	requireSaid(t, Arc, []check{
		{"at the limit", ArcOfContact(l, arcs(120, 240)), ""},
		{"half a turn", ArcOfContact(l, arcs(180, 180)), ""},
		{"too little on the driver", ArcOfContact(l, arcs(98, 262)), "the band would wrap only 98 degrees of the smaller pulley, and 120 are needed: it wants a longer band with the axles further apart, or pulleys nearer in size"},
		{"too little on the driven pulley", ArcOfContact(l, arcs(241, 119)), "the band would wrap only 119 degrees of the smaller pulley, and 120 are needed: it wants a longer band with the axles further apart, or pulleys nearer in size"},
	})
	assert.InEpsilon(t, 0.2, ArcOfContact(l, arcs(100, 260)).Miss, 1e-9, "a fifth short")
}

func TestCrossedBandSpacing(t *testing.T) {
	requireSaid(t, CrossedSpacing, []check{
		{"at the limit", CrossedBandSpacing(10, 40, 50), ""},
		{"too near", CrossedBandSpacing(10, 40, 45), "a crossed band would rub itself hard with the axles 45 mm apart: these pulleys want at least 50 mm"},
		{"a little too near", CrossedBandSpacing(10, 40, 49.8), "a crossed band would rub itself hard with the axles 49.8 mm apart: these pulleys want at least 50 mm"},
	})
	assert.InDelta(t, 50, float64(CrossedCentreMin(10, 40)), 1e-12)
}

func TestTurnsRight(t *testing.T) {
	turning := func(want, motor brief.Sense) brief.Direction {
		return brief.Direction{Sense: want, MotorTurns: motor, SeenFrom: "front"}
	}
	const cw, acw, either = brief.Clockwise, brief.Anticlockwise, brief.Either
	requireSaid(t, Direction, []check{
		{"open keeps the direction", TurnsRight(turning(cw, cw), 0), ""},
		{"one crossed band reverses it", TurnsRight(turning(cw, acw), 1), ""},
		{"two crossed bands keep it", TurnsRight(turning(acw, acw), 2), ""},
		{"any output", TurnsRight(turning(either, acw), 1), ""},
		{"the wires may be swapped", TurnsRight(turning(cw, either), 1), ""},
		{"open, and the other way is asked", TurnsRight(turning(cw, acw), 0), "the output would turn the motor's way, and the other way is asked: one band must be crossed"},
		{"crossed, and the same way is asked", TurnsRight(turning(cw, cw), 1), "the output would turn against the motor's way, and the motor's way is asked: an even number of bands must be crossed"},
	})
}

func TestGrip(t *testing.T) {
	l := brief.DefaultLimits()
	requireSaid(t, Grip, []check{
		{"at the limit", GripRunning(l, band(), 0, 1.2), ""},
		{"nothing to carry", GripRunning(l, band(), 0, GripMargin(2, 0)), ""},
		{"grips, with too little in hand", GripRunning(l, band(), 1, 1.1), "band no-16 in stage 2 might slip when running: it can pull 1.1 times as hard as is needed, and should pull 1.2 times"},
		{"slips", GripRunning(l, band(), 0, 0.9), "band no-16 in stage 1 would slip when running: it cannot pull as hard as is needed"},
	})
	requireSaid(t, GripStart, []check{
		{"at the limit", GripStarting(l, band(), 0, 1), ""},
		{"slips", GripStarting(l, band(), 2, 0.999), "band no-16 in stage 3 would slip when starting: it cannot pull as hard as is needed"},
	})
	assert.InEpsilon(t, 4, GripMargin(2, 0.5), 1e-12)
	assert.True(t, math.IsInf(GripMargin(2, 0), 1))
	assert.InDelta(t, 0.25, GripRunning(l, band(), 0, 0.9).Miss, 1e-12, "a quarter short")
}

func TestBandInGroove(t *testing.T) {
	pulley := func(width units.Millimetres) *parts.Pulley {
		return &parts.Pulley{Item: parts.Item{Name: "motor-6"}, GrooveFloor: 6, GrooveWidth: width}
	}
	requireSaid(t, Groove, []check{
		{"as wide as the groove", BandInGroove(pulley(1.5), band(), drive.Single), ""},
		{"too wide", BandInGroove(pulley(1.4), band(), drive.Single), "band no-16 is 1.5 mm wide and the groove of motor-6 only 1.4 mm"},
		{"twice as wide as the groove has room for", BandInGroove(pulley(3), band(), drive.LoopedTwice), ""},
		{"looped twice, too wide", BandInGroove(pulley(2.5), band(), drive.LoopedTwice), "band no-16, looped twice, is 3 mm wide and the groove of motor-6 only 2.5 mm"},
		{"a pair, too wide", BandInGroove(pulley(2.5), band(), drive.Paired), "band no-16, two side by side, is 3 mm wide and the groove of motor-6 only 2.5 mm"},
	})
}

func TestBigEnoughGroove(t *testing.T) {
	l := brief.DefaultLimits()
	pulley := func(floor units.Millimetres) *parts.Pulley {
		return &parts.Pulley{Item: parts.Item{Name: "bead"}, GrooveFloor: floor}
	}
	requireSaid(t, SmallGroove, []check{
		{"four times the thickness", BigEnoughGroove(l, pulley(3.6), band()), ""},
		{"less", BigEnoughGroove(l, pulley(3), band()), "bead is too small for band no-16: its groove floor is 3 mm across, and rubber 0.9 mm thick wants at least 3.6 mm"},
	})
}

func TestMotorHasEnoughInHand(t *testing.T) {
	l := brief.DefaultLimits()
	requireSaid(t, MotorStarts, []check{
		{"at the limit", MotorStart(l, "hobby", 1.5, 1), ""},
		{"nothing asked", MotorStart(l, "hobby", 1.5, 0), ""},
		{"too weak", MotorStart(l, "hobby", 1.2, 1), "motor hobby has too little in hand to start: its stall torque, 1.2 mN·m, is 1.2 times what the drive asks, and should be 1.5 times"},
	})
	requireSaid(t, MotorRuns, []check{
		{"at the limit", MotorRun(l, "hobby", 2, 1), ""},
		{"too weak", MotorRun(l, "hobby", 1.999, 1), "motor hobby has too little in hand to run: its stall torque, 2 mN·m, is just under 2 times what the drive asks, and should be 2 times"},
	})
	assert.False(t, OverContinuous(l, 4, 1), "a quarter of stall")
	assert.True(t, OverContinuous(l, 4, 1.01))
}

func TestLanesFit(t *testing.T) {
	requireSaid(t, Depth, []check{
		{"one way is enough", LanesFit(60, 2, 1), ""},
		{"no way", LanesFit(40, 2, 0), "the motor and the pulleys of 2 stages do not fit one behind the other in 40 mm of depth"},
		{"no way for one stage", LanesFit(20, 1, 0), "the motor and the pulleys do not fit one behind the other in 20 mm of depth"},
	})
}

func TestRoomInFrame(t *testing.T) {
	frame := brief.Frame{Length: 250, Height: 120}
	requireSaid(t, Room, []check{
		{"none found", RoomInFrame(&brief.Brief{Frame: frame}), "a frame of 250 by 120 mm has no holes that keep these pulleys, bands and axles clear of each other at spacings the bands allow"},
		{"none for a vehicle", RoomInFrame(&brief.Brief{Model: brief.Vehicle, Frame: frame}), "a frame of 250 by 120 mm has no holes that keep these pulleys, bands and axles clear of each other at spacings the bands allow, and leave room for a second axle with wheels"},
	})
}

// A 10 mm strip with a 5.5 mm hole keeps 2.25 mm and holds; an 8 mm strip keeps
// 1.25 mm and splits (common practice).
func TestHoleInset(t *testing.T) {
	l := brief.DefaultLimits()
	drilled := HoleInset(l, brief.Making{DrillFrame: true}, 5)
	assert.InDelta(t, 4.75, float64(drilled), 1e-12, "half of the hole and the wall")
	assert.LessOrEqual(t, float64(drilled), 10.0/2)
	assert.Greater(t, float64(drilled), 8.0/2)
	assert.Zero(t, HoleInset(l, brief.Making{}, 5), "an axle in clips needs no hole")
}

func TestSpeedWithin(t *testing.T) {
	requireSaid(t, Speed, []check{
		{"as wanted", SpeedWithin(20, 20, 0), ""},
		{"fastest allowed", SpeedWithin(25, 20, 0.25), ""},
		{"slowest allowed", SpeedWithin(15, 20, 0.25), ""},
		{"too fast", SpeedWithin(26, 20, 0.25), "the output would turn at 26 rpm where 20 rpm is wanted: 30 % too fast, and 25 % is allowed"},
		{"too slow", SpeedWithin(14.94, 20, 0.25), "the output would turn at 14.9 rpm where 20 rpm is wanted: 25.3 % too slow, and 25 % is allowed"},
		{"by a hair", SpeedWithin(25.00001, 20, 0.25), "the output would turn at 25 rpm where 20 rpm is wanted: just over 25 % too fast, and 25 % is allowed"},
		{"a bare motor", SpeedWithin(5200, 20, 0.25), "the output would turn at 5200 rpm where 20 rpm is wanted: 25900 % too fast, and 25 % is allowed"},
		{"at rest", SpeedWithin(0, 20, 0.25), "the output would turn at 0 rpm where 20 rpm is wanted: 100 % too slow, and 25 % is allowed"},
	})
}

func TestEnoughStock(t *testing.T) {
	requireSaid(t, Stock, []check{
		{"the last one", EnoughStock("axle-10", 8, 1, 8), ""},
		{"one set too many", EnoughStock("axle-10", 8, 1, 9), "axle-10 is short: 1 for each of 9 sets makes 9, and there are 8"},
		{"used twice", EnoughStock("axle-10", 1, 2, 2), "axle-10 is short: 2 for each of 2 sets makes 4, and there is 1"},
		{"one set", EnoughStock("axle-10", 1, 2, 1), "axle-10 is short: a set takes 2, and the cupboard has 1"},
	})
	assert.InDelta(t, 0.125, EnoughStock("axle-10", 8, 1, 9).Miss, 1e-12)
}

// Each cut takes a millimetre with it.
func TestPieces(t *testing.T) {
	for _, c := range []struct {
		rod, axle units.Millimetres
		want      int
	}{{300, 300, 1}, {300, 301, 0}, {300, 150, 1}, {301, 150, 2}, {300, 100, 2}, {302, 100, 3}, {300, 74, 4}} {
		assert.Equal(t, c.want, Pieces(c.rod, c.axle), "%v of %v", c.axle, c.rod)
	}
}

func TestFittedStretch(t *testing.T) {
	l := brief.DefaultLimits()
	weak := band()
	weak.StretchLimit = 1.3
	requireSaid(t, Stretch, []check{
		{"least", FittedStretch(l, band(), 1.05), ""},
		{"most", FittedStretch(l, band(), 1.5), ""},
		{"limp", FittedStretch(l, band(), 1.02), "band no-16 would be limp: stretched 2 %, and it needs 5 %"},
		{"loose", FittedStretch(l, band(), 0.97), "band no-16 would hang loose"},
		{"too tight", FittedStretch(l, band(), 1.62), "band no-16 would be too tight: stretched 62 %, and the most is 50 %"},
		{"just too tight", FittedStretch(l, band(), 1.502), "band no-16 would be too tight: stretched 50.2 %, and the most is 50 %"},
		{"a band with its own limit", FittedStretch(l, weak, 1.3), ""},
		{"beyond its own limit", FittedStretch(l, weak, 1.4), "band no-16 would be too tight: stretched 40 %, and the most is 30 %"},
		{"cannot go round", TooShort(band()), "band no-16 is too short to go round the two pulleys even when they almost touch"},
		{"hangs loose anywhere", TooLong(band(), 300, 277), "band no-16 is too long: it is snug only with the axles 300 mm apart or more, and the frame has room for 277 mm"},
	})
	assert.Equal(t, units.Interval[float64]{Lo: 1.05, Hi: 1.3}, FittedWindow(l, weak))
}

func TestRunningTight(t *testing.T) {
	l := brief.DefaultLimits()
	weak := band()
	weak.StretchLimit = 1.6
	strong := band()
	strong.StretchLimit = 4
	requireSaid(t, RunningStretch, []check{
		{"most", RunningTight(l, band(), 2), ""},
		{"too far", RunningTight(l, band(), 2.1), "under load the tight side of band no-16 would stretch 110 %, and the most is 100 %"},
		{"a band with its own limit", RunningTight(l, weak, 1.6), ""},
		{"beyond its own limit", RunningTight(l, weak, 1.7), "under load the tight side of band no-16 would stretch 70 %, and the most is 60 %"},
		{"no further than the rubber law holds", RunningTight(l, strong, 2.1), "under load the tight side of band no-16 would stretch 110 %, and the most is 100 %"},
	})
}

func TestWheelTraction(t *testing.T) {
	requireSaid(t, Traction, []check{
		{"just holds", WheelTraction(12, 12), ""},
		{"spins", WheelTraction(15, 12), "the wheels would spin: they need 15 mN·m and the floor holds 12; put more of the weight over the driven axle"},
	})
	assert.InDelta(t, 0.25, WheelTraction(15, 12).Miss, 1e-12)
}
