// Package parts says what stands in the cupboard: pulleys, bands, motors,
// cell holders, axles and the small things between them, and reads
// cupboard.toml with every entry checked on its own.
package parts

import "findrive/internal/units"

// Cupboard is everything there is to build from. Each slice is sorted by
// name, so that the order of the file never matters.
type Cupboard struct {
	Name    string
	Pulleys []Pulley
	Bands   []Band
	Motors  []Motor
	Holders []CellHolder
	Axles   []AxleStock
	Sleeves []Sleeve
	Spacers []Spacer
	Wheels  []Wheel
	Drums   []Drum
	Blocks  []Block
	Cords   []Cord
	// What pulleys can be made of, and how. Left out of fingerprints where there is none,
	// so that those of cupboards without stay what they were.
	Sheets  []SheetStock `json:",omitempty"`
	Cutters []Cutter     `json:",omitempty"`
	Discs   *Discs       `json:",omitempty"` // nil without sheets and cutters
	// Remembered are drives that were built and counted, from a calibration file. They are
	// no parts, and change nothing about what can be built.
	Remembered []CountedDrive `json:"-"`
	// Learned names the motors and bands that a calibration file told of, in its order.
	Learned Learned `json:"-"`
}

// Learned are names of parts of which something was learned by counting or weighing.
type Learned struct{ Motors, Bands []string }

// Item is what every kind of part has in common.
type Item struct {
	Name     string // the part's identity: the table name in the file
	Location string // where it is kept; may be empty
	Count    int    // how many there are; 0 for a part that has run out
	// PricePence is the price of one in integer minor units, 0 if not given.
	PricePence int64
	// Assumed lists the facts the file did not give, each a sentence such as
	// "groove floor taken as 6 mm (outside less 4 mm)". A drive that relies
	// on one says so and ranks a little lower.
	Assumed []string
}

// Item is the entry of a kind of part, as the tables of the file name it
// ("pulley", "cells" ...), and a name; nil if there is none.
func (c *Cupboard) Item(kind, name string) *Item {
	switch kind {
	case "pulley":
		return find(c.Pulleys, name, func(p *Pulley) *Item { return &p.Item })
	case "band":
		return find(c.Bands, name, func(p *Band) *Item { return &p.Item })
	case "motor":
		return find(c.Motors, name, func(p *Motor) *Item { return &p.Item })
	case "cells":
		return find(c.Holders, name, func(p *CellHolder) *Item { return &p.Item })
	case "axle":
		return find(c.Axles, name, func(p *AxleStock) *Item { return &p.Item })
	case "sleeve":
		return find(c.Sleeves, name, func(p *Sleeve) *Item { return &p.Item })
	case "spacer":
		return find(c.Spacers, name, func(p *Spacer) *Item { return &p.Item })
	case "wheel":
		return find(c.Wheels, name, func(p *Wheel) *Item { return &p.Item })
	case "drum":
		return find(c.Drums, name, func(p *Drum) *Item { return &p.Item })
	case "block":
		return find(c.Blocks, name, func(p *Block) *Item { return &p.Item })
	case "cord":
		return find(c.Cords, name, func(p *Cord) *Item { return &p.Item })
	case "sheet":
		return find(c.Sheets, name, func(p *SheetStock) *Item { return &p.Item })
	case "cutter":
		return find(c.Cutters, name, func(p *Cutter) *Item { return &p.Item })
	}
	return nil
}

func find[P any](list []P, name string, item func(*P) *Item) *Item {
	for i := range list {
		if it := item(&list[i]); it.Name == name {
			return it
		}
	}
	return nil
}

// Pulley is a grooved wheel for a band.
type Pulley struct {
	Item
	Outside     units.Millimetres // over the rims
	GrooveFloor units.Millimetres // diameter at the bottom of the groove, where the band sits
	GrooveWidth units.Millimetres // room for bands at the floor
	// GrooveAngle is the full included angle of a V groove; 0 for a flat or
	// round floor, which gives no wedging.
	GrooveAngle units.Radians
	Width       units.Millimetres // along the axle, hub included
	Bore        units.Millimetres
	Material    Material
	// CanDrill is whether the hub can take a larger bore. Unless the file
	// says otherwise it is so for wood and plastic, not for metal.
	CanDrill bool
	// Made is how it is made of discs; nil for one there is.
	Made *Made `json:",omitempty"`
}

