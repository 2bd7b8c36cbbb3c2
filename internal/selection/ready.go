package selection

import (
	"math"
	"slices"

	"findrive/internal/units"
)

// cost is in shares of a unit, of which there are PerPoint in a point. Logarithms of
// ratios are held as what they cost, so that an error is a difference.
type cost = int64

const unlimited cost = math.MaxInt64 / 4

// ready is a question with clones put together and all figures in whole numbers.
type ready struct {
	*Question
	perPoint     cost
	wanted       cost // logarithm of the ratio
	motor, axle  []size
	bands        []loop
	least        float64 // |stretch - ideal| of the best stretch allowed
	firstCan     span    // what a first stage can do, if there is a band for it
	laterCan     span    // and a later one
	mostCentres  int     // steps of the grid that the longest band can span
	twiceCentre  []float64
	inverseTwice []float64
}

// size is a diameter, with all pulleys that have it.
type size struct {
	diameter units.Millimetres
	log      cost
	have     int // in each set
	kinds    []int
}

// loop is a length of band, with all bands that have it.
type loop struct {
	rest  units.Millimetres
	have  int
	kinds []int
}

func makeReady(q *Question) *ready {
	r := &ready{Question: q, perPoint: q.PerPoint * shares}
	if q.PerPoint == 0 {
		r.perPoint = 1e9 * shares
	}
	r.wanted = r.log(q.Ratio)
	for i, p := range q.Pulleys {
		list := &r.axle
		if p.OnMotor {
			list = &r.motor
		}
		at, same := slices.BinarySearchFunc(*list, p.Diameter, func(s size, d units.Millimetres) int { return compare(s.diameter, d) })
		if !same {
			*list = slices.Insert(*list, at, size{diameter: p.Diameter, log: r.log(float64(p.Diameter))})
		}
		s := &(*list)[at]
		s.have, s.kinds = s.have+p.Count/q.Sets, append(s.kinds, i)
	}
	for i, b := range q.Bands {
		at, same := slices.BinarySearchFunc(r.bands, b.Rest, func(s loop, d units.Millimetres) int { return compare(s.rest, d) })
		if !same {
			r.bands = slices.Insert(r.bands, at, loop{rest: b.Rest})
		}
		s := &r.bands[at]
		s.have, s.kinds = s.have+b.Count/q.Sets, append(s.kinds, i)
	}
	none := func(s size) bool { return s.have < 1 }
	r.motor, r.axle = slices.DeleteFunc(r.motor, none), slices.DeleteFunc(r.axle, none)
	r.bands = slices.DeleteFunc(r.bands, func(b loop) bool { return b.have < 1 })
	l := q.Limits
	r.least = max(0, l.LeastStretch-l.IdealStretch, l.IdealStretch-l.MostStretch)
	if n := len(r.bands); n > 0 {
		r.mostCentres = int(l.MostStretch*float64(r.bands[n-1].rest)/2/float64(l.Grid)) + 1
	}
	for i := range r.mostCentres + 1 {
		twice := 2 * float64(i) * float64(l.Grid)
		r.twiceCentre, r.inverseTwice = append(r.twiceCentre, twice), append(r.inverseTwice, 1/twice)
	}
	r.dropUnbanded()
	return r
}

func compare(a, b units.Millimetres) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// log is the natural logarithm as a cost.
func (r *ready) log(v float64) cost {
	return cost(math.Round(pointsPerLog * float64(r.perPoint) * math.Log(v)))
}

// offIdeal is what a stretch costs if all stages have it: a multiple of shares.
func (r *ready) offIdeal(stretch float64) cost {
	return r.off(math.Abs(stretch - r.Limits.IdealStretch))
}

func (r *ready) off(by float64) cost {
	return cost(math.Round(pointsPerStretch*float64(r.perPoint/shares)*by)) * shares
}

// leastBand is less than what any band costs, or as much.
func (r *ready) leastBand() cost { return max(0, r.off(r.least)-shares) }

// stages is what the number of stages costs.
func (r *ready) stages(k int) cost { return cost(k-1) * pointsPerStage * r.perPoint }
