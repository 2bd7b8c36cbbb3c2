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
	// are all; the first pieces of them.
	piece  [mostPieces]*bounds
	pieces int
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

// bounds are what the one state does.
func (s *state) bounds() bounds {
	return bounds{
		atLoads: s.atEdges(float64(s.greatest)), ratio: interval(s.Ratio),
		driver: interval(s.DriverPitch / 2), driven: interval(s.DrivenPitch / 2),
		greatest: interval(s.greatest), exponent: interval(s.exponent), growth: interval(s.growth),
		band: s.band, only: s,
	}
}

// mostPieces is in how many pieces a cluster is bounded. It is tried out (scripts/performance
// ordinary): nothing depends on it but time.
const mostPieces = 2

// joined is the cluster of some states in the order of inClusters, of which there is at least one.
// What each does is worked out again for every cluster that it is in: to keep it would take most of
// the memory.
func joined(states []*state) *cluster {
	first := states[0]
	c := &cluster{states: states, cost: first.cost, cell: first.cell, far: first.cell.Hi, thinnest: first}
	for _, s := range states[1:] {
		c.cell, c.far, c.thinnest = c.cell.Join(s.cell), min(c.far, s.cell.Hi), thinner(c.thinnest, s)
	}
	if len(states) == 1 {
		c.bounds = first.bounds()
		c.piece[0], c.pieces = &c.bounds, 1
		return c
	}
	c.inPieces()
	c.bounds = *c.piece[0]
	for _, piece := range c.piece[1:c.pieces] {
		c.bounds.join(piece)
	}
	c.only, c.band = nil, first.band
	return c
}

// inPieces bounds the states in pieces, by how hard they pull, on a scale of ratios.
func (c *cluster) inPieces() {
	least, most := math.Inf(1), 0.0
	for _, s := range c.states {
		at := s.hubAt(0)
		least, most = min(least, at), max(most, at)
	}
	var upTo [mostPieces]float64
	for k := range mostPieces {
		upTo[k] = least * math.Pow(most/least, float64(k+1)/mostPieces)
	}
	var of [mostPieces]*bounds
	for i, s := range c.states {
		k := 0
		if len(c.states) <= mostPieces {
			k = i
		} else {
			for at := s.hubAt(0); k < mostPieces-1 && at > upTo[k]; k++ {
			}
		}
		own := s.bounds()
		if of[k] == nil {
			of[k] = &own
		} else {
			of[k].join(&own)
		}
	}
	for _, piece := range of {
		if piece != nil {
			c.piece[c.pieces] = piece
			c.pieces++
		}
	}
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
