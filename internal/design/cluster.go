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
	states         []*state                      // in the order of inClusters
	cost           score.Points                  // of the cheapest
	hub            units.Interval[units.Newtons] // up to slip
	ratio          units.Interval[float64]
	driver, driven units.Interval[units.Millimetres] // pitch radii
	greatest       units.Interval[units.Newtons]
	exponent       units.Interval[float64]
	growth         units.Interval[float64] // of the pull at rest for each mm, as a share
	creep          units.Interval[float64] // lost of the speed for each newton of effective pull
	cell           units.Interval[units.Millimetres]
	far            units.Millimetres // the least far end of a cell
	thinnest       *state            // band; nil where bands take up room in ways that cannot be compared
	// The halves are made when they are first asked for. Several rows at once may do so, and
	// make them twice, alike.
	made atomic.Pointer[[2]*cluster]
}

// alone is the cluster of a single state.
func alone(s *state) *cluster {
	c := &cluster{states: []*state{s}, cost: s.cost}
	c.hub = s.hubBetween(0, 1)
	c.ratio = interval(s.Ratio)
	c.driver, c.driven = interval(s.DriverPitch/2), interval(s.DrivenPitch/2)
	c.greatest, c.exponent, c.growth = interval(s.greatest), interval(s.exponent), interval(s.growth)
	c.cell, c.far, c.thinnest = s.cell, s.cell.Hi, s
	if g := float64(s.greatest); g > 0 {
		first, last := s.lost[0]/g, s.lostAt(1)/g
		c.creep = units.Interval[float64]{Lo: min(first, last) * (1 - lostPad), Hi: max(first, last) * (1 + lostPad)}
	}
	return c
}

// joined is the cluster of some states in the order of inClusters, of which there is at least one.
func joined(states []*state) *cluster {
	first := states[0].alone
	if len(states) == 1 {
		return first
	}
	c := &cluster{states: states, cost: first.cost, hub: first.hub, ratio: first.ratio, driver: first.driver, driven: first.driven, greatest: first.greatest,
		exponent: first.exponent, growth: first.growth, creep: first.creep, cell: first.cell, far: first.far, thinnest: first.thinnest}
	for _, s := range states[1:] {
		o := s.alone
		c.hub, c.ratio, c.driver, c.driven = c.hub.Join(o.hub), c.ratio.Join(o.ratio), c.driver.Join(o.driver), c.driven.Join(o.driven)
		c.greatest, c.exponent, c.growth = c.greatest.Join(o.greatest), c.exponent.Join(o.exponent), c.growth.Join(o.growth)
		c.creep, c.cell = c.creep.Join(o.creep), c.cell.Join(o.cell)
		c.far, c.thinnest = min(c.far, o.far), thinner(c.thinnest, s)
	}
	return c
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

// hubBetween bounds the pull on either axle between two shares of the pull at slip: by
// values so near to one another that it is no further off between them than the pad.
func (s *state) hubBetween(least, most float64) units.Interval[units.Newtons] {
	steps := 8
	if most-least < 0.02 {
		steps = 1
	}
	lo, hi := math.Inf(1), 0.0
	for k := range steps + 1 {
		at := s.hubAt(least + (most-least)*float64(k)/float64(steps))
		lo, hi = min(lo, at), max(hi, at)
	}
	return units.Interval[units.Newtons]{Lo: units.Newtons(lo * (1 - curvePad)), Hi: units.Newtons(hi * (1 + curvePad))}
}

func interval[T ~float64](v T) units.Interval[T] { return units.Interval[T]{Lo: v, Hi: v} }
