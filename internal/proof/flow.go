package proof

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
)

// flow bounds what the stages from one on to the output do on the likely day.
//
// The torque asked of a driver is what the output asks over the velocity ratio, and
// friction. The bounds of friction rest on the pull of bands alone, which a band's load
// changes little; so they are the same at every load.
type flow struct {
	ratio    span // turns of the driver chosen last for one of the output
	friction span // of the axles so far, in N·mm at that driver
	pull     span // of the last band on its driver's axle; of the weight at the output
	creep    span // ln of the share of speed that the bands leave
	heavy    span // the same at the heaviest moment of a turn
	grips    [drive.MaxStages]grip
	count    int
}

// grip is how well a band holds at starting: at best, and at any exponent.
type grip struct {
	margin   float64
	growth   span // of its pull for each mm that the spacing is longer, as a share
	exponent span
	stage    int // counted from the motor's
}

// axleAt is what is known of the axle that carries a stage's driven pulley.
type axleAt struct {
	drag        span // friction torque for each newton on it, in mm
	weight      span // N; of what turns with it
	best, worst drive.Lie
}

// noise covers the last bits of sums.
const noise = 1e-9

func (h *head) outset(freeAxle span) flow {
	weight := float64(h.demand.Weight.Size())
	return flow{ratio: span{Lo: 1, Hi: 1}, friction: freeAxle, pull: span{Lo: weight, Hi: weight}}
}

// through carries a flow back through one more stage, or gives the rule that refuses all
// of its states.
func (s *space) through(h *head, f *flow, b *bunch, at *axleAt) (flow, constraints.Rule) {
	l := &s.brief.Limits
	rub := span{
		Lo: f.friction.Lo + at.drag.Lo*(leastTogether(b.hub, f.pull, at.best.CosWorked())+at.weight.Lo),
		Hi: f.friction.Hi + at.drag.Hi*(mostTogether(b.hub, f.pull, at.worst.CosWorked())+at.weight.Hi),
	}
	// effective bounds the pull for an output torque; false if even the best slips.
	effective := func(output, margin float64) (span, bool) {
		e := span{Lo: (output/f.ratio.Hi + rub.Lo) / b.driven.Hi * (1 - noise), Hi: (output/f.ratio.Lo + rub.Hi) / b.driven.Lo * (1 + noise)}
		most := b.greatest.Hi / margin
		e.Hi = min(e.Hi, most)
		return e, e.Lo <= most*(1+noise)
	}
	crept := func(before, e span) span {
		return span{Lo: before.Lo - b.creep.Hi*e.Hi, Hi: before.Hi - b.creep.Lo*max(0, e.Lo)}
	}
	out := *f
	run, ok := effective(float64(h.demand.Steady), l.GripMin)
	if !ok {
		return out, constraints.Grip
	}
	out.creep = crept(f.creep, run)
	start, ok := effective(float64(h.demand.Start), l.GripStartMin)
	if !ok {
		return out, constraints.GripStart
	}
	out.heavy = crept(f.heavy, start)
	out.grips[f.count] = grip{margin: math.Inf(1), growth: b.growth, exponent: b.exponent, stage: h.stages - 1 - f.count}
	if start.Lo > 0 {
		out.grips[f.count].margin = b.greatest.Hi / start.Lo
	}
	out.count++
	out.ratio = span{Lo: f.ratio.Lo * b.ratio.Lo, Hi: f.ratio.Hi * b.ratio.Hi}
	out.friction = span{Lo: rub.Lo / b.ratio.Hi, Hi: rub.Hi / b.ratio.Lo}
	out.pull = b.hub
	return out, ""
}

// together is the size of two forces at an angle of that cosine.
func together(a, b, cos float64) float64 { return math.Sqrt(max(0, a*a+b*b+2*a*b*cos)) }

// mostTogether is the most that two forces within bounds come to. The size is convex in
// each of them, so that it is greatest at corners.
func mostTogether(a, b span, cos float64) float64 {
	return max(together(a.Hi, b.Hi, cos), together(a.Lo, b.Hi, cos), together(a.Hi, b.Lo, cos), together(a.Lo, b.Lo, cos))
}

// leastTogether is the least. Both forces made smaller by one share make the sum smaller
// by it, so that one of them is at its least; the other cancels the most of it where
// it is -cos times as large.
func leastTogether(a, b span, cos float64) float64 {
	return min(together(a.Lo, b.Clamp(-cos*a.Lo), cos), together(a.Clamp(-cos*b.Lo), b.Lo, cos))
}
