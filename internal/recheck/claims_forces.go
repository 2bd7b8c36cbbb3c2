package recheck

import (
	"fmt"
	"math"
)

func stageName(i int) string { return fmt.Sprintf("stage %d: ", i+1) }

// forces checks the drive at work, running and starting.
func (r *report) forces(c *certificate, p *proposal, m *machine) {
	r.same("steady torque", p.Demand.Steady, m.steady)
	r.same("starting torque", p.Demand.Start, m.heaviest())
	r.same("swing of the torque", p.Demand.Swing, m.swing)
	r.same("sideways force on the output axle", p.Demand.Force.X, m.load.x)
	r.same("upward force on the output axle", p.Demand.Force.Y, m.load.y)
	for i := range p.Axles {
		r.same("weight of an axle", p.Axles[i].Weight, m.own[i].size())
	}
	switch p.Cells.Condition {
	case "", "fresh", "used":
	default:
		r.fail("the condition of the cells is neither fresh nor used: %q", p.Cells.Condition)
	}
	open := c.openVolts(&p.Cells)
	r.same("least open voltage of a cell", p.Cells.OpenRange.Low, open.Low)
	r.same("likely open voltage of a cell", p.Cells.OpenRange.Likely, open.Likely)
	r.same("most open voltage of a cell", p.Cells.OpenRange.High, open.High)
	running, ok := m.carry(m.steady, 0)
	starting, started := m.carry(m.heaviest(), 0)
	if !ok || !started {
		r.fail("a band slips, running or starting")
		return
	}
	where := r.where
	defer func() { r.where = where }()
	for i := range p.Stages {
		s, b := &p.Stages[i], &m.belts[i]
		f := &running.fits[i]
		greatest := b.greatest(f)
		r.where = where + stageName(i)
		r.same("greatest pull", s.Greatest, greatest)
		r.atWork("running", &s.Running, b, f, &running, i, greatest)
		r.atWork("starting", &s.Starting, b, f, &starting, i, greatest)
		r.same("axle load", p.Axles[i].Load, running.load[i])
		r.same("axle friction", p.Axles[i].Friction, running.friction[i])
	}
	r.where = where
	for _, broken := range m.brokenAtWork(c, p, &running, &starting) {
		r.fail("%s", broken)
	}

	at := &p.Motor
	bears := 1.5 * at.Rated
	if at.PacketMost > 0 {
		bears = at.PacketMost
		r.hold(at.PacketLeast <= at.Rated && at.Rated <= bears, "the rated voltage is not in the range on the packet")
	}
	r.hold(float64(p.Cells.Cells)*p.Cells.Open <= 1.05*bears+slackRule, "the cells give more volts than the motor bears")
	r.same("motor constant", at.Constant, m.constant)
	r.same("motor resistance", at.Resistance, m.resistance)
	r.same("pull on the motor shaft", at.ShaftLoad, running.shaftLoad)
	r.same("motor torque", at.Torque, running.torque)
	r.same("motor starting torque", at.StartTorque, starting.torque)
	r.same("stall torque on these cells", at.Stall, m.stall())
	r.same("motor speed", at.Speed, m.motorSpeed(at.Torque))
	current := m.freeCurrent + running.torque/1000/m.constant
	r.same("current", at.Current, current)
	r.same("share of stall", at.Share, running.torque/m.stall())
	if at.Minutes != nil {
		r.same("battery minutes", *at.Minutes, p.Cells.Capacity/1000/current*60)
	}
}

// atWork checks one stage's claims against the equations themselves: what the
// claimed pulls and stretches must satisfy.
func (r *report) atWork(when string, a *atWork, b *belt, f *fitted, w *work, i int, greatest float64) {
	r.same(when+": effective pull", a.Effective, w.effective[i])
	r.same(when+": tight pull less slack pull", a.Tight-a.Slack, a.Effective)
	r.same(when+": tight pull at its stretch", a.Tight, b.force*b.rubber.stress(a.TightStretch))
	r.same(when+": slack pull at its stretch", a.Slack, b.force*b.rubber.stress(a.SlackStretch))
	if a.Effective > 0 {
		if over := b.surplus(f, a.TightStretch, a.SlackStretch); !(math.Abs(over) <= 1e-6*b.rest) {
			r.fail("%s: the band is not conserved: %.3g mm of rest length too much", when, over)
		}
	}
	r.same(when+": creep", a.Creep, 1-a.SlackStretch/a.TightStretch)
	r.same(when+": driver torque", a.DriverTorque, a.Effective*f.r1)
	r.same(when+": driven torque", a.DrivenTorque, a.Effective*f.r2)
	switch {
	case a.Grip != nil:
		r.same(when+": grip margin", *a.Grip, greatest/a.Effective)
	default:
		r.hold(a.Effective <= 0, "%s: no grip margin is given", when)
	}
}

// brokenAtWork lists the rules that a working drive breaks.
func (m *machine) brokenAtWork(c *certificate, p *proposal, running, starting *work) []string {
	var out []string
	l := &c.Brief.Limits
	for i := range m.belts {
		greatest := m.belts[i].greatest(&running.fits[i])
		if greatest < l.GripMin*running.effective[i]*(1-slackRule) {
			out = append(out, stageName(i)+"the grip is below the limit when running")
		}
		if greatest < l.GripStart*starting.effective[i]*(1-slackRule) {
			out = append(out, stageName(i)+"the grip is below the limit when starting")
		}
		tight := running.tightStretch[i]
		if m.swing > 0 { // in every turn
			tight = math.Max(tight, starting.tightStretch[i])
		}
		if tight > runningLimit(c, &p.Stages[i])+slackRule {
			out = append(out, stageName(i)+"the tight side is stretched beyond the limit")
		}
	}
	if m.stall() < l.StartMin*starting.torque*(1-slackRule) {
		out = append(out, "the motor has too little in hand to start")
	}
	if m.stall() < l.RunMin*running.torque*(1-slackRule) {
		out = append(out, "the motor has too little in hand to run")
	}
	return out
}

// forgiveness checks that every rule still holds with all centre distances
// shorter, and longer, by twice the error each hole is said to be forgiven.
func (r *report) forgiveness(c *certificate, p *proposal, m *machine) {
	for _, off := range []float64{-2 * p.Forgives, 2 * p.Forgives} {
		running, ok := m.carry(m.steady, off)
		starting, started := m.carry(m.heaviest(), off)
		if !ok || !started {
			r.fail("with every centre distance %+.3g mm off a band slips or hangs loose", off)
			continue
		}
		broken := m.brokenAtWork(c, p, &running, &starting)
		for i := range p.Stages {
			for _, b := range brokenAtRest(c, &p.Stages[i], &running.fits[i]) {
				broken = append(broken, stageName(i)+b)
			}
		}
		if n := m.outputSpeed(&running, off); math.Abs(n/m.target-1) > c.Brief.Tolerance+slackRule {
			broken = append(broken, "the speed is outside the tolerance")
		}
		for _, b := range broken {
			r.fail("with every centre distance %+.3g mm off %s", off, b)
		}
	}
}
