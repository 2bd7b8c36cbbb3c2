package proof_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/proof"
	"findrive/internal/units"
)

type mm = units.Millimetres

// drawing draws cases.
type drawing struct{ *rand.Rand }

func (d drawing) pick(v ...float64) float64 { return v[d.IntN(len(v))] }

func (d drawing) mm(v ...float64) mm { return mm(d.pick(v...)) }

func (d drawing) oneIn(n int) bool { return d.IntN(n) == 0 }

var models = []brief.Model{brief.Vehicle, brief.Lift, brief.PlainShaft, brief.UprightRide, brief.LevelRide}

// scarceCase draws a small cupboard and a brief for one model after the other, in which
// there are hardly enough of most parts for all sets: of sleeves, of which several kinds
// fit, of rods, which are of two kinds and several lengths, of wheels. All parts are
// invented, with usual sizes.
func scarceCase(seed uint64) (*parts.Cupboard, *brief.Brief) {
	d := drawing{rand.New(rand.NewPCG(seed, 29))}
	model := models[seed%uint64(len(models))]
	sets := 1 + d.IntN(3)
	item := func(name string, each int) parts.Item {
		it := parts.Item{Name: name, Count: each*sets - d.IntN(10)/9}
		if d.oneIn(5) {
			it.Assumed = []string{"a size taken as usual"}
		}
		return it
	}
	cup := &parts.Cupboard{Name: fmt.Sprintf("scarce, seed %d", seed)}
	pulley := func(name string, floor, bore mm) {
		cup.Pulleys = append(cup.Pulleys, parts.Pulley{Item: item(name, 1+d.IntN(2)), GrooveFloor: floor, Outside: floor + d.mm(3, 4), GrooveWidth: d.mm(3, 4),
			Width: d.mm(6, 7), Bore: bore, Material: parts.Plastic, CanDrill: true})
	}
	bore := func() mm { return d.mm(4.9, 4.9, 5, 6, 6, 7) }
	pulley("a-motor-6", 6, d.mm(2, 2, 5))
	pulley("b-small", d.mm(9, 12, 16), d.mm(2, 4.9, 5, 6))
	pulley("c-middle", d.mm(24, 30, 36), bore())
	pulley("d-large", d.mm(44, 50, 60), bore())
	for i, flat := range []mm{d.mm(63, 76, 89), d.mm(102, 178)} {
		cup.Bands = append(cup.Bands, parts.Band{Item: item(fmt.Sprintf("band-%d", i), 1+d.IntN(3)), FlatLength: flat, Width: d.mm(1.5, 2),
			Thickness: d.mm(0.9, 0.9, 1.2), PullFactor: d.pick(0.8, 1, 1.2), Calibrated: d.oneIn(3)})
	}
	for i := range 1 + d.IntN(3)/2 {
		cup.Motors = append(cup.Motors, parts.Motor{Item: item(fmt.Sprintf("motor-%d", i), 1), Rated: 3, FreeSpeed: units.RPM(d.pick(2400, 4500, 6000)), FreeCurrent: 0.1,
			StallTorque: units.NewtonMillimetres(d.pick(1.5, 2.4, 3)), ShaftDiameter: 2, ShaftLength: d.mm(7, 9), BodyLength: 25, BodyWidth: d.mm(12, 20), BodyHeight: 12})
	}
	for i := range 2 {
		cup.Holders = append(cup.Holders, parts.CellHolder{Item: item(fmt.Sprintf("cells-%d", i+1), 1+i), Cells: 1 + i, OpenVoltage: 1.5, CellResistance: 0.3})
	}
	tube := func(name string, inner, outer mm) {
		cup.Sleeves = append(cup.Sleeves, parts.Sleeve{Item: item(name, 1+d.IntN(5)), Inner: inner, Outer: outer, Length: 8})
	}
	tube("tube-2-5", 2, 5)
	tube("tube-5-6", 5, 6)
	tube("tube-5-6-odd", 4.8, 6)
	tube("tube-5-7", 5, 7)
	if d.oneIn(2) {
		tube("tube-4-5", 4, 5)
		tube("tube-4-6", 4, 6)
	}
	if seed%3 == 0 {
		cup.Sleeves[0].Count = sets - 1 // alone on motors' shafts
	}
	b := &brief.Brief{
		Name: cup.Name, Model: model, Tolerance: d.pick(0.3, 0.6, 0.8), Sets: sets, MaxStages: 2,
		Direction: brief.Direction{Sense: brief.Either, MotorTurns: brief.Either, SeenFrom: "front"},
		Frame:     brief.Frame{Length: d.mm(160, 220), Height: d.mm(90, 120), Depth: d.mm(60, 80), Sheet: 4, Pitch: 10},
		Making:    brief.Making{DrillFrame: true, DrillOut: d.oneIn(2), Glue: d.oneIn(2)},
		Limits:    brief.DefaultLimits(), Weights: brief.DefaultWeights(),
	}
	if d.oneIn(3) {
		b.Direction.Sense, b.Direction.MotorTurns = brief.Clockwise, brief.Anticlockwise
	}
	if d.oneIn(3) {
		b.Frame.Strip, b.Frame.Sheet, b.Frame.Rails = 10, 0, [][]mm{{20, 40, 60}, {25, 45, 65, 80}}[d.IntN(2)]
	}
	b.Limits.HoleError = d.mm(0, 1, 2, 5)
	b.Frame.MotorZone = brief.Rect{X1: b.Frame.Length / 3, Y1: b.Frame.Height}
	b.Frame.OutputZone = brief.Rect{X0: b.Frame.Length / 4, X1: b.Frame.Length, Y1: b.Frame.Height}
	d.load(cup, b, item)
	d.rods(cup, b)
	if d.oneIn(8) {
		d.discs(cup, b)
	}
	return cup.InStock(), b
}

