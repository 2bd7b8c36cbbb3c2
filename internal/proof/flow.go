package proof

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/units"
)

// flow bounds what is known of a drive from the output back to the driver of some
// stage: figures are in N·mm, N and radians.
type flow struct {
	torque       span    // on that driver; before any stage, on the output
	hub          span    // pull on that driver's axle; before any stage, the weight
	tilt         float64 // how far that pull may lean from the line of centres
	ratio, share span    // of all the stages so far
	own          float64 // the most that what turns with one axle weighs
}

func (s *space) outputFlow(hd *head, torque units.NewtonMillimetres) flow {
	one, load := span{Lo: 1, Hi: 1}, float64(hd.demand.Weight.Size())
	return flow{torque: span{Lo: float64(torque), Hi: float64(torque + hd.freeAxle)}, hub: span{Lo: load, Hi: load}, ratio: one, share: one, own: s.mostOwn}
}

// flowsAt begins a drive: running, and starting.
func (s *space) flowsAt(hd *head) [2]flow {
	return [2]flow{s.outputFlow(hd, hd.demand.Steady), s.outputFlow(hd, hd.demand.Start)}
}

// friction is an axle's coefficient of friction times its radius, in mm.
func friction(stock float64, mu float64) float64 { return mu * stock / 2 }

// through carries a flow back through a stage. rubs is the friction of its driven
// axle for each newton on it, cos what is known of the angle between the line of
// centres and the other pull on that axle, least the grip margin asked. The second
// result is the greatest margin there could be, for when it is below least.
//
// The load and the friction it causes depend on each other. They are settled from
// the outside in: each turn takes the range so far and gives one that still holds
// everything possible.
func (p pair) through(f flow, rubs, cos span, least float64) (flow, bounds, float64, bool) {
	least = max(1, least) // a band that slips does not drive, whatever margin is asked
	most := p.grip() / least
	radius := p.drivenRadius()
	pull := span{Lo: f.torque.Lo / radius.Hi, Hi: most}
	var b bounds
	for range 4 {
		if pull.Lo > most {
			return flow{}, b, p.grip() / pull.Lo, false
		}
		b = p.bounds(pull)
		bearing := together(b.hub, f.hub, widened(cos, b.tilt+f.tilt))
		bearing = span{Lo: max(0, bearing.Lo-f.own), Hi: bearing.Hi + f.own}
		next := span{Lo: (f.torque.Lo + rubs.Lo*bearing.Lo) / radius.Hi, Hi: min(most, (f.torque.Hi+rubs.Hi*bearing.Hi)/radius.Lo)}
		before := pull
		pull = span{Lo: max(pull.Lo, next.Lo), Hi: min(pull.Hi, next.Hi)}
		if pull.Lo > pull.Hi {
			return flow{}, b, p.grip() / pull.Lo, false
		}
		if before.Length()-pull.Length() < 1e-3*pull.Hi {
			break
		}
	}
	r1, ratio := p.driverRadius(), p.ratio()
	b = p.bounds(pull)
	return flow{
		torque: span{Lo: pull.Lo * max(r1.Lo, radius.Lo/ratio.Hi), Hi: pull.Hi * min(r1.Hi, radius.Hi/ratio.Lo)},
		hub:    b.hub, tilt: b.tilt, own: f.own,
		ratio: span{Lo: f.ratio.Lo * ratio.Lo, Hi: f.ratio.Hi * ratio.Hi},
		share: span{Lo: f.share.Lo * b.share.Lo, Hi: f.share.Hi * b.share.Hi},
	}, b, math.Inf(1), true
}

// together bounds the size of the sum of two pulls of which the sizes and the
// cosine of the angle between them are known to lie in ranges: the squared size
// is a² + b² + 2ab cos.
func together(a, b, cos span) span {
	square := func(a, b, c float64) float64 { return max(0, a*a+b*b+2*a*b*c) }
	// For one cosine it is convex in the sizes: greatest at a corner, and least
	// on a side, where the other size best cancels it.
	most, least := 0.0, math.Inf(1)
	for _, x := range [2]float64{a.Lo, a.Hi} {
		most = max(most, square(x, b.Lo, cos.Hi), square(x, b.Hi, cos.Hi))
		least = min(least, square(x, b.Clamp(-cos.Lo*x), cos.Lo))
	}
	for _, y := range [2]float64{b.Lo, b.Hi} {
		least = min(least, square(a.Clamp(-cos.Lo*y), y, cos.Lo))
	}
	return span{Lo: math.Sqrt(least), Hi: math.Sqrt(most)}
}

