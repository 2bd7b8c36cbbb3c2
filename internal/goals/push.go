package goals

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// rotorInertia is the moment of inertia of a small motor's rotor, in g·mm²: 4.5 g
// of iron and copper at a mean radius of 5 mm (judgement for the 130 size; sheets
// seldom give it).
const rotorInertia = 110.0

// pushLevels is at how many output torques a drive is worked out between its steady
// one and the most that it can give.
const pushLevels = 8

// vehicle is what a run needs to know of a vehicle besides its drive.
type vehicle struct {
	mass   units.Grams
	radius units.Millimetres       // of the driven wheels
	holds  units.NewtonMillimetres // the most that the floor holds at the wheels
}

// resistance is the steady demand at the rim of the wheels.
func (v *vehicle) resistance(m *drive.Model) units.Newtons {
	return units.Newtons(m.Demand.Steady) / units.Newtons(v.radius)
}

// moved is the mass with what the rotor is worth at the wheels, turning so many
// times as fast as they do.
func (v *vehicle) moved(ratio float64) units.Grams {
	return v.mass + units.Grams(rotorInertia*ratio*ratio/float64(v.radius*v.radius))
}

// pushOf is the push of a placed drive: the straight-line motor through every
// stage, each with the creep of its band at that load, up to the least of three
// limits: the motor stalls, a band slips, or the wheels spin. At a limit of grip
// the push is what is held, whatever the motor does meanwhile. Empty if it does not
// move at all.
func pushOf(v *vehicle, m *drive.Model, g *drive.Geometry) mechanics.Push {
	steady := m.Demand.Steady
	speed := func(torque units.NewtonMillimetres) units.RPM {
		flow := m.Carry(g, torque)
		return m.OutputSpeed(g, &flow)
	}
	ratio := 1.0
	for i := range m.Count {
		ratio *= g.Fits[i].Ratio
	}
	running := speed(steady)
	if running <= 0 {
		return nil
	}
	top := min(v.holds, m.Motor.StallTorque(m.Supply)*units.NewtonMillimetres(ratio))
	if speed(top) <= 0 {
		top = greatest(steady, top, func(t units.NewtonMillimetres) bool { return speed(t) > 0 })
	}
	flow := m.Carry(g, steady)
	motor := m.Motor.SpeedAt(m.Supply, flow.MotorTorque)
	moved := v.moved(float64(motor / running))
	force := func(level int) (units.MetresPerSecond, units.Newtons) {
		t := steady + (top-steady)*units.NewtonMillimetres(level)/pushLevels
		return speed(t).RimSpeed(v.radius), units.Newtons(t) / units.Newtons(v.radius)
	}
	from, most := force(pushLevels)
	push := mechanics.Push{{From: 0, To: from, AtFrom: most, AtTo: most, Moved: v.mass, Slipping: true}}
	if stalls := motor.RimSpeed(v.radius) / units.MetresPerSecond(ratio) * slowShare; from < stalls {
		push = nil // it is the motor that gives out, not the grip
		from = 0
	}
	at := most
	for level := pushLevels - 1; level >= 0; level-- {
		to, less := force(level)
		push = append(push, mechanics.PushPiece{From: from, To: to, AtFrom: at, AtTo: less, Moved: moved})
		from, at = to, less
	}
	return push
}

// slowShare of the running speed is as good as at rest: where a drive pulled down to
// it gives its most, the motor has stalled.
const slowShare = 0.01