// load draws what the output carries, with the wheels or drums for it, and a speed that
// the parts may come near to.
func (d drawing) load(cup *parts.Cupboard, b *brief.Brief, item func(string, int) parts.Item) {
	b.Load = brief.Load{Mass: units.Grams(d.pick(60, 120)), TackleParts: 1, TackleEfficiency: 1}
	turns := float64(cup.Motors[0].FreeSpeed) / d.pick(6, 12, 25) * d.pick(0.3, 0.5)
	along := func(across mm) units.MetresPerSecond {
		return units.MetresPerSecond(math.Pi * turns / 60 * float64(across) / 1000)
	}
	switch b.Model {
	case brief.Vehicle:
		b.Load.Surface, b.Load.Slope, b.Load.DrivenShare = []string{"table", "carpet"}[d.IntN(2)], units.Radians(d.pick(0, 0, 0.05)), d.pick(0.5, 0.7, 1)
		for i, across := range []mm{d.mm(44, 56), d.mm(70, 90)} {
			cup.Wheels = append(cup.Wheels, parts.Wheel{Item: item(fmt.Sprintf("wheel-%d", i), 4), Diameter: across, Width: 8,
				Bore: d.mm(4.9, 5, 6, 7), Material: parts.Wood, CanDrill: d.oneIn(2)})
		}
		if d.oneIn(4) {
			b.Frame.Ground, b.Frame.HasGround = d.mm(-10, -15), true
		}
		b.Speed.Linear = along(cup.Wheels[d.IntN(2)].Diameter)
	case brief.Lift:
		b.Load.Mass, b.Load.CordDiameter = units.Grams(d.pick(10, 30, 60)), d.mm(0, 1)
		b.Load.CordLeaves = []brief.Way{brief.Down, brief.Down, brief.Up, brief.Left}[d.IntN(4)]
		for i, across := range []mm{d.mm(8, 12), d.mm(20, 30)} {
			cup.Drums = append(cup.Drums, parts.Drum{Item: item(fmt.Sprintf("drum-%d", i), 1), Diameter: across, Width: 12, Bore: bore6(d), Material: parts.Wood, CanDrill: true})
		}
		b.Speed.Linear = along(cup.Drums[d.IntN(2)].Diameter)
		if d.oneIn(3) {
			b.Load.Tackles = []brief.Tackle{{Parts: 1, Efficiency: 1}, {Parts: 2, Efficiency: 0.85}}
		}
	case brief.PlainShaft:
		b.Load.Mass, b.Load.Torque, b.Speed.Turning = 0, units.NewtonMillimetres(d.pick(0.5, 2, 5)), units.RPM(turns)
	case brief.UprightRide:
		b.Load.PivotRadius, b.Load.LoadRadius, b.Speed.Turning = 2.5, 60, units.RPM(turns)
	case brief.LevelRide:
		b.Load.OutOfBalance, b.Load.OutOfBalanceRadius, b.Speed.Turning = units.Grams(d.pick(2, 5)), 30, units.RPM(turns)
	}
}

// discs lets a pulley be made of card, for one set or two.
func (d drawing) discs(cup *parts.Cupboard, b *brief.Brief) {
	cup.Sheets = []parts.SheetStock{{Item: parts.Item{Name: "card", Count: 1 + d.IntN(3)}, Kind: parts.PlainCard, Thickness: d.mm(1.5, 2), Length: d.mm(120, 200), Width: 100}}
	cup.Cutters = []parts.Cutter{{Item: parts.Item{Name: "scissors", Count: 1}, Way: parts.Scissors, Smallest: 20, Largest: d.mm(45, 60), Step: 20}}
	cup.Discs = &parts.Discs{Bores: []mm{5}, Most: 4 + 4*d.IntN(3)}
	b.Making.Discs, b.Making.Glue = true, true
	b.Weights.MadePulley = d.pick(0, 0.5, 3)
}

