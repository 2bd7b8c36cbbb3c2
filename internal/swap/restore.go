package swap

import (
	"fmt"
	"slices"

	"findrive/internal/assembly"
	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

type mm = units.Millimetres

// FromCertificate is a drive of a saved certificate by its rank. The error is for the
// user.
func FromCertificate(c *certificate.Certificate, rank int) (*Model, error) {
	if rank < 1 || rank > len(c.Proposals) {
		drives := fmt.Sprintf("%d drives", len(c.Proposals))
		if len(c.Proposals) == 1 {
			drives = "1 drive"
		}
		return nil, fmt.Errorf("it has %s, and none of rank %d", drives, rank)
	}
	p := &c.Proposals[rank-1]
	if len(p.Stages) > drive.MaxStages {
		return nil, fmt.Errorf("drive %d has more than %d stages", rank, drive.MaxStages)
	}
	b := briefOf(&c.Brief)
	if t := p.Tackle; t != nil {
		b = b.With(brief.Tackle{Parts: t.Parts, Efficiency: float64(t.Efficiency)})
	}
	if !(b.Frame.Pitch > 0) || b.Speed.Turning <= 0 && b.Speed.Linear <= 0 {
		return nil, fmt.Errorf("its brief has no hole pitch or no speed")
	}
	b.Sets, b.MaxStages = 1, min(drive.MaxStages, max(b.MaxStages, len(p.Stages)))
	d, err := driveOf(p)
	if err != nil {
		return nil, err
	}
	m := &Model{Name: b.Name, Brief: b, Drive: d, Speed: units.RPM(p.Speed.Likely)}
	m.Made = map[string]*parts.Pulley{}
	for i := range p.Stages {
		for _, q := range []*certificate.Pulley{&p.Stages[i].Driver, &p.Stages[i].Driven} {
			if q.Made != nil {
				m.Made[q.Name] = q.ToMake()
			}
		}
	}
	if stands, err := assembly.Of(&c.Brief, p); err == nil {
		m.Stands = stands
	}
	return m.held(), nil
}

// Remember is a certificate whose drive of a rank has the speed at which that very model was
// counted, if it is one of those that were; c itself otherwise. c is not changed.
func Remember(c *certificate.Certificate, rank int, counted []parts.CountedDrive) *certificate.Certificate {
	m, err := FromCertificate(c, rank)
	if err != nil {
		return c // whoever asked for the drive says so
	}
	was := remembered.Find(&parts.Cupboard{Remembered: counted}, m.Drive, m.Brief)
	if was == nil {
		return c
	}
	out := *c
	out.Proposals = slices.Clone(c.Proposals)
	p := &out.Proposals[rank-1]
	in := func(per certificate.Number) certificate.Range {
		return certificate.Range{Low: per * certificate.Number(was.Slowest), Likely: per * certificate.Number(was.Likely), High: per * certificate.Number(was.Fastest)}
	}
	if p.Travel != nil {
		travel := in(p.Travel.Likely / p.Speed.Likely)
		p.Travel = &travel
	}
	p.Speed = in(1)
	return &out
}

func rectOf(r certificate.Rect) brief.Rect {
	return brief.Rect{X0: mm(r.X0), Y0: mm(r.Y0), X1: mm(r.X1), Y1: mm(r.Y1)}
}

func briefOf(c *certificate.Brief) *brief.Brief {
	l, lim, w, f := &c.Load, &c.Limits, &c.Weights, &c.Frame
	b := &brief.Brief{
		Name: c.Name, Model: brief.Model(c.Model), Speed: brief.Speed{Words: c.WantedWords}, Tolerance: float64(c.Tolerance),
		Direction: brief.Direction{Sense: brief.Sense(c.Direction.Sense), SeenFrom: c.Direction.SeenFrom, MotorTurns: brief.Sense(c.Direction.MotorTurns)},
		Load: brief.Load{
			Mass: units.Grams(l.Mass), PivotRadius: mm(l.PivotRadius), LoadRadius: mm(l.LoadRadius),
			OutOfBalance: units.Grams(l.OutOfBalance), OutOfBalanceRadius: mm(l.OutOfBalanceRadius), Wheel: l.Wheel, Drum: l.Drum,
			Surface: l.Surface, Slope: units.Degrees(float64(l.Slope)), DrivenShare: float64(l.DrivenShare), CordDiameter: mm(l.CordDiameter), CordLeaves: brief.Way(l.CordLeaves),
			Torque: units.NewtonMillimetres(l.Torque), TackleParts: l.TackleParts, TackleEfficiency: float64(l.TackleEfficiency),
		},
		Frame: brief.Frame{
			Length: mm(f.Length), Height: mm(f.Height), Depth: mm(f.Depth), Strip: mm(f.Strip), Sheet: mm(f.Sheet), Pitch: mm(f.Pitch),
			MotorZone: rectOf(f.MotorZone), OutputZone: rectOf(f.OutputZone), Overhang: mm(f.Overhang),
		},
		Making: brief.Making{DrillFrame: c.Making.DrillFrame, DrillOut: c.Making.DrillOut, Glue: c.Making.Glue},
		Sets:   1, MaxStages: c.MaxStages, Cells: c.Cells,
		Limits: brief.Limits{
			FittedStretchMin: float64(lim.FittedStretchMin), FittedStretchMax: float64(lim.FittedStretchMax),
			ComfortStretchMin: float64(lim.ComfortStretchMin), ComfortStretchMax: float64(lim.ComfortStretchMax),
			IdealStretch: float64(lim.IdealStretch), RunningStretchMax: float64(lim.RunningStretchMax),
			ArcMin: units.Degrees(float64(lim.ArcMin)), ArcWarn: units.Degrees(float64(lim.ArcWarn)),
			GripMin: float64(lim.GripMin), GripStartMin: float64(lim.GripStartMin), StartMin: float64(lim.StartMin), RunMin: float64(lim.RunMin), KeptSpeedMin: float64(lim.KeptSpeedMin),
			ContinuousShare: float64(lim.ContinuousShare), Clearance: mm(lim.Clearance), LaneGap: mm(lim.LaneGap), HoleWall: mm(lim.HoleWall),
			RunningFit: mm(lim.RunningFit), SectionRatio: float64(lim.SectionRatio), HoleError: mm(lim.HoleError),
		},
		Weights: brief.Weights{
			Classroom: float64(w.Classroom), MayStand: float64(w.MayStand), IdleStage: float64(w.IdleStage), OnEdge: float64(w.OnEdge), AnotherDrive: float64(w.AnotherDrive),
			SpeedPerPercent: float64(w.SpeedPerPercent), SpeedStep: float64(w.SpeedStep), Stage: float64(w.Stage), BandFit: float64(w.BandFit),
			Sleeve: float64(w.Sleeve), DrillOut: float64(w.DrillOut), Glue: float64(w.Glue), Crossed: float64(w.Crossed), DoubledBand: float64(w.DoubledBand),
			Assumption: float64(w.Assumption), Unforgiving: float64(w.Unforgiving), Cell: float64(w.Cell), MotorLoad: float64(w.MotorLoad),
		},
	}
	if b.Weights.SpeedStep <= 0 {
		b.Weights.SpeedStep = 1
	}
	if c.WantedSpeed != nil {
		b.Speed.Turning = units.RPM(*c.WantedSpeed)
	}
	if c.WantedTrav != nil {
		b.Speed.Linear = units.MetresPerSecond(*c.WantedTrav)
	}
	for _, t := range l.Tackles {
		b.Load.Tackles = append(b.Load.Tackles, brief.Tackle{Parts: t.Parts, Efficiency: float64(t.Efficiency)})
	}
	for _, r := range f.Rails {
		b.Frame.Rails = append(b.Frame.Rails, mm(r))
	}
	if f.Ground != nil {
		b.Frame.HasGround, b.Frame.Ground = true, mm(*f.Ground)
	}
	return b
}

func driveOf(p *certificate.Proposal) (*drive.Drive, error) {
	d := &drive.Drive{
		Motor: &parts.Motor{
			Item: parts.Item{Name: p.Motor.Name, Assumed: p.Motor.Assumed}, Rated: units.Volts(p.Motor.Rated), VoltsLeast: units.Volts(p.Motor.VoltsLeast), VoltsMost: units.Volts(p.Motor.VoltsMost), FreeSpeed: units.RPM(p.Motor.FreeSpeed),
			FreeCurrent: units.Amps(p.Motor.FreeCurrent), StallTorque: units.NewtonMillimetres(p.Motor.StallTorque), StallCurrent: units.Amps(p.Motor.StallCurrent),
			ShaftDiameter: mm(p.Motor.ShaftDiameter), ShaftLength: mm(p.Motor.ShaftLength), BodyLength: mm(p.Motor.BodyLength),
			BodyWidth: mm(p.Motor.BodyWidth), BodyHeight: mm(p.Motor.BodyHeight), Mass: units.Grams(p.Motor.Mass), Calibrated: p.Motor.Calibrated, SpeedKnown: float64(p.Motor.SpeedKnown),
		},
		Holder: &parts.CellHolder{
			Item: parts.Item{Name: p.Cells.Name, Assumed: p.Cells.Assumed}, Cells: p.Cells.Cells, Chemistry: p.Cells.Chemistry,
			Condition: parts.Condition(p.Cells.Condition), Measured: p.Cells.Measured, OpenVoltage: units.Volts(p.Cells.Open), CellResistance: units.Ohms(p.Cells.Resistance), Capacity: units.MilliampHours(p.Cells.Capacity),
		},
	}
	for i := range p.Stages {
		s, a := &p.Stages[i], &p.Axles[i]
		use := drive.Single
		for use.String() != s.Use {
			if use++; use > drive.Paired {
				return nil, fmt.Errorf("stage %d uses its band in a way that is not known: %s", i+1, units.Quoted(s.Use))
			}
		}
		band := &parts.Band{Item: parts.Item{Name: s.Band.Name, Assumed: s.Band.Assumed}, Size: s.Band.Size, FlatLength: mm(s.Band.FlatLength),
			Width: mm(s.Band.Width), Thickness: mm(s.Band.Thickness), PullFactor: float64(s.Band.PullFactor), Calibrated: s.Band.Calibrated}
		if s.Band.StretchLimit != nil {
			band.StretchLimit = float64(*s.Band.StretchLimit)
		}
		d.Stages = append(d.Stages, drive.Stage{Driver: pulleyOf(&s.Driver), Driven: pulleyOf(&s.Driven), DriverJoint: jointOf(&s.Driver.Joint), DrivenJoint: jointOf(&s.Driven.Joint),
			Band: band, Use: use, Crossed: s.Crossed})
		lie, known := lieOf(a.Lie)
		if !known {
			return nil, fmt.Errorf("the pulls on axle %d lie in a way that is not known: %s", i+1, units.Quoted(a.Lie))
		}
		d.Spacings, d.Lies = append(d.Spacings, mm(s.Spacing)), append(d.Lies, lie)
		d.Axles = append(d.Axles, &parts.AxleStock{Item: parts.Item{Name: a.Stock, Assumed: a.Assumed}, Diameter: mm(a.Diameter), Length: mm(a.RodSize), Material: parts.Material(a.Material)})
	}
	switch brief.Sense(p.Motor.Turns) {
	case brief.Anticlockwise:
		d.MotorTurns = 1
	case brief.Clockwise:
		d.MotorTurns = -1
	}
	for _, at := range p.Positions {
		d.Positions = append(d.Positions, layout.Point{X: mm(at.X), Y: mm(at.Y)})
	}
	if at := p.FreeAxle; at != nil {
		d.FreeAxle = &layout.Point{X: mm(at.X), Y: mm(at.Y)}
	}
	if w := p.Wheel; w != nil {
		d.Wheel = &parts.Wheel{Item: parts.Item{Name: w.Name, Assumed: w.Assumed}, Diameter: mm(w.Diameter), Width: mm(w.Width), Bore: mm(w.Bore), Material: parts.Material(w.Material), CanDrill: w.CanDrill}
	}
	if w := p.Drum; w != nil {
		d.Drum = &parts.Drum{Item: parts.Item{Name: w.Name, Assumed: w.Assumed}, Diameter: mm(w.Diameter), Width: mm(w.Width), Bore: mm(w.Bore), Material: parts.Material(w.Material), CanDrill: w.CanDrill}
	}
	if p.OutputJoint != nil {
		d.OutputJoint = jointOf(p.OutputJoint)
	}
	return d, nil
}

func lieOf(name string) (lie drive.Lie, known bool) {
	for _, l := range drive.Lies() {
		if l.String() == name {
			return l, true
		}
	}
	return 0, false
}

func pulleyOf(p *certificate.Pulley) *parts.Pulley {
	// One that was to be made of discs is there by now: a pulley like any other.
	return &parts.Pulley{Item: parts.Item{Name: p.Name, Assumed: p.Assumed}, Outside: mm(p.Outside), GrooveFloor: mm(p.GrooveFloor), GrooveWidth: mm(p.GrooveWidth),
		GrooveAngle: units.Degrees(float64(p.GrooveAngle)), Width: mm(p.Width), Bore: mm(p.Bore), Material: parts.Material(p.Material), CanDrill: p.CanDrill}
}

func jointOf(j *certificate.Joint) drive.Joint {
	out := drive.Joint{Bore: mm(j.Bore), Shaft: mm(j.Shaft)}
	for k := drive.PushFit; k <= drive.DrilledOut; k++ {
		if k.String() == j.Kind {
			out.Kind = k
		}
	}
	if s := j.Sleeve; s != nil {
		out.Sleeve = &parts.Sleeve{Item: parts.Item{Name: s.Name}, Inner: mm(s.Inner), Outer: mm(s.Outer), Length: mm(s.Length)}
	}
	return out
}
