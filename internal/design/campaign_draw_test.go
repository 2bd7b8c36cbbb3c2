package design_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// everyDeep is which cases of the campaign have two stages: one in so many.
const everyDeep = 4

// campaignCase is a case for any kind of model, small enough that every design can be
// tried. Invented, like all data in tests of the search.
func campaignCase(seed uint64) (*parts.Cupboard, *brief.Brief) {
	deep := seed%everyDeep == 0
	cup, b := design.SmallCase(seed)
	if deep {
		cup, b = design.SmallerCase(seed)
	}
	d := drawing{rand.New(rand.NewPCG(seed, 11))}
	b.Sets, b.Tolerance = 1+d.IntN(6)/5, d.pick(0.3, 0.6, 0.8)
	b.Limits.HoleError = units.Millimetres(d.pick(0, 0.5, 1, 2, 2, 3))
	d.model(cup, b)
	d.stock(cup, deep)
	d.frame(b, deep)
	d.speed(cup, b)
	return cup, b
}

type drawing struct{ *rand.Rand }

func (d drawing) pick(v ...float64) float64 { return v[d.IntN(len(v))] }

func (d drawing) mm(v ...float64) units.Millimetres { return units.Millimetres(d.pick(v...)) }

func (d drawing) oneIn(n int) bool { return d.IntN(n) == 0 }

// model draws what the output carries; some briefs keep what they have.
func (d drawing) model(cup *parts.Cupboard, b *brief.Brief) {
	load := brief.Load{Mass: units.Grams(d.pick(30, 60, 120)), TackleParts: 1, TackleEfficiency: 1}
	bore := func() units.Millimetres { return d.mm(4.9, 5, 4) }
	switch models := []brief.Model{"", brief.UprightRide, brief.Vehicle, brief.Lift}; models[d.IntN(len(models))] {
	case brief.UprightRide:
		b.Model, b.Load = brief.UprightRide, load
		b.Load.PivotRadius, b.Load.LoadRadius = d.mm(1, 2.5), 60
	case brief.Vehicle:
		b.Model, b.Load = brief.Vehicle, load
		b.Load.Surface, b.Load.Slope, b.Load.DrivenShare = []string{"table", "carpet"}[d.IntN(2)], units.Radians(d.pick(0, 0, 0.05)), d.pick(0.5, 0.7, 1)
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(d.pick(0.3, 0.6, 1, 1.5))}
		for i, across := range []units.Millimetres{d.mm(40, 50), d.mm(60, 75)} {
			cup.Wheels = append(cup.Wheels, parts.Wheel{Item: parts.Item{Name: fmt.Sprintf("w%d", i), Count: 2 + d.IntN(3)},
				Diameter: across, Width: 8, Bore: bore(), Material: parts.Wood, CanDrill: true})
		}
		if d.oneIn(3) {
			b.Load.Wheel = "w0"
		}
		if d.oneIn(3) {
			b.Frame.Ground, b.Frame.HasGround = d.mm(-10, -15, -20), true
		}
	case brief.Lift:
		b.Model, b.Load = brief.Lift, load
		b.Load.Mass, b.Load.CordDiameter = units.Grams(d.pick(5, 15, 30)), d.mm(0, 1)
		b.Load.CordLeaves = []brief.Way{brief.Down, brief.Up, brief.Left, brief.Right}[d.IntN(4)]
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(d.pick(0.05, 0.1, 0.2, 0.4))}
		straight, doubled := brief.Tackle{Parts: 1, Efficiency: 1}, brief.Tackle{Parts: 2, Efficiency: 0.85}
		all := [][]brief.Tackle{{straight}, {doubled}, {straight, doubled}}
		b.Load.Tackles = all[d.IntN(len(all))]
		b.Load.TackleParts, b.Load.TackleEfficiency = b.Load.Tackles[0].Parts, b.Load.Tackles[0].Efficiency
		for i, across := range []units.Millimetres{d.mm(6, 10), d.mm(16, 25)} {
			cup.Drums = append(cup.Drums, parts.Drum{Item: parts.Item{Name: fmt.Sprintf("d%d", i), Count: 1 + d.IntN(2)},
				Diameter: across, Width: 12, Bore: bore(), Material: parts.Wood, CanDrill: true})
		}
	}
}

