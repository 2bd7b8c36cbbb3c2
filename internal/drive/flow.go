package drive

import (
	"math"

	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Model is a choice of parts made ready for working out: everything except
// where the axles sit. It is small and has no pointers to change, so it may be
// copied and shared.
type Model struct {
	Count      int
	Stages     [MaxStages]mechanics.Stage
	AxleRadius [MaxStages]units.Millimetres // of the axle that carries stage i's driven pulley
	AxleMu     [MaxStages]float64
	Motor      mechanics.Motor
	Supply     mechanics.Supply
	ShaftRad   units.Millimetres
	MotorMu    float64
	Demand     Demand
}

// Geometry is where the axles of a drive sit, as far as forces care.
type Geometry struct {
	Fits  [MaxStages]mechanics.Fitted
	Along [MaxStages]units.Radians // direction of each line of centres, driver to driven
	// Turns is the way the motor turns: +1 anticlockwise, seen from the front.
	Turns int
}

// Flow is the drive at work at one output torque.
type Flow struct {
	Stages       [MaxStages]StageFlow
	AxleLoad     [MaxStages]units.Newtons
	AxleFriction [MaxStages]units.NewtonMillimetres
	ShaftLoad    units.Newtons // on the motor's shaft
	MotorTorque  units.NewtonMillimetres
	// Slips is the first stage, counted from the output, whose band cannot
	// carry the torque; -1 if all can. Beyond it nothing is worked out.
	Slips int
}

// StageFlow is one stage at work.
type StageFlow struct {
	Effective    units.Newtons // tight pull less slack pull
	Loaded       mechanics.Loaded
	DriverTorque units.NewtonMillimetres
	DrivenTorque units.NewtonMillimetres // axle friction included
}

const (
	// settled is the relative change below which axle friction and band pull
	// agree with each other.
	settled      = 1e-10
	mostSettling = 60
)

// Carry takes the output torque back to the motor. At each stage the driven
// axle's friction depends on the pull of its own band, which depends on the
// torque, friction included: the two are settled by repetition, which closes
// in fast because friction is a small share of the pull times a small radius.
func (m *Model) Carry(g *Geometry, output units.NewtonMillimetres) Flow {
	flow := Flow{Slips: -1}
	torque := output
	// pull is what already hangs on the axle being worked on: the weight at
	// the output, the next stage's band on every other axle.
	pull := mechanics.Force{Y: -m.Demand.Radial}
	for i := m.Count - 1; i >= 0; i-- {
		f := &g.Fits[i]
		crossed := m.Stages[i].Crossed
		turns := m.driverTurns(g, i)
		load := func(tight, slack units.Newtons) (mechanics.Force, units.Newtons) {
			own := hubPull(f, crossed, tight, slack, turns, g.Along[i])
			return own, pull.Plus(opposite(own)).Size()
		}
		own, ok := m.settle(&flow, f, i, torque, load)
		if !ok {
			flow.Slips = i
			return flow
		}
		pull = own
		torque = flow.Stages[i].DriverTorque
	}
	flow.ShaftLoad = pull.Size()
	flow.MotorTorque = torque + mechanics.BearingTorque(m.MotorMu, flow.ShaftLoad, m.ShaftRad)
	return flow
}

// settle finds the effective pull of stage i that carries torque and the
// friction of its driven axle. load gives the stage's pull on its driver axle
// and the size of all that bears on its driven axle.
func (m *Model) settle(flow *Flow, f *mechanics.Fitted, i int, torque units.NewtonMillimetres, load func(tight, slack units.Newtons) (mechanics.Force, units.Newtons)) (mechanics.Force, bool) {
	r1, r2 := f.DriverPitch/2, f.DrivenPitch/2
	tight, slack := f.Pull, f.Pull
	var friction units.NewtonMillimetres
	for range mostSettling {
		_, bearing := load(tight, slack)
		friction = mechanics.BearingTorque(m.AxleMu[i], bearing, m.AxleRadius[i])
		te := units.Newtons(float64(torque+friction) / float64(r2))
		loaded, ok := m.Stages[i].Load(*f, te)
		if !ok {
			return mechanics.Force{}, false
		}
		moved := math.Abs(float64(loaded.Tight-tight)) + math.Abs(float64(loaded.Slack-slack))
		tight, slack = loaded.Tight, loaded.Slack
		flow.Stages[i] = StageFlow{
			Effective: te, Loaded: loaded,
			DriverTorque: units.NewtonMillimetres(float64(te) * float64(r1)),
			DrivenTorque: torque + friction,
		}
		if moved <= settled*float64(tight+slack) {
			break
		}
	}
	own, bearing := load(tight, slack)
	flow.AxleLoad[i] = bearing
	flow.AxleFriction[i] = friction
	return own, true
}

// driverTurns is the way stage i's driver turns.
func (m *Model) driverTurns(g *Geometry, i int) int {
	turns := g.Turns
	for j := range i {
		if m.Stages[j].Crossed {
			turns = -turns
		}
	}
	return turns
}

// OutputSpeed takes the motor's speed at the flow's torque forward to the
// output: divided by each velocity ratio and slowed by each band's creep. 0 if
// a band slips or the motor stalls.
func (m *Model) OutputSpeed(g *Geometry, flow *Flow) units.RPM {
	if flow.Slips >= 0 {
		return 0
	}
	n := float64(m.Motor.SpeedAt(m.Supply, flow.MotorTorque))
	for i := range m.Count {
		n *= flow.Stages[i].Loaded.SpeedFactor / g.Fits[i].Ratio
	}
	return units.RPM(max(0, n))
}
