package selection

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// pair is a driver and a driven pulley round which a band can run.
type pair struct {
	log            cost  // of their ratio
	band           cost  // what the best band and centre distance cost, if all stages cost that
	driver, driven int16 // indices among the sizes, the driver of a first stage among those for motors
}

// scanner finds the pairs that some band suits to within a limit of cost. A
// catalogue has tens of millions of stages, of which some thousands matter, so a
// stage is thrown away by one look at a table: the path is measured by a series, and
// the table knows which lengths come near the ideal stretch of any band. Only what
// is left is measured in full.
type scanner struct {
	*ready
	stretches
	cells       float64 // in a millimetre of path
	first       []int16 // by length of path, in cells: the first band that may suit, or -1
	least, most float64 // lengths of path that suit any band
}

// stretches are those of interest.
type stretches struct{ low, high float64 }

// within is the stretches that cost no more than a limit, and perhaps a little more.
func (r *ready) within(limit cost) stretches {
	off := max(r.least, float64(limit)/float64(r.perPoint)/pointsPerStretch) + 2*shares/float64(r.perPoint)/pointsPerStretch + 1e-12
	l := r.Limits
	return stretches{max(l.LeastStretch, l.IdealStretch-off), min(l.MostStretch, l.IdealStretch+off)}
}

// newScanner makes a scanner for stages that cost no more than a limit.
func (r *ready) newScanner(limit cost) *scanner {
	s := &scanner{ready: r, stretches: r.within(limit)}
	if len(r.bands) == 0 || s.low > s.high {
		s.most = -1
		return s
	}
	s.least, s.most = s.low*float64(r.bands[0].rest), s.high*float64(r.bands[len(r.bands)-1].rest)
	// A cell is about half of what suits the shortest band.
	s.cells = min(16, max(1, 2/((s.high-s.low)*float64(r.bands[0].rest))))
	s.first = make([]int16, int(s.most*s.cells)+2)
	for i := range s.first {
		s.first[i] = -1
	}
	for b := len(r.bands) - 1; b >= 0; b-- {
		rest := float64(r.bands[b].rest)
		for i := int(max(0, s.low*rest-seriesError) * s.cells); i <= int(s.high*rest*s.cells); i++ {
			s.first[i] = int16(b)
		}
	}
	return s
}

// seriesError is more than the series of look falls short of a path, in
// millimetres, for paths to ten metres.
const seriesError = 0.01

// look is the least cost of a band round two pulleys, unlimited if none is of
// interest.
//
// An open band's path is pi/2 (D+d) + 2C f(x), x = (D-d)/2C, where
// f(x) = cos(asin x) + x asin x = 1 + x²/2 + x⁴/24 + x⁶/80 + 5x⁸/896 + 7x¹⁰/2304 ...
// All terms are above 0, so the series cut off is too short, and for x to 1/2 by
// less than 6e-7 of 2C.
func (s *scanner) look(driver, driven units.Millimetres) cost {
	best := math.Inf(1)
	ideal := s.Limits.IdealStretch
	across := math.Abs(float64(driven - driver))
	wrap := math.Pi / 2 * float64(driver+driven)
	for i := s.leastCentre(driver, driven); i < len(s.twiceCentre); i++ {
		twice := s.twiceCentre[i]
		x := across * s.inverseTwice[i]
		x *= x
		path := wrap + twice*(1+x*(1./2+x*(1./24+x*(1./80+x*(5./896+x*(7./2304))))))
		if path > s.most {
			break
		}
		exact := x > 0.2501
		if exact {
			if path = s.path(driver, driven, i); path > s.most {
				break
			}
		}
		b := s.first[int(path*s.cells)]
		if b < 0 {
			continue
		}
		for ; int(b) < len(s.bands); b++ {
			rest := float64(s.bands[b].rest)
			// Not worth measuring if it cannot be the best so far.
			if off := math.Abs(path - ideal*rest); off-seriesError > best*rest {
				if path < ideal*rest {
					break
				}
				continue
			}
			if !exact {
				path, exact = s.path(driver, driven, i), true
			}
			stretch := path / rest
			if stretch < s.low {
				break
			}
			if stretch <= s.high {
				best = min(best, math.Abs(stretch-ideal))
			}
		}
	}
	if math.IsInf(best, 1) {
		return unlimited
	}
	return s.off(best)
}

// path is the length of a band's path at a step of the grid.
func (r *ready) path(driver, driven units.Millimetres, step int) float64 {
	return float64(mechanics.Belt{Driver: driver, Driven: driven, Centre: units.Millimetres(step) * r.Limits.Grid}.Length())
}

// leastCentre is the first step of the grid at which the pulleys clear each other and
// the band lies round enough of the smaller.
func (r *ready) leastCentre(driver, driven units.Millimetres) int {
	least := max((driver+driven)/2+r.Limits.Clearance, mechanics.CentreForArc(driver, driven, r.Limits.LeastArc))
	if !(least < r.Limits.Grid*units.Millimetres(len(r.twiceCentre))) {
		return len(r.twiceCentre)
	}
	return max(1, int(math.Ceil(float64(least/r.Limits.Grid)-1e-9)))
}
