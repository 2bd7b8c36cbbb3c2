// Package making works out which pulleys can be made: discs of card, ply or corrugated
// plastic, cut out and glued on one another, a core between two larger flanges, on a
// hole that is a push fit on dowel there is.
//
//	making.go  the kinds that are offered, each with its limits
//	nest.go    how discs lie on the sheets there are
//	measure.go what discs measure together at most
//	enough.go  whether discs and sheets reach for the pulleys of a drive
//	words.go   what is to be made, in words
package making

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"sort"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/parts"
	"findrive/internal/units"
)

type mm = units.Millimetres

// The limits of a made pulley.
const (
	// flangeOver is by how much, on the radius, a flange stands out over the thickest band
	// (common practice: an inner disc about 10 mm smaller across than the outer ones, 5 mm
	// deep, keeps any band in; DT Online, "Modelling pulleys". A band 1 mm thick lies half
	// way down so little a groove as this, and a disc cut by hand is not quite round.)
	flangeOver mm = 2
	// usualGroove is the widest groove that is made (common practice: school pulleys have
	// grooves of 3 to 4 mm; wider bands climb out of those too).
	usualGroove mm = 4
	// mostLayers is how many discs are glued on one another for a core (judgement: more of
	// them slip sideways under the weight while the glue dries).
	mostLayers = 4
	// boreWall is what a core keeps round its bore at least (judgement, for a hole drilled
	// by hand in card).
	boreWall mm = 6
	// thinFlange is the thinnest sheet that a flange is cut from (judgement: a band pushes
	// thinner card over).
	thinFlange mm = 0.8
	// mostFloors is how many diameters are offered at most, so that a step of a millimetre
	// does not make a search of an evening: spread evenly over those that can be cut.
	mostFloors = 20
	// mostPage is the largest disc: its template goes on one sheet of A4 or Letter paper.
	mostPage mm = 170
)

// accuracy is how far a disc of each way of cutting may be out: its diameter, and its bore
// from the middle. Half a millimetre is what scissors keep along a drawn line; a hole saw
// is guided by its own drill; a laser burns some tenths away (common practice).
func accuracy(w parts.CuttingWay) (diameter, middle mm) {
	switch w {
	case parts.HoleSaw:
		return 0.3, 0.2
	case parts.Laser:
		return 0.2, 0.1
	}
	return 0.5, 0.5
}

// Offer is the cupboard with the pulleys added that can be made, if the brief allows
// discs; else, where none can be made, and where they are in it already, it is the
// cupboard itself.
func Offer(cup *parts.Cupboard, b *brief.Brief) *parts.Cupboard {
	there := func(p parts.Pulley) bool { return p.Made != nil }
	if !b.Making.Discs || slices.ContainsFunc(cup.Pulleys, there) {
		return cup
	}
	kinds := Kinds(cup, b)
	if len(kinds) == 0 {
		return cup
	}
	out := *cup
	out.Pulleys = append(slices.Clone(cup.Pulleys), kinds...)
	slices.SortFunc(out.Pulleys, func(a, b parts.Pulley) int { return cmp.Compare(a.Name, b.Name) })
	return &out
}

// Shared lists the pulleys that can be made for groups that build different drives, for one
// brief or several that allow discs: those of which one can be made at least. Their Count is
// what the sheets yield of one kind by itself, up to what all groups may make. (What briefs
// differ in leaves pulleys out, and makes none another.)
func Shared(cup *parts.Cupboard, briefs []*brief.Brief) []parts.Pulley {
	var out []parts.Pulley
	groups := 0
	for _, b := range briefs {
		if !b.Making.Discs {
			continue
		}
		groups += b.Sets
		for _, p := range kinds(cup, b, 1) {
			if !slices.ContainsFunc(out, func(o parts.Pulley) bool { return o.Name == p.Name }) {
				out = append(out, p)
			}
		}
	}
	for i := range out {
		out[i].Count = most(cup, &out[i], groups)
	}
	return out
}

// build is one way to make a pulley but for its bore.
type build struct {
	core, flange parts.Disc
	layers       int
}

func (b *build) width() mm { return mm(b.layers)*b.core.Thickness + 2*b.flange.Thickness }

// Kinds lists the pulleys that can be made from the sheets of a cupboard, the smaller
// first: for each groove floor on the step of what cuts rounds, and each dowel there is a
// drill for, the build of the fewest discs. Left out are those that
//
//   - would not go in the brief's frame, on one of the sheets or on a page;
//   - are as good as a pulley of which there is enough: one whose groove floor is less than
//     half a step away, with as wide a groove, a push fit on the same dowel.
func Kinds(cup *parts.Cupboard, b *brief.Brief) []parts.Pulley {
	return kinds(cup, b, b.Sets)
}

