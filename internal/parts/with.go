package parts

import (
	"cmp"
	"slices"
)

// With is this cupboard with the parts of another added. Of two parts of one kind
// and name the other's is kept. Neither is changed.
func (c *Cupboard) With(other *Cupboard) *Cupboard {
	return &Cupboard{
		Name:    c.Name,
		Pulleys: added(c.Pulleys, other.Pulleys, func(p *Pulley) string { return p.Name }),
		Bands:   added(c.Bands, other.Bands, func(p *Band) string { return p.Name }),
		Motors:  added(c.Motors, other.Motors, func(p *Motor) string { return p.Name }),
		Holders: added(c.Holders, other.Holders, func(p *CellHolder) string { return p.Name }),
		Axles:   added(c.Axles, other.Axles, func(p *AxleStock) string { return p.Name }),
		Sleeves: added(c.Sleeves, other.Sleeves, func(p *Sleeve) string { return p.Name }),
		Spacers: added(c.Spacers, other.Spacers, func(p *Spacer) string { return p.Name }),
		Wheels:  added(c.Wheels, other.Wheels, func(p *Wheel) string { return p.Name }),
		Drums:   added(c.Drums, other.Drums, func(p *Drum) string { return p.Name }),
		Blocks:  added(c.Blocks, other.Blocks, func(p *Block) string { return p.Name }),
		Cords:   added(c.Cords, other.Cords, func(p *Cord) string { return p.Name }),
	}
}

func added[P any](list, more []P, name func(*P) string) []P {
	out := slices.Clone(more)
	for i := range list {
		same := func(p P) bool { return name(&p) == name(&list[i]) }
		if !slices.ContainsFunc(more, same) {
			out = append(out, list[i])
		}
	}
	slices.SortFunc(out, func(a, b P) int { return cmp.Compare(name(&a), name(&b)) })
	return out
}
