package groups

import (
	"math"
	"slices"

	"findrive/internal/allot"
	"findrive/internal/brief"
	"findrive/internal/cutting"
	"findrive/internal/design"
	"findrive/internal/parts"
	"findrive/internal/supply"
	"findrive/internal/units"
)

// rack is what axles are cut from: the rods of each kind.
type rack struct {
	cup   *parts.Cupboard
	brief *brief.Brief
	also  map[string][]string // names of rods of one kind, by the first
}

func newRack(cup *parts.Cupboard, b *brief.Brief) rack {
	r := rack{cup, b, map[string][]string{}}
	for _, a := range design.AlikeParts(cup) {
		if a.Kind == "axle" {
			r.also[a.Names[0]] = a.Names
		}
	}
	return r
}

// rods are the rods of a kind, and as many more of the first name.
func (r *rack) rods(name string, more int) []cutting.Stock {
	var out []cutting.Stock
	for i := range r.cup.Axles {
		if a := &r.cup.Axles[i]; slices.Contains(r.also[name], a.Name) {
			rod := cutting.Stock{Name: a.Name, Length: a.Length, Count: a.Count}
			if a.Name == name {
				rod.Count += more
			}
			out = append(out, rod)
		}
	}
	return out
}

// cuts lists the axles of a drive, by the first names of their kinds.
func (r *rack) cuts(d *supply.Share) []design.Axle {
	out := design.CutAxles(d.Drive.Drive, r.brief)
	for i := range out {
		for first, names := range r.also {
			if slices.Contains(names, out[i].Stock) {
				out[i].Stock = first
			}
		}
	}
	return out
}

// pieces are the axles of a kind that so many sets of each drive have.
func (r *rack) pieces(name string, drives []supply.Share, counts []int) []cutting.Piece {
	var out []cutting.Piece
	for i, n := range counts {
		if n == 0 {
			continue
		}
		for _, cut := range r.cuts(&drives[i]) {
			if cut.Stock == name {
				out = append(out, cutting.Piece{Length: cut.Length, Count: n * cut.Count})
			}
		}
	}
	return out
}

// cuttable is whether those can be cut, from so many more rods of the first name.
func (r *rack) cuttable(name string, drives []supply.Share, counts []int, more int) bool {
	return cutting.Enough(r.pieces(name, drives, counts), r.rods(name, more), cutting.Kerf)
}

// hundredths is what a length and one cut are in whole hundredths of a millimetre.
func hundredths(l units.Millimetres) int { return int(math.Floor(float64(l+cutting.Kerf)*100 + 1e-6)) }

// length is that of all rods of a kind, their last cuts with them.
func (r *rack) length(name string, more int) int {
	sum := 0
	for _, rod := range r.rods(name, more) {
		sum += rod.Count * (hundredths(rod.Length) + 1)
	}
	return sum
}

// sawing makes what is cut from rods part of a sharing out of drives: by total length, which
// bounds it, and by cutting, which settles it. The axles of each length are rows of their
// own, of which there is no end, so that drives are compared by them. keys are what the
// rows of the problem are; there are more rods of the kind with.
func (r *rack) sawing(p *allot.Problem, keys []key, drives []supply.Share, with string, more int) {
	extra := func(name string) int {
		if name == with {
			return more
		}
		return 0
	}
	var kinds []string
	var axles []design.Axle
	cuts := make([][]design.Axle, len(drives))
	for i := range drives {
		cuts[i] = r.cuts(&drives[i])
	}
	for row, k := range keys {
		if k.kind != "axle" {
			continue
		}
		kinds = append(kinds, k.name)
		p.Stock[row] = r.length(k.name, extra(k.name))
		for i := range drives {
			p.Choices[i].Takes[row] = 0
			for _, cut := range cuts[i] {
				if cut.Stock != k.name {
					continue
				}
				p.Choices[i].Takes[row] += cut.Count * hundredths(cut.Length)
				if cut.Count = 0; !slices.Contains(axles, cut) {
					axles = append(axles, cut)
				}
			}
		}
	}
	takes := make([][]int, len(axles)) // of each, one set of each drive
	for k, a := range axles {
		p.Joint = append(p.Joint, len(p.Stock))
		p.Stock = append(p.Stock, math.MaxInt32)
		for i := range drives {
			n := 0
			for _, cut := range cuts[i] {
				if cut.Stock == a.Stock && cut.Length == a.Length {
					n += cut.Count
				}
			}
			takes[k] = append(takes[k], n)
			p.Choices[i].Takes = append(p.Choices[i].Takes, n)
		}
	}
	rods := make([][]cutting.Stock, len(kinds))
	for i, name := range kinds {
		rods[i] = r.rods(name, extra(name))
	}
	p.Fits = func(counts []int) bool {
		for i, name := range kinds {
			var pieces []cutting.Piece
			for k, a := range axles {
				n := 0
				for d, sets := range counts {
					n += sets * takes[k][d]
				}
				if a.Stock == name && n > 0 {
					pieces = append(pieces, cutting.Piece{Length: a.Length, Count: n})
				}
			}
			if !cutting.Enough(pieces, rods[i], cutting.Kerf) {
				return false
			}
		}
		return true
	}
}

// plenty is whether the rods of a kind make the axles of so many sets of any drives.
func (r *rack) plenty(name string, drives []supply.Share, groups int) bool {
	most, longest := 0, units.Millimetres(0)
	for _, d := range drives {
		n := 0
		for _, cut := range r.cuts(&d) {
			if cut.Stock == name {
				n += cut.Count
				longest = max(longest, cut.Length)
			}
		}
		most = max(most, n)
	}
	return most == 0 || cutting.Enough([]cutting.Piece{{Length: longest, Count: most * groups}}, r.rods(name, 0), cutting.Kerf)
}

// gone is whether what is left of a kind of rod by some shares is too little for one more of
// one of them.
func (r *rack) gone(name string, shares []supply.Share) bool {
	counts := make([]int, len(shares))
	for i, s := range shares {
		counts[i] = s.Groups
	}
	for i, s := range shares {
		one := make([]int, len(shares))
		if one[i] = 1; s.Groups == 0 || len(r.pieces(name, shares, one)) == 0 {
			continue
		}
		more := slices.Clone(counts)
		if more[i]++; !r.cuttable(name, shares, more, 0) {
			return true
		}
	}
	return false
}

// RodsFor is how many more rods of a kind it takes for so many sets of one drive; ok is false if
// those of its first name, which they are then of, are too short.
func RodsFor(cup *parts.Cupboard, b *brief.Brief, d *design.Proposal, name string, sets int) (more int, first string, ok bool) {
	r := newRack(cup, b)
	first = name
	for is, names := range r.also {
		if slices.Contains(names, name) {
			first = is
		}
	}
	more, ok = r.moreFor(first, supply.Share{Drive: d}, sets)
	return more, first, ok
}

// moreFor is how many more rods of the first name it takes for so many sets of one drive;
// ok is false if those are too short.
func (r *rack) moreFor(name string, drive supply.Share, sets int) (more int, ok bool) {
	fits := func(more int) bool { return r.cuttable(name, []supply.Share{drive}, []int{sets}, more) }
	pieces := 0
	for _, p := range r.pieces(name, []supply.Share{drive}, []int{sets}) {
		pieces += p.Count
	}
	for ; more <= pieces; more++ {
		if fits(more) {
			return more, true
		}
	}
	return 0, false
}
