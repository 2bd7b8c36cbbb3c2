package recheck

import "math"

// day says, for each thing only roughly known, whether it is at its low end
// (-1), likely (0) or at its high end (1).
type day struct{ motorSpeed, motorTorque, bandPull, grip, bearings, load, cells int }

func (s spread) at(level int) float64 {
	switch {
	case level < 0:
		return s.Low
	case level > 0:
		return s.High
	}
	return s.Likely
}

// machine is a proposal made ready for working out, apart from where its bands
// have settled.
type machine struct {
	belts                   []belt
	radius, friction        []float64 // of the axles
	shaftRadius, shaftMu    float64
	constant, resistance    float64 // of the motor, V·s/rad and ohm
	freeCurrent             float64
	volts, supplyResistance float64
	target                  float64
	steady, start, hanging  float64
	places                  []vector
	turns                   float64 // of the motor, +1 anticlockwise seen from the front
}

func (c *certificate) machineOf(p *proposal, d day) machine {
	k := &c.Constants
	m := machine{
		shaftRadius: p.Motor.Shaft / 2, shaftMu: k.MotorBearing.at(d.bearings), freeCurrent: p.Motor.FreeCurrent,
		volts:            float64(p.Cells.Cells) * p.Cells.Open,
		supplyResistance: float64(p.Cells.Cells) * p.Cells.Resistance * (1 + float64(d.cells)*k.CellShare),
		turns:            sense(p.Motor.Turns),
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		share := k.BandShare
		if s.Band.Calibrated {
			share = k.WeighedShare
		}
		rest, strands := 2*s.Band.FlatLength, 1.0
		switch s.Use {
		case "looped twice":
			rest, strands = rest/2, 2
		case "two side by side":
			strands = 2
		}
		m.belts = append(m.belts, belt{
			rubber: rubber{k.C1, k.C2}, floor1: s.Driver.Floor, floor2: s.Driven.Floor,
			angle1: radians(s.Driver.GrooveAngle), angle2: radians(s.Driven.GrooveAngle),
			rest: rest, thickness: s.Band.Thickness, crossed: s.Crossed, grip: k.BandGrip.at(d.grip),
			force: strands * s.Band.Width * s.Band.Thickness * s.Band.PullFactor * (1 + float64(d.bandPull)*share),
		})
		mu := k.WoodAxle
		switch p.Axles[i].Material {
		case "steel", "brass", "aluminium":
			mu = k.MetalAxle
		}
		m.radius = append(m.radius, p.Axles[i].Diameter/2)
		m.friction = append(m.friction, mu.at(d.bearings))
	}
	for _, at := range p.Positions {
		m.places = append(m.places, at.vector())
	}
	speedShare := k.MotorShare
	if p.Motor.Calibrated {
		speedShare = k.CountedShare
	}
	m.constant, m.resistance = constants(&p.Motor, 1+float64(d.motorSpeed)*speedShare, 1+float64(d.motorTorque)*k.MotorShare)
	c.demand(p, &m, d.load)
	return m
}

// constants finds a motor's constant and resistance from its sheet: V = K w0 +
// I0 R, and K (V/R - I0) is the stall torque, or V/R the stall current where no
// torque is given.
func constants(m *motor, speed, torque float64) (constant, resistance float64) {
	w0 := radiansPerSecond(m.FreeSpeed * speed)
	k := func(r float64) float64 { return (m.Rated - m.FreeCurrent*r) / w0 }
	if !(m.SheetStall > 0) {
		r := m.Rated / (m.StallCurrent * torque)
		return k(r), r
	}
	want := m.SheetStall * torque / 1000
	most := m.Rated * m.Rated / (want * w0) // K is at most V/w0 and the torque at most K V/R
	if m.FreeCurrent > 0 {
		most = math.Min(most, m.Rated/m.FreeCurrent)
	}
	r := root(func(r float64) float64 { return k(r)*(m.Rated/r-m.FreeCurrent) - want }, most*1e-6, most)
	return k(r), r
}

// demand is the torque asked of the output axle, and the weight on it.
func (c *certificate) demand(p *proposal, m *machine, level int) {
	k, l := &c.Constants, &c.Brief.Load
	weight := l.Mass / 1000 * k.Gravity
	if c.Brief.WantedSpeed != nil {
		m.target = *c.Brief.WantedSpeed
	}
	turning := func(speed, radius float64) float64 { return speed * 1000 / radius * 30 / math.Pi }
	switch c.Brief.Model {
	case "ride on an upright axle":
		m.steady = k.Pivot.at(level) * weight * l.PivotRadius
		m.start = m.steady
	case "ride on a level axle":
		m.hanging = weight
		m.start = l.OutOfBalance / 1000 * k.Gravity * l.OutOfBalanceRadius
	case "vehicle":
		if p.Wheel == nil {
			return
		}
		r, slope := p.Wheel.Diameter/2, radians(l.Slope)
		if c.Brief.WantedTravel != nil {
			m.target = turning(*c.Brief.WantedTravel, r)
		}
		m.steady = weight * r * (k.Rolling.at(level)*math.Cos(slope) + math.Max(0, math.Sin(slope)))
		m.start = m.steady
		m.hanging = weight * l.DrivenShare
	case "lift":
		if p.Drum == nil {
			return
		}
		r, tackle := (p.Drum.Diameter+l.CordDiameter)/2, c.tackleOf(p)
		if c.Brief.WantedTravel != nil {
			m.target = turning(*c.Brief.WantedTravel*tackle.Parts, r)
		}
		m.hanging = weight / (tackle.Parts * tackle.Efficiency)
		m.steady = m.hanging * r
		m.start = m.steady
	case "plain shaft":
		m.steady, m.start, m.hanging = l.Torque, l.Torque, weight
	}
}

