package recheck

import (
	"math"
	"slices"
)

// lies are the least angles between the two pulls on an axle, in degrees, those that a design is
// worked out with, and those at which the next better lie begins.
var lies = map[string]struct{ least, worked, below float64 }{
	"in line": {160, 170, 180}, "aslant": {125, 143, 160}, "across": {90, 108, 125}, "folded back": {0, 63, 90},
}

// designed is the drive as it is designed: its shafts in a row at the spacings stated,
// the pulls on each axle at the angle that its lie is worked out with.
func (m machine) designed(p *proposal) machine {
	m.places, m.angles = []vector{{}}, nil
	for i := range p.Stages {
		m.places = append(m.places, m.places[i].plus(vector{p.Stages[i].Spacing, 0}))
		m.angles = append(m.angles, radians(lies[p.Axles[i].Lie].worked))
	}
	return m
}

// design checks the drive at its spacings and lies: that these may be chosen, that the
// holes keep to them, that the rules hold there, and what it does in the classrooms.
func (r *report) design(c *certificate, p *proposal, m *machine) {
	r.bears(c, p)
	for i := range p.Stages {
		r.mark(c, p, m, i)
	}
	if !r.lie(p, m) {
		return
	}
	d := m.designed(p)
	running, ok := d.carry(d.steady, 0)
	starting, started := d.carry(d.heaviest(), 0)
	if !ok || !started {
		r.fail("at the spacings stated a band slips, running or starting")
		return
	}
	where := r.where
	ratio := 1.0
	for i := range p.Stages {
		r.where = where + stageName(i)
		f, at := &running.fits[i], &p.Stages[i].AtSpacing
		greatest := d.belts[i].greatest(f)
		r.same("stretch at its spacing", at.Stretch, f.stretch)
		r.same("stretch of the tight side at its spacing", at.TightStretch, running.tightStretch[i])
		r.same("creep at its spacing", at.Creep, 1-running.slackStretch[i]/running.tightStretch[i])
		r.margin("grip margin at its spacing", at.Grip, greatest, running.effective[i])
		r.margin("grip margin at starting at its spacing", at.GripStart, greatest, starting.effective[i])
		for _, broken := range brokenAtRest(c, &p.Stages[i], f) {
			r.fail("at its spacing %s", broken)
		}
		ratio *= f.r2 / f.r1
	}
	r.where = where
	for _, broken := range d.brokenAtWork(c, p, &running, &starting) {
		r.fail("%s", broken)
	}
	likely, stall := d.outputSpeed(&running, 0), d.stall()
	kept := likely * ratio / d.motorSpeed(0)
	r.same("motor torque of the design", p.Design.Torque, running.torque)
	r.same("starting torque of the design", p.Design.StartTorque, starting.torque)
	r.same("share of stall of the design", p.Design.Share, running.torque/stall)
	r.same("speed kept of that without load", p.Design.Kept, kept)
	r.hold(kept >= c.Brief.Limits.KeptSpeedMin*(1-slackRule), "load, friction and bands hold it back too far")
	r.same("likely speed", p.Speed.Likely, likely)
	r.hold(math.Abs(likely/m.target-1) <= c.Brief.Tolerance+slackRule, "the likely speed is outside the tolerance")
	r.rooms(c, p, &d, &running, &starting)
}

// margin checks a grip margin, which is left out where nothing is carried.
func (r *report) margin(what string, claimed *float64, greatest, effective float64) {
	if claimed == nil {
		r.hold(effective <= 0, "no %s is given", what)
		return
	}
	r.same(what, *claimed, greatest/effective)
}

// bears checks that the hole error of the design is one that a design may have.
func (r *report) bears(c *certificate, p *proposal) {
	hole, edge := c.Brief.Limits.HoleError, c.Constants.Edge
	may := []float64{hole, 0}
	if hole > edge {
		may = append(may, edge)
	}
	r.hold(slices.ContainsFunc(may, func(v float64) bool { return math.Abs(v-p.Bears) < 1e-9 }), "no design is made for holes %.6g mm out of place", p.Bears)
}

// rulerNoise is how near a place must be to a mark, in mm: figures have nine digits.
const rulerNoise = 1e-5

