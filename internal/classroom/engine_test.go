package classroom_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/classroom"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

type mm = units.Millimetres

// drawn is a drive of one to three stages for any model, wherever its axles are.
func drawn(r *rand.Rand) (*drive.Drive, *brief.Brief) {
	in := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	pick := func(v ...float64) float64 { return v[r.IntN(len(v))] }
	b := &brief.Brief{Speed: brief.Speed{Turning: 60}, Frame: brief.Frame{Depth: 80, Strip: 10},
		Load: brief.Load{TackleParts: 1, TackleEfficiency: 1, Surface: []string{"table", "carpet"}[r.IntN(2)]}}
	d := &drive.Drive{
		Motor: &parts.Motor{Rated: 3, FreeSpeed: units.RPM(in(2000, 9000)), FreeCurrent: units.Amps(pick(0, 0.1, 0.2)),
			StallTorque: units.NewtonMillimetres(pick(0, 3, 8)), ShaftDiameter: 2},
		Holder:     &parts.CellHolder{Cells: 1 + r.IntN(3), OpenVoltage: 1.5, CellResistance: units.Ohms(in(0.1, 0.5)), Condition: []parts.Condition{"", parts.Fresh, parts.Used}[r.IntN(3)]},
		Positions:  []layout.Point{{}},
		MotorTurns: 1 - 2*r.IntN(2),
	}
	if d.Motor.StallTorque == 0 {
		d.Motor.StallCurrent = units.Amps(in(0.5, 1.5))
	}
	stages := 1 + r.IntN(3)
	b.Model = []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft}[r.IntN(5)]
	switch l := &b.Load; b.Model {
	case brief.UprightRide:
		l.Mass, l.PivotRadius = units.Grams(in(20, 300)), 2.5
	case brief.LevelRide:
		l.Mass, l.OutOfBalance, l.OutOfBalanceRadius = units.Grams(in(20, 300)), units.Grams(in(0, 4)), 80
	case brief.Vehicle:
		l.Mass, l.DrivenShare, l.Slope = units.Grams(in(50, 400)), pick(0.4, 0.7, 1), units.Radians(pick(0, 0.1))
		d.Wheel = &parts.Wheel{Diameter: mm(in(30, 80)), Width: 8, Material: parts.Wood}
	case brief.Lift:
		l.Mass, l.CordDiameter, l.CordLeaves = units.Grams(in(5, 100)), 1, []brief.Way{"", brief.Down, brief.Up, brief.Left, brief.Right}[r.IntN(5)]
		d.Drum = &parts.Drum{Diameter: mm(in(8, 25)), Width: 15, Material: parts.Plastic}
	case brief.PlainShaft:
		l.Mass, l.Torque = units.Grams(pick(0, 50)), units.NewtonMillimetres(in(0, 5))
	}
	for i := range stages {
		pulley := func(low, high float64) *parts.Pulley {
			floor := mm(in(low, high))
			return &parts.Pulley{Outside: floor + 4, GrooveFloor: floor, GrooveAngle: units.Radians(pick(0, 0, 1)), Width: 6, Material: []parts.Material{parts.Wood, parts.Plastic, parts.Card}[r.IntN(3)]}
		}
		s := drive.Stage{Driver: pulley(4, 20), Driven: pulley(15, 60), Use: drive.Use(r.IntN(3)), Crossed: r.IntN(4) == 0,
			Band: &parts.Band{Width: mm(pick(1.5, 3)), Thickness: mm(pick(0.8, 1.1)), PullFactor: in(0.8, 1.2)}}
		centre := (s.Driver.GrooveFloor+s.Driven.GrooveFloor)/2*mm(in(1.3, 2.5)) + 4
		if s.Crossed {
			centre *= 1.8
		}
		path := mechanics.Belt{Driver: s.Driver.GrooveFloor + 1, Driven: s.Driven.GrooveFloor + 1, Centre: centre, Crossed: s.Crossed}.Length()
		s.Band.FlatLength = path / 2 / mm(in(1.08, 1.4))
		if s.Use == drive.LoopedTwice {
			s.Band.FlatLength *= 2
		}
		d.Stages = append(d.Stages, s)
		d.Axles = append(d.Axles, &parts.AxleStock{Diameter: 5, Length: 300, Material: []parts.Material{parts.Wood, parts.Steel}[r.IntN(2)]})
		sin, cos := math.Sincos(in(-math.Pi, math.Pi))
		at := d.Positions[i]
		d.Positions = append(d.Positions, layout.Point{X: at.X + centre*mm(cos), Y: at.Y + centre*mm(sin)})
	}
	return d, b
}

func of(d *drive.Drive, b *brief.Brief) classroom.Drive {
	c := classroom.Drive{Brief: b, Motor: d.Motor, Holder: d.Holder, Axles: d.Axles, Wheel: d.Wheel, Drum: d.Drum, Turns: d.MotorTurns}
	for i := range d.Stages {
		s := &d.Stages[i]
		c.Stages = append(c.Stages, classroom.Stage{Driver: s.Driver, Driven: s.Driven, Band: s.Band, Use: s.Use.String(), Crossed: s.Crossed})
	}
	for _, p := range d.Positions {
		c.Places = append(c.Places, classroom.Place{X: float64(p.X), Y: float64(p.Y)})
	}
	return c
}

// The engine and the classroom were written apart from the same sketches. As planned, a
// drive does the same in both.
func TestEngineAgrees(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	turned := map[brief.Model]int{}
	stood := 0
	for i := range 600 {
		d, b := drawn(r)
		m, err := drive.Prepare(d, b, drive.Conditions{})
		require.NoError(t, err)
		g, err := drive.GeometryOf(d, &m, 0)
		require.NoError(t, err)
		flow := m.Carry(&g, m.Demand.Steady)
		want, got := float64(m.OutputSpeed(&g, &flow)), classroom.Likely(of(d, b))
		if want == 0 {
			stood++
			require.Zero(t, got, "drive %d", i)
			continue
		}
		turned[b.Model]++
		within := 1e-6
		if m.Demand.Swing > 0 {
			within = 0.01 // the engine takes speed to be a straight line of torque
		}
		require.InEpsilon(t, want, got, within, "drive %d, %s", i, b.Model)
	}
	for _, model := range []brief.Model{brief.UprightRide, brief.LevelRide, brief.Vehicle, brief.Lift, brief.PlainShaft} {
		require.Greater(t, turned[model], 20, model)
	}
	require.Greater(t, stood, 20)
}

func BenchmarkSpeeds(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	d, brief := drawn(r)
	c := of(d, brief)
	for i := range b.N {
		classroom.Speeds(c, 1, uint64(i))
	}
}
