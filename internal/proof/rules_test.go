package proof_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/units"
)

// plainCase is a cupboard of a few parts and a brief for a model of one stage that they do
// for in several ways.
func plainCase(model brief.Model) (*parts.Cupboard, *brief.Brief) {
	item := func(name string) parts.Item { return parts.Item{Name: name, Count: 8} }
	pulley := func(name string, floor, bore mm) parts.Pulley {
		return parts.Pulley{Item: item(name), GrooveFloor: floor, Outside: floor + 4, GrooveWidth: 3.5, Width: 6, Bore: bore, Material: parts.Plastic, CanDrill: true}
	}
	cup := &parts.Cupboard{
		Pulleys: []parts.Pulley{pulley("motor-6", 6, 2), pulley("axle-30", 30, 5), pulley("axle-40", 40, 5)},
		Bands: []parts.Band{{Item: item("band-76"), FlatLength: 76, Width: 1.5, Thickness: 0.9, PullFactor: 1},
			{Item: item("band-102"), FlatLength: 102, Width: 1.5, Thickness: 0.9, PullFactor: 1}},
		Motors: []parts.Motor{{Item: item("motor"), Rated: 3, FreeSpeed: 4500, FreeCurrent: 0.1, StallTorque: 3, ShaftDiameter: 2, ShaftLength: 9,
			BodyLength: 25, BodyWidth: 12, BodyHeight: 12}},
		Holders: []parts.CellHolder{{Item: item("one"), Cells: 1, OpenVoltage: 1.5, CellResistance: 0.3}, {Item: item("two"), Cells: 2, OpenVoltage: 1.5, CellResistance: 0.3}},
		Axles:   []parts.AxleStock{{Item: item("dowel"), Diameter: 5, Length: 300, Material: parts.Wood}},
	}
	b := &brief.Brief{
		Model: model, Tolerance: 0.6, Sets: 1, MaxStages: 1, Speed: brief.Speed{Turning: 300},
		Direction: brief.Direction{Sense: brief.Either, MotorTurns: brief.Either, SeenFrom: "front"},
		Load:      brief.Load{Mass: 60, Torque: 1, TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: 200, Height: 120, Depth: 60, Sheet: 4, Pitch: 10},
		Making:    brief.Making{DrillFrame: true, DrillOut: true, Glue: true},
		Limits:    brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}
	b.Frame.MotorZone = brief.Rect{X1: 200, Y1: 120}
	b.Frame.OutputZone = b.Frame.MotorZone
	wheel := func(name string, across mm) {
		cup.Wheels = append(cup.Wheels, parts.Wheel{Item: item(name), Diameter: across, Width: 8, Bore: 5, Material: parts.Wood})
		cup.Drums = append(cup.Drums, parts.Drum{Item: item(name), Diameter: across / 4, Width: 12, Bore: 5, Material: parts.Wood})
	}
	wheel("small", 56)
	wheel("large", 80)
	switch model {
	case brief.Vehicle:
		b.Load.Surface, b.Load.DrivenShare, b.Speed.Linear = "table", 0.6, 1
	case brief.Lift:
		b.Load.Mass, b.Load.CordLeaves, b.Speed.Linear = 20, brief.Down, 0.25
	}
	return cup, b
}

// TestWhatMayNotBeChosen has drives that are the best but for one rule about their parts. The
// best that keeps it is proved, and a list with the other is not.
func TestWhatMayNotBeChosen(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		rule  string
		model brief.Model
		// may makes a case in which the rule has nothing to say, and keep one in which it has.
		may, keep func(cup *parts.Cupboard, b *brief.Brief)
	}{
		{"the wheel asked for", brief.Vehicle, nil, func(_ *parts.Cupboard, b *brief.Brief) { b.Load.Wheel = "small" }},
		{"the drum asked for", brief.Lift, nil, func(_ *parts.Cupboard, b *brief.Brief) { b.Load.Drum = "large" }},
		{"the cells asked for", brief.PlainShaft, nil, func(_ *parts.Cupboard, b *brief.Brief) { b.Cells = []int{2} }},
		{"volts", brief.PlainShaft, func(cup *parts.Cupboard, b *brief.Brief) { b.Speed.Turning = 600 },
			func(cup *parts.Cupboard, b *brief.Brief) { b.Speed.Turning, cup.Motors[0].VoltsMost = 600, 2.5 }},
		{"the reach of a shaft", brief.PlainShaft, func(cup *parts.Cupboard, _ *brief.Brief) { widePulley(cup) },
			func(cup *parts.Cupboard, _ *brief.Brief) { widePulley(cup); cup.Motors[0].ShaftLength = 6 }},
		{"the shafts of two motors", brief.PlainShaft, func(cup *parts.Cupboard, _ *brief.Brief) { otherMotor(cup, 2) },
			func(cup *parts.Cupboard, _ *brief.Brief) { otherMotor(cup, 3) }},
		{"a hole in a strip", brief.PlainShaft, func(cup *parts.Cupboard, b *brief.Brief) { rails(cup, b, 20) },
			func(cup *parts.Cupboard, b *brief.Brief) { rails(cup, b, 10) }},
		{"a groove for so thick a band", brief.PlainShaft, func(cup *parts.Cupboard, b *brief.Brief) { thick(cup, b); b.Limits.SectionRatio = 2 },
			func(cup *parts.Cupboard, b *brief.Brief) { thick(cup, b) }},
		{"a pulley over the floor", brief.Vehicle, func(cup *parts.Cupboard, b *brief.Brief) { onSmallWheels(cup, b) },
			func(cup *parts.Cupboard, b *brief.Brief) { onSmallWheels(cup, b); b.Limits.Clearance = 7 }},
		{"grip of the wheels", brief.Vehicle, nil, func(_ *parts.Cupboard, b *brief.Brief) { b.Load.Slope, b.Load.DrivenShare = 0.2, 0.3 }},
	} {
		t.Run(tt.rule, func(t *testing.T) {
			t.Parallel()
			cup, b := plainCase(tt.model)
			if tt.may != nil {
				tt.may(cup, b)
			}
			other := list(t, cup, b, 1)
			require.Len(t, other, 1)
			cup, b = plainCase(tt.model)
			tt.keep(cup, b)
			for _, asked := range []int{1, 50} {
				best := list(t, cup, b, asked)
				if asked == 1 {
					require.NotEqual(t, other, best, "the rule matters")
				}
				_, err := proves(cup, b, asked, best)
				require.NoError(t, err, "%+v", best)
			}
			_, err := proves(cup, b, 1, other)
			require.Error(t, err, "%+v", other)
			t.Log(err)
			require.NotErrorIs(t, err, proof.ErrMissed, "%+v is refused for what it is", other)
		})
	}
}