func bore6(d drawing) mm { return d.mm(4.9, 5, 6) }

// rods draws dowel in two lengths, and in half of the cases thinner steel: about as much as
// all sets take, with and without what the saw takes.
func (d drawing) rods(cup *parts.Cupboard, b *brief.Brief) {
	inner, output := drive.AxleLength(b), drive.OutputAxleLength(b, nil, nil)
	if len(cup.Wheels) > 0 {
		output = drive.OutputAxleLength(b, &cup.Wheels[0], nil)
	}
	if len(cup.Drums) > 0 {
		output = drive.OutputAxleLength(b, nil, &cup.Drums[0])
	}
	rod := func(name string, across mm, of parts.Material, count int) {
		length := d.mm(float64(output), float64(inner+output+1), float64(2*output+1), float64(inner+2*output+2)) + d.mm(-0.5, 0, 0, 25)
		if b.Model == brief.Vehicle && across == 5 { // whose free axle is one more
			length = d.mm(float64(2*output+1), float64(inner+2*output+2)) + d.mm(-0.5, 0, 0, 25)
		}
		cup.Axles = append(cup.Axles, parts.AxleStock{Item: parts.Item{Name: name, Count: count}, Diameter: across, Length: length, Material: of})
	}
	rod("dowel-a", 5, parts.Wood, b.Sets)
	rod("dowel-b", 5, parts.Wood, d.IntN(b.Sets+1))
	if d.oneIn(2) {
		rod("steel-a", 4, parts.Steel, b.Sets)
		rod("steel-b", 4, parts.Steel, d.IntN(b.Sets+1))
		for i := range cup.Axles[2:] {
			cup.Axles[2+i].Assumed = []string{"steel taken as silver steel"}
		}
	}
}

// proves has the proof of a list written. It must be of the best: nothing in the space
// that is better may turn up.
func proves(cup *parts.Cupboard, b *brief.Brief, keep int, list []proof.Listed) ([]byte, error) {
	return proof.Record(context.Background(), cup, b, keep, list)
}

// TestListsOfScarceCupboards holds what the checker says of drawn cases, for every kind of
// model, to the drives that there are, as the search has them. It accepts the list. It
// finds each drive that is struck out of it. What a proof of the best alone says of a part
// of the space is no more than what a drive costs that lies in it. And the best is proved
// with nothing but its own parts in the cupboard, and with one of them less it is not.
func TestListsOfScarceCupboards(t *testing.T) {
	t.Parallel()
	const longest = 6
	drives, lacking, struck, figures := map[brief.Model]int{}, map[string]int{}, 0, 0
	for seed := range uint64(scarceCases) {
		if slices.Contains([]uint64{11, 24, 25}, seed) {
			continue // which take as long as twenty others
		}
		cup, b := scarceCase(seed)
		why := fmt.Sprintf("%s, seed %d", b.Model, seed)
		all := list(t, cup, b, longest)
		drives[b.Model] += len(all)
		keep := max(1, len(all))
		if seed%4 == 0 {
			keep = longest // and nothing else is worth building
		}
		_, err := proves(cup, b, keep, all)
		require.NoError(t, err, why)
		for i := range all {
			// The list ends after the drive that comes next, or, without the last, goes no further.
			without, asked := slices.Delete(slices.Clone(all[:min(i+2, len(all))]), i, i+1), i+1
			_, err := proves(cup, b, asked, without)
			require.ErrorIs(t, err, proof.ErrMissed, "%s: without drive %d of %d, %+v", why, i+1, len(all), all[i])
			struck++
		}
		if len(all) > 0 {
			heldToStock(t, cup, b, all[0], lacking, why)
		}
		if len(all) > 1 {
			figures += heldToFigures(t, cup, b, all, why)
		}
	}
	t.Log(drives, struck, figures, lacking)
	for _, model := range models {
		assert.Greater(t, drives[model], 8, model)
	}
	assert.Greater(t, figures, 50)
	for _, kind := range []string{"pulley", "band", "motor", "cells", "sleeve", "wheel", "drum"} {
		assert.Greater(t, lacking[kind], 2, kind)
	}
}

const scarceCases = 45

