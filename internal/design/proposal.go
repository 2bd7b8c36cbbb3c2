package design

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// propose works a candidate out in full by the plain route: nothing the search
// remembered is used except the choice of parts and the places of the holes.
func (t *task) propose(c *candidate) (Proposal, error) {
	d, b := c.drive, t.brief
	model, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil {
		return Proposal{}, err
	}
	if no := t.bears(d, &model, c.bears); no != nil {
		return Proposal{}, errors.New(no.Say())
	}
	g, err := drive.GeometryOf(d, &model, 0)
	if err != nil {
		return Proposal{}, err
	}
	running, starting := model.Carry(&g, model.Demand.Steady), model.Carry(&g, model.Demand.Start)
	p := Proposal{Drive: d, Target: model.Demand.Target, Turns: turning(d.OutputTurns()), Ratio: 1, Assumed: assumed(d), Bears: c.bears}
	p.AtHoles = model.OutputSpeed(&g, &running)
	designed, err := t.forecast(d, &model, &designed{geometry: g, running: running, starting: starting}, &p)
	if err != nil {
		return Proposal{}, err
	}
	p.Linear = linear(d, b, p.Speed)
	if b.Model == brief.Lift {
		p.Tackle = &Tackle{
			Tackle: brief.Tackle{Parts: b.Load.TackleParts, Efficiency: b.Load.TackleEfficiency},
			Pull:   mechanics.LiftPull(b.Load.Mass, b.Load.TackleParts, b.Load.TackleEfficiency),
		}
	}
	turns := d.MotorTurns
	for i := range d.Stages {
		r := t.stageReport(d, &model, &g, i, &running, &starting)
		r.DriverTurns = turning(turns)
		if d.Stages[i].Crossed {
			turns = -turns
		}
		r.DrivenTurns = turning(turns)
		r.OtherBands, r.NextBands = t.otherBands(d, i), t.nextBands(d, i)
		p.Stages = append(p.Stages, r)
		p.Ratio *= g.Fits[i].Ratio
	}
	p.Motor = motorReport(d, &model, &running, &starting)
	p.Axles = axleReports(d, b, &model, &g, &running)
	p.Forgives = max(min(t.forgiveness(d, &model), t.woodAround(d)), c.bears) // which it bears, and is looked for in steps
	p.Uses = t.uses(d)
	p.Fewer, p.Overload = t.fewerCells(d), t.overload(d)
	p.Penalty, p.Total = t.penalty(d, designed, &p)
	p.Notes = t.notes(d, &p)
	return p, nil
}

// forecast puts a drive as it is designed into the classrooms, and as it is at its holes, and fills
// in what comes of it. It returns the drive at its spacings and lies.
func (t *task) forecast(d *drive.Drive, m *drive.Model, holes *designed, p *Proposal) (*designed, error) {
	g, err := drive.Designed(d, m)
	if err != nil {
		return nil, err
	}
	at := &designed{geometry: g, running: m.Carry(&g, m.Demand.Steady), starting: m.Carry(&g, m.Demand.Start)}
	class, err := forecast.NewClass(t.brief, d.Motor, d.Holder, d.Wheel, d.Drum, knownOf(d))
	if err != nil {
		return nil, err
	}
	w := class.WorkOf(m, &g, &at.running, &at.starting)
	f := class.Of(&w)
	p.Speed = SpeedRange{Low: f.Low, Likely: m.OutputSpeed(&g, &at.running), High: f.High}
	p.Works, p.Stands = f.Works, f.Stands
	if holes.running.Slips < 0 && holes.starting.Slips < 0 { // else, to first order, it slips everywhere
		w = class.WorkOf(m, &holes.geometry, &holes.running, &holes.starting)
		p.worksAtHoles = class.Of(&w).Works
	}
	at.share = float64(at.running.MotorTorque / m.Motor.StallTorque(m.Supply))
	return at, nil
}

// designed is a drive at work as it is designed, or at its holes.
type designed struct {
	geometry          drive.Geometry
	running, starting drive.Flow
	share             float64 // of the motor's stall torque, running
}

// knownOf is what is known of the parts of a drive better than usual.
func knownOf(d *drive.Drive) forecast.Known {
	for i := range d.Stages {
		if !d.Stages[i].Band.Calibrated {
			return forecast.Known{}
		}
	}
	return forecast.Known{Bands: true}
}