// Band is one kind of rubber band.
type Band struct {
	Item
	Size       string            // trade size number, may be empty
	FlatLength units.Millimetres // half the rest loop
	Width      units.Millimetres
	Thickness  units.Millimetres
	// PullFactor scales the default rubber's pull: 1 unless a weight was hung
	// from the band (see Calibrated).
	PullFactor float64
	// Calibrated is true when PullFactor comes from a measurement; the range
	// stated for its pull is then narrower.
	Calibrated bool
	// StretchLimit overrides the largest running stretch of the brief; 0 if
	// not given.
	StretchLimit float64
}

// Motor is a small brushed motor as its sheet describes it.
type Motor struct {
	Item
	Rated units.Volts
	// VoltsLeast and VoltsMost are the range on its packet; 0 if there is none.
	VoltsLeast, VoltsMost units.Volts
	FreeSpeed             units.RPM
	FreeCurrent           units.Amps
	StallTorque           units.NewtonMillimetres
	StallCurrent          units.Amps
	ShaftDiameter         units.Millimetres
	ShaftLength           units.Millimetres
	BodyLength            units.Millimetres // along the shaft
	BodyWidth             units.Millimetres // across the shaft, the larger way (laid level)
	BodyHeight            units.Millimetres // across the shaft, the smaller way
	Mass                  units.Grams
	// Calibrated is true when the free speed was counted on the user's motor.
	Calibrated bool
	// SpeedKnown is how far off the free speed may be, as a share, where counts tell it less
	// narrowly than that; 0 where they do not.
	SpeedKnown float64 `json:",omitempty"`
}

// CellHolder carries cells in series.
type CellHolder struct {
	Item
	Cells       int
	Chemistry   string
	Condition   Condition   // fresh, used, or empty for not known
	OpenVoltage units.Volts // of one cell: what is printed on it, or Measured
	// Measured is true when the open voltage was measured on the cells at hand.
	Measured       bool
	CellResistance units.Ohms // of one cell
	Capacity       units.MilliampHours
}

// Condition is how far cells are used up.
type Condition string

// The conditions of cells.
const (
	Fresh Condition = "fresh"
	Used  Condition = "used"
)

// AxleStock is rod or dowel to cut axles from.
type AxleStock struct {
	Item
	Diameter units.Millimetres
	Length   units.Millimetres // of one piece
	Material Material
}

// Sleeve is tube that packs a shaft out to a larger bore.
type Sleeve struct {
	Item
	Inner, Outer units.Millimetres
	Length       units.Millimetres // of one piece; each use takes one piece
}

// Spacer is a washer or bead that keeps lanes apart.
type Spacer struct {
	Item
	Bore, Outside, Thickness units.Millimetres
}

// Wheel carries a vehicle.
type Wheel struct {
	Item
	Diameter, Width, Bore units.Millimetres
	Material              Material
	CanDrill              bool
}

// Drum winds a cord.
type Drum struct {
	Item
	Diameter, Width, Bore units.Millimetres
	Material              Material
	CanDrill              bool
}

// Material is what a part is made of; it settles friction and drilling.
type Material string

// The materials the program knows.
const (
	Wood    Material = "wood"
	Card    Material = "card"
	Plastic Material = "plastic"
	Rubber  Material = "rubber"
	Steel   Material = "steel"
	Brass   Material = "brass"
	Alloy   Material = "aluminium"
)

// Materials lists them.
func Materials() []Material { return append([]Material(nil), materials...) }

// materials lists the names a file may use.
var materials = []Material{Wood, Card, Plastic, Rubber, Steel, Brass, Alloy}
