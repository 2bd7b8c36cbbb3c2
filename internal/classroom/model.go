package classroom

import (
	"math"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

const gravity = 9.80665 // m/s²

// model is one that has been built.
type model struct {
	bands  []band
	along  []float64 // of each line of centres, driver to driven
	turns  []float64 // of each stage's driver
	rub    []float64 // friction of each axle's bearings times its radius, mm
	weight []float64 // N, of what turns with each axle
	binds  []float64 // mN·m, of each axle
	// The motor: speed without load in turns a minute, torque at standstill in mN·m; and
	// the friction of its bearing times the shaft's radius.
	free, stall, shaft float64
	torque, swing      float64 // asked of the output, mN·m: mean over a turn, and its swing
	pressX, pressY     float64 // N on the output axle besides band and weight
}

// build builds a drive with what chance deals.
func build(d *Drive, c chance) model {
	var m model
	turns := float64(d.Turns)
	for i := range d.Stages {
		s := &d.Stages[i]
		rest, force := 2*float64(s.Band.FlatLength), float64(s.Band.Width*s.Band.Thickness)*s.Band.PullFactor*c.pull[s.Band]
		switch s.Use {
		case "looped twice":
			rest, force = rest/2, 2*force
		case "two side by side":
			force *= 2
		}
		a, b := c.places[i], c.places[i+1]
		m.bands = append(m.bands, put(float64(s.Driver.GrooveFloor)+c.cut[i][0], float64(s.Driven.GrooveFloor)+c.cut[i][1], float64(s.Driver.GrooveAngle), float64(s.Driven.GrooveAngle),
			rest, float64(s.Band.Thickness), force, c.groove, math.Hypot(b.X-a.X, b.Y-a.Y), s.Crossed))
		m.along = append(m.along, math.Atan2(b.Y-a.Y, b.X-a.X))
		m.turns = append(m.turns, turns)
		if s.Crossed {
			turns = -turns
		}
		m.rub = append(m.rub, rubs(d.Axles[i], &c)*float64(d.Axles[i].Diameter)/2)
		m.weight = append(m.weight, turning(d, i))
		m.binds = append(m.binds, 0)
	}
	copy(m.binds, d.Binds)
	m.motor(d, &c)
	m.load(d, &c)
	return m
}

func rubs(a *parts.AxleStock, c *chance) float64 {
	if a.Material == parts.Steel || a.Material == parts.Brass || a.Material == parts.Alloy {
		return c.metal
	}
	return c.wood
}

// turning is the weight of what turns with axle i, as solid discs and a rod through the
// frame; none of an axle that stands.
func turning(d *Drive, i int) float64 {
	if d.Brief.Model == brief.UprightRide {
		return 0
	}
	kilogramsPerLitre := map[parts.Material]float64{parts.Card: 0.7, parts.Plastic: 1.1, parts.Rubber: 1.2, parts.Steel: 7.85, parts.Brass: 8.5, parts.Alloy: 2.7}
	newtons := func(m parts.Material, across, long float64) float64 {
		density, known := kilogramsPerLitre[m]
		if !known {
			density = 0.6
		}
		litres := math.Pi * across * across / 4 * long * 1e-6
		return density * litres * gravity
	}
	f := &d.Brief.Frame
	w := newtons(d.Axles[i].Material, float64(d.Axles[i].Diameter), float64(f.Depth+2*max(f.Strip, f.Sheet)))
	pulley := func(p *parts.Pulley) float64 { return newtons(p.Material, float64(p.Outside), float64(p.Width)) }
	w += pulley(d.Stages[i].Driven)
	if i+1 < len(d.Stages) {
		return w + pulley(d.Stages[i+1].Driver)
	}
	if d.Wheel != nil {
		w += 2 * newtons(d.Wheel.Material, float64(d.Wheel.Diameter), float64(d.Wheel.Width))
	}
	if d.Drum != nil {
		w += newtons(d.Drum.Material, float64(d.Drum.Diameter), float64(d.Drum.Width))
	}
	return w
}

// motor settles the straight line of the motor on its cells: V = k w + I R, torque =
// k (I - I0), k and R from the sheet at its own voltage.
func (m *model) motor(d *Drive, c *chance) {
	volts, idle := float64(d.Motor.Rated), float64(d.Motor.FreeCurrent)*c.idle
	w := float64(d.Motor.FreeSpeed) * c.free * math.Pi / 30
	k := func(r float64) float64 { return (volts - idle*r) / w }
	r := volts / math.Max(1e-9, float64(d.Motor.StallCurrent)*c.stall)
	if d.Motor.StallTorque > 0 {
		want := float64(d.Motor.StallTorque) * c.stall / 1000
		least, most := 1e-6, 1e6
		if idle > 0 {
			most = volts / idle
		}
		// The stall torque falls as the resistance rises.
		r = between0(func(r float64) float64 { return want - k(r)*(volts/r-idle) }, least, most)
	}
	n := float64(d.Holder.Cells)
	open, all := n*c.volts, r+n*float64(d.Holder.CellResistance)*c.ohms
	m.free = (open - idle*all) / k(r) * 30 / math.Pi
	m.stall = 1000 * k(r) * (open/all - idle)
	m.shaft = c.motor * float64(d.Motor.ShaftDiameter) / 2
}

// load settles what is asked of the output.
func (m *model) load(d *Drive, c *chance) {
	l := &d.Brief.Load
	weight := float64(l.Mass) / 1000 * gravity * c.load
	switch d.Brief.Model {
	case brief.UprightRide:
		m.torque = c.wood * weight * float64(l.PivotRadius)
	case brief.LevelRide:
		m.pressY = -weight
		m.swing = float64(l.OutOfBalance) / 1000 * gravity * c.load * float64(l.OutOfBalanceRadius)
	case brief.Vehicle:
		sin, cos := math.Sincos(float64(l.Slope))
		r := float64(d.Wheel.Diameter) / 2
		m.pressY = weight * cos * l.DrivenShare // the floor pushes up
		last := d.Axles[len(d.Axles)-1]
		free := rubs(last, c) * weight * cos * (1 - l.DrivenShare) * float64(last.Diameter) / 2
		m.torque = weight*(c.roll*cos+math.Max(0, sin))*r + free
	case brief.Lift:
		cord := weight / (float64(l.TackleParts) * l.TackleEfficiency)
		m.torque = cord * float64(d.Drum.Diameter+l.CordDiameter) / 2
		switch l.CordLeaves {
		case brief.Up:
			m.pressY = cord
		case brief.Left:
			m.pressX = -cord
		case brief.Right:
			m.pressX = cord
		default:
			m.pressY = -cord
		}
	case brief.PlainShaft:
		m.torque, m.pressY = float64(l.Torque)*c.load, -weight
	}
}

// carry takes a torque of the output back to the motor. It gives the motor's torque and
// the share of the motor's speed that arrives; false if a band slips or hangs loose.
func (m *model) carry(output float64) (torque, share float64, ok bool) {
	x, y := m.pressX, m.pressY
	torque, share = output, 1
	for i := len(m.bands) - 1; i >= 0; i-- {
		b := &m.bands[i]
		if !b.fits {
			return 0, 0, false
		}
		y -= m.weight[i]
		// The runs pull the driven axle back towards the driver, each leaning to its side.
		// The tight one is that which the driver draws in: on the left as seen from the
		// driver where it turns anticlockwise.
		side := b.lean * m.turns[i]
		pull := func(effective float64) (dx, dy, s1, s2 float64) {
			tight, slack, s1, s2 := b.pulls(effective)
			at, as := m.along[i]+side, m.along[i]-side
			return tight*math.Cos(at) + slack*math.Cos(as), tight*math.Sin(at) + slack*math.Sin(as), s1, s2
		}
		// spare is how much more an effective pull is than what it causes to be asked.
		spare := func(effective float64) float64 {
			dx, dy, _, _ := pull(effective)
			return effective - (torque+m.binds[i]+m.rub[i]*math.Hypot(x-dx, y-dy))/b.r2
		}
		most := b.most() * (1 - 1e-9)
		if spare(most) < 0 {
			return 0, 0, false
		}
		effective := crossing(spare, 0, most)
		dx, dy, s1, s2 := pull(effective)
		x, y, torque = dx, dy, effective*b.r1
		share *= s2 / s1 * b.r1 / b.r2
	}
	return torque + m.shaft*math.Hypot(x, y), share, true
}

// crossing is between0 by chords, for a function that is nearly a straight line.
func crossing(f func(float64) float64, low, high float64) float64 {
	a, b := f(low), f(high)
	if a >= 0 {
		return low
	}
	for range 40 {
		mid := low + (high-low)*math.Max(1e-3, math.Min(1-1e-3, -a/(b-a)))
		v := f(mid)
		if math.Abs(v) <= 1e-10*high {
			return mid
		}
		if v < 0 {
			low, a = mid, v
		} else {
			high, b = mid, v
		}
	}
	return low + (high-low)/2
}

// at is the output's speed while it is asked a torque; 0 if it stands.
func (m *model) at(output float64) float64 {
	torque, share, ok := m.carry(output)
	if !ok || !(torque < m.stall) {
		return 0
	}
	return m.free * (1 - torque/m.stall) * share
}

// speed is the output's, over a whole turn. While the side that is too heavy goes down it
// is taken to help as much as it hinders going up.
func (m *model) speed() float64 {
	n := m.at(m.torque)
	if m.swing == 0 || n == 0 {
		return n
	}
	if m.at(m.torque+m.swing) == 0 {
		return 0
	}
	// Time for a turn, at even steps of its angle.
	const steps = 8
	time := 0.0
	for i := range steps {
		v := m.at(m.torque + m.swing*math.Sin(math.Pi/2*(float64(i)+0.5)/steps))
		time += (1/v + 1/(2*n-v)) / 2 / steps
	}
	return 1 / time
}