// bears tells whether every hole of a drive may be out of place by so much, in the worst
// direction for each thing: nothing touches, and every band still lies as the rules
// about it allow. What it does at work then is part of its range.
func (t *task) bears(d *drive.Drive, model *drive.Model, off units.Millimetres) *constraints.Refusal {
	for _, axle := range d.Axles {
		if no := constraints.HoleInStrip(t.brief, axle); no != nil {
			return no
		}
	}
	l := LayoutProblem(d, t.brief, d.Lanes, off)
	if len(layout.Check(l, d.Positions)) > 0 {
		return constraints.RoomInFrame(t.brief)
	}
	const noise = 1e-6
	for i := range d.Stages {
		allowed, no := t.allowedCentres(&d.Stages[i], &model.Stages[i])
		if no != nil {
			return no
		}
		at := d.Centre(i)
		if allowed = allowed.Grow(noise - 2*off); !allowed.Contains(at) {
			f, _ := model.Stages[i].Fit(allowed.Grow(2 * off).Clamp(at))
			if no := constraints.FittedStretch(t.brief.Limits, d.Stages[i].Band, f.Stretch); no != nil {
				return no
			}
			return constraints.TooShort(d.Stages[i].Band)
		}
	}
	return nil
}

// Forgiveness is searched up to a limit and to a step a ruler can tell.
const (
	forgivenessLimit units.Millimetres = 10
	forgivenessStep  units.Millimetres = 0.1
)

