package parts

import (
	"cmp"
	"slices"
	"sort"
)

// Kind is parts that are alike in every way that matters, so that two tubs of the same
// pulley count as one. It is an error of a drive's definition to tell them apart.
type Kind[P any] struct {
	Part  P        // the first by name
	Names []string // of all, by name
	Count int      // together
}

// kindsOf puts equal parts together, and the kinds in the order of equals: by order, then
// by the first name. Parts are alike where order does not tell them apart and as much of
// them is assumed.
func kindsOf[P any](list []P, item func(*P) *Item, order func(a, b *P) int) []Kind[P] {
	// Of package sort, whose code does for all kinds: that of slices is made for each anew, which in
	// the page is a tenth of a megabyte.
	all := make([]*P, len(list))
	for i := range list {
		all[i] = &list[i]
	}
	alike := func(a, b *P) int { return cmp.Or(order(a, b), len(item(a).Assumed)-len(item(b).Assumed)) }
	sort.Slice(all, func(i, j int) bool {
		return cmp.Or(alike(all[i], all[j]), cmp.Compare(item(all[i]).Name, item(all[j]).Name)) < 0
	})
	var out []Kind[P]
	for i, p := range all {
		if i == 0 || alike(all[i-1], p) != 0 {
			out = append(out, Kind[P]{Part: *p})
		}
		k := &out[len(out)-1]
		k.Names, k.Count = append(k.Names, item(p).Name), k.Count+item(p).Count
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		return cmp.Or(order(&a.Part, &b.Part), cmp.Compare(a.Names[0], b.Names[0])) < 0
	})
	return out
}

// Find is the place of the kind with a part of a name; -1 if there is none.
func Find[P any](kinds []Kind[P], name string) int {
	return slices.IndexFunc(kinds, func(k Kind[P]) bool { return slices.Contains(k.Names, name) })
}

// Asked are the places of the kinds that a name asks for: all if it is empty.
func Asked[P any](kinds []Kind[P], name string) []int {
	var out []int
	for i := range kinds {
		if name == "" || slices.Contains(kinds[i].Names, name) {
			out = append(out, i)
		}
	}
	return out
}

// PulleyKinds are the kinds of some pulleys.
func PulleyKinds(list []Pulley) []Kind[Pulley] {
	return kindsOf(list, func(p *Pulley) *Item { return &p.Item }, func(a, b *Pulley) int {
		return cmp.Or(cmp.Compare(a.Outside, b.Outside), cmp.Compare(a.GrooveFloor, b.GrooveFloor),
			cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width), cmp.Compare(a.GrooveWidth, b.GrooveWidth),
			cmp.Compare(a.GrooveAngle, b.GrooveAngle), cmp.Compare(a.Material, b.Material), CompareBool(a.CanDrill, b.CanDrill), CompareBool(a.Made != nil, b.Made != nil))
	})
}

// BandKinds are the kinds of some bands.
func BandKinds(list []Band) []Kind[Band] {
	return kindsOf(list, func(p *Band) *Item { return &p.Item }, func(a, b *Band) int {
		return cmp.Or(cmp.Compare(a.FlatLength, b.FlatLength), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.PullFactor, b.PullFactor),
			cmp.Compare(a.StretchLimit, b.StretchLimit), CompareBool(a.Calibrated, b.Calibrated))
	})
}

// Strength is what a motor stalls at for each volt, in N·mm.
func (m *Motor) Strength() float64 { return float64(m.StallTorque) / float64(m.Rated) }

// MotorKinds are the kinds of some motors, the stronger first, and of equally strong ones the
// slower.
func MotorKinds(list []Motor) []Kind[Motor] {
	return kindsOf(list, func(p *Motor) *Item { return &p.Item }, func(a, b *Motor) int {
		return cmp.Or(cmp.Compare(b.Strength(), a.Strength()),
			cmp.Compare(a.FreeSpeed, b.FreeSpeed), cmp.Compare(a.Rated, b.Rated),
			cmp.Compare(a.FreeCurrent, b.FreeCurrent), cmp.Compare(a.StallTorque, b.StallTorque),
			cmp.Compare(a.StallCurrent, b.StallCurrent), cmp.Compare(a.ShaftDiameter, b.ShaftDiameter),
			cmp.Compare(a.ShaftLength, b.ShaftLength), cmp.Compare(a.BodyLength, b.BodyLength),
			cmp.Compare(a.BodyWidth, b.BodyWidth), cmp.Compare(a.BodyHeight, b.BodyHeight),
			cmp.Compare(a.VoltsLeast, b.VoltsLeast), cmp.Compare(a.VoltsMost, b.VoltsMost), CompareBool(a.Calibrated, b.Calibrated), cmp.Compare(a.SpeedKnown, b.SpeedKnown))
	})
}

// HolderKinds are the kinds of some cell holders.
func HolderKinds(list []CellHolder) []Kind[CellHolder] {
	return kindsOf(list, func(p *CellHolder) *Item { return &p.Item }, func(a, b *CellHolder) int {
		return cmp.Or(cmp.Compare(a.Cells, b.Cells), cmp.Compare(a.OpenVoltage, b.OpenVoltage), cmp.Compare(a.Condition, b.Condition), CompareBool(a.Measured, b.Measured),
			cmp.Compare(a.CellResistance, b.CellResistance), cmp.Compare(a.Capacity, b.Capacity), cmp.Compare(a.Chemistry, b.Chemistry))
	})
}

// AxleKinds sets lengths aside, for axles are cut from rods of any. The part that
// stands for a kind has the length of its longest rod.
func AxleKinds(list []AxleStock) []Kind[AxleStock] {
	out := kindsOf(list, func(p *AxleStock) *Item { return &p.Item }, func(a, b *AxleStock) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Material, b.Material))
	})
	for k := range out {
		for i := range list {
			if slices.Contains(out[k].Names, list[i].Name) {
				out[k].Part.Length = max(out[k].Part.Length, list[i].Length)
			}
		}
	}
	return out
}

// SleeveKinds sets aside how long a piece is, for each use takes one piece, and what was
// assumed, for a sleeve is charged for as a joint only.
func SleeveKinds(list []Sleeve) []Kind[Sleeve] {
	list = slices.Clone(list)
	for i := range list {
		list[i].Assumed = nil
	}
	return kindsOf(list, func(s *Sleeve) *Item { return &s.Item }, func(a, b *Sleeve) int {
		return cmp.Or(cmp.Compare(a.Inner, b.Inner), cmp.Compare(a.Outer, b.Outer))
	})
}

// WheelKinds are the kinds of some wheels.
func WheelKinds(list []Wheel) []Kind[Wheel] {
	return kindsOf(list, func(p *Wheel) *Item { return &p.Item }, func(a, b *Wheel) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Material, b.Material), CompareBool(a.CanDrill, b.CanDrill))
	})
}

// DrumKinds are the kinds of some drums.
func DrumKinds(list []Drum) []Kind[Drum] {
	return kindsOf(list, func(p *Drum) *Item { return &p.Item }, func(a, b *Drum) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Material, b.Material), CompareBool(a.CanDrill, b.CanDrill))
	})
}

// CompareBool puts what is not so before what is.
func CompareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