// sense is +1 for anticlockwise, -1 for clockwise and 0 for any other word.
func sense(turns string) float64 {
	switch turns {
	case "anticlockwise":
		return 1
	case "clockwise":
		return -1
	}
	return 0
}

// work is a machine carrying a torque.
type work struct {
	fits                       []fitted
	effective, tight, slack    []float64
	tightStretch, slackStretch []float64
	load, friction             []float64 // of the axles
	shaftLoad, torque          float64   // at the motor
}

// pull is what a band pulls its driver's axle with, as a vector. The run drawn
// in by the driver is tight: the one on the left of the line of centres when the
// driver turns anticlockwise, for its surface moves back over its left.
func (m *machine) pull(i int, f *fitted, tight, slack float64) vector {
	runs := strands(m.places[i], m.places[i+1], f.r1, f.r2, m.belts[i].crossed)
	turns := m.turns
	for j := range i {
		if m.belts[j].crossed {
			turns = -turns
		}
	}
	if turns < 0 {
		tight, slack = slack, tight
	}
	left := runs[0].to.minus(runs[0].from).along()
	right := runs[1].to.minus(runs[1].from).along()
	return left.by(tight).plus(right.by(slack))
}

// carry takes a torque from the output back to the motor, every centre distance
// longer by off; false if a band does not fit or slips. The lean of the runs is
// that of the lengthened drive.
func (m *machine) carry(output, off float64) (work, bool) {
	n := len(m.belts)
	w := work{
		fits: make([]fitted, n), effective: make([]float64, n), tight: make([]float64, n), slack: make([]float64, n),
		tightStretch: make([]float64, n), slackStretch: make([]float64, n), load: make([]float64, n), friction: make([]float64, n),
	}
	other := vector{0, -m.hanging}
	torque := output
	for i := n - 1; i >= 0; i-- {
		b := &m.belts[i]
		f, ok := b.fit(distance(m.places[i], m.places[i+1]) + off)
		if !ok {
			return w, false
		}
		w.fits[i] = f
		s1, s2 := f.stretch, f.stretch
		before := math.Inf(1)
		for range 60 {
			tight, slack := b.force*b.rubber.stress(s1), b.force*b.rubber.stress(s2)
			w.load[i] = other.minus(m.stretched(i, &f, tight, slack)).size()
			w.friction[i] = m.friction[i] * w.load[i] * m.radius[i]
			w.effective[i] = (torque + w.friction[i]) / f.r2
			if !(w.effective[i] < math.Inf(1)) {
				return w, false
			}
			if s1, s2, ok = b.carry(&f, w.effective[i]); !ok {
				return w, false
			}
			if math.Abs(w.effective[i]-before) <= 1e-12*w.effective[i] {
				break
			}
			before = w.effective[i]
		}
		w.tight[i], w.slack[i] = b.force*b.rubber.stress(s1), b.force*b.rubber.stress(s2)
		w.tightStretch[i], w.slackStretch[i] = s1, s2
		other = m.stretched(i, &f, w.tight[i], w.slack[i])
		torque = w.effective[i] * f.r1
	}
	w.shaftLoad = other.size()
	w.torque = torque + m.shaftMu*w.shaftLoad*m.shaftRadius
	return w, true
}

// stretched is pull with the driven pulley moved out to the fitted centre
// distance along the line of centres.
func (m *machine) stretched(i int, f *fitted, tight, slack float64) vector {
	moved := *m
	a, b := m.places[i], m.places[i+1]
	moved.places = append([]vector(nil), m.places...)
	moved.places[i+1] = a.plus(b.minus(a).along().by(f.centre))
	return moved.pull(i, f, tight, slack)
}

// motorSpeed is the motor's speed in turns a minute at a torque in mN·m.
func (m *machine) motorSpeed(torque float64) float64 {
	current := m.freeCurrent + torque/1000/m.constant
	return (m.volts - current*(m.resistance+m.supplyResistance)) / m.constant * 30 / math.Pi
}

// stall is the torque in mN·m at which the motor stands still on its cells.
func (m *machine) stall() float64 {
	return 1000 * m.constant * (m.volts/(m.resistance+m.supplyResistance) - m.freeCurrent)
}

// outputSpeed takes the motor's speed forward: each ratio divides it and each
// band's creep slows it.
func (m *machine) outputSpeed(w *work) float64 {
	n := m.motorSpeed(w.torque)
	for i, f := range w.fits {
		n *= w.slackStretch[i] / w.tightStretch[i] * f.r1 / f.r2
	}
	return math.Max(0, n)
}
