package plan

import (
	"fmt"
	"slices"

	"findrive/internal/certificate"
	"findrive/internal/cutting"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// sawing holds the axles of all groups to the rods that there are, by cutting them: by
// counting alone it cannot be told where rods or axles are of different lengths. Axles are
// used up, so that it is the same whether briefs are built in turn. cup is the cupboard as
// it is, or nil.
func (p *Plan) sawing(all []*certificate.Certificate, cup *parts.Cupboard) []string {
	pieces, rods := map[string][]cutting.Piece{}, map[string][]cutting.Stock{} // by the first name of the kind
	var order []string
	for i, c := range all {
		d := &c.Proposals[0]
		for k := range d.Uses {
			u := &d.Uses[k]
			if u.Kind != "axle" {
				continue
			}
			kind := slices.Min(append([]string{u.Name}, u.Also...))
			size := units.Millimetres(0)
			for at := range d.Axles {
				a := &d.Axles[at]
				if a.Stock != u.Name && !slices.Contains(u.Also, a.Stock) {
					continue
				}
				n := p.Drives[i].Groups
				if at == len(d.Axles)-1 && d.Wheel != nil {
					n *= 2 // a vehicle's free axle is like the last
				}
				size = units.Millimetres(a.RodSize)
				pieces[kind] = append(pieces[kind], cutting.Piece{Length: units.Millimetres(a.Length), Count: n})
			}
			if !slices.Contains(order, kind) {
				order = append(order, kind)
				rods[kind] = p.rods(u, size, cup)
			}
		}
	}
	var out []string
	for _, kind := range order {
		if !cutting.Enough(pieces[kind], rods[kind], cutting.Kerf) {
			n := 0
			for _, c := range pieces[kind] {
				n += c.Count
			}
			out = append(out, fmt.Sprintf("axle %s: the groups take %d, and those cannot be cut from the rods there are", kind, n))
		}
	}
	return out
}

// rods are those of a kind: of a cupboard and what is bought, or as the plan says.
func (p *Plan) rods(u *certificate.Use, size units.Millimetres, cup *parts.Cupboard) []cutting.Stock {
	var out []cutting.Stock
	for _, at := range u.Places {
		rod := cutting.Stock{Name: at.Name, Length: units.Millimetres(at.Length), Count: at.Count}
		if rod.Length == 0 {
			rod.Length = size
		}
		if cup != nil {
			rod.Count = p.bought("axle", at.Name)
			if it := cup.Item("axle", at.Name); it != nil {
				rod.Count += it.Count
			}
		}
		out = append(out, rod)
	}
	return out
}
