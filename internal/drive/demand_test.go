package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// buggy is a vehicle of 300 g, all but 40 % of it on the driven axle, with wheels of
// 60 mm on 5 mm dowel.
func buggy() (*brief.Brief, *parts.Wheel, *parts.AxleStock) {
	b := &brief.Brief{Model: brief.Vehicle, Speed: brief.Speed{Linear: 0.3}, Load: brief.Load{Mass: 300, Surface: "table", DrivenShare: 0.6}}
	return b, &parts.Wheel{Diameter: 60, Width: 8, Material: parts.Wood}, &parts.AxleStock{Diameter: 5, Material: parts.Wood}
}

// The floor pushes a vehicle's driven axle up by its share of the weight, and the other
// axle's bearings rub. By hand: W = 0.3 x 9.80665 = 2.941995 N; up 0.6 W = 1.765197 N;
// rolling 0.02 x 2.941995 x 30 = 1.765197 mN·m; the free axle 0.35 x 0.4 x 2.941995 x
// 2.5 = 1.029698 mN·m.
func TestVehicleRestsOnTheFloor(t *testing.T) {
	b, wheel, axle := buggy()
	d := drive.DemandOf(b, wheel, nil, axle, drive.Likely)
	assert.InDelta(t, 1.765197, float64(d.Weight.Y), 1e-6)
	assert.Zero(t, d.Weight.X)
	assert.InDelta(t, 1.765197+1.029698, float64(d.Steady), 1e-6)
	assert.Equal(t, d.Steady, d.Start)
	assert.Zero(t, d.Swing)
	assert.InDelta(t, 1.765197, float64(drive.DemandOf(b, wheel, nil, nil, drive.Likely).Steady), 1e-6)
}

// A big wheel asks nothing on the mean of a turn besides its own friction, and m g r up
// and down: 20 g at 80 mm is 0.02 x 9.80665 x 80 = 15.69064 mN·m.
func TestLevelRideSwings(t *testing.T) {
	b := &brief.Brief{Model: brief.LevelRide, Speed: brief.Speed{Turning: 10}, Load: brief.Load{Mass: 200, OutOfBalance: 20, OutOfBalanceRadius: 80}}
	d := drive.DemandOf(b, nil, nil, nil, drive.Likely)
	assert.Zero(t, d.Steady)
	assert.InDelta(t, 15.69064, float64(d.Swing), 1e-5)
	assert.Equal(t, d.Swing, d.Start)
	assert.InDelta(t, -1.96133, float64(d.Weight.Y), 1e-6)
}

func TestCordLeavesItsDrumAsTheBriefSays(t *testing.T) {
	drum := &parts.Drum{Diameter: 19}
	for way, want := range map[brief.Way]mechanics.Force{
		"": {Y: -0.980665}, brief.Down: {Y: -0.980665}, brief.Up: {Y: 0.980665}, brief.Left: {X: -0.980665}, brief.Right: {X: 0.980665},
	} {
		b := &brief.Brief{Model: brief.Lift, Speed: brief.Speed{Turning: 10},
			Load: brief.Load{Mass: 100, CordDiameter: 1, CordLeaves: way, TackleParts: 1, TackleEfficiency: 1}}
		d := drive.DemandOf(b, nil, drum, nil, drive.Likely)
		assert.InDelta(t, float64(want.X), float64(d.Weight.X), 1e-9, way)
		assert.InDelta(t, float64(want.Y), float64(d.Weight.Y), 1e-9, way)
		assert.InDelta(t, 9.80665, float64(d.Steady), 1e-6, way)
	}
}

