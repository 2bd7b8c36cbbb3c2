package recheck

import "math"

// sawCut is what a saw takes at each cut, in mm (common practice: a junior hacksaw).
const sawCut = 1

// mostCounted is how many sets rods are counted for at the most.
const mostCounted = 1000

// mostSets is for how many sets the axles of a kind of rod can be cut.
func (p *proposal) mostSets(u *use) int {
	enough, short := 0, mostCounted+1
	for short-enough > 1 {
		if n := (enough + short) / 2; p.cuttable(u, n) {
			enough = n
		} else {
			short = n
		}
	}
	return enough
}

// cuttable tells whether the axles of so many sets can be cut from the rods of a kind: all
// but the last axle are of one length, a vehicle's free axle is as long as the last. Rod by
// rod it keeps the most of the short ones that there can be beside each number of long ones.
func (p *proposal) cuttable(u *use, sets int) bool {
	short, long := 0, 0
	var shortSize, longSize float64
	for i := range p.Axles {
		switch a := &p.Axles[i]; {
		case a.Stock != u.Name:
		case i == len(p.Axles)-1:
			long, longSize = long+sets, a.Length+sawCut
			if p.Wheel != nil {
				long += sets
			}
		default:
			short, shortSize = short+sets, a.Length+sawCut
		}
	}
	fit := func(room, size float64) int { return int(math.Floor(room/size + 1e-9)) }
	beside := make([]int, long+1)
	for n := range beside {
		beside[n] = -1
	}
	beside[0] = 0
	for _, at := range u.Places {
		rod := at.Length + sawCut
		for range min(at.Count, short+long) {
			for n := long; n >= 0; n-- {
				best := -1
				for k := 0; k <= n && (k == 0 || float64(k)*longSize <= rod+1e-9); k++ {
					if before := beside[n-k]; before >= 0 {
						more := 0
						if short > 0 {
							more = fit(rod-float64(k)*longSize, shortSize)
						}
						best = max(best, before+more)
					}
				}
				beside[n] = best
			}
			if beside[long] >= short {
				return true
			}
		}
	}
	return beside[long] >= short
}
