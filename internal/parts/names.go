package parts

import "reflect"

// Names are the names of the parts of a kind, as the tables of the file name it
// ("pulley", "cells" ...), in their order; none for a kind that is not known.
func (c *Cupboard) Names(kind string) []string {
	switch kind {
	case "pulley":
		return names(c.Pulleys, func(p *Pulley) *Item { return &p.Item })
	case "band":
		return names(c.Bands, func(p *Band) *Item { return &p.Item })
	case "motor":
		return names(c.Motors, func(p *Motor) *Item { return &p.Item })
	case "cells":
		return names(c.Holders, func(p *CellHolder) *Item { return &p.Item })
	case "axle":
		return names(c.Axles, func(p *AxleStock) *Item { return &p.Item })
	case "sleeve":
		return names(c.Sleeves, func(p *Sleeve) *Item { return &p.Item })
	case "spacer":
		return names(c.Spacers, func(p *Spacer) *Item { return &p.Item })
	case "wheel":
		return names(c.Wheels, func(p *Wheel) *Item { return &p.Item })
	case "drum":
		return names(c.Drums, func(p *Drum) *Item { return &p.Item })
	}
	return nil
}

func names[P any](list []P, item func(*P) *Item) []string {
	var out []string
	for i := range list {
		out = append(out, item(&list[i]).Name)
	}
	return out
}

// SameSizes is whether two cupboards' parts of one kind and name are alike in all but
// where they are kept, how many there are, and what was assumed; false if one of them
// has no such part.
func SameSizes(a, b *Cupboard, kind, name string) bool {
	switch kind {
	case "pulley":
		return same(a.Pulleys, b.Pulleys, name, func(p *Pulley) *Item { return &p.Item })
	case "band":
		return same(a.Bands, b.Bands, name, func(p *Band) *Item { return &p.Item })
	case "motor":
		return same(a.Motors, b.Motors, name, func(p *Motor) *Item { return &p.Item })
	case "cells":
		return same(a.Holders, b.Holders, name, func(p *CellHolder) *Item { return &p.Item })
	case "axle":
		return same(a.Axles, b.Axles, name, func(p *AxleStock) *Item { return &p.Item })
	case "sleeve":
		return same(a.Sleeves, b.Sleeves, name, func(p *Sleeve) *Item { return &p.Item })
	case "wheel":
		return same(a.Wheels, b.Wheels, name, func(p *Wheel) *Item { return &p.Item })
	case "drum":
		return same(a.Drums, b.Drums, name, func(p *Drum) *Item { return &p.Item })
	}
	return false
}

func same[P any](a, b []P, name string, item func(*P) *Item) bool {
	one := func(list []P) (P, bool) {
		for i := range list {
			if item(&list[i]).Name == name {
				p := list[i]
				*item(&p) = Item{}
				return p, true
			}
		}
		var none P
		return none, false
	}
	p, there := one(a)
	q, too := one(b)
	return there && too && reflect.DeepEqual(p, q)
}

// Counted is the cupboard with other counts: how many there are of each part that
// drives take from the stock. Parts of which there are none are left out. The cupboard
// is not changed.
func (c *Cupboard) Counted(count func(kind string, it *Item) int) *Cupboard {
	out := *c
	out.Pulleys = counted(c.Pulleys, "pulley", func(p *Pulley) *Item { return &p.Item }, count)
	out.Bands = counted(c.Bands, "band", func(p *Band) *Item { return &p.Item }, count)
	out.Motors = counted(c.Motors, "motor", func(p *Motor) *Item { return &p.Item }, count)
	out.Holders = counted(c.Holders, "cells", func(p *CellHolder) *Item { return &p.Item }, count)
	out.Axles = counted(c.Axles, "axle", func(p *AxleStock) *Item { return &p.Item }, count)
	out.Sleeves = counted(c.Sleeves, "sleeve", func(p *Sleeve) *Item { return &p.Item }, count)
	out.Wheels = counted(c.Wheels, "wheel", func(p *Wheel) *Item { return &p.Item }, count)
	out.Drums = counted(c.Drums, "drum", func(p *Drum) *Item { return &p.Item }, count)
	return &out
}

func counted[P any](list []P, kind string, item func(*P) *Item, count func(string, *Item) int) []P {
	var out []P
	for _, p := range list {
		if n := count(kind, item(&p)); n > 0 {
			item(&p).Count = n
			out = append(out, p)
		}
	}
	return out
}

// PriceDigits is how many digits of Item.PricePence stand behind the point.
const PriceDigits = 2