// A wooden disc of 80 mm by 8 mm is pi/4 x 80² x 8 = 40212 mm³, 24.1 g at 600 kg/m³.
func TestWhatTurnsWeighs(t *testing.T) {
	p := &parts.Pulley{Outside: 80, Width: 8, Material: parts.Wood}
	assert.InDelta(t, 0.0241274*9.80665, float64(drive.PulleyWeight(p)), 1e-6)
	rod := &parts.AxleStock{Diameter: 5, Material: parts.Wood}
	d := &drive.Drive{Stages: []drive.Stage{{Driven: p}, {Driver: p, Driven: p}}, Axles: []*parts.AxleStock{rod, rod},
		Wheel: &parts.Wheel{Diameter: 60, Width: 8, Material: parts.Wood}}
	b := &brief.Brief{Model: brief.Vehicle, Frame: brief.Frame{Depth: 80, Strip: 10}}
	disc, dowel := 0.0241274*9.80665, math.Pi/4*25*100*600e-9*9.80665
	wheel := math.Pi / 4 * 3600 * 8 * 600e-9 * 9.80665
	assert.InDelta(t, 2*disc+dowel, float64(drive.AxleWeight(d, b, 0)), 1e-6)
	assert.InDelta(t, disc+dowel+2*wheel, float64(drive.AxleWeight(d, b, 1)), 1e-6)
	b.Model = brief.UprightRide
	assert.Zero(t, drive.AxleWeight(d, b, 0), "an upright axle stands on its end")
}

// upright is one stage from a motor straight up to an axle, a band of no creep to speak
// of fitted between.
func upright(t testing.TB) (drive.Model, drive.Geometry) {
	m := drive.Model{Count: 1, ShaftRad: 1}
	m.Stages[0] = mechanics.Stage{DriverFloor: 8, DrivenFloor: 40, Friction: 0.5,
		Band: mechanics.Loop{Rest: 150, Width: 3, Thickness: 1, Strands: 1, PullFactor: 1, Rubber: mechanics.DefaultRubber()}}
	m.AxleMu[0], m.AxleRadius[0] = 0.35, 2.5
	var err error
	m.Motor, err = mechanics.NewMotor(3, 6000, 0.1, 4, 0)
	require.NoError(t, err)
	m.Supply = mechanics.CellsInSeries(2, 1.45, 0.3)
	d := &drive.Drive{Stages: make([]drive.Stage, 1), Positions: []layout.Point{{}, {Y: 62}}, MotorTurns: 1}
	g, err := drive.GeometryOf(d, &m, 0)
	require.NoError(t, err)
	return m, g
}

// A band that pulls an axle down adds to its weight, and takes from what pushes it up.
func TestAxleCarriesItsOwnWeight(t *testing.T) {
	m, g := upright(t)
	m.AxleMu[0] = 0 // so that the band's pull is the same throughout
	bare := m.Carry(&g, 0)
	require.InDelta(t, 2*float64(g.Fits[0].Pull), float64(bare.AxleLoad[0]), 0.2)
	m.AxleWeight[0] = 0.3
	heavy := m.Carry(&g, 0)
	assert.InDelta(t, 0.3, float64(heavy.AxleLoad[0]-bare.AxleLoad[0]), 1e-9)
	m.Demand.Weight = mechanics.Force{Y: 1}
	pushed := m.Carry(&g, 0)
	assert.InDelta(t, -0.7, float64(pushed.AxleLoad[0]-bare.AxleLoad[0]), 1e-9)
}

// What a band carries up to slip is the most there is: a torque that asks for a hair
// less is carried, though the guess from the band at rest slips, and a hair more is not.
func TestSlipLoadIsExact(t *testing.T) {
	m, g := upright(t)
	for _, weight := range []units.Newtons{-3, -1, 0, 1, 3} {
		m.Demand.Weight = mechanics.Force{Y: weight}
		greatest, tight := m.Stages[0].Grip(g.Fits[0])
		b := m.Stages[0].Belt(g.Fits[0]).Strands(1)
		// The pulls at slip and the friction that they cause, straight from the vectors.
		hub := mechanics.HubLoad(tightPull(&m, tight), tightPull(&m, tight)-greatest, b.DrivenTight.Turned(math.Pi/2), b.DrivenSlack.Turned(math.Pi/2))
		friction := mechanics.BearingTorque(0.35, hub.Plus(m.Demand.Weight).Size(), 2.5)
		most := units.NewtonMillimetres(float64(greatest)*float64(g.Fits[0].DrivenPitch)/2) - friction
		below, above := m.Carry(&g, most*(1-1e-7)), m.Carry(&g, most*(1+1e-7))
		require.Negative(t, below.Slips, "weight %v", weight)
		require.Zero(t, above.Slips, "weight %v", weight)
		require.InEpsilon(t, float64(greatest), float64(below.Stages[0].Effective), 1e-6)
	}
}

