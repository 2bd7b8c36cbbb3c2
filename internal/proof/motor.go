package proof

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/forecast"
	"findrive/internal/score"
)

// reason is why designs are left out: a rule that refuses them all, or what they cost at
// least.
type reason struct {
	rule  constraints.Rule
	bound points // never where a rule refuses them
}

func refused(rule constraints.Rule) reason { return reason{rule, never} }

// work bounds what a motor does for one of several drives on the likely day: the letters
// of docs/model.md.
type work struct {
	by                    span // turns of the output for one of the motor, creep left out
	friction              span
	creep, heavy          span
	demand, swing, target float64
	cut                   float64 // by what share discs cut by hand may put the ratio out
	runs, starts          span    // of the torque, what friction is of it, running and starting
}

// rubs bounds what friction is of the torque at the motor where the output asks so much.
func (w *work) rubs(asked float64) span {
	part := func(friction, by float64) float64 {
		switch {
		case math.IsInf(friction, 1):
			return 1
		case friction+asked*by <= 0:
			return 0
		}
		return friction / (friction + asked*by)
	}
	return span{Lo: part(w.friction.Lo, w.by.Hi) * (1 - noise), Hi: min(1, part(w.friction.Hi, w.by.Lo)*(1+noise))}
}

// mixed bounds how many times as large as likely a torque is, of whose parts the one is so
// many times as large and friction, for which a share of it is known, so many.
func mixed(asked, rub float64, friction span) span {
	a, b := asked*(1-friction.Lo)+rub*friction.Lo, asked*(1-friction.Hi)+rub*friction.Hi
	return span{Lo: min(a, b), Hi: max(a, b)}
}

// atMotor bounds the cost of designs of which so much is charged already. So many stages
// before the flow are not known but for their velocity ratio.
func (s *space) atMotor(h *head, f *flow, unknown int, before span, charged, limit points) reason {
	l := &s.brief.Limits
	ratio := span{Lo: f.ratio.Lo * before.Lo, Hi: f.ratio.Hi * before.Hi}.Meet(h.ratios)
	if ratio.Empty() {
		return refused(constraints.Speed)
	}
	w := s.workOf(h, f, unknown, before, ratio)
	if start := (w.demand+w.swing)*w.by.Lo + w.friction.Lo; h.stall < l.StartMin*start*(1-noise) {
		return refused(constraints.MotorStarts)
	}
	torque, no := s.likely(h, &w)
	if no != "" {
		return refused(no)
	}
	cost := charged + score.MotorLoad(*l, s.brief.Weights, torque/h.stall*(1-noise))
	if cost > limit {
		return reason{bound: cost}
	}
	least := never
	for _, rooms := range h.rooms {
		least = min(least, s.inRooms(&w, f, &rooms, cost, limit))
		if least <= limit {
			break
		}
	}
	return reason{bound: least}
}

// workOf is what the motor does for a drive of so much ratio.
func (s *space) workOf(h *head, f *flow, unknown int, before, ratio span) work {
	lost := float64(unknown) * math.Log(s.brief.Limits.RunningStretchMax)
	w := work{by: span{Lo: 1 / ratio.Hi, Hi: 1 / ratio.Lo}, friction: span{Lo: f.friction.Lo / before.Hi, Hi: math.Inf(1)},
		creep: span{Lo: f.creep.Lo - lost, Hi: f.creep.Hi}, heavy: span{Lo: f.heavy.Lo - lost, Hi: f.heavy.Hi},
		demand: float64(h.demand.Steady), swing: float64(h.demand.Swing), target: float64(h.demand.Target), cut: 2 * float64(h.stages) * s.mostCut}
	if unknown == 0 {
		w.friction = span{Lo: f.friction.Lo + h.shaftDrag*f.pull.Lo, Hi: f.friction.Hi + h.shaftDrag*f.pull.Hi}
	}
	return w
}

