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
	// AxleWeight is that of what turns with each axle, straight down; 0 if it stands.
	AxleWeight [MaxStages]units.Newtons
	Motor      mechanics.Motor
	Supply     mechanics.Supply
	ShaftRad   units.Millimetres
	MotorMu    float64
	Demand     Demand
	// RatioUncertainty is that of the drive: see Drive.RatioUncertainty.
	RatioUncertainty float64
}

// Geometry is where the axles of a drive sit, as far as forces care.
type Geometry struct {
	Fits  [MaxStages]mechanics.Fitted
	Along [MaxStages]units.Radians // direction of each line of centres, driver to driven
	// Lies, if given, say how the pulls lie on each axle instead: at that angle to one
	// another, wherever the lines of centres are, and the axle's own weight with them.
	Lies *[MaxStages]Lie
	// Turns is the way the motor turns: +1 anticlockwise, seen from the front.
	Turns int
}

// Flow is the drive at work at one output torque.
type Flow struct {
	Output       units.NewtonMillimetres // that torque
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
	// settled is the share of the effective pull to within which axle friction and
	// band pull must agree with each other.
	settled      = 1e-11
	mostSettling = 60
	// mostSlope is how much of a change of pull its friction may ask for again, for
	// the secant method to be trusted.
	mostSlope = 0.9
)

// Carry takes the output torque back to the motor. At each stage the driven
// axle's friction depends on the pull of its own band, which depends on the
// torque, friction included: the two are settled together.
func (m *Model) Carry(g *Geometry, output units.NewtonMillimetres) Flow {
	flow := Flow{Output: output, Slips: -1}
	torque := output
	// pull is what already pulls on the axle being worked on: the load at the
	// output, the next stage's band on every other axle.
	pull := m.Demand.Weight
	for i := m.Count - 1; i >= 0; i-- {
		own, ok := m.settle(&flow, g, i, torque, pull)
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
// friction of its driven axle, on which other pulls as well, and its own weight. It
// returns the stage's pull on its driver's axle; false if no pull up to slip does.
//
//	   tight  ____________
//	(driver) <            (  o  )  driven axle: band towards the driver,
//	   slack  ------------    |    other, and the axle's weight down
//	                          v
//
// Friction is a small share of the pull times a small radius, so that by mere
// repetition each round would be some ten times nearer than the last. A straight
// line through the last two rounds (the secant method) is nearer by far. What a pull
// asks for changes by less than the pull itself, so there is one that asks for itself,
// between none and slip, or else even slip asks for more.
func (m *Model) settle(flow *Flow, g *Geometry, i int, torque units.NewtonMillimetres, other mechanics.Force) (mechanics.Force, bool) {
	f := &g.Fits[i]
	r1, r2 := f.DriverPitch/2, f.DrivenPitch/2
	loading := m.Stages[i].Loading(f)
	hub := hubOf(f, m.Stages[i].Crossed, m.driverTurns(g, i), g.Along[i])
	if g.Lies == nil {
		other.Y -= m.AxleWeight[i]
	}
	var own mechanics.Force
	at := &flow.Stages[i]
	// asked is the effective pull that carries torque and the friction of two pulls.
	asked := func(tight, slack units.Newtons) units.Newtons {
		own = hub.pull(tight, slack)
		if g.Lies == nil {
			flow.AxleLoad[i] = other.Plus(opposite(own)).Size()
		} else {
			flow.AxleLoad[i] = g.Lies[i].together(own.Size(), other.Size()) + m.AxleWeight[i]
		}
		flow.AxleFriction[i] = mechanics.BearingTorque(m.AxleMu[i], flow.AxleLoad[i], m.AxleRadius[i])
		at.DrivenTorque = torque + flow.AxleFriction[i]
		return units.Newtons(float64(at.DrivenTorque) / float64(r2))
	}
	next := asked(f.Pull, f.Pull)
	least, most := units.Newtons(0), units.Newtons(math.Inf(1)) // where the answer lies
	var last, wanted units.Newtons                              // the last round's effective pull, and what it asked for
	for round := range mostSettling {
		loaded, ok := loading.At(next)
		slipping := false
		if !ok && math.IsInf(float64(most), 1) {
			// The answer is nearer to slip than the guess, or beyond.
			greatest, _ := m.Stages[i].Grip(*f)
			next = greatest * (1 - beforeSlip)
			slipping = true
			loaded, ok = loading.At(next)
		}
		if !ok {
			return mechanics.Force{}, false
		}
		at.Effective, at.Loaded = next, loaded
		at.DriverTorque = units.NewtonMillimetres(float64(next) * float64(r1))
		now := asked(loaded.Tight, loaded.Slack)
		off := now - next
		if math.Abs(float64(off)) <= settled*float64(next) {
			break
		}
		if slipping && off > 0 {
			return mechanics.Force{}, false
		}
		if off > 0 {
			least = next
		} else {
			most = next
		}
		slope := (now - wanted) / (next - last)
		last, wanted = next, now
		next = now
		if round > 0 && math.Abs(float64(slope)) < mostSlope {
			next = last + off/(1-slope)
		}
		if !(next > least && next < most) && !math.IsInf(float64(most), 1) {
			next = least + (most-least)/2
		}
	}
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
//
// Where the torque swings in a turn (Demand.Swing), the flow being that of the mean
// torque, it is the mean speed over the turn: see MeanOverTurn.
func (m *Model) OutputSpeed(g *Geometry, flow *Flow) units.RPM {
	n := m.SpeedAt(g, flow)
	if m.Demand.Swing > 0 && n > 0 {
		heaviest := m.Carry(g, flow.Output+m.Demand.Swing)
		return MeanOverTurn(n, m.SpeedAt(g, &heaviest))
	}
	return n
}

// SpeedAt is the output's speed at the moment of a flow; 0 if a band slips or the motor
// stalls.
func (m *Model) SpeedAt(g *Geometry, flow *Flow) units.RPM {
	if flow.Slips >= 0 {
		return 0
	}
	n := float64(m.Motor.SpeedAt(m.Supply, flow.MotorTorque))
	for i := range m.Count {
		n *= flow.Stages[i].Loaded.SpeedFactor / g.Fits[i].Ratio
	}
	return units.RPM(max(0, n))
}

// MeanOverTurn is the mean speed over a turn in which the torque rises and falls like a
// sine: v at its mean, heaviest where it is greatest, which is not above v. The speed
// falls as the torque rises, by v - heaviest at most, so that a turn takes the mean of
// 1/(v - (v-heaviest) sin) as long, which is 1/sqrt(v² - (v-heaviest)²). 0 if it stands
// at the heaviest moment. What turns is taken to be too light to carry itself over.
func MeanOverTurn(v, heaviest units.RPM) units.RPM {
	if heaviest <= 0 {
		return 0
	}
	return units.RPM(math.Sqrt(max(0, float64(heaviest*(2*v-heaviest)))))
}
