package forecast

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Extent is what several drives before one load do on the likely day, within bounds. Its
// fields are those of Work.
type Extent struct {
	Ratio    units.Interval[float64] // above 0
	Demand   units.NewtonMillimetres // of every one
	Swing    units.NewtonMillimetres
	Friction units.Interval[units.NewtonMillimetres]
	Creep    units.Interval[float64]
	Heavy    units.Interval[float64] // only for a Swing
	Count    int                     // of stages of whose grip something is known
	Margin   [drive.MaxStages]float64
	Exponent [drive.MaxStages]units.Interval[float64]
}

// AtMost bounds from above in how many of the classrooms any of the drives works, and
// from below in how many it stands. It stops as soon as fewer than need can work, and
// then both are only a bound in the sense of that.
//
// In a room a drive is the faster the less friction and creep there is; by the velocity
// ratio, once the motor carries less than half of its stall torque, the faster the less
// it reduces, and else it has one fastest ratio and is slower to both sides of it.
func (c *Class) AtMost(x *Extent, need int) (works, stands int) {
	works = Rooms
	low, high := float64(c.Target)*(1-c.tolerance-2*toleranceNoise), float64(c.Target)*(1+c.tolerance+2*toleranceNoise)
	demand, swing := float64(x.Demand), float64(x.Swing)
	for _, i := range c.order {
		can, turns := c.mayWork(x, i, demand*c.steady[i], swing*c.swing[i], low, high)
		if !turns {
			stands++
		}
		if !can {
			if works--; works < need {
				return works, stands
			}
		}
	}
	return works, stands
}

// mayWork tells whether any of the drives may work in a room, and whether any may turn.
func (c *Class) mayWork(x *Extent, i int, load, swing, low, high float64) (works, turns bool) {
	rub := c.friction[i] * c.pull[i]
	slight, heavy := float64(x.Friction.Lo)*rub, float64(x.Friction.Hi)*rub
	spare := c.free[i] - c.slope[i]*slight
	if spare <= c.slope[i]*(load+swing)/x.Ratio.Hi {
		return false, false // it stalls, or does not start
	}
	if x.Count > 0 && c.mustSlip(x, i) {
		return false, false
	}
	// The fastest: torque load/ratio + slight.
	at := min(max(2*c.slope[i]*load/spare, x.Ratio.Lo), x.Ratio.Hi)
	fastest := (spare - c.slope[i]*load/at) / at
	// Creep goes with the torque, which is between that of the load and that of friction,
	// each as a share of the likely.
	lightly, heavily := min(c.steady[i], rub)/c.pull[i], max(c.steady[i], rub)/c.pull[i]
	if fastest *= expAtMost(x.Creep.Hi * lightly); fastest < low {
		return false, true
	}
	if swing > 0 {
		most := max(2*c.slope[i]*(load+swing)/spare, x.Ratio.Lo)
		most = min(most, x.Ratio.Hi)
		slow := (spare - c.slope[i]*(load+swing)/most) / most * expAtMost(x.Heavy.Hi*min(c.steady[i], c.swing[i], rub)/c.pull[i])
		if overTurn(fastest, slow) < low {
			return false, true
		}
	}
	slowest, least := math.Inf(1), math.Inf(1)
	for _, ratio := range [2]float64{x.Ratio.Lo, x.Ratio.Hi} {
		slowest = min(slowest, (c.free[i]-c.slope[i]*(load/ratio+heavy))/ratio)
		least = min(least, (c.free[i]-c.slope[i]*((load+swing)/ratio+heavy))/ratio)
	}
	slowest = max(0, slowest) * expAtLeast(x.Creep.Lo*heavily)
	if swing > 0 {
		slowest = overTurn(slowest, max(0, least)*expAtLeast(x.Heavy.Lo*max(c.steady[i], c.swing[i], rub)/c.pull[i]))
	}
	return slowest <= high, true
}

// mustSlip tells whether in a room a band of every one of the drives slips. Starting asks
// at least the lesser of load and friction of what it asks on the likely day.
func (c *Class) mustSlip(x *Extent, i int) bool {
	asked := min(c.steady[i], c.swing[i], c.friction[i]*c.pull[i])
	for k := range x.Count {
		held := x.Margin[k] * c.pull[i]
		if held >= sureToGrip*asked {
			continue
		}
		e := x.Exponent[k].Lo
		if c.grip[i] < 1 {
			e = x.Exponent[k].Hi // the steeper the exponent, the less is lost with grip
		}
		if held*math.Tanh(e*c.grip[i]/2) < asked*math.Tanh(e/2)*(1-1e-9) {
			return true
		}
	}
	return false
}

// expAtMost and expAtLeast bound exp(x) for x at most 0, quickly.
func expAtMost(x float64) float64 { return 1 / (1 - x + x*x/2) }

func expAtLeast(x float64) float64 { return max(0, 1+x*(1+x*(0.5+x/6))) }
