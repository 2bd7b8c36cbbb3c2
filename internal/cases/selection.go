package cases

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"findrive/internal/selection"
	"findrive/internal/units"
)

// SelectionFamily is what makes a question of selection alone easy or hard.
type SelectionFamily string

// The families of questions of selection alone.
const (
	SelectVaried   SelectionFamily = "varied"         // diameters to a tenth of a millimetre, ratios from 5 to 600
	SelectNominal  SelectionFamily = "nominal"        // whole millimetres on motors, tens on axles: millions of ties
	SelectSeries   SelectionFamily = "series"         // twenty sizes to the tenfold, and a ratio half-way between two steps
	SelectNear     SelectionFamily = "near series"    // the same, sizes rounded to a tenth of a millimetre
	SelectDeep     SelectionFamily = "deep"           // as many stages as there may be are needed
	SelectJustIn   SelectionFamily = "just in"        // all but the largest ratio that the stock can make
	SelectJustOut  SelectionFamily = "just out"       // more than that; one of each extreme size in a set
	SelectScarce   SelectionFamily = "scarce"         // eight sets, one to three of each kind in a set
	SelectNarrow   SelectionFamily = "narrow band"    // stretch from 1.22 to 1.28
	SelectSlack    SelectionFamily = "slack band"     // stretch from 1.05 to 1.08, far from the ideal
	SelectClones   SelectionFamily = "clones"         // four names for each size
	SelectFew      SelectionFamily = "few bands"      // three lengths of band for all pulleys
	SelectOutlier  SelectionFamily = "one far larger" // one pulley half as large again as any other, one of it in a set, and a ratio that needs two
	SelectTooLarge SelectionFamily = "one too large"  // the same, too large for any band
)

// SelectionFamilies lists them all.
func SelectionFamilies() []SelectionFamily {
	return []SelectionFamily{SelectVaried, SelectNominal, SelectSeries, SelectNear, SelectDeep, SelectJustIn, SelectJustOut,
		SelectScarce, SelectNarrow, SelectSlack, SelectClones, SelectFew, SelectOutlier, SelectTooLarge}
}

// Selection draws up a question of selection alone, of the same parts as Make.
func Selection(size Size, family SelectionFamily, seed uint64) *selection.Question {
	base := map[SelectionFamily]Family{SelectNominal: Nominal, SelectScarce: Scarce, SelectJustIn: Scarce, SelectJustOut: Scarce, SelectOutlier: Scarce, SelectTooLarge: Scarce, SelectClones: Clones}[family]
	cup, b := Make(size, base, seed)
	g := generator{Rand: rand.New(rand.NewPCG(seed, 0x5e1ec7))}
	q := &selection.Question{MostStages: size.Stages, Sets: b.Sets, Limits: selection.UsualLimits()}
	for _, p := range cup.Pulleys {
		d := p.GrooveFloor
		switch onMotor := p.Bore < 3; {
		case family == SelectNominal && onMotor:
			d = g.mm(float64(d), 1)
		case family == SelectSeries || family == SelectNear:
			d = units.Millimetres(math.Pow(10, math.Round(20*math.Log10(float64(d)))/20))
			if family == SelectNear {
				d = g.mm(float64(d), 0.1)
			}
		}
		q.Pulleys = append(q.Pulleys, selection.Pulley{Name: p.Name, Diameter: d, OnMotor: p.Bore < 3, Count: p.Count})
	}
	for _, band := range cup.Bands {
		q.Bands = append(q.Bands, selection.Band{Name: band.Name, Rest: 2 * band.FlatLength, Count: band.Count})
	}
	most := reachable(q)
	q.Ratio = math.Exp(g.between(math.Log(5), math.Log(min(600, 0.8*most))))
	switch family {
	case SelectSeries, SelectNear:
		steps := math.Round(20*math.Log10(q.Ratio)) + 0.5
		q.Ratio = math.Pow(10, steps/20)
	case SelectDeep:
		q.Ratio = math.Pow(most, g.between(0.75, 0.95))
	case SelectJustIn:
		q.Ratio = 0.998 * most
	case SelectJustOut:
		onePerSet(q)
		q.Ratio = g.between(1.01, 1.3) * reachable(q)
	case SelectNarrow:
		q.Limits.LeastStretch, q.Limits.MostStretch = 1.22, 1.28
	case SelectSlack:
		q.Limits.LeastStretch, q.Limits.MostStretch = 1.05, 1.08
	case SelectFew:
		q.Bands = slices.Clone([]selection.Band{q.Bands[size.Bands/3], q.Bands[size.Bands/2], q.Bands[size.Bands*4/5]})
	case SelectOutlier, SelectTooLarge:
		largest := &q.Pulleys[0]
		for i := range q.Pulleys {
			if !q.Pulleys[i].OnMotor && q.Pulleys[i].Diameter > largest.Diameter {
				largest = &q.Pulleys[i]
			}
		}
		if largest.Count, largest.Diameter = q.Sets, 1.5*largest.Diameter; family == SelectTooLarge {
			largest.Diameter *= 3
		}
		q.Ratio = 1.3 * reachable(q)
	}
	return q
}

// onePerSet leaves one of each of the largest and the smallest tenth of the pulleys
// that go on axles.
func onePerSet(q *selection.Question) {
	var axle []*selection.Pulley
	for i := range q.Pulleys {
		if !q.Pulleys[i].OnMotor {
			axle = append(axle, &q.Pulleys[i])
		}
	}
	slices.SortStableFunc(axle, func(a, b *selection.Pulley) int { return int(math.Copysign(1, float64(a.Diameter-b.Diameter))) })
	for i, p := range axle {
		if few := 1 + len(axle)/10; i < few || i >= len(axle)-few {
			p.Count = q.Sets
		}
	}
}

// reachable is about the largest ratio that the stock can make.
func reachable(q *selection.Question) float64 {
	var axle []float64
	motor := math.Inf(1)
	for _, p := range q.Pulleys {
		if p.OnMotor && p.Count >= q.Sets {
			motor = min(motor, float64(p.Diameter))
		} else if !p.OnMotor {
			for range min(p.Count/q.Sets, 2*q.MostStages) {
				axle = append(axle, float64(p.Diameter))
			}
		}
	}
	slices.Sort(axle)
	if n := 2*q.MostStages - 1; len(axle) < n {
		panic(fmt.Sprintf("only %d pulleys of %d", len(axle), n))
	}
	ratio := 1 / motor
	for i := range q.MostStages {
		ratio *= axle[len(axle)-1-i]
		if i > 0 {
			ratio /= axle[i-1]
		}
	}
	return ratio
}
