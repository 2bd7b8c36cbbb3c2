// Package cases draws up cupboards and briefs of any size from a seed, for
// benchmarks and for tests of whole searches. The same size, family and seed give
// the same case on every machine. All parts are invented, with usual sizes.
package cases

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Size is how large a case is.
type Size struct {
	Pulleys, Bands int // kinds
	Stages         int // most
}

// Cupboard is what a class has, Service what a loans service for schools has, and
// Catalogue what a supplier lists.
func Cupboard() Size { return Size{Pulleys: 12, Bands: 10, Stages: 3} }

// Service is the stock of a loans service.
func Service() Size { return Size{Pulleys: 60, Bands: 40, Stages: 3} }

// Catalogue is all that a supplier lists.
func Catalogue() Size { return Size{Pulleys: 300, Bands: 120, Stages: 4} }

// Family is what makes a case easy or hard.
type Family string

// The families.
const (
	Varied     Family = "varied"      // diameters to a tenth of a millimetre
	Nominal    Family = "nominal"     // diameters in steps of 10 mm: very many drives tie
	JustIn     Family = "just in"     // the speed can only just be had, from the extreme parts
	JustOut    Family = "just out"    // and only just not
	Scarce     Family = "scarce"      // few of each part, for many sets
	NarrowBand Family = "narrow band" // a narrow window of stretch
	TightFrame Family = "tight frame" // hardly room for the pulleys
	Clones     Family = "clones"      // four names for each part
)

// Families lists them all.
func Families() []Family {
	return []Family{Varied, Nominal, JustIn, JustOut, Scarce, NarrowBand, TightFrame, Clones}
}

// Make draws up a case. The brief asks for a carousel.
func Make(size Size, family Family, seed uint64) (*parts.Cupboard, *brief.Brief) {
	g := generator{Rand: rand.New(rand.NewPCG(seed, 0x5eed)), family: family}
	cup := &parts.Cupboard{Name: fmt.Sprintf("%s, seed %d", family, seed)}
	kinds := size.Pulleys
	if family == Clones {
		kinds = max(2, size.Pulleys/4)
	}
	for i := range kinds {
		cup.Pulleys = append(cup.Pulleys, g.pulley(i, kinds))
	}
	for i := kinds; i < size.Pulleys; i++ {
		twin := cup.Pulleys[i%kinds]
		twin.Name += fmt.Sprintf("-%c", 'a'+i/kinds)
		cup.Pulleys = append(cup.Pulleys, twin)
	}
	for i := range size.Bands {
		// Loops from short to long, with wide and thick ones among them.
		flat := 32 * math.Pow(6, float64(i)/float64(max(1, size.Bands-1)))
		cup.Bands = append(cup.Bands, parts.Band{Item: g.item("band", i), PullFactor: 1,
			FlatLength: g.mm(flat*g.between(0.97, 1.03), 1), Width: units.Millimetres([]float64{1.5, 1.5, 3}[i%3]), Thickness: units.Millimetres([]float64{0.9, 0.9, 1.1}[g.IntN(3)])})
	}
	for i, free := range []units.RPM{2800, 5200, 9100} {
		cup.Motors = append(cup.Motors, parts.Motor{Item: g.item("motor", i), Rated: 3, FreeSpeed: free, FreeCurrent: 0.09,
			StallTorque: units.NewtonMillimetres([]float64{1.8, 2.4, 3}[i]), ShaftDiameter: 2, ShaftLength: 9, BodyLength: 25, BodyWidth: 20, BodyHeight: 15})
	}
	for i := range 2 {
		cup.Holders = append(cup.Holders, parts.CellHolder{Item: g.item("cells", i), Cells: 1 + i, OpenVoltage: 1.5, CellResistance: 0.4, Capacity: 900})
	}
	cup.Axles = []parts.AxleStock{{Item: parts.Item{Name: "dowel-5", Count: 200}, Diameter: 5, Length: 300, Material: parts.Wood}}
	slices.SortFunc(cup.Pulleys, func(a, b parts.Pulley) int { return cmp.Compare(a.Name, b.Name) })
	return cup, g.brief(size, cup)
}

type generator struct {
	*rand.Rand
	family Family
}

