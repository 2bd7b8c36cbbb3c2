package recheck

import "math"

// day says, for each thing only roughly known, whether it is at its low end
// (-1), likely (0) or at its high end (1).
type day struct {
	motorSpeed, motorTorque, idle, bandPull, grip, bearings, rubbing, carried, volts, cells int
}

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
	steady, swing           float64
	freeAxle                float64 // of steady, the friction of a vehicle's other axle
	// The axles, from the motor on, and what presses on each besides its bands:
	//
	//	         band to the driver              band to the next stage
	//	    <----------------------- ( axle ) ----------------------->
	//	                             |      |
	//	                   own weight v      v or ^ at the output: the load, or the
	//	                                            floor under a vehicle's wheels
	own    []vector
	load   vector // on the last axle
	places []vector
	// angles, if given, are between the two pulls on each axle, in radians; the places
	// do not matter then, and an axle's weight presses where its bands pull.
	angles []float64
	turns  float64 // of the motor, +1 anticlockwise seen from the front
}

func (c *certificate) machineOf(p *proposal, d day) machine {
	k := &c.Constants
	m := machine{
		shaftRadius: p.Motor.Shaft / 2, shaftMu: k.MotorBearing.at(d.bearings),
		freeCurrent:      p.Motor.FreeCurrent * (1 + float64(d.idle)*k.IdleShare),
		volts:            float64(p.Cells.Cells) * c.openVolts(&p.Cells).at(d.volts),
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
		m.radius = append(m.radius, p.Axles[i].Diameter/2)
		m.friction = append(m.friction, c.axleFriction(&p.Axles[i]).at(d.bearings))
		m.own = append(m.own, vector{0, -c.weightOn(p, i)})
	}
	for _, at := range p.Positions {
		m.places = append(m.places, at.vector())
	}
	speedShare := k.MotorShare
	switch {
	case p.Motor.Calibrated:
		speedShare = k.CountedShare
	case p.Motor.SpeedKnown > 0:
		speedShare = p.Motor.SpeedKnown
	}
	m.constant, m.resistance = constants(&p.Motor, m.freeCurrent, 1+float64(d.motorSpeed)*speedShare, 1+float64(d.motorTorque)*k.MotorShare)
	c.demand(p, &m, d)
	return m
}

// axleFriction is that of an axle in its bearings.
func (c *certificate) axleFriction(a *axle) spread {
	switch a.Material {
	case "steel", "brass", "aluminium":
		return c.Constants.MetalAxle
	}
	return c.Constants.WoodAxle
}

// openVolts is what a cell without load may give: about what was measured, or the
// share of what is printed on it that new and used ones give.
func (c *certificate) openVolts(k *cells) spread {
	if k.Measured {
		off := k.Open * c.Constants.MeasuredShare
		return spread{k.Open - off, k.Open, k.Open + off}
	}
	of := func(low, likely, high, printed float64) spread {
		return spread{low / printed * k.Open, likely / printed * k.Open, high / printed * k.Open}
	}
	switch {
	case k.Chemistry == "nimh":
		return of(1.15, 1.2, 1.35, 1.2)
	case k.Condition == "fresh":
		return of(1.5, 1.55, 1.6, 1.5)
	case k.Condition == "used":
		return of(1.2, 1.35, 1.45, 1.5)
	}
	return of(1.3, 1.45, 1.6, 1.5)
}

// weightOn is what axle i and all that turns with it weigh, all of it solid and round:
// the stage's driven pulley, the next one's driver, a pair of wheels or a drum at the
// end, and the rod as far as the frame is wide over its sides. An axle that stands
// rests on its end.
func (c *certificate) weightOn(p *proposal, i int) float64 {
	if c.Brief.Model == "ride on an upright axle" {
		return 0
	}
	disc := func(material string, across, along float64) float64 {
		metres := math.Pi * across / 2000 * across / 2000 * along / 1000 // cubic
		return metres * c.Constants.Density[material] * c.Constants.Gravity
	}
	f := &c.Brief.Frame
	w := disc(p.Axles[i].Material, p.Axles[i].Diameter, f.Depth+2*math.Max(f.Strip, f.Sheet))
	w += disc(p.Stages[i].Driven.Material, p.Stages[i].Driven.Outside, p.Stages[i].Driven.Width)
	if i < len(p.Stages)-1 {
		next := &p.Stages[i+1].Driver
		return w + disc(next.Material, next.Outside, next.Width)
	}
	if p.Wheel != nil {
		w += 2 * disc(p.Wheel.Material, p.Wheel.Diameter, p.Wheel.Width)
	}
	if p.Drum != nil {
		w += disc(p.Drum.Material, p.Drum.Diameter, p.Drum.Width)
	}
	return w
}

// constants finds a motor's constant and resistance from its sheet: V = K w0 +
// I0 R, and K (V/R - I0) is the stall torque, or V/R the stall current where no
// torque is given.
func constants(m *motor, idle, speed, torque float64) (constant, resistance float64) {
	w0 := radiansPerSecond(m.FreeSpeed * speed)
	k := func(r float64) float64 { return (m.Rated - idle*r) / w0 }
	if !(m.SheetStall > 0) {
		r := m.Rated / (m.StallCurrent * torque)
		return k(r), r
	}
	want := m.SheetStall * torque / 1000
	most := m.Rated * m.Rated / (want * w0) // K is at most V/w0 and the torque at most K V/R
	if idle > 0 {
		most = math.Min(most, m.Rated/idle)
	}
	r := root(func(r float64) float64 { return k(r)*(m.Rated/r-idle) - want }, most*1e-6, most)
	return k(r), r
}

