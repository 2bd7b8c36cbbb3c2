package supply

import (
	"encoding/binary"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/purchase"
	"findrive/internal/units"
)

// rod is one length of a kind of rod. Drives take axles, of a kind; rods are what is in the
// cupboard and on sale, and axles are cut from those of any length.
type rod struct {
	part   int // the kind
	name   string
	names  []string // of all as long
	length units.Millimetres
	stock  int
	onSale bool
}

// findRods lists the rods of each kind of axle.
func (s *shelf) findRods(q *Question, together *parts.Cupboard) {
	s.together, s.rodAt = together, map[string]int{}
	for at, p := range s.parts {
		if p.kind != "axle" {
			continue
		}
		first := len(s.rods)
		for _, name := range p.names {
			i := slices.IndexFunc(together.Axles, func(a parts.AxleStock) bool { return a.Name == name })
			length, stock := together.Axles[i].Length, 0
			if it := q.Cupboard.Item("axle", name); it != nil {
				stock = it.Count
			}
			k := slices.IndexFunc(s.rods[first:], func(r rod) bool { return r.length == length })
			if k < 0 {
				k = len(s.rods) - first
				s.rods = append(s.rods, rod{part: at, name: name, length: length})
			}
			r := &s.rods[first+k]
			r.names, r.stock = append(r.names, name), r.stock+stock
			s.rodAt[name] = first + k
		}
	}
}

// bought is the place of a part among what is bought: parts, then rods.
func (s *shelf) bought(kind, name string) int {
	if kind == "axle" {
		return len(s.parts) + s.rodAt[name]
	}
	return s.at[key{kind, name}]
}

// yields is how many axles of a length the rods of a kind in the cupboard yield by
// themselves.
func (s *shelf) yields(part int, length units.Millimetres) int {
	n := 0
	for _, r := range s.rods {
		if r.part == part {
			n += r.stock * design.FromRod(r.length, length)
		}
	}
	return n
}

// pieces is how many pieces of a part the cupboard has, axles as short as any.
func (j *job) pieces(part int) int {
	if j.parts[part].kind == "axle" {
		return j.yields(part, j.shortest())
	}
	return j.parts[part].stock
}

// shortest is how short an axle is at the least: with a single stage there is none but the
// output axle.
func (j *job) shortest() units.Millimetres {
	if j.brief.MaxStages == 1 {
		return j.output.Lo
	}
	return j.inner
}

// sawn is so many axles of one length and kind, or, without a length, so many of a pulley
// that is made of discs.
type sawn struct {
	part   int
	length units.Millimetres
	count  int
	turn   int // of discs: briefs built in turn begin sheets of their own; else 0
}

// sawnFor lists the axles of a drive.
func (j *job) sawnFor(p *design.Proposal) []sawn {
	var out []sawn
	for _, a := range design.CutAxles(p.Drive, j.brief) {
		out = append(out, sawn{part: j.at[key{"axle", a.Stock}], length: a.Length, count: a.Count})
	}
	return out
}

// sawnAtLeast lists the shortest axles that a set has which takes so many pieces of each
// part. No more of them are shorter than an output axle than there are stages before the
// last; which kind the output axle is of is not known unless there is one kind of rod.
func (j *job) sawnAtLeast(takes []int) []sawn {
	var kinds []int
	for i, p := range j.parts {
		if p.kind == "axle" && j.most[i] > 0 {
			kinds = append(kinds, i)
		}
	}
	var out []sawn
	for _, i := range kinds {
		n := takes[i]
		long := max(0, n-(j.brief.MaxStages-1))
		if len(kinds) == 1 {
			outputs := 1
			if j.brief.Model == brief.Vehicle {
				outputs = 2
			}
			long = max(long, min(n, outputs))
		}
		out = append(out, sawn{part: i, length: j.inner, count: n - long}, sawn{part: i, length: j.output.Lo, count: long})
	}
	out = slices.DeleteFunc(out, func(s sawn) bool { return s.count == 0 })
	return slices.Concat(out, j.sawnOfSheet(takes))
}

