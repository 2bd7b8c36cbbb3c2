package design

import (
	"fmt"
	"math/rand/v2"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

type mm = units.Millimetres

// smallCase is a random cupboard and brief small enough to try everything.
// Invented, like all data in tests of the search.
func smallCase(seed uint64) (*parts.Cupboard, *brief.Brief) {
	r := rand.New(rand.NewPCG(seed, 7))
	pick := func(v ...float64) float64 { return v[r.IntN(len(v))] }
	cup := &parts.Cupboard{Name: "small"}
	for i := range 2 + r.IntN(3) {
		floor := pick(6, 8, 10, 16, 20, 26, 34, 40)
		bore := pick(5, 5, 4.9, 5.1, 4)
		if i == 0 {
			floor, bore = pick(5, 6, 8, 10), 2
		}
		p := parts.Pulley{Item: parts.Item{Name: fmt.Sprintf("p%d", i), Count: 1 + r.IntN(3)}, GrooveFloor: mm(floor), Outside: mm(floor + pick(2, 4)),
			GrooveWidth: mm(pick(2, 3.5)), Width: 6, Bore: mm(bore), Material: parts.Plastic, CanDrill: true}
		if r.IntN(4) == 0 {
			p.Assumed = []string{"groove width taken as 3 mm"}
		}
		cup.Pulleys = append(cup.Pulleys, p)
	}
	for i := range 1 + r.IntN(2) {
		cup.Bands = append(cup.Bands, parts.Band{Item: parts.Item{Name: fmt.Sprintf("b%d", i), Count: 1 + r.IntN(3)},
			FlatLength: mm(pick(45, 51, 63, 76, 89)), Width: 1.5, Thickness: 0.9, PullFactor: 1})
	}
	cup.Motors = []parts.Motor{{Item: parts.Item{Name: "m", Count: 4}, Rated: 3, FreeSpeed: units.RPM(pick(3000, 6000)), FreeCurrent: 0.1,
		StallTorque: units.NewtonMillimetres(pick(1.5, 3)), ShaftDiameter: 2, ShaftLength: 8, BodyLength: 25, BodyWidth: 12, BodyHeight: 10}}
	cup.Holders = []parts.CellHolder{{Item: parts.Item{Name: "one", Count: 4}, Cells: 1, OpenVoltage: 1.5, CellResistance: 0.3},
		{Item: parts.Item{Name: "two", Count: 4}, Cells: 2, OpenVoltage: 1.5, CellResistance: 0.3}}
	cup.Axles = []parts.AxleStock{{Item: parts.Item{Name: "dowel", Count: 3}, Diameter: 5, Length: 300, Material: parts.Wood}}
	cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "tube", Count: 2}, Inner: 2, Outer: 5, Length: 8}}

	b := &brief.Brief{
		Name: "small", Model: brief.PlainShaft, Tolerance: 0.6, Sets: 1, MaxStages: 1,
		Speed:     brief.Speed{Turning: units.RPM(pick(80, 150, 300, 500, 900))},
		Direction: brief.Direction{Sense: brief.Either, MotorTurns: brief.Either, SeenFrom: "front"},
		Load:      brief.Load{Torque: units.NewtonMillimetres(pick(0.3, 1, 2)), TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: 120, Height: 60, Depth: mm(pick(50, 60, 80)), Pitch: 15, Sheet: 4, Overhang: 10},
		Making:    brief.Making{DrillFrame: true, DrillOut: r.IntN(2) == 0, Glue: r.IntN(2) == 0},
		Limits:    brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}
	b.Frame.MotorZone = brief.Rect{X0: 0, Y0: 0, X1: 30, Y1: 60}
	b.Frame.OutputZone = brief.Rect{X0: 30, Y0: 0, X1: 120, Y1: 60}
	if r.IntN(3) == 0 {
		b.Direction.Sense, b.Direction.MotorTurns = brief.Clockwise, brief.Anticlockwise
	}
	if r.IntN(3) == 0 {
		b.Model, b.Load.Mass, b.Load.Torque = brief.LevelRide, 60, 0
		b.Load.OutOfBalance, b.Load.OutOfBalanceRadius = 5, 20
	}
	return cup, b
}

// smallerCase is a smallCase cut down so far that two stages can be tried in full.
func smallerCase(seed uint64) (*parts.Cupboard, *brief.Brief) {
	cup, b := smallCase(seed)
	cup.Pulleys = cup.Pulleys[:min(3, len(cup.Pulleys))]
	cup.Bands = cup.Bands[:1]
	cup.Bands[0].Count = 4
	cup.Holders = cup.Holders[:1]
	b.MaxStages = 2
	b.Frame.Pitch = 20
	b.Frame.MotorZone = brief.Rect{X0: 20, Y0: 20, X1: 20, Y1: 40}
	return cup, b
}
