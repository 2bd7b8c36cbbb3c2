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
	sits        units.Newtons                 // the weight of what of this sits on that axle
	own         units.Newtons                 // the most that turns with an axle weighs
	ratio       units.Interval[float64]       // ln of the velocity ratio
	share       units.Interval[float64]       // ln of the speed that creep leaves
	// What is charged for certain: each stage's cheapest band; and that some stage
	// has none that forgives.
	bands, unforgiving score.Points
}

// outputFlow is where a flow begins.
func (t *task) outputFlow(h *head) partFlow {
	load := h.demand.Weight.Size()
	return partFlow{least: h.demand.Steady, most: h.most, pull: units.Interval[units.Newtons]{Lo: load, Hi: load}, sits: h.weighs, own: t.mostOwn}
}

// The bounds are taken from the two ends of a window. Within the rules' limits a longer
// centre distance stretches a band further, so that it pulls harder and, since stretched
// rubber gives more easily, creeps more at the same effective pull: it pulls and creeps
// least at the near end and most at the far one. The ratio goes one way too, and which of
// the ends is the larger is looked at. flowPad covers what arcs and spans change besides.
// TestNoDriveCostsLessThanItsBounds holds it.
const flowPad = 0.006

// How many times its pull at rest a band pulls on its axles under load, up to slip or the
// running-stretch rule: the less the larger the driver is than the driven pulley, as then more of
// it takes up what the tight run gains. TestLoadedPullsAreBounded measures it.
const (
	mostLoadedPull     = 1.26
	leastLoadedPull    = 0.97
	leastToSmallerPull = 0.89
)

// through carries a flow back through one more stage, over all ways to band it
// that cost at most budget and of whose flow pays thinks that it may lead to something:
// by a glance at all together, by one at each, and of those of the first stage once more when
// they have been worked out. It gives the last rule that refuses one, if nothing is left; ok is
// false too if there are none. Creep takes the longest to work out, so it is left
// to crept, and until then it may be anything.
//
// atOnce leaves it at the glance at all together, which settles creep too and asks pays nothing.
func (t *task) through(f partFlow, on *onStage, budget score.Points, atOnce bool, pays func(partFlow) bool) (out partFlow, creep creeping, no *constraints.Refusal, ok bool) {
	// What a band that does not forgive has still to be charged.
	rigid := t.rigid() - f.unforgiving
	budget -= f.bands + f.unforgiving
	share := 1.0
	toSmaller := t.pulleys[on.driver].Part.GrooveFloor > t.pulleys[on.driven].Part.GrooveFloor
	creep = creeping{before: f.share, least: units.Newtons(math.Inf(1))}
	promised := func(p promise) (flow partFlow, share float64) {
		one := f.behind(loadedPulls(p.pull, toSmaller), p.ratio, on)
		if one.bands += p.cost; p.rigid {
			one.unforgiving += rigid
		}
		most := units.Newtons(f.mostOnAxle(one.pull, on.drag) / units.NewtonMillimetres(p.driven.Lo/2))
		share = p.leastShare(most, t.leastSpeedFactor()) * (1 - flowPad)
		return f.before(one, share), share
	}
	var room [mostSections]sectionGlance
	seen := t.glances(on, budget, rigid, room[:0])
	if len(seen) == 0 {
		return f, creep, nil, false
	}
	if out, _ = promised(promiseOf(seen)); atOnce || !pays(out) {
		return out, creep, nil, atOnce
	}
	worth := func(p promise) (share float64, ok bool) {
		flow, share := promised(p)
		return share, pays(flow)
	}
	t.eachOption(on, seen, budget, rigid, worth, func(kept float64, o *bandOption) {
		window, _ := o.reach(span{0, len(o.rungs)}, budget)
		window.Hi = min(window.Hi, on.far)
		forgiving := window.Meet(o.whole.Grow(-2 * t.brief.Limits.HoleError))
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
		own := loadedPulls(units.Interval[units.Newtons]{Lo: near.IdleHub(), Hi: far.IdleHub()}, toSmaller)
		least, most := f.leastOnAxle(own, on), f.mostOnAxle(own, on.drag)
		effective := units.Newtons(least / units.NewtonMillimetres(max(near.DrivenPitch, far.DrivenPitch)/2))
		if refusal := constraints.GripRunning(t.brief.Limits, &t.bands[o.band].Part, on.index, constraints.GripMargin(far.Greatest, effective*(1-flowPad))); refusal != nil {
			no = refusal
			return
		}
		one := f.behind(own, units.Interval[float64]{Lo: min(near.Ratio, far.Ratio), Hi: max(near.Ratio, far.Ratio)}, on)
		one.bands += o.cost
		if forgiving.Empty() {
			one.unforgiving += rigid
		}
		if on.index == 0 {
			if !pays(f.before(one, kept)) {
				return
			}
		}
		if len(creep.ends) == 0 {
			out = one
		} else {
			out.join(&one)
		}
		creep.ends = append(creep.ends, ends{near, far})
		share = min(share, kept)
		creep.least = min(creep.least, effective)
		creep.most = max(creep.most, units.Newtons(most/units.NewtonMillimetres(min(near.DrivenPitch, far.DrivenPitch)/2)))
	})
	if len(creep.ends) == 0 {
		return f, creep, no, false
	}
	return f.before(out, share), creep, nil, true
}

