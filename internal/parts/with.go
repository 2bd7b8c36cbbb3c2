package parts

import (
	"cmp"
	"slices"
	"sort"
)

// With is this cupboard with the parts of another added. Of two parts of one kind
// and name the other's is kept, with the larger count: a file that describes a drive says
// what its parts are, and seldom how many there are. Neither is changed.
func (c *Cupboard) With(other *Cupboard) *Cupboard {
	return &Cupboard{
		Name: c.Name, Remembered: c.Remembered, Learned: c.Learned,
		Pulleys: added(c.Pulleys, other.Pulleys, func(p *Pulley) *Item { return &p.Item }),
		Bands:   added(c.Bands, other.Bands, func(p *Band) *Item { return &p.Item }),
		Motors:  added(c.Motors, other.Motors, func(p *Motor) *Item { return &p.Item }),
		Holders: added(c.Holders, other.Holders, func(p *CellHolder) *Item { return &p.Item }),
		Axles:   added(c.Axles, other.Axles, func(p *AxleStock) *Item { return &p.Item }),
		Sleeves: added(c.Sleeves, other.Sleeves, func(p *Sleeve) *Item { return &p.Item }),
		Spacers: added(c.Spacers, other.Spacers, func(p *Spacer) *Item { return &p.Item }),
		Wheels:  added(c.Wheels, other.Wheels, func(p *Wheel) *Item { return &p.Item }),
		Drums:   added(c.Drums, other.Drums, func(p *Drum) *Item { return &p.Item }),
		Blocks:  added(c.Blocks, other.Blocks, func(p *Block) *Item { return &p.Item }),
		Cords:   added(c.Cords, other.Cords, func(p *Cord) *Item { return &p.Item }),
		Sheets:  added(c.Sheets, other.Sheets, func(p *SheetStock) *Item { return &p.Item }),
		Cutters: added(c.Cutters, other.Cutters, func(p *Cutter) *Item { return &p.Item }),
		Discs:   cmp.Or(other.Discs, c.Discs),
	}
}

func added[P any](list, more []P, item func(*P) *Item) []P {
	out := slices.Clone(more)
	for i := range list {
		has := item(&list[i])
		at := slices.IndexFunc(more, func(p P) bool { return item(&p).Name == has.Name })
		if at < 0 {
			out = append(out, list[i])
			continue
		}
		own := item(&out[at])
		own.Count = max(own.Count, has.Count)
	}
	sort.Slice(out, func(i, j int) bool { return item(&out[i]).Name < item(&out[j]).Name })
	return out
}

// Recounted is this cupboard with other counts: count is asked for each part, with its
// kind as the tables of the file name it. Parts of which it says 0 are left out. This
// cupboard is not changed.
func (c *Cupboard) Recounted(count func(kind string, it *Item) int) *Cupboard {
	return &Cupboard{
		Name: c.Name, Remembered: c.Remembered, Learned: c.Learned,
		Pulleys: recounted(c.Pulleys, "pulley", count, func(p *Pulley) *Item { return &p.Item }),
		Bands:   recounted(c.Bands, "band", count, func(p *Band) *Item { return &p.Item }),
		Motors:  recounted(c.Motors, "motor", count, func(p *Motor) *Item { return &p.Item }),
		Holders: recounted(c.Holders, "cells", count, func(p *CellHolder) *Item { return &p.Item }),
		Axles:   recounted(c.Axles, "axle", count, func(p *AxleStock) *Item { return &p.Item }),
		Sleeves: recounted(c.Sleeves, "sleeve", count, func(p *Sleeve) *Item { return &p.Item }),
		Spacers: recounted(c.Spacers, "spacer", count, func(p *Spacer) *Item { return &p.Item }),
		Wheels:  recounted(c.Wheels, "wheel", count, func(p *Wheel) *Item { return &p.Item }),
		Drums:   recounted(c.Drums, "drum", count, func(p *Drum) *Item { return &p.Item }),
		Blocks:  recounted(c.Blocks, "block", count, func(p *Block) *Item { return &p.Item }),
		Cords:   recounted(c.Cords, "cord", count, func(p *Cord) *Item { return &p.Item }),
		Sheets:  recounted(c.Sheets, "sheet", count, func(p *SheetStock) *Item { return &p.Item }),
		Cutters: c.Cutters, // tools are no stock
		Discs:   c.Discs,
	}
}

// InStock is this cupboard without the parts of which there are none left: what can be
// built from. It is the cupboard itself if there are some of each.
func (c *Cupboard) InStock() *Cupboard {
	out := false
	left := c.Recounted(func(_ string, it *Item) int {
		out = out || it.Count == 0
		return it.Count
	})
	if !out {
		return c
	}
	return left
}

func recounted[P any](list []P, kind string, count func(string, *Item) int, item func(*P) *Item) []P {
	out := make([]P, 0, len(list))
	for _, p := range list {
		it := item(&p)
		if it.Count = count(kind, it); it.Count > 0 {
			out = append(out, p)
		}
	}
	return out
}