// widened is a range of cosines when the angle may be off by up to so much.
func widened(cos span, by float64) span {
	if by <= 0 {
		return cos
	}
	lo, hi := math.Acos(min(1, max(-1, cos.Hi))), math.Acos(min(1, max(-1, cos.Lo)))
	return span{Lo: math.Cos(min(math.Pi, hi+by)), Hi: math.Cos(max(0, lo-by))}
}

// rubbing is what each newton on an axle of some stock costs in friction.
func (s *space) rubbing(stock int) float64 {
	a := &s.axles[stock].part
	return drive.BearingFriction(a.Material).Likely * float64(a.Diameter) / 2
}

// throughAny carries the flows back through a stage of which only the pulleys are
// known, over every way to band them within a budget and every rod they fit. False
// if no way can carry the load; the reason is of the way that came nearest.
func (s *space) throughAny(flows [2]flow, stage, driver, driven int, hd *head, budget score.Points) ([2]flow, reason, bool) {
	rubs := span{Lo: math.Inf(1)}
	for a, joints := range s.onAxle[driven] {
		if len(joints) > 0 {
			rubs = span{Lo: min(rubs.Lo, s.rubbing(a)), Hi: max(rubs.Hi, s.rubbing(a))}
		}
	}
	var out [2]flow
	found := false
	nearest := reason{rule: "ways"}
	for _, w := range s.waysOf(driver, driven) {
		if w.cost > budget {
			continue
		}
		p := pair{w.at(w.window.Lo), w.at(w.window.Hi)}
		if p.near == nil || p.far == nil {
			continue // never: the window lies where the band goes round
		}
		var got [2]flow
		ok := true
		for k, least := range [2]float64{s.brief.Limits.GripMin, s.brief.Limits.GripStartMin} {
			if k == 1 && hd.demand.Start == hd.demand.Steady && s.brief.Limits.GripStartMin <= s.brief.Limits.GripMin {
				got[1] = got[0]
				break
			}
			var margin float64
			if got[k], _, margin, ok = p.through(flows[k], rubs, span{Lo: -1, Hi: 1}, least); !ok {
				rule := constraints.Grip
				if k == 1 {
					rule = constraints.GripStart
				}
				if nearest.rule == "ways" || margin > nearest.figure {
					nearest = reason{rule: string(rule), figure: margin}
				}
				break
			}
		}
		if !ok {
			continue
		}
		if !found {
			out, found = got, true
			continue
		}
		for k := range out {
			out[k] = out[k].hull(got[k])
		}
	}
	return out, nearest, found
}

func (f flow) hull(o flow) flow {
	join := func(a, b span) span { return span{Lo: min(a.Lo, b.Lo), Hi: max(a.Hi, b.Hi)} }
	return flow{torque: join(f.torque, o.torque), hub: join(f.hub, o.hub), tilt: max(f.tilt, o.tilt), own: max(f.own, o.own), ratio: join(f.ratio, o.ratio), share: join(f.share, o.share)}
}