// heldToStock leaves a cupboard only the parts of its best drive, which then still is the
// best, and takes one of each away, with which it is none. It counts the kinds of those.
func heldToStock(t *testing.T, cup *parts.Cupboard, b *brief.Brief, best proof.Listed, lacking map[string]int, why string) {
	t.Helper()
	takes := partsOf(b, &best)
	left := func(lacks string) *parts.Cupboard {
		return cup.Recounted(func(kind string, it *parts.Item) int {
			switch n := takes[it.Name]; {
			case it.Name == lacks:
				return n - 1
			case kind == "axle" || kind == "sheet":
				return it.Count
			default:
				return n
			}
		})
	}
	_, err := proves(left(""), b, 1, []proof.Listed{best})
	require.NoError(t, err, "%s: %+v", why, best)
	cup.Recounted(func(kind string, it *parts.Item) int {
		if takes[it.Name] > 0 {
			_, err := proves(left(it.Name), b, 1, []proof.Listed{best})
			require.Error(t, err, "%s: a %s too few: %+v", why, it.Name, best)
			require.NotErrorIs(t, err, proof.ErrMissed)
			lacking[kind]++
		}
		return it.Count
	})
}

// partsOf is what all sets take of each part of a listed drive, but for rods.
func partsOf(b *brief.Brief, l *proof.Listed) map[string]int {
	takes := map[string]int{}
	outputs := 1
	if b.Model == brief.Vehicle {
		outputs = drive.VehicleWheels
	}
	take := func(name string, pieces int) { takes[name] += pieces * b.Sets }
	joint := func(word string, pieces int) {
		if sleeve, is := strings.CutPrefix(word, "sleeve "); is {
			take(sleeve, pieces)
		}
	}
	take(l.Motor, 1)
	take(l.Cells, 1)
	take(l.Output, outputs)
	joint(l.OutputJoint, outputs)
	for _, st := range l.Stages {
		take(st.Driver, 1)
		take(st.Driven, 1)
		joint(st.DriverJoint, 1)
		joint(st.DrivenJoint, 1)
		bands := 1
		if st.Use == drive.Paired.String() {
			bands = 2
		}
		take(st.Band, bands)
	}
	return takes
}

// heldToFigures has a proof of the best drive alone, and holds what it says of the parts of
// the space to what the others cost. It gives how many it found.
func heldToFigures(t *testing.T, cup *parts.Cupboard, b *brief.Brief, all []proof.Listed, why string) int {
	t.Helper()
	data, err := proves(cup, b, 1, all[:1])
	require.NoError(t, err, why)
	head, lines := cut(t, unpack(t, data))
	said := map[string]string{} // what is said of each part
	for _, line := range lines {
		at := strings.LastIndex(line, " ")
		said[line[:at]] = line[at+1:]
	}
	held := 0
	for _, l := range all[1:] {
		last := l.Stages[len(l.Stages)-1]
		at := fmt.Sprintf("%s %s", headKey(t, head, b, &l), levelKey(t, head, &l))
		word, found := said[at]
		if !found {
			word, found = said[fmt.Sprintf("%s p%d,%d", at, pulleyKey(t, head, last.Driven), pulleyKey(t, head, last.Driver))]
		}
		require.True(t, found, "%s: nothing is said of %+v", why, l)
		require.NotEqual(t, "none", word, "%s: %+v", why, l)
		least, err := strconv.ParseFloat(word, 64)
		require.NoError(t, err)
		require.LessOrEqual(t, least, l.Points+1e-9, "%s: %+v", why, l)
		require.GreaterOrEqual(t, least, all[0].Points, why)
		held++
	}
	return held
}

// keyOf is the key of the name of a proof that ends so.
func keyOf(t *testing.T, head, name string) string {
	t.Helper()
	for line := range strings.Lines(head) {
		if key, is, found := strings.Cut(strings.TrimSuffix(line, "\n"), ": "); found && is == name {
			return key
		}
	}
	require.Fail(t, "a name is missing", name)
	return ""
}

func headKey(t *testing.T, head string, b *brief.Brief, l *proof.Listed) string {
	name := fmt.Sprintf("%d stages, motor %q, cells %q", len(l.Stages), l.Motor, l.Cells)
	if l.Output != "" {
		name += fmt.Sprintf(", %s %q", map[bool]string{true: "wheel", false: "drum"}[b.Model == brief.Vehicle], l.Output)
	}
	key := keyOf(t, head, name)
	if len(b.Load.Tackles) > 1 {
		at := slices.IndexFunc(b.Load.Tackles, func(o brief.Tackle) bool { return o.Parts == l.RopeParts })
		key = strings.Replace(key, "t0", fmt.Sprintf("t%d", at), 1)
	}
	return key
}

func levelKey(t *testing.T, head string, l *proof.Listed) string {
	return keyOf(t, head, fmt.Sprintf("holes out of place by %g mm", l.HoleError))
}

func pulleyKey(t *testing.T, head, pulley string) int {
	n, err := strconv.Atoi(strings.TrimPrefix(keyOf(t, head, strconv.Quote(pulley)), "p"))
	require.NoError(t, err)
	return n
}