// greatest is the greatest torque of lo..hi that holds, which lo does and hi does
// not; what holds at one holds at all below.
func greatest(lo, hi units.NewtonMillimetres, holds func(units.NewtonMillimetres) bool) units.NewtonMillimetres {
	for range 16 {
		if mid := (lo + hi) / 2; holds(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// frictionFall of what the motor's torque rises by covers that load takes a little
// from the bands' pull on their axles, and so from friction .
const frictionFall = 0.05

// pushQuick bounds from above the push of a placed drive from what it does at the
// steady torque alone: from there up a straight line, as far as the
// bands and the wheels hold. Nil if it does not run.
func pushQuick(v *vehicle, m *drive.Model, g *drive.Geometry) mechanics.Push {
	steady, stall := m.Demand.Steady, m.Motor.StallTorque(m.Supply)
	flow := m.Carry(g, steady)
	running := m.OutputSpeed(g, &flow)
	if running <= 0 {
		return nil
	}
	held, ratio := units.NewtonMillimetres(math.Inf(1)), 1.0
	for i := m.Count - 1; i >= 0; i-- {
		greatest, _ := m.Stages[i].Grip(g.Fits[i])
		held = min(held, units.NewtonMillimetres(float64(greatest)*float64(g.Fits[i].DrivenPitch/2)*ratio))
		ratio *= g.Fits[i].Ratio
	}
	rest := steady + (stall-flow.MotorTorque)*units.NewtonMillimetres(ratio/(1-frictionFall))
	return pushLine(v, steady, rest, min(held, v.holds), running)
}

// pushLine is a straight line from a torque at rest to the steady demand at the
// running speed, and no more than what is held.
func pushLine(v *vehicle, steady, rest, held units.NewtonMillimetres, running units.RPM) mechanics.Push {
	held = max(steady, min(rest, held))
	to := running.RimSpeed(v.radius)
	bend := to * units.MetresPerSecond((rest-held)/(rest-steady))
	force := func(t units.NewtonMillimetres) units.Newtons { return units.Newtons(t) / units.Newtons(v.radius) }
	return mechanics.Push{
		{From: 0, To: bend, AtFrom: force(held), AtTo: force(held), Moved: v.mass},
		{From: bend, To: to, AtFrom: force(held), AtTo: force(steady), Moved: v.mass},
	}
}

// pushPartly bounds from above the push of every way to go on from a partly chosen
// drive with a velocity ratio of lo to hi: a straight line from rest to the steady
// demand, with the friction and the creep that are certain. Nil if the motor cannot
// carry the demand.
func pushPartly(v *vehicle, p *design.Partly, lo, hi float64) mechanics.Push {
	steady, stall := p.Demand.Steady, p.Motor.StallTorque(p.Supply)
	least := max(p.Torque, steady/units.NewtonMillimetres(hi))
	if least >= stall {
		return nil
	}
	rest := steady + (stall-least)*units.NewtonMillimetres(hi)
	return pushLine(v, steady, rest, v.holds, p.Motor.SpeedAt(p.Supply, least)*units.RPM(p.Share/lo))
}

// pushLossless bounds the push of a choice of parts from above, wherever they are:
// no creep, no friction but the load's, and every velocity ratio the best that the
// band allows between its thickest and its thinnest.
func pushLossless(v *vehicle, d *drive.Drive, b *brief.Brief) mechanics.Push {
	motor, err := drive.MotorModel(d.Motor, drive.Conditions{})
	if err != nil {
		return nil
	}
	supply := drive.SupplyOf(d.Holder, drive.Conditions{})
	least, most := 1.0, 1.0
	for i := range d.Stages {
		s := &d.Stages[i]
		loop := s.Loop()
		ratio := func(stretch float64) float64 {
			t := loop.ThicknessAt(stretch)
			return float64((s.Driven.GrooveFloor + t) / (s.Driver.GrooveFloor + t))
		}
		thick, thin := ratio(1), ratio(max(b.Limits.FittedStretchMax, s.Band.StretchLimit))
		least, most = least*min(thick, thin), most*max(thick, thin)
	}
	stall := motor.StallTorque(supply) * units.NewtonMillimetres(most)
	free := (motor.FreeSpeed(supply) / units.RPM(least)).RimSpeed(v.radius)
	held := min(stall, v.holds)
	from := free * units.MetresPerSecond(1-held/stall)
	force := units.Newtons(held) / units.Newtons(v.radius)
	return mechanics.Push{
		{From: 0, To: from, AtFrom: force, AtTo: force, Moved: v.mass},
		{From: from, To: free, AtFrom: force, AtTo: 0, Moved: v.mass},
	}
}