// mark checks a stage's spacing on its ruler, the cell that it stands for, and that the
// holes are in the cell.
func (r *report) mark(c *certificate, p *proposal, m *machine, i int) {
	where := r.where
	defer func() { r.where = where }()
	r.where += stageName(i)
	s, k := &p.Stages[i], &c.Constants
	if !(k.RulerStep > 0) {
		r.fail("its ruler has no step")
		return
	}
	step := k.RulerStep * math.Max(1, math.Round(m.belts[i].rest*k.RulerShare/k.RulerStep))
	from, to := s.CentreAllowed.From+2*p.Bears, s.CentreAllowed.To-2*p.Bears
	r.hold(s.Spacing >= from-rulerNoise && s.Spacing <= to+rulerNoise, "the spacing is beyond what the rules allow with holes %.6g mm out of place", p.Bears)
	mark := step * math.Floor(s.Spacing/step+0.5)
	if math.Abs(s.Spacing-mark) > rulerNoise {
		low := math.Abs(s.Spacing-from) <= rulerNoise && mark < from
		high := math.Abs(s.Spacing-to) <= rulerNoise && mark > to
		r.hold(low || high, "the spacing of %.9g mm is not a mark of its ruler, which has one every %g mm", s.Spacing, step)
	}
	r.hold(m.outside(c, s, i, s.CentreAllowed.From-looking), "the rules allow shorter spacings than the range given for them")
	r.hold(m.outside(c, s, i, s.CentreAllowed.To+looking), "the rules allow longer spacings than the range given for them")
	r.same("shortest spacing of its cell", s.Cell.From, math.Max(from, mark-step/2))
	r.same("longest spacing of its cell", s.Cell.To, math.Min(to, mark+step/2))
	at := distance(m.places[i], m.places[i+1])
	r.hold(at >= s.Cell.From-rulerNoise && at <= s.Cell.To+rulerNoise, "the holes are outside the cell of its spacing")
}

// looking is how far beyond the end of a range of spacings a rule must be broken, in mm.
const looking = 0.01

// outside tells whether a centre distance breaks a rule at rest.
func (m *machine) outside(c *certificate, s *stage, i int, centre float64) bool {
	if centre < (s.Driver.Outside+s.Driven.Outside)/2+c.Brief.Limits.Clearance {
		return true
	}
	f, ok := m.belts[i].fit(centre)
	return !ok || len(brokenAtRest(c, s, &f)) > 0
}

// lie checks that the holes keep to the lies, and tells whether the lies are known.
func (r *report) lie(p *proposal, m *machine) bool {
	last := len(p.Stages) - 1
	for i := range p.Axles {
		angle, known := lies[p.Axles[i].Lie]
		if !known {
			r.fail("axle %d lies in a way that is not known: %q", i+1, p.Axles[i].Lie)
			return false
		}
		least, below := math.Cos(radians(angle.least)), math.Cos(radians(angle.below))
		a := p.Stages[i].Cell.To
		if i == last {
			if m.load.x != 0 {
				r.hold(angle.least == 0, "a cord that leaves sideways may pull on the output axle the same way as its band")
				continue
			}
			// The band pulls towards the shaft before, which must be against the load.
			rise := m.places[i].y - m.places[i+1].y
			if m.load.y > 0 {
				rise = -rise
			}
			r.hold(m.load.y == 0 || rise >= -least*a-rulerNoise && rise <= -below*a+rulerNoise, "the pulls on the output axle do not lie %s", p.Axles[i].Lie)
			continue
		}
		r.hold(p.Axles[i].Lie == p.Axles[0].Lie, "the axles between stages do not lie alike")
		b := p.Stages[i+1].Cell.To
		apart := distance(m.places[i], m.places[i+2])
		nearest := math.Sqrt(a*a + b*b - 2*a*b*least)
		if angle.least == 0 {
			nearest = 0 // they may stand anywhere
		}
		r.hold(apart >= nearest-rulerNoise && apart <= math.Sqrt(a*a+b*b-2*a*b*below)+rulerNoise, "the pulls on axle %d do not lie %s", i+1, p.Axles[i].Lie)
	}
	return true
}
