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

// most is the greatest total worth of pieces cut from one bar of the given room,
// never more of a kind than are wanted at all.
func most(pieces []kind, worth []int, room int) int {
	unit := 0
	for _, p := range pieces {
		unit = commonDivisor(unit, p.size)
	}
	room /= unit
	best := make([]int, room+1)
	for i, p := range pieces {
		if worth[i] == 0 {
			continue
		}
		// In bundles of 1, 2, 4 ... pieces, which make up every number to count.
		left := min(p.count, room*unit/p.size)
		for bundle := 1; left > 0; bundle *= 2 {
			n := min(bundle, left)
			left -= n
			size, value := n*p.size/unit, n*worth[i]
			for r := room; r >= size; r-- {
				best[r] = max(best[r], best[r-size]+value)
			}
		}
	}
	return best[room]
}

func commonDivisor(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
