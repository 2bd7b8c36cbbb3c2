package design

import (
	"math"
	"slices"
	"sync/atomic"

	"findrive/internal/score"
	"findrive/internal/units"
)

// cluster is several states of one pair of pulleys, or one, with bounds on what they do.
// It is halved until states are left: by their penalty first, then by how hard they pull.
type cluster struct {
	bounds
	states   []*state     // in the order of inClusters
	cost     score.Points // of the cheapest
	cell     units.Interval[units.Millimetres]
	far      units.Millimetres // the least far end of a cell
	thinnest *state            // band; nil where bands take up room in ways that cannot be compared
	// The same bounds of a few of the states together that pull about alike, which between them
	// are all.
	pieces []*bounds
	// The halves are made when they are first asked for. Several rows at once may do so, and
	// make them twice, alike.
	made atomic.Pointer[[2]*cluster]
}

// bounds are what several states do at least and at most.
type bounds struct {
	atLoads        atLoads
	ratio          units.Interval[float64]
	driver, driven units.Interval[units.Millimetres] // pitch radii
	greatest       units.Interval[units.Newtons]
	exponent       units.Interval[float64]
	growth         units.Interval[float64] // of the pull at rest for each mm, as a share
	band           int                     // of one of them
	only           *state                  // if there is one
}

func (b *bounds) join(o *bounds) {
	b.only = nil
	b.ratio, b.driver, b.driven = b.ratio.Join(o.ratio), b.driver.Join(o.driver), b.driven.Join(o.driven)
	b.greatest, b.exponent, b.growth = b.greatest.Join(o.greatest), b.exponent.Join(o.exponent), b.growth.Join(o.growth)
	for k := range b.atLoads {
		b.atLoads[k].join(&o.atLoads[k])
	}
}

// alone is the cluster of a single state.
func alone(s *state) *cluster {
	c := &cluster{states: []*state{s}, cost: s.cost, cell: s.cell, far: s.cell.Hi, thinnest: s}
	c.ratio = interval(s.Ratio)
	c.driver, c.driven = interval(s.DriverPitch/2), interval(s.DrivenPitch/2)
	c.greatest, c.exponent, c.growth = interval(s.greatest), interval(s.exponent), interval(s.growth)
	c.atLoads = s.atEdges(float64(s.greatest))
	c.band, c.only, c.pieces = s.band, s, []*bounds{&c.bounds}
	return c
}

// mostPieces is in how many pieces a cluster is bounded. It is tried out (scripts/performance
// ordinary): nothing depends on it but time.
const mostPieces = 2

// joined is the cluster of some states in the order of inClusters, of which there is at least one.
func joined(states []*state) *cluster {
	first := states[0].alone
	if len(states) == 1 {
		return first
	}
	c := &cluster{states: states, cost: first.cost, bounds: first.bounds, cell: first.cell, far: first.far, thinnest: first.thinnest}
	for _, s := range states[1:] {
		o := s.alone
		c.bounds.join(&o.bounds)
		c.cell, c.far, c.thinnest = c.cell.Join(o.cell), min(c.far, o.far), thinner(c.thinnest, s)
	}
	c.pieces = inPieces(states)
	return c
}

// inPieces bounds some states in pieces, by how hard they pull, on a scale of ratios.
func inPieces(states []*state) []*bounds {
	out := make([]*bounds, 0, min(len(states), mostPieces))
	if len(states) <= mostPieces {
		for _, s := range states {
			out = append(out, &s.alone.bounds)
		}
		return out
	}
	least, most := math.Inf(1), 0.0
	for _, s := range states {
		at := s.hubAt(0)
		least, most = min(least, at), max(most, at)
	}
	upTo := [mostPieces]float64{mostPieces - 1: math.Inf(1)}
	for k := range mostPieces - 1 {
		upTo[k] = least * math.Pow(most/least, float64(k+1)/mostPieces)
	}
	var of [mostPieces]*bounds
	for _, s := range states {
		k, at := 0, s.hubAt(0)
		for at > upTo[k] {
			k++
		}
		if of[k] == nil {
			own := s.alone.bounds
			of[k] = &own
		} else {
			of[k].join(&s.alone.bounds)
		}
	}
	for _, piece := range of {
		if piece != nil {
			out = append(out, piece)
		}
	}
	return out
}

// thinner is whichever of two bands takes up less room: of open ones the thinner. The runs
// of a crossed band lean the more the thicker it is, so that nothing can be said of two.
func thinner(a, b *state) *state {
	switch {
	case a == nil || a.crossed != b.crossed || a.crossed && a.thickness != b.thickness:
		return nil
	case b.thickness < a.thickness:
		return b
	}
	return a
}

// single tells whether there is nothing to halve.
func (c *cluster) single() bool { return len(c.states) == 1 }

// halves are the cheaper states and the dearer; among equally dear ones those with open
// bands and with crossed ones; then those that pull less and those that pull more, of which
// neither are few.
func (c *cluster) halves() (lower, upper *cluster) {
	if two := c.made.Load(); two != nil {
		return two[0], two[1]
	}
	at := slices.IndexFunc(c.states, func(s *state) bool { return s.cost != c.cost })
	if at < 0 {
		at = slices.IndexFunc(c.states, func(s *state) bool { return s.crossed != c.states[0].crossed })
	}
	if at < 0 {
		at = c.widestGap()
	}
	lower, upper = joined(c.states[:at]), joined(c.states[at:])
	c.made.Store(&[2]*cluster{lower, upper})
	return lower, upper
}

// widestGap is where, in the middle half of the states, the pull grows most from one to the
// next, on a scale of ratios.
func (c *cluster) widestGap() int {
	end := max(1, len(c.states)/4)
	at, widest := end, 0.0
	for i := end; i <= len(c.states)-end; i++ {
		if gap := c.states[i].hubAt(0) / c.states[i-1].hubAt(0); gap > widest {
			at, widest = i, gap
		}
	}
	return at
}

// within bounds what the states do between two shares of the pulls at which they slip.
func (b *bounds) within(least, most float64) atLoad {
	if b.only != nil {
		return b.only.between(least, most, float64(b.greatest.Lo))
	}
	return b.atLoads.within(least, most)
}

func interval[T ~float64](v T) units.Interval[T] { return units.Interval[T]{Lo: v, Hi: v} }
