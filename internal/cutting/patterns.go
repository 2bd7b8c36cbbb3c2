package cutting

import "slices"

// pattern is how many of each kind of piece are cut from one bar.
type pattern []int

func (p pattern) size(pieces []kind) int {
	sum := 0
	for i, n := range p {
		sum += n * pieces[i].size
	}
	return sum
}

// fillings lists the ways to cut a bar of the given room so that no wanted piece
// would still fit, most of the longest pieces first, stopping when each says so.
// Pieces before the first are not taken; must asks for at least one of the first.
func fillings(pieces []kind, wanted []int, room, first int, must bool, each func(pattern) bool) {
	p := make(pattern, len(pieces))
	var fill func(i, room int) bool
	fill = func(i, room int) bool {
		if i == len(pieces) {
			for k := first; k < len(pieces); k++ {
				if wanted[k] > p[k] && pieces[k].size <= room {
					return true // not full: another filling has this one in it
				}
			}
			return each(slices.Clone(p))
		}
		least := 0
		if must && i == first {
			least = 1
		}
		for n := min(wanted[i], room/pieces[i].size); n >= least; n-- {
			p[i] = n
			if !fill(i+1, room-n*pieces[i].size) {
				return false
			}
		}
		p[i] = 0
		return true
	}
	fill(first, room)
}

// mostOf is the greatest total worth of pieces cut from one bar of the given
// room, never more of a kind than are wanted at all, and a way to take them.
func mostOf(pieces []kind, worth []int, room int) (pattern, int) {
	unit := 0
	for _, p := range pieces {
		unit = commonDivisor(unit, p.size)
	}
	room /= unit
	type bundle struct{ kind, count, size int }
	var bundles []bundle
	for i, p := range pieces {
		if worth[i] <= 0 {
			continue
		}
		// In bundles of 1, 2, 4 ... pieces, which make up every number to count.
		left := min(p.count, room*unit/p.size)
		for n := 1; left > 0; n *= 2 {
			n = min(n, left)
			left -= n
			bundles = append(bundles, bundle{i, n, n * p.size / unit})
		}
	}
	best, taken := make([]int, room+1), make([][]bool, len(bundles))
	for k, b := range bundles {
		taken[k] = make([]bool, room+1)
		for r := room; r >= b.size; r-- {
			if with := best[r-b.size] + b.count*worth[b.kind]; with > best[r] {
				best[r], taken[k][r] = with, true
			}
		}
	}
	take := make(pattern, len(pieces))
	for k, r := len(bundles)-1, room; k >= 0; k-- {
		if taken[k][r] {
			take[bundles[k].kind] += bundles[k].count
			r -= bundles[k].size
		}
	}
	return take, best[room]
}

func commonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