func tightPull(m *drive.Model, stretch float64) units.Newtons { return m.Stages[0].Band.Pull(stretch) }

// Over a turn whose torque swings like a sine the mean speed is the time-mean: here
// against a turn added up in ten thousand steps.
func TestMeanOverTurn(t *testing.T) {
	for _, x := range [][2]float64{{100, 100}, {100, 80}, {100, 30}, {60, 1}} {
		v, heavy := x[0], x[1]
		const steps = 10_000
		time := 0.0
		for i := range steps {
			time += 1 / (v - (v-heavy)*math.Sin(2*math.Pi*(float64(i)+0.5)/steps)) / steps
		}
		assert.InEpsilon(t, 1/time, float64(drive.MeanOverTurn(units.RPM(v), units.RPM(heavy))), 1e-9)
	}
	assert.Zero(t, drive.MeanOverTurn(100, 0))
}

func TestSpeedOfALevelRideIsTheMeanOverATurn(t *testing.T) {
	m, g := upright(t)
	m.Demand.Swing = 5
	m.Demand.Start = 5
	flow, heavy := m.Carry(&g, 0), m.Carry(&g, 5)
	require.Negative(t, heavy.Slips)
	v, vh := float64(m.SpeedAt(&g, &flow)), float64(m.SpeedAt(&g, &heavy))
	require.Less(t, vh, v)
	assert.InEpsilon(t, math.Sqrt(v*v-(v-vh)*(v-vh)), float64(m.OutputSpeed(&g, &flow)), 1e-12)
	m.Demand.Swing = 500
	assert.Zero(t, m.OutputSpeed(&g, &flow), "it slips or stalls at the heaviest moment")
}

func TestOpenVoltageOfACell(t *testing.T) {
	for name, x := range map[string]struct {
		h    parts.CellHolder
		want mechanics.Range
	}{
		"any":      {parts.CellHolder{OpenVoltage: 1.5, Chemistry: "zinc-carbon"}, mechanics.Range{Low: 1.3, Likely: 1.45, High: 1.6}},
		"fresh":    {parts.CellHolder{OpenVoltage: 1.5, Chemistry: "alkaline", Condition: parts.Fresh}, mechanics.Range{Low: 1.5, Likely: 1.55, High: 1.6}},
		"used":     {parts.CellHolder{OpenVoltage: 1.5, Condition: parts.Used}, mechanics.Range{Low: 1.2, Likely: 1.35, High: 1.45}},
		"measured": {parts.CellHolder{OpenVoltage: 1.58, Condition: parts.Used, Measured: true}, mechanics.Range{Low: 1.5484, Likely: 1.58, High: 1.6116}},
		"nickel":   {parts.CellHolder{OpenVoltage: 1.2, Chemistry: "nimh"}, mechanics.Range{Low: 1.15, Likely: 1.2, High: 1.35}},
	} {
		r := drive.CellVoltage(&x.h)
		assert.InDeltaSlice(t, []float64{x.want.Low, x.want.Likely, x.want.High}, []float64{r.Low, r.Likely, r.High}, 1e-9, name)
	}
	h := &parts.CellHolder{Cells: 2, OpenVoltage: 1.5, CellResistance: 0.4}
	assert.InDelta(t, 2.9, float64(drive.SupplyOf(h, drive.Conditions{}).Open), 1e-12)
	assert.InDelta(t, 2.6, float64(drive.SupplyOf(h, drive.Conditions{CellVoltage: drive.Low}).Open), 1e-12)
}