// stock draws what is known, assumed and short in a cupboard.
func (d drawing) stock(cup *parts.Cupboard, deep bool) {
	for i := range cup.Bands {
		b := &cup.Bands[i]
		b.Calibrated, b.PullFactor = d.oneIn(3), d.pick(0.8, 1, 1, 1.2)
		if d.oneIn(4) {
			b.Assumed = []string{"thickness taken as 0.9 mm", "width taken as 1.5 mm"}[:1+d.IntN(2)]
		}
		if d.oneIn(5) {
			b.StretchLimit = d.pick(1.3, 1.5)
		}
	}
	for i := range cup.Pulleys {
		if d.oneIn(4) {
			cup.Pulleys[i].GrooveAngle = units.Radians(40 * math.Pi / 180)
		}
	}
	if deep {
		cup.Pulleys[1].GrooveFloor, cup.Pulleys[2%len(cup.Pulleys)].GrooveFloor = d.mm(26, 34, 40), d.mm(8, 10, 12)
		for i := range cup.Pulleys {
			p := &cup.Pulleys[i]
			p.Outside, p.Count = p.GrooveFloor+d.mm(2, 4), 2+d.IntN(4)
			if i > 0 {
				p.Bore = d.mm(4.9, 5, 5, 5, 5.1, 4)
			}
		}
		cup.Bands[0].FlatLength, cup.Bands[0].StretchLimit = d.mm(63, 70, 76), 0
		if d.oneIn(2) {
			other := cup.Bands[0]
			other.Name, other.FlatLength, other.Width, other.Count = "b1", d.mm(57, 76, 89), d.mm(1.5, 2), 1+d.IntN(3)
			cup.Bands = append(cup.Bands, other)
		}
	}
	m := &cup.Motors[0]
	m.Calibrated = d.oneIn(3)
	if d.oneIn(4) {
		m.Assumed = []string{"free current taken as 0.1 A"}
	}
	if !deep && d.oneIn(3) {
		other := *m
		other.Item = parts.Item{Name: "other", Count: 1 + d.IntN(2)}
		other.FreeSpeed, other.ShaftLength = units.RPM(d.pick(2400, 4500)), d.mm(5, 8)
		cup.Motors = append(cup.Motors, other)
	}
	for i := range cup.Holders {
		h := &cup.Holders[i]
		h.Condition, h.Measured = []parts.Condition{"", parts.Fresh, parts.Used}[d.IntN(3)], d.oneIn(4)
	}
	cup.Axles[0].Count = 1 + d.IntN(3)
	if d.oneIn(2) {
		cup.Axles = append(cup.Axles, parts.AxleStock{Item: parts.Item{Name: "rod", Count: 1 + d.IntN(2)}, Diameter: d.mm(4, 5), Length: d.mm(150, 300), Material: parts.Steel})
	}
	if d.oneIn(3) {
		cup.Sleeves = append(cup.Sleeves, parts.Sleeve{Item: parts.Item{Name: "pipe", Count: 1 + d.IntN(2)}, Inner: d.mm(2, 4), Outer: d.mm(4.9, 5), Length: 8})
	}
}

// frame draws where holes may be.
func (d drawing) frame(b *brief.Brief, deep bool) {
	f := &b.Frame
	if deep {
		f.Length, f.Height, f.Depth, f.Pitch = 200, 100, 80, d.mm(5, 10, 12)
		f.MotorZone.X1, f.MotorZone.Y1 = 40, 60
		f.OutputZone.X1, f.OutputZone.Y1 = f.Length, f.Height
	} else {
		f.Pitch = d.mm(1, 4, 5, 10, 15)
	}
	if d.oneIn(3) {
		f.Strip, f.Sheet = 10, 0
		f.Rails = [][]units.Millimetres{{20, 40}, {15, 30, 45}}[d.IntN(2)]
	}
	if !deep && d.oneIn(4) {
		f.Length, f.Height = d.mm(80, 100, 160), d.mm(40, 50, 80)
		f.OutputZone.X1, f.OutputZone.Y1 = f.Length, f.Height
		f.MotorZone.Y1 = min(f.MotorZone.Y1, f.Height)
	}
}

// speed draws, for most briefs, one that the parts may come near to.
func (d drawing) speed(cup *parts.Cupboard, b *brief.Brief) {
	if d.oneIn(4) {
		return
	}
	small, large := cup.Pulleys[0].GrooveFloor, cup.Pulleys[0].GrooveFloor
	for i := range cup.Pulleys {
		small, large = min(small, cup.Pulleys[i].GrooveFloor), max(large, cup.Pulleys[i].GrooveFloor)
	}
	ratio := math.Pow(float64((large+1)/(small+1)), d.pick(1, float64(b.MaxStages), float64(b.MaxStages), float64(b.MaxStages)))
	if b.MaxStages > 1 {
		ratio = max(ratio, 12)
	}
	turns := float64(cup.Motors[0].FreeSpeed) * float64(1+d.IntN(2)) / 2 / ratio * d.pick(0.5, 0.7, 0.9)
	switch b.Model {
	case brief.Vehicle:
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(math.Pi * turns / 60 * float64(cup.Wheels[d.IntN(2)].Diameter) / 1000)}
	case brief.Lift:
		b.Speed = brief.Speed{Linear: units.MetresPerSecond(math.Pi * turns / 60 * float64(cup.Drums[d.IntN(2)].Diameter) / 1000 / float64(b.Load.TackleParts))}
	default:
		b.Speed = brief.Speed{Turning: units.RPM(turns)}
	}
}
