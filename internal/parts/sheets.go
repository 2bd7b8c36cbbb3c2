package parts

import (
	"slices"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// SheetStock is sheet that discs can be cut from: pieces of one kind and size.
type SheetStock struct {
	Item
	Kind          Sheet
	Thickness     units.Millimetres
	Length, Width units.Millimetres // of one piece, the longer way first
}

// Material is what the rules take the sheet for: its friction, its density and whether
// it can be drilled.
func (s *SheetStock) Material() Material {
	switch s.Kind {
	case Plywood, Fibreboard:
		return Wood
	case FlutedPlastic:
		return Plastic
	}
	return Card
}

// CuttingWay is a way to cut a round out of sheet.
type CuttingWay string

// The ways to cut rounds. All but scissors are an adult's.
const (
	Scissors   CuttingWay = "compass and scissors"
	CraftKnife CuttingWay = "craft knife"
	HoleSaw    CuttingWay = "hole saw"
	Laser      CuttingWay = "laser"
)

// cuttingWays lists them, the most exact last.
var cuttingWays = []CuttingWay{Scissors, CraftKnife, HoleSaw, Laser}

// Adult reports whether only an adult may do it.
func (w CuttingWay) Adult() bool { return w != Scissors }

// Cuts reports whether a way cuts a kind of sheet of some thickness: scissors card up to
// 2.5 mm and a craft knife sheet of card or plastic up to 5 mm (judgement); a hole saw and
// a laser cutter what a school has, but no fluted sheet with a saw, which tears it, and no
// plastic with a laser, since some of it gives off harmful fumes (common practice).
func (w CuttingWay) Cuts(s Sheet, thickness units.Millimetres) bool {
	switch w {
	case Scissors:
		return (s == PlainCard || s == FlutedCard) && thickness <= mostByShears
	case CraftKnife:
		return s != Plywood && s != Fibreboard && thickness <= mostByKnife
	case HoleSaw:
		return s == Plywood || s == Fibreboard
	}
	return s != FlutedPlastic
}

const (
	mostByShears units.Millimetres = 2.5
	mostByKnife  units.Millimetres = 5
)

// Cutter is something that cuts rounds, a tool and no stock; one of which there are none
// cuts nothing. It cuts rounds of any diameter on a step from the smallest
// to the largest, or of certain sizes.
type Cutter struct {
	Item
	Way               CuttingWay
	Smallest, Largest units.Millimetres
	Step              units.Millimetres
	Sizes             []units.Millimetres // of hole saws, ascending; then the others are 0
	Pilot             units.Millimetres   // of hole saws: the hole that their own drill leaves in a disc
}

// Diameters lists the rounds a cutter makes, ascending.
func (c *Cutter) Diameters() []units.Millimetres {
	if len(c.Sizes) > 0 {
		return c.Sizes
	}
	var out []units.Millimetres
	for k := 0; ; k++ {
		// On whole steps from 0, so that two cutters of one step cut the same rounds.
		d := units.Millimetres(k) * c.Step
		if d > c.Largest+1e-9 {
			return out
		}
		if d >= c.Smallest-1e-9 {
			out = append(out, d)
		}
	}
}

// Discs is what else is to be known of making discs.
type Discs struct {
	Bores []units.Millimetres // holes that can be drilled through them, ascending
	Most  int                 // how many discs a group may cut
}

// Made is how a pulley is made: Layers of core discs, one on the other, between two
// flanges, on a bore. Nil for a pulley that is in the cupboard.
type Made struct {
	Core, Flange Disc
	Layers       int
	// Error is how far the diameter of the core may be out, either way; Wobble how far
	// the bore may be off its middle.
	Error, Wobble units.Millimetres
}

// Disc is a round of sheet.
type Disc struct {
	Sheet     string // name of the SheetStock
	Kind      Sheet
	Thickness units.Millimetres
	Diameter  units.Millimetres
	Cutter    string // name
	Way       CuttingWay
}

// ToBeMade is the place of a pulley that is to be made.
const ToBeMade = "to be made"

// flanges of a pulley: one on either side of the core.
const flanges = 2

// Count is how many discs a made pulley takes.
func (m *Made) Count() int { return m.Layers + flanges }

// Pieces are the discs of a made pulley, the core first.
func (m *Made) Pieces() []Disc {
	var out []Disc
	for range m.Layers {
		out = append(out, m.Core)
	}
	return append(out, m.Flange, m.Flange)
}

// What is taken if a file does not say (common practice: a pair of compasses from a pencil
// case reaches a little over 100 mm across; scissors cut no neat round smaller than
// 20 mm; hand drills come with bits of 2 to 8 mm).
const (
	usualSmallest units.Millimetres = 20
	usualLargest  units.Millimetres = 120
	usualStep     units.Millimetres = 5
	usualMost                       = 12
	// usualPilot is the drill in the middle of a hole saw (common practice: 6 mm or 1/4 in).
	usualPilot units.Millimetres = 6
	// MostDiscs is more discs than a group would cut.
	MostDiscs = 100
	mostSizes = 40
	leastStep = 1
)

func usualBores() []units.Millimetres { return []units.Millimetres{2, 3, 4, 5, 6, 8} }

// readSheet reads a [sheet.NAME] table:
//
//	kind           "card", "corrugated card", "plywood", "MDF" or "corrugated plastic";
//	               otherwise card
//	thickness      needed
//	length, width  of one piece; needed
func readSheet(it Item, t *tomlfile.Table) SheetStock {
	s := SheetStock{Item: it}
	kinds := []string{string(PlainCard), string(FlutedCard), string(Plywood), string(Fibreboard), string(FlutedPlastic)}
	s.Kind = Sheet(t.Choice("kind", string(PlainCard), kinds...))
	s.Thickness = needed(t, "thickness", sizes{Least: 0.2, Most: 12})
	piece := sizes{Least: 20, Most: 3000}
	s.Length, s.Width = needed(t, "length", piece), needed(t, "width", piece)
	if s.Length < s.Width {
		s.Length, s.Width = s.Width, s.Length
	}
	return s
}

// readCutter reads a [cutter.NAME] table:
//
//	way       "compass and scissors" (otherwise), "craft knife", "hole saw" or "laser"
//	smallest  diameter of the smallest round, otherwise 20 mm
//	largest   otherwise 120 mm
//	step      of the diameters between, otherwise 5 mm
//	sizes     of hole saws, instead of these three: ["32 mm", "44 mm"]
//	pilot     of hole saws: diameter of the drill in their middle, otherwise 6 mm
func readCutter(it Item, t *tomlfile.Table) Cutter {
	c := Cutter{Item: it}
	names := make([]string, len(cuttingWays))
	for i, w := range cuttingWays {
		names[i] = string(w)
	}
	c.Way = CuttingWay(t.Choice("way", string(Scissors), names...))
	round := sizes{Least: 10, Most: 400}
	if c.Way == HoleSaw {
		t.Need("sizes", `["32 mm", "44 mm"]`)
		for _, key := range []string{"smallest", "largest", "step"} {
			t.Refuse(key, "hole saws have sizes: write sizes = [\"32 mm\", \"44 mm\"]")
		}
		c.Sizes = readLengths(t, "sizes", `["32 mm", "44 mm"]`, round)
		c.Pilot = tomlfile.Quantity(t, "pilot", &units.Lengths, usualPilot, boreSize)
		return c
	}
	t.Refuse("pilot", "only hole saws leave a hole of their own: write way = \"hole saw\" as well")
	t.Refuse("sizes", "sizes are those of hole saws: write way = \"hole saw\" as well, or smallest, largest and step")
	c.Smallest = tomlfile.Quantity(t, "smallest", &units.Lengths, usualSmallest, round)
	c.Largest = tomlfile.Quantity(t, "largest", &units.Lengths, max(usualLargest, c.Smallest), round)
	c.Step = tomlfile.Quantity(t, "step", &units.Lengths, usualStep, sizes{Least: leastStep, Most: 100})
	if t.Good("smallest", "largest") && c.Largest < c.Smallest {
		key := "largest"
		if !t.Has(key) {
			key = "smallest"
		}
		t.Fail(key, "the largest round, %s, is smaller than the smallest, %s", units.Lengths.Format(c.Largest), units.Lengths.Format(c.Smallest))
	} else if t.Good("smallest", "largest", "step") && len(c.Diameters()) == 0 {
		t.Fail("step", "no whole number of steps of %s is from %s to %s", units.Lengths.Format(c.Step), units.Lengths.Format(c.Smallest), units.Lengths.Format(c.Largest))
	}
	return c
}

// readDiscs reads [discs]: bores, the holes that can be drilled, otherwise 2, 3, 4, 5, 6
// and 8 mm; and most, how many discs a group may cut, otherwise 12.
func readDiscs(t *tomlfile.Table) Discs {
	d := Discs{Bores: usualBores()}
	if t.Has("bores") {
		d.Bores = readLengths(t, "bores", `["4 mm", "5 mm"]`, boreSize)
	}
	d.Most = t.Whole("most", usualMost, 3, MostDiscs)
	t.Close()
	return d
}

// readLengths reads a list of lengths, ascending and each once.
func readLengths(t *tomlfile.Table, key, example string, within sizes) []units.Millimetres {
	var out []units.Millimetres
	for _, v := range t.List(key, example, mostSizes) {
		d, err := tomlfile.Measure(v, &units.Lengths, within)
		if err != nil {
			t.Fail(key, "in the list: %v", err)
			return nil
		}
		out = append(out, d)
	}
	if len(out) == 0 && t.Has(key) && t.Good(key) {
		t.Fail(key, "the list is empty: write for example %s", example)
	}
	slices.Sort(out)
	return slices.Compact(out)
}