func (g generator) between(lo, hi float64) float64 { return lo + (hi-lo)*g.Float64() }

// mm rounds a length to a step.
func (g generator) mm(v, step float64) units.Millimetres {
	return units.Millimetres(math.Round(v/step) * step)
}

func (g generator) item(kind string, i int) parts.Item {
	count := 40 + g.IntN(60)
	if g.family == Scarce {
		count = 8 + g.IntN(17) // for eight sets: one to three in each
	}
	return parts.Item{Name: fmt.Sprintf("%s-%03d", kind, i), Count: count}
}

// pulley is the i-th kind of n: a quarter go on a motor's shaft and are small, the
// others go on dowel and are spread evenly over the sizes on a scale of ratios.
func (g generator) pulley(i, n int) parts.Pulley {
	motors := max(1, n/4)
	smallest, largest, bore := 10.0, 90.0, units.Millimetres(4.9)
	share := float64(i-motors) / float64(max(1, n-motors-1))
	if i < motors {
		smallest, largest, bore = 5, 14, 2
		share = float64(i) / float64(max(1, motors-1))
	}
	floor, rim := smallest*math.Pow(largest/smallest, share)*g.between(0.96, 1.04), 4.0
	step := 0.1
	if g.family == Nominal && i >= motors {
		step = 10
	}
	return parts.Pulley{Item: g.item("pulley", i), GrooveFloor: g.mm(floor, step), Outside: g.mm(floor, step) + units.Millimetres(rim),
		GrooveWidth: units.Millimetres([]float64{3, 3.5, 4}[g.IntN(3)]), Width: 7, Bore: bore, Material: parts.Plastic, CanDrill: true}
}

func (g generator) brief(size Size, cup *parts.Cupboard) *brief.Brief {
	b := &brief.Brief{
		Name: cup.Name, Model: brief.UprightRide, Tolerance: 0.25, Sets: 8, MaxStages: size.Stages,
		Speed:     brief.Speed{Turning: units.RPM(g.between(12, 40))},
		Direction: brief.Direction{Sense: brief.Either, MotorTurns: brief.Either, SeenFrom: "front"},
		Load:      brief.Load{Mass: 150, PivotRadius: 2.5, LoadRadius: 70, TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: 260, Height: 120, Depth: 90, Sheet: 4, Pitch: 1},
		Making:    brief.Making{DrillFrame: true, DrillOut: true, Glue: true},
		Limits:    brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}
	switch g.family {
	case JustIn:
		b.MaxStages = min(b.MaxStages, extremeStages)
		b.Speed.Turning = g.slowest(b.MaxStages, cup) * 0.8
	case JustOut:
		b.MaxStages = min(b.MaxStages, extremeStages)
		b.Speed.Turning = g.slowest(b.MaxStages, cup) * 0.22
	case NarrowBand:
		b.Limits.FittedStretchMin, b.Limits.FittedStretchMax = 1.17, 1.23
		b.Limits.ComfortStretchMin, b.Limits.ComfortStretchMax = 1.17, 1.23
	case TightFrame:
		b.Frame.Length, b.Frame.Height, b.Frame.Depth = 170, 95, 60
	}
	b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length / 3, Y1: b.Frame.Height}
	b.Frame.OutputZone = brief.Rect{X1: b.Frame.Length, Y1: b.Frame.Height}
	return b
}

// extremeStages is the most stages of the families about the slowest speed: with
// more, the frame settles what can be reached and not the parts.
const extremeStages = 2

// slowest is the unloaded speed of the slowest motor on one cell behind the largest
// ratio in each stage. Under load a drive may turn at as little as half of it.
func (g generator) slowest(stages int, cup *parts.Cupboard) units.RPM {
	floors := func(onMotor bool) (least, most units.Millimetres) {
		least = units.Millimetres(math.Inf(1))
		for _, p := range cup.Pulleys {
			if (p.Bore < 3) == onMotor {
				least, most = min(least, p.GrooveFloor), max(most, p.GrooveFloor)
			}
		}
		return least, most
	}
	driver, _ := floors(true)
	small, large := floors(false)
	n := cup.Motors[0].FreeSpeed / 2 / units.RPM(large/driver)
	return n / units.RPM(math.Pow(float64(large/small), float64(stages-1)))
}
