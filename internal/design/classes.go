package design

import (
	"cmp"
	"slices"

	"findrive/internal/parts"
)

// class gathers the parts that are alike in every way that matters, so that two
// tubs of the same pulley count as one and do not fill the ranking with copies.
// The part shown is the first by name.
type class[P any] struct {
	Part  P
	Names []string // all of the class, by name
	Count int      // together
}

// classes merges equal parts and puts them in the order the tie rule uses:
// by order, then by the first name. same says whether two parts are alike
// once their Item is set aside.
func classes[P any](list []P, item func(*P) *parts.Item, order func(a, b *P) int) []class[P] {
	var out []class[P]
	for i := range list {
		p := &list[i]
		k := slices.IndexFunc(out, func(c class[P]) bool {
			return order(&c.Part, p) == 0 && len(item(&c.Part).Assumed) == len(item(p).Assumed)
		})
		if k < 0 {
			out = append(out, class[P]{Part: *p, Names: []string{item(p).Name}, Count: item(p).Count})
			continue
		}
		out[k].Names = append(out[k].Names, item(p).Name)
		out[k].Count += item(p).Count
		if item(p).Name < item(&out[k].Part).Name {
			out[k].Part = *p
		}
	}
	for i := range out {
		slices.Sort(out[i].Names)
	}
	slices.SortFunc(out, func(a, b class[P]) int {
		return cmp.Or(order(&a.Part, &b.Part), cmp.Compare(a.Names[0], b.Names[0]))
	})
	return out
}

func pulleyClasses(list []parts.Pulley) []class[parts.Pulley] {
	return classes(list, func(p *parts.Pulley) *parts.Item { return &p.Item }, func(a, b *parts.Pulley) int {
		return cmp.Or(cmp.Compare(a.Outside, b.Outside), cmp.Compare(a.GrooveFloor, b.GrooveFloor),
			cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width), cmp.Compare(a.GrooveWidth, b.GrooveWidth),
			cmp.Compare(a.GrooveAngle, b.GrooveAngle), cmp.Compare(a.Material, b.Material), compareBool(a.CanDrill, b.CanDrill), compareBool(a.Made != nil, b.Made != nil))
	})
}

func bandClasses(list []parts.Band) []class[parts.Band] {
	return classes(list, func(p *parts.Band) *parts.Item { return &p.Item }, func(a, b *parts.Band) int {
		return cmp.Or(cmp.Compare(a.FlatLength, b.FlatLength), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Thickness, b.Thickness), cmp.Compare(a.PullFactor, b.PullFactor),
			cmp.Compare(a.StretchLimit, b.StretchLimit), compareBool(a.Calibrated, b.Calibrated))
	})
}

func motorClasses(list []parts.Motor) []class[parts.Motor] {
	return classes(list, func(p *parts.Motor) *parts.Item { return &p.Item }, func(a, b *parts.Motor) int {
		return cmp.Or(cmp.Compare(a.FreeSpeed, b.FreeSpeed), cmp.Compare(a.Rated, b.Rated),
			cmp.Compare(a.FreeCurrent, b.FreeCurrent), cmp.Compare(a.StallTorque, b.StallTorque),
			cmp.Compare(a.StallCurrent, b.StallCurrent), cmp.Compare(a.ShaftDiameter, b.ShaftDiameter),
			cmp.Compare(a.ShaftLength, b.ShaftLength), cmp.Compare(a.BodyLength, b.BodyLength),
			cmp.Compare(a.BodyWidth, b.BodyWidth), cmp.Compare(a.BodyHeight, b.BodyHeight),
			cmp.Compare(a.VoltsLeast, b.VoltsLeast), cmp.Compare(a.VoltsMost, b.VoltsMost), compareBool(a.Calibrated, b.Calibrated), cmp.Compare(a.SpeedKnown, b.SpeedKnown))
	})
}

func holderClasses(list []parts.CellHolder) []class[parts.CellHolder] {
	return classes(list, func(p *parts.CellHolder) *parts.Item { return &p.Item }, func(a, b *parts.CellHolder) int {
		return cmp.Or(cmp.Compare(a.Cells, b.Cells), cmp.Compare(a.OpenVoltage, b.OpenVoltage), cmp.Compare(a.Condition, b.Condition), compareBool(a.Measured, b.Measured),
			cmp.Compare(a.CellResistance, b.CellResistance), cmp.Compare(a.Capacity, b.Capacity), cmp.Compare(a.Chemistry, b.Chemistry))
	})
}

func axleClasses(list []parts.AxleStock) []class[parts.AxleStock] {
	return classes(list, func(p *parts.AxleStock) *parts.Item { return &p.Item }, func(a, b *parts.AxleStock) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Length, b.Length), cmp.Compare(a.Material, b.Material))
	})
}

// sleeveClasses sets aside how long a piece is, for each use takes one piece, and what was
// assumed, for a sleeve is charged for as a joint only.
func sleeveClasses(list []parts.Sleeve) []class[parts.Sleeve] {
	list = slices.Clone(list)
	for i := range list {
		list[i].Assumed = nil
	}
	return classes(list, func(s *parts.Sleeve) *parts.Item { return &s.Item }, func(a, b *parts.Sleeve) int {
		return cmp.Or(cmp.Compare(a.Inner, b.Inner), cmp.Compare(a.Outer, b.Outer))
	})
}

func wheelClasses(list []parts.Wheel) []class[parts.Wheel] {
	return classes(list, func(p *parts.Wheel) *parts.Item { return &p.Item }, func(a, b *parts.Wheel) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Material, b.Material), compareBool(a.CanDrill, b.CanDrill))
	})
}

func drumClasses(list []parts.Drum) []class[parts.Drum] {
	return classes(list, func(p *parts.Drum) *parts.Item { return &p.Item }, func(a, b *parts.Drum) int {
		return cmp.Or(cmp.Compare(a.Diameter, b.Diameter), cmp.Compare(a.Bore, b.Bore), cmp.Compare(a.Width, b.Width),
			cmp.Compare(a.Material, b.Material), compareBool(a.CanDrill, b.CanDrill))
	})
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}
