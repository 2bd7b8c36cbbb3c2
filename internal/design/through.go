package design

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/score"
	"findrive/internal/units"
)

// partFlow bounds what the stages chosen so far do to torque and speed, from the
// output back to the driver chosen last, whatever bands and axles they get and
// wherever they go.
type partFlow struct {
	least, most units.NewtonMillimetres       // torque asked of that driver
	pull        units.Interval[units.Newtons] // of a band on its axle
	ratio       units.Interval[float64]       // ln of the velocity ratio
	share       units.Interval[float64]       // ln of the speed that creep leaves
	// unforgiving is charged for certain: some stage has no band that forgives.
	unforgiving score.Points
}

// The bounds are taken from the ends of windows, between which a band's pull and
// its creep grow with the centre distance (see drive.Envelope). loadedPull covers
// that load raises a band's pull on its axles by some per cent or lowers it a little,
// and flowPad what arcs and spans change besides.
const (
	loadedPull      = 1.1
	leastLoadedPull = 0.98
	flowPad         = 0.006
)

// through carries a flow back through one more stage, over all ways to band it
// that cost at most budget. It gives the rule that refuses them all, if one does;
// ok is false too if there are none. Creep takes the longest to work out, so it is
// left to crept, and until then it may be anything.
func (t *task) through(f partFlow, stage, driver, driven int, budget score.Points) (out partFlow, creep creeping, no *constraints.Refusal, ok bool) {
	var kept []ends
	var refusal *constraints.Refusal
	pitch := units.Interval[units.Millimetres]{Lo: units.Millimetres(math.Inf(1))}
	ratio := units.Interval[float64]{Lo: math.Inf(1)}
	pull := units.Interval[units.Newtons]{Lo: units.Newtons(math.Inf(1))}
	least := units.NewtonMillimetres(math.Inf(1))
	drag := t.axleDrag[driven]
	// What a band that does not forgive has still to be charged.
	rigid := score.Forgiveness(t.brief.Weights, false) - f.unforgiving
	out.unforgiving = f.unforgiving + rigid
	budget -= f.unforgiving
	t.eachOption(driver, driven, budget, func(o *bandOption) {
		if !t.wantsBand(stage, o) {
			return
		}
		window, _ := o.reach(span{0, len(o.rungs)}, budget)
		forgiving := window.Meet(t.forgivingCentres(o))
		if o.cost+rigid > budget {
			window = forgiving // no other can be afforded
		}
		if window.Empty() {
			return
		}
		near, far := o.end(window.Lo), o.end(window.Hi)
		if near == nil || far == nil {
			return
		}
		own := units.Interval[units.Newtons]{Lo: near.IdleHub() * leastLoadedPull, Hi: far.IdleHub() * loadedPull}
		// At best the two pulls on the axle are against each other.
		carried := f.least + units.NewtonMillimetres(float64(drag.Lo)*float64(max(0, own.Lo-f.pull.Hi, f.pull.Lo-own.Hi)))
		needed := units.Newtons(carried / units.NewtonMillimetres(max(near.DrivenPitch, far.DrivenPitch)/2))
		if no := constraints.GripRunning(t.brief.Limits, &t.bands[o.band].Part, stage, constraints.GripMargin(far.Greatest, needed*(1-flowPad))); no != nil {
			refusal = no
			return
		}
		kept = append(kept, ends{near, far})
		if !forgiving.Empty() {
			out.unforgiving = f.unforgiving
		}
		for _, e := range []*drive.End{near, far} {
			pitch.Lo, pitch.Hi = min(pitch.Lo, e.DrivenPitch), max(pitch.Hi, e.DrivenPitch)
			ratio.Lo, ratio.Hi = min(ratio.Lo, e.Ratio), max(ratio.Hi, e.Ratio)
		}
		least = min(least, carried/units.NewtonMillimetres(max(near.Ratio, far.Ratio)))
		pull.Lo, pull.Hi = min(pull.Lo, own.Lo), max(pull.Hi, own.Hi)
	})
	if len(kept) == 0 {
		return f, creep, refusal, false
	}
	friction := units.NewtonMillimetres(float64(drag.Hi) * float64(pull.Hi+f.pull.Hi))
	most := units.Newtons((f.most + friction) / units.NewtonMillimetres(pitch.Lo/2))
	leastPull := units.Newtons(f.least / units.NewtonMillimetres(pitch.Hi/2))
	return partFlow{
		unforgiving: out.unforgiving,

		least: least * (1 - flowPad),
		most:  (f.most + friction) / units.NewtonMillimetres(ratio.Lo) * (1 + flowPad),
		pull:  pull,
		ratio: units.Interval[float64]{Lo: f.ratio.Lo + math.Log(ratio.Lo) - flowPad, Hi: f.ratio.Hi + math.Log(ratio.Hi) + flowPad},
		share: units.Interval[float64]{Lo: f.share.Lo + math.Log(t.leastSpeedFactor()), Hi: f.share.Hi},
	}, creeping{f.share, leastPull, most, kept}, nil, true
}

// creeping is what a stage's creep depends on.
type creeping struct {
	before      units.Interval[float64] // ln of the share of speed of the stages before
	least, most units.Newtons           // effective pull
	ends        []ends
}

// ends are a band at the ends of a window of centre distances.
type ends struct{ near, far *drive.End }

// crept is ln of the share of speed that creep leaves, the stages before included.
func (c *creeping) crept() units.Interval[float64] {
	share := units.Interval[float64]{Lo: 1}
	for _, e := range c.ends {
		share.Lo = min(share.Lo, e.far.ShareAt(c.most))
		share.Hi = max(share.Hi, e.near.ShareAt(c.least))
	}
	return units.Interval[float64]{Lo: c.before.Lo + math.Log(share.Lo) - flowPad, Hi: c.before.Hi + min(0, math.Log(share.Hi)+flowPad)}
}
