package recheck

import (
	"math"
	"slices"
)

// classrooms is how many classrooms there are, and tail how many lie beyond either end of
// the range that is stated.
const (
	classrooms = 100
	tail       = 5
)

// tables lists the columns of the table of classrooms.
func (c *certificate) tables() [][]int {
	k := &c.Rooms
	all := append([][]int{k.CellVoltage, k.CellResistance, k.FreeSpeed, k.StallTorque, k.FreeCurrent, k.BandPull, k.BandFriction, k.AxleFriction, k.Load, k.Rolling}, k.Spacing...)
	if len(k.Ratio) > 0 {
		all = append(all, k.Ratio)
	}
	return all
}

// roomsComplete checks that each thing takes each of a hundred ranks once.
func (r *report) roomsComplete(c *certificate) bool {
	for i := range c.Proposals {
		if len(c.Proposals[i].Stages) > len(c.Rooms.Spacing) {
			r.fail("its table of classrooms has no spacing for stage %d", len(c.Rooms.Spacing)+1)
			return false
		}
	}
	for i := range c.Proposals {
		if c.Proposals[i].ratioOut() > 0 && len(c.Rooms.Ratio) == 0 {
			r.fail("its table of classrooms has no velocity ratios, which discs put out")
			return false
		}
	}
	for _, ranks := range c.tables() {
		sorted := slices.Sorted(slices.Values(ranks))
		if len(sorted) != classrooms || sorted[0] != 0 || sorted[classrooms-1] != classrooms-1 || len(slices.Compact(sorted)) != classrooms {
			r.fail("its table of classrooms does not have each rank from 0 to %d once", classrooms-1)
			return false
		}
	}
	return true
}

// through is a value so far through a range, by rank.
func through(rank int, low, high float64) float64 {
	return low + (float64(rank)+0.5)/classrooms*(high-low)
}

// peaked is so far through a range, by rank, of which most is near the likely value: as
// many rooms lie below it as the area of a triangle there is of the whole.
func (s spread) peaked(rank int) float64 {
	share, left, right := (float64(rank)+0.5)/classrooms, s.Likely-s.Low, s.High-s.Likely
	if share*(s.High-s.Low) < left {
		return s.Low + math.Sqrt(share*(s.High-s.Low)*left)
	}
	return s.High - math.Sqrt((1-share)*(s.High-s.Low)*right)
}

// either is through a range that reaches a share to both sides of 1.
func either(rank int, share float64) float64 { return through(rank, 1-share, 1+share) }

// shares is through a coefficient's range, as a share of the likely one.
func (s spread) shares(rank int) float64 { return through(rank, s.Low/s.Likely, s.High/s.Likely) }

// likelyDay is what a design does on the likely day, as far as the classrooms care. All
// torques are at the motor.
type likelyDay struct {
	ratio                 float64
	load, swing, friction float64
	creep, heavy          float64 // ln of what the bands leave of the speed, at the mean and the heaviest moment
	margins, exponents    []float64
	growths               []float64 // of a band's pull for each mm, as a share
}

func (d *machine) likelyDay(running, starting *work) likelyDay {
	l := likelyDay{ratio: 1}
	for i := range d.belts {
		f := &running.fits[i]
		l.ratio *= f.r2 / f.r1
		l.creep += math.Log(running.slackStretch[i] / running.tightStretch[i])
		l.heavy += math.Log(starting.slackStretch[i] / starting.tightStretch[i])
		l.margins = append(l.margins, d.belts[i].greatest(f)/starting.effective[i])
		l.exponents = append(l.exponents, f.exponent())
		l.growths = append(l.growths, d.belts[i].growth(f))
	}
	l.load, l.swing = (d.steady-d.freeAxle)/l.ratio, d.swing/l.ratio
	l.friction = math.Max(0, running.torque-l.load)
	return l
}