// loadedPulls bounds a band's pull on its axles under load by that at rest; toSmaller if its driver
// may be the larger pulley.
func loadedPulls(idle units.Interval[units.Newtons], toSmaller bool) units.Interval[units.Newtons] {
	least := units.Newtons(leastLoadedPull)
	if toSmaller {
		least = leastToSmallerPull
	}
	return units.Interval[units.Newtons]{Lo: idle.Lo * least, Hi: idle.Hi * mostLoadedPull}
}

// leastOnAxle is the least torque on a driven pulley, the friction of its axle included, on which
// a band pulls too.
func (f *partFlow) leastOnAxle(own units.Interval[units.Newtons], on *onStage) units.NewtonMillimetres {
	return f.least + units.NewtonMillimetres(float64(on.drag.Lo)*float64(leastSum(own, f.pull, on.lie.CosWorked())+f.sits+on.weighs))
}

// mostOnAxle is the most, whatever sits on the axle.
func (f *partFlow) mostOnAxle(own units.Interval[units.Newtons], drag units.Interval[units.Millimetres]) units.NewtonMillimetres {
	return f.most + units.NewtonMillimetres(float64(drag.Hi)*float64(own.Hi+f.pull.Hi+f.own))
}

// behind is a stage behind which these stages come: a band that pulls so, at a velocity
// ratio, not yet as a logarithm, with the penalties of the stages behind it.
func (f *partFlow) behind(own units.Interval[units.Newtons], ratio units.Interval[float64], on *onStage) partFlow {
	return partFlow{
		least: f.leastOnAxle(own, on) / units.NewtonMillimetres(ratio.Hi) * (1 - flowPad),
		most:  f.mostOnAxle(own, on.drag) / units.NewtonMillimetres(ratio.Lo) * (1 + flowPad),
		pull:  own, ratio: ratio, sits: on.driverWeighs, own: f.own,
		bands: f.bands, unforgiving: f.unforgiving,
	}
}

// before puts a stage, whose ratio is its own and not yet a logarithm, before the
// stages of a flow. It may creep to as little as the given share.
func (f *partFlow) before(one partFlow, leastShare float64) partFlow {
	one.ratio = units.Interval[float64]{Lo: f.ratio.Lo + math.Log(one.ratio.Lo) - flowPad, Hi: f.ratio.Hi + math.Log(one.ratio.Hi) + flowPad}
	one.share = units.Interval[float64]{Lo: f.share.Lo + math.Log(leastShare), Hi: f.share.Hi}
	return one
}

// join takes in what another way to band a stage may be.
func (f *partFlow) join(o *partFlow) {
	f.least, f.most = min(f.least, o.least), max(f.most, o.most)
	f.pull, f.ratio = f.pull.Join(o.pull), f.ratio.Join(o.ratio)
	f.bands, f.unforgiving = min(f.bands, o.bands), min(f.unforgiving, o.unforgiving)
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