// sawing puts what is cut from rods and sheets into a purchase: a row of no part for each
// kind and length of axle and each pulley of discs, and whether rods and sheets yield them.
// Neither comes back, so that it is the same whether briefs are built in turn.
func (a *asker) sawing(p *purchase.Problem, choices []choice) {
	var rows []sawn
	for _, c := range choices {
		for _, s := range c.sawn {
			if s.count = 0; !slices.Contains(rows, s) {
				rows = append(rows, s)
			}
		}
	}
	for r := range a.rods {
		p.Joint = append(p.Joint, len(a.parts)+r)
	}
	for range rows {
		p.Rows = append(p.Rows, purchase.Row{Part: -1, Scale: 1})
	}
	for i, c := range choices {
		takes := make([]int, len(rows))
		for _, s := range c.sawn {
			n := s.count
			s.count = 0
			takes[slices.Index(rows, s)] += n
		}
		p.Choices[i].Takes = append(p.Choices[i].Takes, takes...)
	}
	known := map[string]bool{}
	p.Fits = func(taken, have []int) bool {
		var id []byte
		for _, n := range taken {
			id = binary.AppendVarint(id, int64(n))
		}
		for r := range a.rods {
			id = binary.AppendVarint(id, int64(have[len(a.parts)+r]))
		}
		fits, ok := known[string(id)]
		if !ok {
			fits = true
			for at := range a.parts {
				fits = fits && (a.parts[at].kind != "axle" || a.cuttable(at, rows, taken, have))
			}
			fits = fits && a.reach(soMany(rows, taken))
			known[string(id)] = fits
		}
		return fits
	}
}

// soMany is so many of each row.
func soMany(rows []sawn, taken []int) []sawn {
	out := slices.Clone(rows)
	for i := range out {
		out[i].count = taken[i]
	}
	return out
}

// cuttable tells whether so many axles of each row that is of a kind of rod can be cut from
// what there is.
func (a *asker) cuttable(part int, rows []sawn, taken, have []int) bool {
	pieces := piecesOf(part, rows, taken)
	return len(pieces) == 0 || cutting.Enough(pieces, a.rodsFor(part, pieces, have), cutting.Kerf)
}

func piecesOf(part int, rows []sawn, taken []int) []cutting.Piece {
	var out []cutting.Piece
	for i, s := range rows {
		if s.part == part && taken[i] > 0 {
			out = append(out, cutting.Piece{Length: s.length, Count: taken[i]})
		}
	}
	return out
}

// rodsFor lists the rods of a kind that there are, no more of any than there are pieces.
func (a *asker) rodsFor(part int, pieces []cutting.Piece, have []int) []cutting.Stock {
	most := 0
	for _, p := range pieces {
		most += p.Count
	}
	var out []cutting.Stock
	for k, r := range a.rods {
		if r.part == part {
			out = append(out, cutting.Stock{Name: r.name, Length: r.length, Count: min(most, have[len(a.parts)+k])})
		}
	}
	return out
}

// begun is how many rods of each length are begun for the axles of some shares.
func (a *asker) begun(shares []Share, have []int) []int {
	out := make([]int, len(a.rods))
	for at := range a.parts {
		var pieces []cutting.Piece
		if a.parts[at].kind != "axle" {
			continue
		}
		for _, s := range shares {
			for _, w := range a.jobs[s.Brief].sawnFor(s.Drive) {
				if w.part == at {
					pieces = append(pieces, cutting.Piece{Length: w.length, Count: s.Groups * w.count})
				}
			}
		}
		if len(pieces) == 0 {
			continue
		}
		plan, err := cutting.Cuts(pieces, a.rodsFor(at, pieces, have), cutting.Kerf)
		if err != nil {
			continue // it was found that they can be cut
		}
		for _, bar := range plan.Bars {
			out[a.rodAt[bar.Stock]]++
		}
	}
	return out
}

// onlyRod is the only length in which a kind of rod is stocked or sold, and how many of the
// shortest axles one yields; -1 if there are several.
func (j *job) onlyRod(part int) (at, each int) {
	at = -1
	for k, r := range j.rods {
		if r.part != part {
			continue
		}
		if at >= 0 {
			return -1, 0
		}
		at, each = k, max(1, design.FromRod(r.length, j.shortest()))
	}
	return at, each
}

// times is what n sets take of what is sawn.
func times(list []sawn, n int) []sawn {
	out := slices.Clone(list)
	for i := range out {
		out[i].count *= n
	}
	return out
}

// capCut caps how many axles of each kind, and pulleys of discs, one of n sets may take beside
// others: as many of the shortest as can be cut from what there is, and as the sheets take.
func (a *asker) capCut(j *job, caps []int, others []sawn, have []int, n int) {
	for at := range a.parts {
		if a.parts[at].made != nil && a.sheetsShort {
			if caps[at] = a.mostBeside(sawn{part: at, count: n, turn: j.turn}, others, j.most[at]); caps[at] == j.most[at] {
				caps[at] = plenty
			}
			continue
		}
		if a.parts[at].kind != "axle" || !a.limited[at] {
			continue
		}
		takes := make([]int, len(a.parts))
		for caps[at] = j.most[at]; caps[at] > 0; caps[at]-- {
			takes[at] = caps[at]
			rows := slices.Concat(others, times(j.sawnAtLeast(takes), n))
			taken := make([]int, len(rows))
			for i := range rows {
				taken[i] = rows[i].count
			}
			if a.cuttable(at, rows, taken, have) {
				break
			}
		}
	}
}