// likely holds the work to the rules about the motor and the speed on the likely day. It
// gives the least torque, and narrows the friction.
func (s *space) likely(h *head, w *work) (float64, constraints.Rule) {
	l, tolerance := &s.brief.Limits, s.brief.Tolerance
	most := h.stall / l.RunMin // torque that the running rule leaves
	rubs := w.friction.Hi      // at the heaviest moment of a turn too, of which that rule says nothing
	w.friction.Hi = min(w.friction.Hi, most-w.demand*w.by.Lo)
	slope := h.free / h.stall
	fast := fastest(h.free-slope*w.friction.Lo, slope*w.demand, w.by) * math.Exp(w.creep.Hi)
	slow := max(0, min(h.slowAt(w.demand, w.friction.Hi, w.by.Lo), h.slowAt(w.demand, w.friction.Hi, w.by.Hi)), h.free*(1-1/l.RunMin)*w.by.Lo) * math.Exp(w.creep.Lo)
	if w.swing > 0 {
		all := w.demand + w.swing
		heavy := fastest(h.free-slope*w.friction.Lo, slope*all, w.by) * math.Exp(w.heavy.Hi)
		fast = overTurn(fast, heavy)
		heavy = max(0, min(h.slowAt(all, rubs, w.by.Lo), h.slowAt(all, rubs, w.by.Hi)), h.free*(1-1/l.StartMin)*w.by.Lo) * math.Exp(w.heavy.Lo)
		slow = overTurn(slow, heavy)
	}
	low, high := w.target*(1-tolerance)*(1-noise), w.target*(1+tolerance)*(1+noise)
	if fast < low || slow > high {
		return 0, constraints.Speed
	}
	if w.swing == 0 {
		// A motor that would turn the output too fast must be pulled down.
		pulled := h.stall * (1 - high/(h.free*w.by.Lo*math.Exp(w.creep.Lo)))
		w.friction.Lo = max(w.friction.Lo, pulled-w.demand*w.by.Hi)
	}
	torque := w.demand*w.by.Lo + w.friction.Lo
	switch {
	case w.friction.Lo > w.friction.Hi*(1+noise) || torque > most*(1+noise):
		return 0, constraints.MotorRuns
	case (1-torque/h.stall)*math.Exp(w.creep.Hi) < l.KeptSpeedMin*(1-noise):
		return 0, constraints.HeldBack
	}
	return torque, ""
}

// slowAt is the slowest that the output turns at so many turns for one of the motor with so
// much friction, creep left out.
func (h *head) slowAt(demand, friction, by float64) float64 {
	return h.free * (1 - (demand*by+friction)/h.stall) * by
}

// fastest is the fastest that the output turns, for a motor with so much speed to spare of
// which the demand takes so much for each turn of the output: a parabola.
func fastest(spare, takes float64, by span) float64 {
	at := by.Hi
	if 2*takes*at > spare {
		at = by.Clamp(spare / (2 * takes))
	}
	return (spare - takes*at) * at
}

// overTurn is the mean speed over a turn, by the speed at the mean torque and that at the
// heaviest moment. It grows with both.
func overTurn(v, heavy float64) float64 {
	heavy = max(0, min(v, heavy))
	return math.Sqrt(max(0, heavy*(2*v-heavy)))
}

// inRooms adds what is charged at least for the classrooms. It stops at the limit.
func (s *space) inRooms(w *work, f *flow, rooms *[forecast.Rooms]forecast.Room, cost, limit points) points {
	weights := s.brief.Weights
	if cost+score.Classrooms(weights, 0, forecast.Rooms)+score.MayStand(weights, forecast.Rooms, forecast.Rooms) <= limit {
		return cost // whatever they come to
	}
	works, stands := forecast.Rooms, 0
	charge := func() points {
		return cost + score.Classrooms(weights, works, forecast.Rooms) + score.MayStand(weights, stands, forecast.Rooms)
	}
	low, high := s.readied(w)
	for i := range rooms {
		may, turns := w.inCut(&rooms[i], f, low, high)
		if !turns {
			stands++
		}
		if !may {
			works--
		}
		if (!turns || !may) && (works%10 == 0 || stands == forecast.Rooms/20+1) {
			if c := charge(); c > limit {
				return c
			}
		}
	}
	return charge()
}