// kinds are those of which the sheets yield at least so many.
func kinds(cup *parts.Cupboard, b *brief.Brief, least int) []parts.Pulley {
	if cup.Discs == nil || len(cup.Bands) == 0 || !b.Making.Glue {
		return nil
	}
	q := &question{cup: cup, brief: b, least: least}
	q.bandLimits()
	bores := q.bores()
	all := map[mm]map[mm]build{} // by bore and floor
	var floors []mm
	for _, bore := range bores {
		q.bore, all[bore] = bore, map[mm]build{}
		for i := range cup.Sheets {
			for j := range cup.Cutters {
				for _, d := range q.discs(&cup.Sheets[i], &cup.Cutters[j]) {
					made, ok := q.best(d)
					if !ok {
						continue
					}
					floors = append(floors, d.Diameter)
					if was, known := all[bore][d.Diameter]; !known || made.compare(&was) < 0 {
						all[bore][d.Diameter] = made
					}
				}
			}
		}
	}
	slices.Sort(floors)
	floors = spread(slices.Compact(floors))
	var out []parts.Pulley
	for _, floor := range floors {
		for _, bore := range bores {
			made, ok := all[bore][floor]
			if !ok {
				continue
			}
			if p := q.pulley(&made, bore, len(bores) > 1); q.wanted(&p, floors) {
				out = append(out, p)
			}
		}
	}
	return out
}

// spread is a list, or mostFloors of it with the first and the last.
func spread(list []mm) []mm {
	n := len(list)
	if n <= mostFloors {
		return list
	}
	var out []mm
	for k := range mostFloors {
		out = append(out, list[k*(n-1)/(mostFloors-1)])
	}
	return out
}

// question is a cupboard and a brief with what follows from them for all kinds.
type question struct {
	cup    *parts.Cupboard
	brief  *brief.Brief
	least  int // that the sheets must yield of a kind
	over   mm  // of a flange over the core, on the radius
	groove mm  // least width
	across mm  // largest outside
	bore   mm  // of the pulleys that are thought of
}

// bandLimits are what the bands there are ask of a groove: it takes the widest of them,
// or two of the narrowest side by side.
func (q *question) bandLimits() {
	narrow, wide := mm(math.Inf(1)), mm(0)
	for i := range q.cup.Bands {
		band := &q.cup.Bands[i]
		q.over = max(q.over, band.Thickness+flangeOver)
		narrow, wide = min(narrow, band.Width), max(wide, band.Width)
	}
	q.groove = max(narrow, min(usualGroove, max(wide, 2*narrow)))
	f := q.brief.Frame
	q.across = min(mostPage, min(f.Length, f.Height)+2*f.Overhang)
}

// discs are the rounds that a cutter makes of a sheet, ascending, as far as they can have
// the bore: the drill in the middle of a hole saw leaves no smaller hole.
func (q *question) discs(s *parts.SheetStock, c *parts.Cutter) []parts.Disc {
	if c.Count == 0 || c.Pilot > q.bore || !c.Way.Cuts(s.Kind, s.Thickness) {
		return nil
	}
	var out []parts.Disc
	for _, d := range c.Diameters() {
		if d+2*edge <= s.Width {
			out = append(out, parts.Disc{Sheet: s.Name, Kind: s.Kind, Thickness: s.Thickness, Diameter: d, Cutter: c.Name, Way: c.Way})
		}
	}
	return out
}

// best is the best build on a core: the fewest layers that make the groove, and the best
// flanges.
func (q *question) best(core parts.Disc) (build, bool) {
	out, found := build{}, false
	layers := int(math.Ceil(float64(q.groove/core.Thickness) - 1e-9))
	if layers > mostLayers || layers+2 > q.cup.Discs.Most {
		return out, false
	}
	for i := range q.cup.Sheets {
		s := &q.cup.Sheets[i]
		if s.Thickness < thinFlange {
			continue
		}
		for j := range q.cup.Cutters {
			for _, d := range q.discs(s, &q.cup.Cutters[j]) {
				if d.Diameter < core.Diameter+2*q.over-1e-9 {
					continue
				}
				if d.Diameter > q.across {
					break
				}
				made := build{core: core, flange: d, layers: layers}
				if !found || made.compare(&out) < 0 {
					out, found = made, true
				}
				break // larger ones only take more sheet
			}
		}
	}
	return out, found
}