// demand is the torque asked of the output axle, on the mean of a turn and by how much
// it swings, and what presses on it.
func (c *certificate) demand(p *proposal, m *machine, d day) {
	k, l := &c.Constants, &c.Brief.Load
	times := 1 + float64(d.carried)*k.LoadShare
	weight := l.Mass * times / 1000 * k.Gravity
	down := func(force float64) vector { return vector{0, -force} }
	if c.Brief.WantedSpeed != nil {
		m.target = *c.Brief.WantedSpeed
	}
	turning := func(speed, radius float64) float64 { return speed * 1000 / radius * 30 / math.Pi }
	switch c.Brief.Model {
	case "ride on an upright axle":
		m.steady = k.Pivot.at(d.rubbing) * weight * l.PivotRadius
	case "ride on a level axle":
		m.load = down(weight)
		m.swing = l.OutOfBalance * times / 1000 * k.Gravity * l.OutOfBalanceRadius
	case "vehicle":
		if p.Wheel == nil {
			return
		}
		r, slope := p.Wheel.Diameter/2, radians(l.Slope)
		if c.Brief.WantedTravel != nil {
			m.target = turning(*c.Brief.WantedTravel, r)
		}
		// The floor bears what presses on it square, so much of it through the driven
		// wheels. The other axle turns as fast in bearings of its own.
		square := weight * math.Cos(slope)
		m.load = down(-square * l.DrivenShare)
		last := &p.Axles[len(p.Axles)-1]
		m.freeAxle = c.axleFriction(last).at(d.bearings) * square * (1 - l.DrivenShare) * last.Diameter / 2
		m.steady = square*k.Rolling.at(d.rubbing)*r + weight*math.Max(0, math.Sin(slope))*r + m.freeAxle
	case "lift":
		if p.Drum == nil {
			return
		}
		r, tackle := (p.Drum.Diameter+l.CordDiameter)/2, c.tackleOf(p)
		if c.Brief.WantedTravel != nil {
			m.target = turning(*c.Brief.WantedTravel*tackle.Parts, r)
		}
		cord := weight / (tackle.Parts * tackle.Efficiency)
		m.steady = cord * r
		switch l.CordLeaves {
		case "up":
			m.load = down(-cord)
		case "left":
			m.load = vector{-cord, 0}
		case "right":
			m.load = vector{cord, 0}
		default:
			m.load = down(cord)
		}
	case "plain shaft":
		m.steady, m.load = l.Torque*times, down(weight)
	}
}

// heaviest is the most torque asked, at starting or in a turn.
func (m *machine) heaviest() float64 { return m.steady + m.swing }

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
	other := m.load
	torque := output
	for i := n - 1; i >= 0; i-- {
		b := &m.belts[i]
		f, ok := b.fit(distance(m.places[i], m.places[i+1]) + off)
		if !ok {
			return w, false
		}
		w.fits[i] = f
		if m.angles == nil {
			other = other.plus(m.own[i])
		}
		// wanting is how much less a pull of the band is than what the torque and the
		// friction that it causes itself ask for.
		var s1, s2 float64
		wanting := func(effective float64) float64 {
			if s1, s2, ok = b.carry(&f, effective); !ok {
				return math.NaN()
			}
			tight, slack := b.force*b.rubber.stress(s1), b.force*b.rubber.stress(s2)
			w.load[i] = m.pressing(i, other, m.stretched(i, &f, tight, slack))
			w.friction[i] = m.friction[i] * w.load[i] * m.radius[i]
			return (torque+w.friction[i])/f.r2 - effective
		}
		most := b.greatest(&f) * (1 - 1e-9)
		if !(wanting(most) <= 0) {
			return w, false
		}
		if wanting(0) > 0 { // else there is nothing to carry
			w.effective[i] = root(wanting, 0, most)
		}
		wanting(w.effective[i])
		w.tight[i], w.slack[i] = b.force*b.rubber.stress(s1), b.force*b.rubber.stress(s2)
		w.tightStretch[i], w.slackStretch[i] = s1, s2
		other = m.stretched(i, &f, w.tight[i], w.slack[i])
		torque = w.effective[i] * f.r1
	}
	w.shaftLoad = other.size()
	w.torque = torque + m.shaftMu*w.shaftLoad*m.shaftRadius
	return w, true
}

// pressing is how hard axle i is pressed by what pulls on it besides its band, and by
// its band, of which towards is the pull on the other end.
func (m *machine) pressing(i int, other, towards vector) float64 {
	if m.angles == nil {
		return other.minus(towards).size()
	}
	// Two sides of a parallelogram and its diagonal.
	a, b := other.size(), towards.size()
	x, y := a+b*math.Cos(m.angles[i]), b*math.Sin(m.angles[i])
	return math.Hypot(x, y) + m.own[i].size()
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

// speedAt takes the motor's speed at a torque forward: each ratio divides it and each
// band's creep slows it.
func (m *machine) speedAt(w *work) float64 {
	n := m.motorSpeed(w.torque)
	for i, f := range w.fits {
		n *= w.slackStretch[i] / w.tightStretch[i] * f.r1 / f.r2
	}
	return math.Max(0, n)
}

// outputSpeed is the mean speed over a turn with every centre distance longer by off, w
// being the work at the mean torque. Where the torque swings like a sine the speed does
// so too, between n - a and n + a, and a turn takes the integral of dφ/(n + a sin φ),
// 2π/sqrt(n² - a²).
func (m *machine) outputSpeed(w *work, off float64) float64 {
	n := m.speedAt(w)
	if m.swing == 0 {
		return n
	}
	heavy, ok := m.carry(m.heaviest(), off)
	if !ok {
		return 0
	}
	slow := m.speedAt(&heavy)
	if slow <= 0 {
		return 0
	}
	return math.Sqrt(n*n - (n-slow)*(n-slow))
}