// forgiveness is how far every hole may be off, in the worst direction for each
// rule, before a rule breaks. Moving holes further never mends a rule, so it is
// found by halving.
func (t *task) forgiveness(d *drive.Drive, model *drive.Model) units.Millimetres {
	holds := func(steps int) bool {
		return t.bears(d, model, units.Millimetres(steps)*forgivenessStep) == nil
	}
	lo, hi := 0, int(forgivenessLimit/forgivenessStep)+1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; holds(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return units.Millimetres(lo) * forgivenessStep
}

// woodAround is how far the holes may be out of place for the wood that they are in.
func (t *task) woodAround(d *drive.Drive) units.Millimetres {
	least := units.Millimetres(math.Inf(1))
	for i, axle := range d.Axles {
		at := d.Positions[i+1]
		least = min(least, constraints.HoleMayStray(t.brief, at.X, at.Y, axle.Diameter))
		if i == len(d.Axles)-1 && d.FreeAxle != nil {
			least = min(least, constraints.HoleMayStray(t.brief, d.FreeAxle.X, d.FreeAxle.Y, axle.Diameter))
		}
	}
	return units.Millimetres(math.Floor(float64(least/forgivenessStep)+1e-9)) * forgivenessStep
}

func (t *task) stageReport(d *drive.Drive, m *drive.Model, g *drive.Geometry, i int, running, starting *drive.Flow) StageReport {
	s, f := &d.Stages[i], g.Fits[i]
	greatest, _ := m.Stages[i].Grip(f)
	r := StageReport{
		Driver: s.Driver.Name, Driven: s.Driven.Name,
		AlsoDriver: others(t.pulleys, s.Driver.Name), AlsoDriven: others(t.pulleys, s.Driven.Name),
		Fitted: f, Running: running.Stages[i], Starting: starting.Stages[i], GreatestPull: greatest,
		GripRunning:  constraints.GripMargin(greatest, running.Stages[i].Effective),
		GripStarting: constraints.GripMargin(greatest, starting.Stages[i].Effective),
		Creep:        1 - running.Stages[i].Loaded.SpeedFactor,
		DriverJoint:  s.DriverJoint, DrivenJoint: s.DrivenJoint,
		LanePosition: d.Lanes.Centre[i], Band: s.Band, Use: s.Use, Crossed: s.Crossed,
		TightRunStretch: running.Stages[i].Loaded.TightStretch,
	}
	r.CentreAllowed, _ = t.allowedCentres(s, &m.Stages[i])
	return r
}

// others lists the other names of the class that holds name.
func others[P any](list []parts.Kind[P], name string) []string {
	for _, c := range list {
		if slices.Contains(c.Names, name) {
			return slices.DeleteFunc(slices.Clone(c.Names), func(n string) bool { return n == name })
		}
	}
	return nil
}

// otherBands lists the bands that would also do for stage i at the same holes,
// every rule kept, nearest to the ideal stretch first.
func (t *task) otherBands(d *drive.Drive, i int) []OtherBand {
	out := []OtherBand{}
	own := &d.Stages[i]
	driver, driven := t.classOf(own.Driver.Name), t.classOf(own.Driven.Name)
	for b := range t.bands {
		for _, use := range uses {
			if own.Band.Name == t.bands[b].Part.Name && own.Use == use {
				continue
			}
			s := *own
			s.Band, s.Use = &t.bands[b].Part, use
			// Most bands are too long or too short, which is told quickly.
			m := s.Mechanics(mechanics.BandGrip().Likely)
			f, err := m.Fit(d.Centre(i))
			if err != nil || constraints.FittedStretch(t.brief.Limits, s.Band, f.Stretch) != nil {
				continue
			}
			other := *d
			other.Stages = slices.Clone(d.Stages)
			other.Stages[i] = s
			if t.bandSuits(pair{driver, driven, use, s.Crossed}, b) != nil || t.bandsShort(&other) {
				continue
			}
			model, err := drive.Prepare(&other, t.brief, drive.Conditions{})
			if err != nil {
				continue
			}
			if speed, no := checkPlaced(&other, t.brief, &model); no == nil {
				out = append(out, OtherBand{Name: s.Band.Name, Use: use, Stretch: f.Stretch, Speed: speed})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b OtherBand) int {
		return cmp.Compare(math.Abs(a.Stretch-t.brief.Limits.IdealStretch), math.Abs(b.Stretch-t.brief.Limits.IdealStretch))
	})
	return out
}

func (t *task) classOf(pulley string) int {
	return parts.Find(t.pulleys, pulley)
}

// bandsShort reports whether a drive takes more bands of a kind than there are.
func (t *task) bandsShort(d *drive.Drive) bool {
	for _, u := range t.uses(d) {
		if u.Each*u.Sets > u.Have {
			return true
		}
	}
	return false
}

func axleReports(d *drive.Drive, b *brief.Brief, m *drive.Model, g *drive.Geometry, running *drive.Flow) []AxleReport {
	n := float64(m.Motor.SpeedAt(m.Supply, running.MotorTorque))
	out := make([]AxleReport, len(d.Stages))
	for i := range d.Stages {
		n *= running.Stages[i].Loaded.SpeedFactor / g.Fits[i].Ratio
		out[i] = AxleReport{
			Stock: d.Axles[i].Name, Diameter: d.Axles[i].Diameter, Length: drive.AxleLength(b),
			Load: running.AxleLoad[i], Friction: running.AxleFriction[i], Turns: units.RPM(n),
		}
		if i == len(d.Stages)-1 {
			out[i].Length = drive.OutputAxleLength(b, d.Wheel, d.Drum)
		}
		if b.Making.DrillFrame {
			out[i].Hole = d.Axles[i].Diameter + b.Limits.RunningFit
		}
	}
	return out
}

func motorReport(d *drive.Drive, m *drive.Model, running, starting *drive.Flow) MotorReport {
	stall := m.Motor.StallTorque(m.Supply)
	r := MotorReport{
		Speed: m.Motor.SpeedAt(m.Supply, running.MotorTorque), Torque: running.MotorTorque, StartTorque: starting.MotorTorque,
		Stall: stall, Current: m.Motor.CurrentAt(m.Supply, running.MotorTorque), Share: float64(running.MotorTorque / stall),
		ShaftLoad: running.ShaftLoad, Turns: turning(d.MotorTurns),
	}
	if d.Holder.Capacity > 0 && r.Current > 0 {
		r.Minutes = float64(mechanics.RunningTime(d.Holder.Capacity, r.Current)) / 60
	}
	if m.Motor.Conflict.Serious() {
		r.Contradiction = m.Motor.Conflict.String()
	}
	return r
}

func turning(sense int) brief.Sense {
	if sense > 0 {
		return brief.Anticlockwise
	}
	return brief.Clockwise
}

// linear is the speed of travel of a vehicle, or of the load of a lift.
func linear(d *drive.Drive, b *brief.Brief, n SpeedRange) *LinearRange {
	var r units.Millimetres
	falls := 1.0
	switch {
	case d.Wheel != nil:
		r = d.Wheel.Diameter / 2
	case d.Drum != nil:
		r, falls = d.Drum.Diameter/2+b.Load.CordDiameter/2, float64(b.Load.TackleParts)
	default:
		return nil
	}
	at := func(n units.RPM) units.MetresPerSecond { return n.RimSpeed(r) / units.MetresPerSecond(falls) }
	return &LinearRange{Low: at(n.Low), Likely: at(n.Likely), High: at(n.High)}
}

// speedUnder is the output speed under other conditions; 0 if the drive stops.
func (t *task) speedUnder(d *drive.Drive, c drive.Conditions) units.RPM {
	m, err := drive.Prepare(d, t.brief, c)
	if err != nil {
		return 0
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return 0
	}
	flow := m.Carry(&g, m.Demand.Steady)
	return m.OutputSpeed(&g, &flow)
}
