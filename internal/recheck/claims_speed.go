package recheck

import "math"

// wheelGrip is the friction between wheels and floor that the certificate's
// document states.
const wheelGrip = 0.4

// speeds checks the speeds at the holes, and the speed of travel, which goes with the
// range of the output speed.
func (r *report) speeds(c *certificate, p *proposal, m *machine) {
	r.same("wanted speed", p.Target, m.target)
	w, ok := m.carry(m.steady, 0)
	if !ok {
		return // said already
	}
	n := m.motorSpeed(w.torque)
	for i, f := range w.fits {
		n *= w.slackStretch[i] / w.tightStretch[i] * f.r1 / f.r2
		r.same(stageName(i)+"axle speed", p.Axles[i].Turns, n)
	}
	r.same("speed at the holes", p.AtHoles, m.outputSpeed(&w, 0))
	if p.Travel == nil {
		r.hold(p.Wheel == nil && p.Drum == nil, "no speed of travel is given")
		return
	}
	radius, parts := 0.0, 1.0
	switch {
	case p.Wheel != nil:
		radius = p.Wheel.Diameter / 2
	case p.Drum != nil:
		radius, parts = (p.Drum.Diameter+c.Brief.Load.CordDiameter)/2, c.tackleOf(p).Parts
	}
	if t := p.Tackle; t != nil {
		r.same("pull at the drum", t.Pull, m.load.size())
		allowed := false
		for _, a := range c.Brief.Load.Tackles {
			allowed = allowed || a.Parts == t.Parts && a.Efficiency == t.Efficiency
		}
		r.hold(allowed, "the brief does not allow a tackle of %g parts", t.Parts)
	}
	travel := func(n float64) float64 { return radiansPerSecond(n) * radius / 1000 / parts }
	r.same("low speed of travel", p.Travel.Low, travel(p.Speed.Low))
	r.same("likely speed of travel", p.Travel.Likely, travel(p.Speed.Likely))
	r.same("high speed of travel", p.Travel.High, travel(p.Speed.High))
	if t := p.Traction; t != nil && p.Wheel != nil {
		r.same("torque needed at the wheels", t.Needed, m.steady)
		l := &c.Brief.Load
		r.same("torque the floor holds", t.Holds, wheelGrip*l.Mass/1000*c.Constants.Gravity*math.Cos(radians(l.Slope))*l.DrivenShare*p.Wheel.Diameter/2)
		r.hold(t.Needed <= t.Holds*(1+slackRule), "the wheels would spin")
	}
}

// directions follows the way of turning from the motor to the output.
func (r *report) directions(c *certificate, p *proposal) {
	turns := sense(p.Motor.Turns)
	r.hold(turns != 0, "the motor turns neither clockwise nor anticlockwise")
	for i := range p.Stages {
		s := &p.Stages[i]
		r.hold(sense(s.Driver.Turns) == turns, "%sthe driver turns the other way", stageName(i))
		if s.Crossed {
			turns = -turns
		}
		r.hold(sense(s.Driven.Turns) == turns, "%sthe driven pulley turns the other way", stageName(i))
	}
	r.hold(sense(p.OutputTurns) == turns, "the output turns the other way")
	d := &c.Brief.Direction
	for _, asked := range []string{d.Sense, d.MotorTurns} {
		r.hold(sense(asked) != 0 || asked == "either", "the brief asks for a way to turn that is none: %q", asked)
	}
	seen := 1.0
	if d.SeenFrom == "back" || d.SeenFrom == "below" {
		seen = -1
	}
	if d.Sense == "clockwise" || d.Sense == "anticlockwise" {
		r.hold(sense(p.OutputTurns)*seen == sense(d.Sense), "the output does not turn the way asked")
	}
	if d.MotorTurns == "clockwise" || d.MotorTurns == "anticlockwise" {
		r.hold(sense(p.Motor.Turns)*seen == sense(d.MotorTurns), "the motor does not turn the way asked")
	}
}