// TestMadePulleysStayOffMotors has a case in which a pulley made of card would be the best on the
// motor's shaft, packed out.
func TestMadePulleysStayOffMotors(t *testing.T) {
	t.Parallel()
	cup, b := plainCase(brief.PlainShaft)
	cup.Pulleys = cup.Pulleys[1:]
	cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "tube", Count: 8}, Inner: 2, Outer: 5, Length: 8}}
	cup.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 40}, Kind: parts.PlainCard, Thickness: 2, Length: 300, Width: 200}}
	cup.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 16, Largest: 40, Step: 8}}
	cup.Discs = &parts.Discs{Bores: []mm{5}, Most: 12}
	b.Making.Discs, b.Weights.MadePulley, b.Load.Torque = true, 0, 0.5
	b.Speed.Turning = 1200
	best := list(t, cup, b, 2)
	require.NotEmpty(t, best)
	_, err := proves(cup, b, 2, best)
	require.NoError(t, err)
}

// widePulley makes the motor's pulley wide, and puts a narrow one beside it that sits worse.
func widePulley(cup *parts.Cupboard) {
	narrow := cup.Pulleys[0]
	narrow.Name, narrow.Bore = "motor-6-loose", 2.1
	cup.Pulleys[0].Width = 12
	cup.Pulleys = append(cup.Pulleys, narrow)
}

// otherMotor puts a motor beside the first that is stronger, and may have a thicker shaft.
func otherMotor(cup *parts.Cupboard, shaft mm) {
	other := cup.Motors[0]
	other.Name, other.StallTorque, other.ShaftDiameter = "stronger", 6*units.NewtonMillimetres(1), shaft
	cup.Motors = append(cup.Motors, other)
	cup.Motors[0].StallTorque = 1.2
	fits := cup.Pulleys[0]
	fits.Name, fits.Bore, fits.GrooveFloor = "motor-5", 3, 5
	cup.Pulleys = append(cup.Pulleys, fits)
}

// rails has the axles in strips, and a rod that is thick for them, on which pulleys sit better.
func rails(cup *parts.Cupboard, b *brief.Brief, strip mm) {
	b.Weights.Sleeve = 6
	b.Frame.Strip, b.Frame.Sheet, b.Frame.Rails = strip, 0, []mm{30, 60, 90}
	thick := cup.Axles[0]
	thick.Name, thick.Diameter = "thick", 7
	thin := cup.Axles[0]
	thin.Name, thin.Diameter = "thin", 4.9
	cup.Axles = []parts.AxleStock{thick, thin}
	for i := range cup.Pulleys[1:] {
		cup.Pulleys[1+i].Bore = 7
	}
	cup.Sleeves = []parts.Sleeve{{Item: parts.Item{Name: "tube", Count: 8}, Inner: 4.9, Outer: 7, Length: 8}}
}

// thick is a band that fits best and is thick for small pulleys.
func thick(cup *parts.Cupboard, b *brief.Brief) {
	cup.Bands[0].Thickness = 1.8
	b.Weights.Assumption, cup.Bands[1].Assumed = 5, []string{"its width"}
}

// onSmallWheels has a slow vehicle on small wheels, for which there is only one pulley.
func onSmallWheels(cup *parts.Cupboard, b *brief.Brief) {
	cup.Pulleys = append(cup.Pulleys[:1:1], cup.Pulleys[2])
	b.Load.Wheel, b.Frame.Overhang = "small", 20
}
