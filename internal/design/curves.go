package design

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// curves are what a band does under load, by the effective pull as a share of that at
// which it slips: parabolas through three loads.
type curves struct {
	pull [3]float64 // of the two runs together, in N
	lost [3]float64 // share of the speed lost to creep, over the share of the pull
	// Of the strands from the line of centres: the runs pull together along it, and
	// against one another across.
	cos, across float64 // across in N at slip
}

// How far, as a share, the curves may be from mechanics.Load; TestCurvesAreNearEnough
// measures it.
const (
	curvePad = 0.015 // pull on the axles
	lostPad  = 0.03  // creep
)

// nearSlip is where, before slip, the last load is taken.
const nearSlip = 0.98

// curvesOf works a fitted band out at three loads.
func curvesOf(o *bandOption, f *mechanics.Fitted, greatest units.Newtons) curves {
	cos, tan := drive.StrandLean(f, o.crossed)
	c := curves{pull: [3]float64{2 * float64(f.Pull)}, cos: cos, across: float64(greatest) * tan}
	loading := o.stage.Loading(f)
	half, okHalf := loading.At(greatest * nearSlip / 2)
	most, okMost := loading.At(greatest * nearSlip)
	if !okHalf || !okMost {
		return c // it carries nothing
	}
	c.pull = parabola(c.pull[0], float64(half.Tight+half.Slack), float64(most.Tight+most.Slack))
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

// hubAt is the size of the band's pull on either axle.
func (c *curves) hubAt(x float64) float64 {
	return c.cos * math.Hypot(c.pull[0]+x*(c.pull[1]+x*c.pull[2]), x*c.across)
}

func (c *curves) lostAt(x float64) float64 { return x * (c.lost[0] + x*(c.lost[1]+x*c.lost[2])) }
