package supply

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/making"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// part is one part of the cupboard or the price list; those that are alike in all that
// matters are one.
type part struct {
	kind   string
	name   string   // by which drives are searched with: the first of names
	names  []string // of all that are alike
	stock  int      // pieces in the cupboard; of axles see rods, of what is made see discs
	onSale bool
	made   *parts.Pulley // if it is to be made of discs; else nil
}

type key struct{ kind, name string }

// shelf is everything there is and can be bought.
type shelf struct {
	parts []part
	at    map[key]int     // by every name
	all   *parts.Cupboard // one entry for each part
	rods  []rod           // of which axles are cut
	rodAt map[string]int  // by every name
	// together is everything, in the cupboard or on sale.
	together *parts.Cupboard
	// sheetsShort is whether the sheets may not take all the discs that groups want.
	sheetsShort bool
	measures    []making.Measure // only then
}

func newShelf(q *Question) *shelf {
	s := &shelf{at: map[key]int{}}
	together := q.List.Parts.With(q.Cupboard) // of a part in both the cupboard's entry stays
	together.Name = q.Cupboard.Name
	made := s.offer(q, together)
	for _, a := range design.AlikeParts(together) {
		p := part{kind: a.Kind, name: a.Names[0], names: a.Names}
		for _, name := range a.Names {
			if it := q.Cupboard.Item(a.Kind, name); it != nil {
				p.stock += it.Count
			}
			s.at[key{a.Kind, name}] = len(s.parts)
		}
		if a.Kind == "pulley" {
			p.madeOf(made)
		}
		s.parts = append(s.parts, p)
	}
	s.findRods(q, together)
	for _, o := range q.List.Offers {
		if s.parts[s.at[key{o.Kind, o.Part}]].onSale = true; o.Kind == "axle" {
			s.rods[s.rodAt[o.Part]].onSale = true
		}
	}
	s.all = together.Counted(func(kind string, it *parts.Item) int {
		if s.parts[s.at[key{kind, it.Name}]].name == it.Name {
			return 1
		}
		return 0
	})
	return s
}

// job is one brief and its groups.
type job struct {
	*shelf
	brief  *brief.Brief // for one set, naming parts as the shelf does
	groups int
	turn   int               // of briefs that are built one after another; else 0
	inner  units.Millimetres // length of the axles between stages
	output units.Interval[units.Millimetres]
	most   []int // pieces of each part that one set takes at most
	drives []*found
	none   []noDrive // what searches came to
	sure   []noDrive // what is so without a search
	open   []noDrive // what searches did not settle
}

func newJob(s *shelf, b *brief.Brief) *job {
	one := *b
	one.Sets = 1
	named := func(kind string, name *string) {
		if at, ok := s.at[key{kind, *name}]; ok {
			*name = s.parts[at].name
		}
	}
	named("wheel", &one.Load.Wheel)
	named("drum", &one.Load.Drum)
	j := &job{shelf: s, brief: &one, groups: b.Sets, inner: drive.AxleLength(&one), output: design.OutputLengths(s.all, &one), most: make([]int, len(s.parts))}
	for i, p := range s.parts {
		j.most[i] = design.MostTaken(p.kind, b.MaxStages)
		switch {
		case p.kind == "axle":
			if b.Model != brief.Vehicle {
				j.most[i]-- // no free axle
			}
			if !slices.ContainsFunc(s.rods, func(r rod) bool { return r.part == i && r.length >= j.inner && (r.stock > 0 || r.onSale) }) {
				j.most[i] = 0
			}
		case p.kind == "wheel" && b.Model != brief.Vehicle, p.kind == "drum" && b.Model != brief.Lift, p.made != nil && !b.Making.Discs:
			j.most[i] = 0
		case p.made != nil:
			j.most[i] = min(j.most[i], making.OfAGroup(s.together, p.made))
		}
	}
	return j
}

// plenty stands for as many of a part as anybody wants.
const plenty = -1

// cupboard is what so many sets may be built from: so many pieces of each part.
func (j *job) cupboard(caps []int, sets int) *parts.Cupboard {
	c := j.all.Counted(func(kind string, it *parts.Item) int {
		p := j.at[key{kind, it.Name}]
		if caps[p] == plenty {
			return j.most[p] * sets
		}
		return min(caps[p], j.most[p]*sets)
	})
	if !slices.ContainsFunc(c.Pulleys, func(p parts.Pulley) bool { return p.Made != nil }) {
		c.Discs = nil // none of those that are offered is to be had, and no others are
	}
	// A rod stands for one axle each, so that axles can be counted out.
	for i := range c.Axles {
		c.Axles[i].Length = max(j.inner, j.output.Hi)
	}
	return c
}

// from is what so many sets may be built from: so many pieces of each part, and axles cut
// from the rods that there are, of all that is bought.
func (j *job) from(have []int, sets int) *parts.Cupboard {
	c := j.cupboard(have[:len(j.parts)], sets)
	c.Axles = slices.DeleteFunc(slices.Clone(j.together.Axles), func(a parts.AxleStock) bool { return j.rods[j.rodAt[a.Name]].name != a.Name })
	for i := range c.Axles {
		c.Axles[i].Count = have[len(j.parts)+j.rodAt[c.Axles[i].Name]]
	}
	return c
}
