package design

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// curves are what a band does under load, by the effective pull as a share of that at
// which it slips: through three loads.
type curves struct {
	pull [4]float64 // of the two runs together, in N: a cubic
	lost [3]float64 // share of the speed lost to creep, over the share of the pull: a parabola
	// Of the strands from the line of centres: the runs pull together along it, and
	// against one another across.
	cos, across float64 // across in N at slip
}

// curvePad and lostPad are how far, as a share, the curves of the pull on the axles and of creep
// may be from mechanics.Load, up to a share of the pull at slip; TestCurvesAreNearEnough measures
// it.
func curvePad(upTo float64) float64 {
	if upTo <= 0.5 {
		return 0.005
	}
	return 0.01
}

func lostPad(upTo float64) float64 {
	if upTo <= 0.5 {
		return 0.016
	}
	return 0.018
}

// loadEdges are shares of the pull at slip, between which bands are bounded one by one.
var loadEdges = [...]float64{0, 0.1, 0.25, 0.5, 1}

// atLoad bounds what bands do from one of the edges to the next: their pull on either axle, and
// what is lost of the speed for each newton of effective pull.
type atLoad struct {
	hub   units.Interval[units.Newtons]
	creep units.Interval[float64]
}

func (a *atLoad) join(o *atLoad) { a.hub, a.creep = a.hub.Join(o.hub), a.creep.Join(o.creep) }

// atLoads is that between each of the edges.
type atLoads [len(loadEdges) - 1]atLoad

// within bounds it between two shares of the pull at slip.
func (a *atLoads) within(least, most float64) atLoad {
	last := len(a) - 1
	for last > 0 && loadEdges[last] >= most {
		last--
	}
	out := a[last]
	for last--; last >= 0 && loadEdges[last+1] > least; last-- {
		out.join(&a[last])
	}
	return out
}

// nearSlip is where, before slip, the last load is taken.
const nearSlip = 0.98

// curvesOf works a fitted band out at three loads.
func curvesOf(o *bandOption, f *mechanics.Fitted, greatest units.Newtons) curves {
	cos, tan := drive.StrandLean(f, o.crossed)
	c := curves{pull: [4]float64{2 * float64(f.Pull)}, cos: cos, across: float64(greatest) * tan}
	loading := o.stage.Loading(f)
	half, okHalf := loading.At(greatest * nearSlip / 2)
	most, okMost := loading.At(greatest * nearSlip)
	if !okHalf || !okMost {
		return c // it carries nothing
	}
	c.pull = cubic(c.pull[0], loading.GrowthAtRest()*float64(greatest), float64(half.Tight+half.Slack), float64(most.Tight+most.Slack))
	// At rest the lost share over the pull has a limit: that of the softness of the band
	// as it is stretched.
	rest := float64(greatest) / (o.stage.Band.Area() * o.stage.Band.PullFactor * float64(o.stage.Band.Rubber.Slope(f.Stretch)) * f.Stretch)
	c.lost = parabola(rest, (1-half.SpeedFactor)/(nearSlip/2), (1-most.SpeedFactor)/nearSlip)
	return c
}

// parabola is the one through values at 0, at half and at the whole of nearSlip.
func parabola(none, half, whole float64) [3]float64 {
	square := 2 * (none - 2*half + whole) / (nearSlip * nearSlip)
	return [3]float64{none, (whole-none)/nearSlip - square*nearSlip, square}
}

// cubic is the one that begins with a value and a slope at 0 and goes through values at half and at
// the whole of nearSlip.
func cubic(none, slope, half, whole float64) [4]float64 {
	const mid = nearSlip / 2
	a, b := (half-none-slope*mid)/(mid*mid), (whole-none-slope*nearSlip)/(nearSlip*nearSlip)
	return [4]float64{none, slope, 2*a - b, (b - a) / mid}
}

// hubAt is the size of the band's pull on either axle.
func (c *curves) hubAt(x float64) float64 {
	along, across := c.pull[0]+x*(c.pull[1]+x*(c.pull[2]+x*c.pull[3])), x*c.across
	return c.cos * math.Sqrt(along*along+across*across)
}

// atEdges bounds what a band does from each edge to the next, which pulls so much at slip.
func (c *curves) atEdges(atSlip float64) (out atLoads) {
	first := c.hubAt(loadEdges[0])
	for k := range out {
		least, most := loadEdges[k], loadEdges[k+1]
		last := c.hubAt(most)
		out[k].hub = c.hubs(least, most, first, last)
		out[k].creep = c.creepBetween(least, most, atSlip)
		first = last
	}
	return out
}

// between bounds what a band does between two shares of the pull at slip, at which it pulls so much.
func (c *curves) between(least, most, atSlip float64) atLoad {
	return atLoad{c.hubs(least, most, c.hubAt(least), c.hubAt(most)), c.creepBetween(least, most, atSlip)}
}

// hubs bounds the pull on the axles between two shares of the pull at slip where it is known: by
// values so near to one another that it is no further off between them than the pad.
func (c *curves) hubs(least, most, first, last float64) units.Interval[units.Newtons] {
	lo, hi := min(first, last), max(first, last)
	steps := math.Ceil((most - least) / 0.13)
	for k := 1.0; k < steps; k++ {
		at := c.hubAt(least + (most-least)*k/steps)
		lo, hi = min(lo, at), max(hi, at)
	}
	pad := curvePad(most)
	return units.Interval[units.Newtons]{Lo: units.Newtons(lo * (1 - pad)), Hi: units.Newtons(hi * (1 + pad))}
}

// creepBetween is what is lost of the speed for each newton of effective pull.
func (c *curves) creepBetween(least, most, atSlip float64) units.Interval[float64] {
	if atSlip <= 0 {
		return units.Interval[float64]{}
	}
	soft := func(x float64) float64 { return (c.lost[0] + x*(c.lost[1]+x*c.lost[2])) / atSlip }
	first, last, pad := soft(least), soft(most), lostPad(most)
	return units.Interval[float64]{Lo: min(first, last) * (1 - pad), Hi: max(first, last) * (1 + pad)}
}

func (c *curves) lostAt(x float64) float64 { return x * (c.lost[0] + x*(c.lost[1]+x*c.lost[2])) }