// toMotor bounds a whole drive: the flows as far as they go, and the velocity ratio
// still to come (1 to 1 and left 0 if none). Stages still to come lose nothing of
// the torque; of the speed they lose nothing or what the tight run's greatest
// stretch allows. It gives the rule that refuses everything, or the least that any
// such drive costs besides cost.
func (s *space) toMotor(hd *head, flows [2]flow, before span, left int, cost score.Points) (score.Points, reason) {
	l, stall, target := s.brief.Limits, float64(hd.stall), hd.demand.Target
	rub := 0.0
	if left == 0 {
		rub = mechanics.MotorBearing().Likely * float64(s.motors[hd.motor].part.ShaftDiameter) / 2
	}
	torque := span{Lo: flows[0].torque.Lo/before.Hi + rub*flows[0].hub.Lo, Hi: stall / l.RunMin}
	if left == 0 {
		torque.Hi = min(torque.Hi, flows[0].torque.Hi/before.Lo+rub*flows[0].hub.Hi)
	}
	if torque.Lo*l.RunMin > stall*(1+tolerance) {
		return 0, reason{rule: string(constraints.MotorRuns), figure: stall / torque.Lo}
	}
	start := max(torque.Lo, flows[1].torque.Lo/before.Hi+rub*flows[1].hub.Lo)
	if start*l.StartMin > stall*(1+tolerance) {
		return 0, reason{rule: string(constraints.MotorStarts), figure: stall / start}
	}
	torque.Hi = max(torque.Hi, torque.Lo)
	share := span{Lo: flows[0].share.Lo * math.Pow(1/l.RunningStretchMax, float64(left)), Hi: flows[0].share.Hi}
	ratio := span{Lo: flows[0].ratio.Lo * before.Lo, Hi: flows[0].ratio.Hi * before.Hi}
	motor := func(torque float64) float64 {
		return max(0, float64(hd.model.SpeedAt(hd.supply, units.NewtonMillimetres(torque))))
	}
	speed := span{Lo: motor(torque.Hi) * share.Lo / ratio.Hi, Hi: motor(torque.Lo) * share.Hi / ratio.Lo}
	if hd.demand.Swing > 0 { // the mean over a turn is between the slowest and the mean torque's
		slow := max(0, motor(stall/l.StartMin)*share.Lo/ratio.Hi)
		speed.Lo = min(speed.Lo, slow)
	}
	allowed := speedAllowed(s.brief, target)
	if speed.Lo > allowed.Hi*(1+tolerance) {
		return 0, reason{rule: string(constraints.Speed), figure: speed.Lo}
	}
	if speed.Hi < allowed.Lo*(1-tolerance) {
		return 0, reason{rule: string(constraints.Speed), figure: speed.Hi}
	}
	kept := speed.Meet(eased(allowed, tolerance))
	if share.Lo > 0 && hd.demand.Swing == 0 {
		// To turn as slowly as asked the motor must be held back so far.
		held := stall * (1 - kept.Hi*ratio.Hi/share.Lo/float64(hd.free))
		torque.Lo = max(torque.Lo, held)
		if torque.Lo*l.RunMin > stall*(1+tolerance) {
			return 0, reason{rule: string(constraints.MotorRuns), figure: stall / torque.Lo}
		}
	}
	return cost + score.MotorLoad(l, s.brief.Weights, torque.Lo/stall*(1-tolerance)) +
		score.Speed(s.brief.Weights, units.RPM(kept.Lo), units.RPM(kept.Hi), target), reason{}
}

// tolerance forgives the last bits of a figure that is held against a limit.
const tolerance = 1e-9

// reach is the velocity ratios that a stage can have between any of some drivers
// and any of some driven pulleys, over every thickness of band: (D+t)/(d+t) is
// greatest and least at the extremes.
func (s *space) reach(drivers, driven []int) span {
	thick := span{Lo: math.Inf(1)}
	for i := range s.bands {
		loop := drive.LoopOf(&s.bands[i].part, drive.Single)
		thick.Lo = min(thick.Lo, float64(loop.ThicknessAt(s.brief.Limits.FittedStretchMax)))
		thick.Hi = max(thick.Hi, float64(loop.ThicknessAt(max(1, s.brief.Limits.FittedStretchMin))))
	}
	ends := func(list []int) span {
		out := span{Lo: math.Inf(1)}
		for _, p := range list {
			floor := float64(s.pulleys[p].part.GrooveFloor)
			out = span{Lo: min(out.Lo, floor), Hi: max(out.Hi, floor)}
		}
		return out
	}
	d, D := ends(drivers), ends(driven)
	of := func(D, d float64) span { return hull((D+thick.Lo)/(d+thick.Lo), (D+thick.Hi)/(d+thick.Hi)) }
	return span{Lo: of(D.Lo, d.Hi).Lo, Hi: of(D.Hi, d.Lo).Hi}
}