// readied makes work ready for the rooms. It gives the least and the greatest speed there
// that is as asked.
func (s *space) readied(w *work) (low, high float64) {
	w.runs, w.starts = w.rubs(w.demand), w.rubs(w.demand+w.swing)
	return w.target*(1-s.brief.Tolerance)*(1-2*noise) - noise, w.target*(1+s.brief.Tolerance)*(1+2*noise) + noise
}

// inCut is in where discs may put the velocity ratio out: what is fast enough with the
// least that is asked may do, and what is slow enough with the most.
func (w *work) inCut(o *forecast.Room, f *flow, low, high float64) (may, turns bool) {
	off := w.cut * math.Abs(o.Cut)
	if off == 0 {
		return w.in(o, f, low, high)
	}
	light, heavy := *o, *o
	light.Load, light.Swing = o.Load/(1+off), o.Swing/(1+off)
	heavy.Load, heavy.Swing = o.Load/(1-off), o.Swing/(1-off)
	if may, turns = w.in(&light, f, low*(1-off), math.Inf(1)); !may {
		return may, turns
	}
	slow, stays := w.in(&heavy, f, 0, high*(1+off))
	return slow || !stays, turns
}

// in tells whether in a room any of the drives may turn as asked, and whether any may
// turn. Torque and friction are as on the likely day times the room's own shares.
func (w *work) in(o *forecast.Room, f *flow, low, high float64) (may, turns bool) {
	demand, swing := w.demand*o.Load, w.swing*o.Swing
	runs, starts := mixed(o.Load, o.Rub, w.runs), mixed(o.Load, o.Rub, w.starts)
	if all := w.demand + w.swing; w.swing > 0 {
		starts = mixed((demand+swing)/all, o.Rub, w.starts)
	}
	if o.Stall <= 0 || (demand+swing)*w.by.Lo+w.friction.Lo*o.Rub > o.Stall*(1+noise) || slips(o, f, starts.Lo) {
		return false, false
	}
	slope := o.Free / o.Stall
	spare, held := o.Free-slope*w.friction.Lo*o.Rub, o.Free-slope*w.friction.Hi*o.Rub
	fast := fastest(spare, slope*demand, w.by) * expAtMost(w.creep.Hi*runs.Lo/o.Pull)
	if fast < low {
		return false, true
	}
	slowAt := func(asked, by float64) float64 { return (held - slope*asked*by) * by }
	slow := max(0, min(slowAt(demand, w.by.Lo), slowAt(demand, w.by.Hi))) * expAtLeast(w.creep.Lo*runs.Hi/o.Pull)
	if w.swing > 0 {
		heavy := fastest(spare, slope*(demand+swing), w.by) * expAtMost(w.heavy.Hi*starts.Lo/o.Pull)
		if overTurn(fast, heavy) < low {
			return false, true
		}
		heavy = max(0, min(slowAt(demand+swing, w.by.Lo), slowAt(demand+swing, w.by.Hi))) * expAtLeast(w.heavy.Lo*starts.Hi/o.Pull)
		slow = overTurn(slow, heavy)
	}
	return slow <= high, true
}

// slips tells whether in a room a band slips in every one of the drives, if starting asks
// at least so many times as much of it as on the likely day.
func slips(o *forecast.Room, f *flow, asked float64) bool {
	for _, g := range f.grips[:f.count] {
		growth := g.growth.Hi
		if o.Off[g.stage] < 0 {
			growth = g.growth.Lo
		}
		held := g.margin * o.Pull * max(0, 1+growth*o.Off[g.stage])
		if held*min(1, o.Grip) >= asked {
			continue // tanh falls by no more than its argument
		}
		x := g.exponent.Lo
		if o.Grip < 1 {
			x = g.exponent.Hi // the larger it is, the less is lost with grip
		}
		if held*math.Tanh(x*o.Grip/2) < asked*math.Tanh(x/2)*(1-noise) {
			return true
		}
	}
	return false
}

// expAtMost and expAtLeast bound exp(x) for x at most 0 by its series, whose terms there
// are now above and now below.
func expAtMost(x float64) float64 { return min(1, 1+x*(1+x/2)) }

func expAtLeast(x float64) float64 {
	if x < -3 {
		return 0
	}
	return max(0, 1+x*(1+x*(1.0/2+x/6)))
}
