package proof

import (
	"cmp"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// kind is all the parts that are alike in every size: they count as one, and
// their counts add up. The part that stands for them is the first by name.
type kind[P any] struct {
	part  P
	names []string
	count int
}

// traits are what parts must share to be alike, in the order in which the tie
// rule compares them: sizes, then a word, then a yes or no.
type traits struct {
	sizes []float64
	word  string
	yes   bool
}

func (t traits) compare(o traits) int {
	if c := cmp.Or(slices.Compare(t.sizes, o.sizes), cmp.Compare(t.word, o.word)); c != 0 || t.yes == o.yes {
		return c
	}
	if o.yes {
		return -1
	}
	return 1
}

// kindsOf gathers parts into kinds, in the order of the tie rule: smaller first,
// then by name.
func kindsOf[P any](list []P, item func(*P) *parts.Item, of func(*P) traits) []kind[P] {
	type one struct {
		part P
		traits
	}
	var all []one
	for i := range list {
		all = append(all, one{list[i], of(&list[i])})
	}
	slices.SortFunc(all, func(a, b one) int {
		return cmp.Or(a.compare(b.traits), cmp.Compare(len(item(&a.part).Assumed), len(item(&b.part).Assumed)), cmp.Compare(item(&a.part).Name, item(&b.part).Name))
	})
	var out []kind[P]
	for i := range all {
		it := item(&all[i].part)
		if i > 0 && all[i].compare(all[i-1].traits) == 0 && len(it.Assumed) == len(item(&all[i-1].part).Assumed) {
			k := &out[len(out)-1]
			k.names, k.count = append(k.names, it.Name), k.count+it.Count
			continue
		}
		out = append(out, kind[P]{part: all[i].part, names: []string{it.Name}, count: it.Count})
	}
	// Alike but for how much of them was assumed: by name.
	slices.SortStableFunc(out, func(a, b kind[P]) int {
		return cmp.Or(of(&a.part).compare(of(&b.part)), cmp.Compare(a.names[0], b.names[0]))
	})
	return out
}

// find is the index of the kind with a part of that name, -1 for none.
func find[P any](kinds []kind[P], name string) int {
	return slices.IndexFunc(kinds, func(k kind[P]) bool { return slices.Contains(k.names, name) })
}

func floats(v ...float64) []float64 { return v }

func pulleyKinds(list []parts.Pulley) []kind[parts.Pulley] {
	return kindsOf(list, func(p *parts.Pulley) *parts.Item { return &p.Item }, func(p *parts.Pulley) traits {
		return traits{lengths(p.Outside, p.GrooveFloor, p.Bore, p.Width, p.GrooveWidth, units.Millimetres(p.GrooveAngle)), string(p.Material), p.CanDrill}
	})
}

func bandKinds(list []parts.Band) []kind[parts.Band] {
	return kindsOf(list, func(p *parts.Band) *parts.Item { return &p.Item }, func(p *parts.Band) traits {
		return traits{append(lengths(p.FlatLength, p.Width, p.Thickness), p.PullFactor, p.StretchLimit), "", p.Calibrated}
	})
}

func motorKinds(list []parts.Motor) []kind[parts.Motor] {
	return kindsOf(list, func(p *parts.Motor) *parts.Item { return &p.Item }, func(p *parts.Motor) traits {
		return traits{append(floats(float64(p.FreeSpeed), float64(p.Rated), float64(p.VoltsLeast), float64(p.VoltsMost), float64(p.FreeCurrent), float64(p.StallTorque), float64(p.StallCurrent)),
			lengths(p.ShaftDiameter, p.ShaftLength, p.BodyLength, p.BodyWidth, p.BodyHeight)...), "", p.Calibrated}
	})
}

func holderKinds(list []parts.CellHolder) []kind[parts.CellHolder] {
	return kindsOf(list, func(p *parts.CellHolder) *parts.Item { return &p.Item }, func(p *parts.CellHolder) traits {
		v := drive.CellVoltage(p)
		return traits{floats(float64(p.Cells), v.Low, v.Likely, v.High, float64(p.CellResistance), float64(p.Capacity)), p.Chemistry, false}
	})
}

func axleKinds(list []parts.AxleStock) []kind[parts.AxleStock] {
	return kindsOf(list, func(p *parts.AxleStock) *parts.Item { return &p.Item }, func(p *parts.AxleStock) traits {
		return traits{lengths(p.Diameter, p.Length), string(p.Material), false}
	})
}

func wheelKinds(list []parts.Wheel) []kind[parts.Wheel] {
	return kindsOf(list, func(p *parts.Wheel) *parts.Item { return &p.Item }, func(p *parts.Wheel) traits {
		return traits{lengths(p.Diameter, p.Bore, p.Width), string(p.Material), p.CanDrill}
	})
}

func drumKinds(list []parts.Drum) []kind[parts.Drum] {
	return kindsOf(list, func(p *parts.Drum) *parts.Item { return &p.Item }, func(p *parts.Drum) traits {
		return traits{lengths(p.Diameter, p.Bore, p.Width), string(p.Material), p.CanDrill}
	})
}

func lengths(list ...units.Millimetres) []float64 {
	out := make([]float64, len(list))
	for i, v := range list {
		out[i] = float64(v)
	}
	return out
}
