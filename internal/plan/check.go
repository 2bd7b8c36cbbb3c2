package plan

import (
	"fmt"
	"slices"

	"findrive/internal/certificate"
	"findrive/internal/parts"
	"findrive/internal/recheck"
)

// Check returns the claims of a plan that do not hold, each as a sentence; none if all do.
// Every drive is worked out again from its certificate by package recheck; and what all
// take together is held to what there is. cup is the cupboard as it is, or nil; a part of
// which less is there than the plan says must be among what is bought.
func Check(p *Plan, all []*certificate.Certificate, cup *parts.Cupboard) []string {
	var out []string
	for i := range p.Drives {
		for _, said := range recheck.Recheck(p.Drives[i].Certificate) {
			out = append(out, fmt.Sprintf("drive %s: %s", p.Drives[i].Letter, said))
		}
	}
	served := make([]int, len(p.Briefs))
	for i := range p.Drives {
		d := &p.Drives[i]
		if d.First != served[d.Brief]+1 {
			out = append(out, fmt.Sprintf("drive %s: its first group is given as %d and comes out as %d", d.Letter, d.First, served[d.Brief]+1))
		}
		served[d.Brief] += d.Groups
	}
	for i, b := range p.Briefs {
		if b.Served != served[i] || b.Served > b.Asked {
			out = append(out, fmt.Sprintf("%s: %d of %d groups are said to be served, and %d are", b.Name, b.Served, b.Asked, served[i]))
		}
	}
	return slices.Concat(out, p.stock(all, cup), p.sawing(all, cup), p.discs(all, cup))
}

// stock holds what all take to what there is.
func (p *Plan) stock(all []*certificate.Certificate, cup *parts.Cupboard) []string {
	type part struct{ kind, name string }
	used, gone := map[part][]int{}, map[part][]int{} // by brief
	have := map[part]int{}
	var order []part
	for i, c := range all {
		for _, u := range c.Proposals[0].Uses {
			if u.Kind == "axle" || toMake(c, u.Kind, u.Name) {
				continue // see sawing, and discs
			}
			name := u.Name
			for _, n := range u.Also { // parts alike are one, by the first of their names
				name = min(name, n)
			}
			k := part{u.Kind, name}
			if used[k] == nil {
				used[k], gone[k] = make([]int, len(p.Briefs)), make([]int, len(p.Briefs))
				order = append(order, k)
				have[k] = u.Have
			}
			have[k] = min(have[k], u.Have)
			used[k][p.Drives[i].Brief] += u.Each * p.Drives[i].Groups
			gone[k][p.Drives[i].Brief] += c.Proposals[0].Gone(&u) * p.Drives[i].Groups
			if cup == nil {
				continue
			}
			there := 0
			for _, at := range u.Places {
				if it := cup.Item(u.Kind, at.Name); it != nil {
					there += it.Count
				}
				there += p.bought(u.Kind, at.Name)
			}
			have[k] = min(have[k], there)
		}
	}
	var out []string
	for _, k := range order {
		most, before := 0, 0 // what those before have used up, or have in use at the same time
		for b, n := range used[k] {
			most = max(most, before+n)
			if p.InTurn {
				n = gone[k][b]
			}
			before += n
		}
		if most > have[k] {
			out = append(out, fmt.Sprintf("%s %s: the groups take %d, and there are %d", k.kind, k.name, most, have[k]))
		}
	}
	return out
}

// bought is how many of a part are ordered.
func (p *Plan) bought(kind, name string) int {
	n := 0
	if p.Order != nil {
		for _, l := range p.Order.Lines {
			if l.Kind == kind && l.Part == name {
				n += l.Packs * l.Pack
			}
		}
	}
	return n
}
