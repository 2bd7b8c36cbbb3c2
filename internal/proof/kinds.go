package proof

import (
	"cmp"
	"slices"

	"findrive/internal/parts"
)

// kind is all the parts that are alike in every dimension and in how much of them is
// assumed: they count as one, and their counts add up. The first by name stands for
// them.
type kind[P any] struct {
	part  P
	names []string
	count int
}

// traits are what parts must share to be alike, in the order in which equals are told
// apart: figures, words, and yes or no.
type traits []any

func (t traits) compare(o traits) int {
	for i := range t {
		c := 0
		switch v := t[i].(type) {
		case float64:
			c = cmp.Compare(v, o[i].(float64))
		case string:
			c = cmp.Compare(v, o[i].(string))
		case bool:
			if w := o[i].(bool); v != w {
				if c = 1; w {
					c = -1
				}
			}
		}
		if c != 0 {
			return c
		}
	}
	return 0
}

// kindsOf gathers parts into kinds, in the order of equals: by their traits, the smaller
// first, then by name.
func kindsOf[P any](list []P, item func(*P) *parts.Item, of func(*P) traits) []kind[P] {
	var out []kind[P]
	var all []traits // of each kind
	for i := range list {
		p, it, own := &list[i], item(&list[i]), of(&list[i])
		own = append(own, float64(len(it.Assumed)))
		k := slices.IndexFunc(all, func(o traits) bool { return o.compare(own) == 0 })
		if k < 0 {
			out, all = append(out, kind[P]{part: *p, names: []string{it.Name}, count: it.Count}), append(all, own)
			continue
		}
		if out[k].names, out[k].count = append(out[k].names, it.Name), out[k].count+it.Count; it.Name < item(&out[k].part).Name {
			out[k].part = *p
		}
	}
	slices.SortFunc(out, func(a, b kind[P]) int {
		return cmp.Or(of(&a.part).compare(of(&b.part)), cmp.Compare(item(&a.part).Name, item(&b.part).Name))
	})
	return out
}

// find is the index of the kind with a part of that name, -1 for none.
func find[P any](kinds []kind[P], name string) int {
	return slices.IndexFunc(kinds, func(k kind[P]) bool { return slices.Contains(k.names, name) })
}

func pulleyKinds(list []parts.Pulley) []kind[parts.Pulley] {
	return kindsOf(list, func(p *parts.Pulley) *parts.Item { return &p.Item }, func(p *parts.Pulley) traits {
		return traits{float64(p.Outside), float64(p.GrooveFloor), float64(p.Bore), float64(p.Width), float64(p.GrooveWidth),
			float64(p.GrooveAngle), string(p.Material), p.CanDrill, p.Made != nil}
	})
}

func bandKinds(list []parts.Band) []kind[parts.Band] {
	return kindsOf(list, func(p *parts.Band) *parts.Item { return &p.Item }, func(p *parts.Band) traits {
		return traits{float64(p.FlatLength), float64(p.Width), float64(p.Thickness), p.PullFactor, p.StretchLimit, p.Calibrated}
	})
}

func motorKinds(list []parts.Motor) []kind[parts.Motor] {
	return kindsOf(list, func(p *parts.Motor) *parts.Item { return &p.Item }, func(p *parts.Motor) traits {
		return traits{float64(p.FreeSpeed), float64(p.Rated), float64(p.FreeCurrent), float64(p.StallTorque), float64(p.StallCurrent),
			float64(p.ShaftDiameter), float64(p.ShaftLength), float64(p.BodyLength), float64(p.BodyWidth), float64(p.BodyHeight),
			float64(p.VoltsLeast), float64(p.VoltsMost), p.Calibrated, p.SpeedKnown}
	})
}

func holderKinds(list []parts.CellHolder) []kind[parts.CellHolder] {
	return kindsOf(list, func(p *parts.CellHolder) *parts.Item { return &p.Item }, func(p *parts.CellHolder) traits {
		return traits{float64(p.Cells), float64(p.OpenVoltage), string(p.Condition), p.Measured, float64(p.CellResistance), float64(p.Capacity), p.Chemistry}
	})
}

func axleKinds(list []parts.AxleStock) []kind[parts.AxleStock] {
	return kindsOf(list, func(p *parts.AxleStock) *parts.Item { return &p.Item }, func(p *parts.AxleStock) traits {
		return traits{float64(p.Diameter), float64(p.Length), string(p.Material)}
	})
}

// sleeveKinds sets aside lengths, for each use takes a piece, and what was assumed.
func sleeveKinds(list []parts.Sleeve) []kind[parts.Sleeve] {
	var bare []parts.Sleeve
	for _, s := range list {
		s.Assumed = nil
		bare = append(bare, s)
	}
	return kindsOf(bare, func(s *parts.Sleeve) *parts.Item { return &s.Item }, func(s *parts.Sleeve) traits {
		return traits{float64(s.Inner), float64(s.Outer)}
	})
}

func wheelKinds(list []parts.Wheel) []kind[parts.Wheel] {
	return kindsOf(list, func(p *parts.Wheel) *parts.Item { return &p.Item }, func(p *parts.Wheel) traits {
		return traits{float64(p.Diameter), float64(p.Bore), float64(p.Width), string(p.Material), p.CanDrill}
	})
}

func drumKinds(list []parts.Drum) []kind[parts.Drum] {
	return kindsOf(list, func(p *parts.Drum) *parts.Item { return &p.Item }, func(p *parts.Drum) traits {
		return traits{float64(p.Diameter), float64(p.Bore), float64(p.Width), string(p.Material), p.CanDrill}
	})
}