// rooms puts a design into the classrooms and checks in how many it works and stands, and
// the range of its speed.
func (r *report) rooms(c *certificate, p *proposal, d *machine, running, starting *work) {
	l := d.likelyDay(running, starting)
	// The load's own friction at its two ends, over the likely.
	low, high := c.machineOf(p, day{rubbing: -1}), c.machineOf(p, day{rubbing: 1})
	least, most := 1.0, 1.0
	if likely := d.steady - d.freeAxle; likely > 0 {
		least, most = (low.steady-low.freeAxle)/likely, (high.steady-high.freeAxle)/likely
	}
	speeds := make([]float64, classrooms)
	// Rooms that are on the very edge, to the last figure, may count either way.
	var sure, may int
	standsSurely, mayStand := 0, 0
	for i := range speeds {
		speed, edge := c.inRoom(p, &l, i, least, most)
		speeds[i] = speed
		switch {
		case edge:
			mayStand++
			may++
		case speed <= 0:
			mayStand++
			standsSurely++
		default:
			off := math.Abs(speed/d.target - 1)
			if off <= c.Brief.Tolerance+slackRule {
				may++
			}
			if off <= c.Brief.Tolerance-slackRule {
				sure++
			}
		}
	}
	slices.Sort(speeds)
	r.hold(p.Works >= sure && p.Works <= may, "it works in %d classrooms and comes out as %d", p.Works, may)
	r.hold(p.Stands >= standsSurely && p.Stands <= mayStand, "it stands in %d classrooms and comes out as %d", p.Stands, mayStand)
	r.same("low speed", p.Speed.Low, speeds[tail])
	r.same("high speed", p.Speed.High, speeds[classrooms-1-tail])
}

// ratioOut is by what share the velocity ratio may be out: the errors of the diameters of
// pulleys that are cut of discs.
func (p *proposal) ratioOut() float64 {
	share := 0.0
	for i := range p.Stages {
		for _, w := range []*pulley{&p.Stages[i].Driver, &p.Stages[i].Driven} {
			if w.Made != nil {
				share += w.Made.Error / w.Floor
			}
		}
	}
	return share
}

// inRoom is the output speed in classroom i, 0 if it stands there; edge if the last
// figures decide whether it does.
func (c *certificate) inRoom(p *proposal, l *likelyDay, i int, least, most float64) (speed float64, edge bool) {
	k, t := &c.Constants, &c.Rooms
	speedShare, pullShare := k.MotorShare, k.WeighedShare
	switch {
	case p.Motor.Calibrated:
		speedShare = k.CountedShare
	case p.Motor.SpeedKnown > 0:
		speedShare = p.Motor.SpeedKnown
	}
	for j := range p.Stages {
		if !p.Stages[j].Band.Calibrated {
			pullShare = k.BandShare
		}
	}
	idle := p.Motor.FreeCurrent * either(t.FreeCurrent[i], k.IdleShare)
	m := machine{freeCurrent: idle}
	m.constant, m.resistance = constants(&p.Motor, idle, either(t.FreeSpeed[i], speedShare), either(t.StallTorque[i], k.MotorShare))
	open, cells := c.openVolts(&p.Cells), float64(p.Cells.Cells)
	m.volts = cells * open.peaked(t.CellVoltage[i])
	m.supplyResistance = cells * p.Cells.Resistance * either(t.CellResistance[i], k.CellShare)
	free, stall := m.motorSpeed(0), m.stall()

	carried := either(t.Load[i], k.LoadShare)
	rubbing := t.AxleFriction[i]
	if c.Brief.Model == "vehicle" {
		rubbing = t.Rolling[i]
	}
	pull, grip := either(t.BandPull[i], pullShare), k.BandGrip.shares(t.BandFriction[i])
	// Discs that are cut by hand put the velocity ratio out.
	out := 1.0
	if share := p.ratioOut(); share > 0 {
		out += spread{-share, 0, share}.peaked(t.Ratio[i])
	}
	torque := l.load/out*carried*through(rubbing, least, most) + l.friction*k.WoodAxle.shares(t.AxleFriction[i])*pull
	start := torque + l.swing/out*carried
	likely, likelyStart := l.load+l.friction, l.load+l.swing+l.friction
	// spare is how much less than it bears the worst off of motor and bands is asked.
	spare := stall/start - 1
	for j, margin := range l.margins {
		apart := math.Sqrt(3) * c.Brief.Limits.HoleError
		off := spread{-apart, 0, apart}.peaked(t.Spacing[j][i])
		holds := margin * pull * math.Max(0, 1+off*l.growths[j]) * math.Tanh(l.exponents[j]*grip/2) / math.Tanh(l.exponents[j]/2)
		spare = math.Min(spare, holds/(start/likelyStart)-1)
	}
	if math.Abs(spare) < slackRule {
		edge = true
	}
	if spare <= 0 {
		return 0, edge
	}
	at := func(torque, creep, likely float64) float64 {
		return free * (1 - torque/stall) * math.Exp(creep*torque/likely/pull) / l.ratio / out
	}
	n := at(torque, l.creep, likely)
	if l.swing > 0 {
		slow := math.Min(n, at(start, l.heavy, likelyStart))
		n = math.Sqrt(n*n - (n-slow)*(n-slow))
	}
	return n, edge
}