// compare orders builds: fewer discs, the smaller flange, the more exact, the narrower,
// of one sheet rather than two, then by name.
func (b *build) compare(o *build) int {
	exact := func(b *build) mm {
		d, m := accuracy(b.core.Way)
		return d + m
	}
	two := func(b *build) int {
		if b.core.Sheet != b.flange.Sheet {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(b.layers, o.layers), cmp.Compare(b.flange.Diameter, o.flange.Diameter), cmp.Compare(exact(b), exact(o)),
		cmp.Compare(b.width(), o.width()), cmp.Compare(two(b), two(o)), cmp.Compare(b.core.Sheet, o.core.Sheet),
		cmp.Compare(b.flange.Sheet, o.flange.Sheet), cmp.Compare(b.core.Cutter, o.core.Cutter), cmp.Compare(b.flange.Cutter, o.flange.Cutter))
}

// bores are the holes that can be drilled which are a push fit on some dowel there is: for
// each dowel the largest. A made pulley goes on no motor's shaft, so dowel is all.
func (q *question) bores() []mm {
	var out []mm
	for i := range q.cup.Axles {
		rod := &q.cup.Axles[i]
		for _, bore := range slices.Backward(q.cup.Discs.Bores) {
			if pushFit(bore, rod.Diameter) {
				out = append(out, bore)
				break
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func pushFit(bore, rod mm) bool {
	ways, no := constraints.Joints(constraints.Hub{Bore: bore, Room: bore}, rod, nil, brief.Making{})
	return no == nil && len(ways) > 0
}

// pulley is a build with a bore. several says that there are others of its diameter.
func (q *question) pulley(b *build, bore mm, several bool) parts.Pulley {
	size, middle := accuracy(b.core.Way)
	name := fmt.Sprintf("made-%s", units.Significant(float64(b.core.Diameter), 4))
	if several {
		name += fmt.Sprintf("-for-%s", units.Significant(float64(bore), 3))
	}
	for q.cup.Item("pulley", name) != nil {
		name = "new-" + name
	}
	p := parts.Pulley{
		Item:    parts.Item{Name: name, Location: parts.ToBeMade},
		Outside: b.flange.Diameter, GrooveFloor: b.core.Diameter, GrooveWidth: mm(b.layers) * b.core.Thickness, Width: b.width(), Bore: bore,
		Material: q.cup.Sheets[slices.IndexFunc(q.cup.Sheets, func(s parts.SheetStock) bool { return s.Name == b.core.Sheet })].Material(),
		Made:     &parts.Made{Core: b.core, Flange: b.flange, Layers: b.layers, Error: size, Wobble: middle},
	}
	p.Count = most(q.cup, &p, q.brief.Sets*manySets)
	return p
}

// wanted reports whether a made pulley is worth offering: enough of it can be made, it has
// enough left round its bore, and none there is as good.
func (q *question) wanted(p *parts.Pulley, floors []mm) bool {
	if p.Count < q.least || p.GrooveFloor < p.Bore+2*boreWall {
		return false
	}
	half := halfStep(floors, p.GrooveFloor)
	for i := range q.cup.Pulleys {
		have := &q.cup.Pulleys[i]
		if have.Made == nil && have.Count >= 2*q.brief.Sets && have.GrooveWidth >= min(p.GrooveWidth, q.groove) &&
			mm(math.Abs(float64(have.GrooveFloor-p.GrooveFloor))) < half && q.sameRod(have.Bore, p.Bore) {
			return false
		}
	}
	return true
}

// sameRod reports whether two bores are a push fit on one rod there is.
func (q *question) sameRod(a, b mm) bool {
	return slices.ContainsFunc(q.cup.Axles, func(rod parts.AxleStock) bool { return pushFit(a, rod.Diameter) && pushFit(b, rod.Diameter) })
}

// halfStep is half the way to the nearest of the other floors.
func halfStep(floors []mm, at mm) mm {
	half := at / 2
	for _, f := range floors {
		if f != at {
			half = min(half, mm(math.Abs(float64(f-at)))/2)
		}
	}
	return half
}

// manySets is for how many times the sets asked it is counted how many pulleys can be
// made: more is "plenty".
const manySets = 4

// most is how many of a pulley can be made of the sheets there are, up to what so many groups
// may make.
func most(cup *parts.Cupboard, p *parts.Pulley, groups int) int {
	return sort.Search(OfAGroup(cup, p)*groups, func(n int) bool { return !fits(cup.Sheets, []Several{{p, n + 1}}) })
}

// OfAGroup is how many of a pulley to be made a group may make.
func OfAGroup(cup *parts.Cupboard, p *parts.Pulley) int { return cup.Discs.Most / p.Made.Count() }
