package report

import (
	"fmt"

	"findrive/internal/brief"
	"findrive/internal/certificate"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

func proposalOf(p *design.Proposal, b *brief.Brief) proposalJSON {
	d := p.Drive
	if p.Tackle != nil {
		b = b.With(p.Tackle.Tackle)
	}
	demand := d.DemandAt(b, drive.Likely)
	out := proposalJSON{
		Rank: p.Rank, Total: number(p.Total.Float()), Penalty: []termJSON{}, Target: number(p.Target),
		Speed:   rangeJSON{Low: number(p.Speed.Low), Likely: number(p.Speed.Likely), High: number(p.Speed.High)},
		AtHoles: number(p.AtHoles), Works: p.Works, Stands: p.Stands, Bears: number(p.Bears),
		OutputTurns: string(p.Turns), Ratio: number(p.Ratio),
		Demand: demandJSON{Steady: number(demand.Steady), Start: number(demand.Start), Swing: number(demand.Swing),
			Weight: certificate.Force{X: number(demand.Weight.X), Y: number(demand.Weight.Y)}},
		Motor: motorOf(p), Cells: cellsOf(d.Holder), Stages: []stageJSON{}, Axles: []axleJSON{},
		Positions: []holeJSON{}, Forgives: number(p.Forgives), Uses: []useJSON{}, Assumed: list(p.Assumed), Notes: list(p.Notes),
		Lanes: lanesJSON{Lane: list(d.Lanes.Lane), Centre: numbers(d.Lanes.Centre), BodyLanes: list(d.Lanes.BodyLanes), ShaftLanes: list(d.Lanes.ShaftLanes),
			BodyFront: number(d.Lanes.BodyFront), Depth: number(d.Lanes.Depth)},
	}
	for _, t := range p.Penalty {
		out.Penalty = append(out.Penalty, termJSON{Term: t.Name, Points: number(t.Points.Float()), Why: t.Why})
	}
	if p.Linear != nil {
		out.Travel = &rangeJSON{Low: number(p.Linear.Low), Likely: number(p.Linear.Likely), High: number(p.Linear.High)}
	}
	for i := range p.Stages {
		out.Stages = append(out.Stages, stageOf(&p.Stages[i], &d.Stages[i]))
	}
	for i := range p.Axles {
		out.Axles = append(out.Axles, axleOf(&p.Axles[i], d.Axles[i]))
		out.Axles[i].Weight = number(drive.AxleWeight(d, b, i))
	}
	designedOf(&out, p, b)
	if w := d.Wheel; w != nil {
		out.Wheel = &roundJSON{Name: w.Name, Diameter: number(w.Diameter), Width: number(w.Width), Bore: number(w.Bore), Material: string(w.Material), CanDrill: w.CanDrill, Assumed: list(w.Assumed)}
	}
	if w := d.Drum; w != nil {
		out.Drum = &roundJSON{Name: w.Name, Diameter: number(w.Diameter), Width: number(w.Width), Bore: number(w.Bore), Material: string(w.Material), CanDrill: w.CanDrill, Assumed: list(w.Assumed)}
	}
	if t := p.Tackle; t != nil {
		out.Tackle = &winchJSON{Parts: t.Parts, Efficiency: number(t.Efficiency), Pull: number(t.Pull)}
	}
	if d.Wheel != nil || d.Drum != nil {
		j := jointOf(&d.OutputJoint)
		out.OutputJoint = &j
	}
	for i, at := range d.Positions {
		name := "motor"
		if i > 0 {
			name = fmt.Sprintf("axle %d", i)
		}
		out.Positions = append(out.Positions, holeJSON{Shaft: name, X: number(at.X), Y: number(at.Y)})
	}
	if at := d.FreeAxle; at != nil {
		out.FreeAxle = &holeJSON{Shaft: "free axle", X: number(at.X), Y: number(at.Y)}
	}
	for _, u := range p.Uses {
		out.Uses = append(out.Uses, useJSON{Kind: u.Kind, Name: u.Name, Also: list(u.Also), Each: u.Each, Sets: u.Sets, Total: u.Each * u.Sets, Have: u.Have, Places: []placeJSON{}})
		last := &out.Uses[len(out.Uses)-1]
		for _, at := range u.Places {
			last.Places = append(last.Places, placeJSON{Name: at.Name, Location: at.Location, Length: number(at.Length), Count: at.Count})
		}
	}
	if f := p.Fewer; f != nil {
		out.Fewer = &fewerJSON{Cells: f.Cells, Speed: number(f.Speed), Starts: f.Starts}
	}
	if o := p.Overload; o != nil {
		out.Overload = &overloadJSON{Of: o.Of, Brief: number(o.Brief), Slips: finite(o.Slips), Stalls: finite(o.Stalls)}
		if o.SlipsStage > 0 {
			out.Overload.Stage = &o.SlipsStage
		}
	}
	if b.Model == brief.Vehicle && d.Wheel != nil {
		t := drive.TractionOf(b, d.Wheel, demand)
		out.Traction = &tractionJSON{Needed: number(t.Needed), Holds: number(t.Holds)}
	}
	return out
}

// designedOf fills in what the drive does as it is designed. A proposal has been worked
// out so before; if it cannot be, the figures stay 0, which no reader takes for true.
func designedOf(out *proposalJSON, p *design.Proposal, b *brief.Brief) {
	d := p.Drive
	m, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil || len(d.Spacings) != len(d.Stages) || len(d.Lies) != len(d.Stages) {
		return
	}
	g, err := drive.Designed(d, &m)
	if err != nil {
		return
	}
	running, starting := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	ratio := 1.0
	for i := range d.Stages {
		ratio *= g.Fits[i].Ratio
		greatest, _ := m.Stages[i].Grip(g.Fits[i])
		cell := p.Stages[i].CellOf(d.Stages[i].Loop().Rest, d.Spacings[i], p.Bears)
		s := &out.Stages[i]
		s.Spacing, s.Cell = number(d.Spacings[i]), spanJSON{From: number(cell.Lo), To: number(cell.Hi)}
		s.AtSpacing = certificate.AtSpacing{
			Stretch: number(g.Fits[i].Stretch), TightStretch: number(running.Stages[i].Loaded.TightStretch),
			Creep:     number(1 - running.Stages[i].Loaded.SpeedFactor),
			Grip:      finite(constraints.GripMargin(greatest, running.Stages[i].Effective)),
			GripStart: finite(constraints.GripMargin(greatest, starting.Stages[i].Effective)),
		}
		out.Axles[i].Lie = d.Lies[i].String()
	}
	speed, free := float64(m.OutputSpeed(&g, &running)), float64(m.Motor.FreeSpeed(m.Supply))
	out.Design = certificate.Design{Torque: number(running.MotorTorque), StartTorque: number(starting.MotorTorque),
		Share: number(running.MotorTorque / m.Motor.StallTorque(m.Supply)), Kept: number(speed * ratio / free)}
}

func motorOf(p *design.Proposal) motorJSON {
	m, at := p.Drive.Motor, p.Motor
	out := motorJSON{
		Name: m.Name, Rated: number(m.Rated), VoltsLeast: number(m.VoltsLeast), VoltsMost: number(m.VoltsMost), FreeSpeed: number(m.FreeSpeed), FreeCurrent: number(m.FreeCurrent),
		StallTorque: number(m.StallTorque), StallCurrent: number(m.StallCurrent),
		ShaftDiameter: number(m.ShaftDiameter), ShaftLength: number(m.ShaftLength),
		BodyLength: number(m.BodyLength), BodyWidth: number(m.BodyWidth), BodyHeight: number(m.BodyHeight), Mass: number(m.Mass),
		Calibrated: m.Calibrated, SpeedKnown: number(m.SpeedKnown), Assumed: list(m.Assumed),
		Turns: string(at.Turns), Speed: number(at.Speed), Torque: number(at.Torque), StartTorque: number(at.StartTorque),
		Stall: number(at.Stall), Current: number(at.Current), Share: number(at.Share), ShaftLoad: number(at.ShaftLoad),
		Contradiction: at.Contradiction,
	}
	// The sheet of a motor in a proposal has been read before, so the error
	// cannot happen; the constants would stay 0.
	if model, err := drive.MotorModel(m, drive.Conditions{}); err == nil {
		out.Constant, out.Resistance = number(model.KVoltSecondsPerRadian), number(model.Resistance)
	}
	if at.Minutes > 0 {
		out.Minutes = finite(at.Minutes)
	}
	return out
}

func cellsOf(h *parts.CellHolder) cellsJSON {
	return cellsJSON{Name: h.Name, Cells: h.Cells, Chemistry: h.Chemistry, Condition: string(h.Condition),
		Open: number(h.OpenVoltage), Measured: h.Measured, OpenRange: rangeOf(drive.CellVoltage(h)),
		Resistance: number(h.CellResistance), Capacity: number(h.Capacity), Assumed: list(h.Assumed)}
}

func stageOf(r *design.StageReport, s *drive.Stage) stageJSON {
	f, loop := &r.Fitted, s.Loop()
	band := s.Band
	out := stageJSON{
		Driver: pulleyOf(s.Driver, r.AlsoDriver, r.DriverTurns, f.DriverPitch, f.DriverArc, &s.DriverJoint),
		Driven: pulleyOf(s.Driven, r.AlsoDriven, r.DrivenTurns, f.DrivenPitch, f.DrivenArc, &s.DrivenJoint),
		Band: bandJSON{Name: band.Name, Size: band.Size, FlatLength: number(band.FlatLength), Width: number(band.Width),
			Thickness: number(band.Thickness), PullFactor: number(band.PullFactor), Calibrated: band.Calibrated, Assumed: list(band.Assumed)},
		Use: s.Use.String(), Crossed: s.Crossed, Lane: number(r.LanePosition), Centre: number(f.Centre),
		CentreAllowed: spanJSON{From: number(r.CentreAllowed.Lo), To: number(r.CentreAllowed.Hi)},
		RestLoop:      number(loop.Rest), Strands: loop.Strands, Length: number(f.Length), Span: number(f.Span), Stretch: number(f.Stretch),
		Ratio: number(f.Ratio), IdlePull: number(f.Pull),
		Running:  atWorkOf(&r.Running, r.GripRunning),
		Starting: atWorkOf(&r.Starting, r.GripStarting),
		Greatest: number(r.GreatestPull), OtherBands: []otherBandJSON{}, NextBands: []nextBandJSON{},
	}
	if band.StretchLimit > 0 {
		out.Band.StretchLimit = finite(band.StretchLimit)
	}
	for _, o := range r.OtherBands {
		out.OtherBands = append(out.OtherBands, otherBandJSON{Name: o.Name, Use: o.Use.String(), Stretch: number(o.Stretch), Speed: number(o.Speed)})
	}
	for _, n := range r.NextBands {
		out.NextBands = append(out.NextBands, nextBandJSON{Name: n.Name, Longer: n.Longer, Stretch: number(n.Stretch), Speed: number(n.Speed), Refusal: n.Refusal})
	}
	return out
}

func pulleyOf(p *parts.Pulley, also []string, turns brief.Sense, pitch units.Millimetres, arc units.Radians, j *drive.Joint) pulleyJSON {
	return pulleyJSON{
		Name: p.Name, Also: list(also), Turns: string(turns), Outside: number(p.Outside), GrooveFloor: number(p.GrooveFloor),
		GrooveWidth: number(p.GrooveWidth), GrooveAngle: number(p.GrooveAngle.Degrees()), Width: number(p.Width), Bore: number(p.Bore),
		Material: string(p.Material), CanDrill: p.CanDrill, Assumed: list(p.Assumed),
		Pitch: number(pitch), Arc: number(arc.Degrees()), Joint: jointOf(j), Made: madeOf(p.Made),
	}
}

func jointOf(j *drive.Joint) jointJSON {
	out := jointJSON{Kind: j.Kind.String(), Bore: number(j.Bore), Shaft: number(j.Shaft)}
	if s := j.Sleeve; s != nil {
		out.Sleeve = &sleeveJSON{Name: s.Name, Inner: number(s.Inner), Outer: number(s.Outer), Length: number(s.Length)}
	}
	return out
}

func atWorkOf(f *drive.StageFlow, margin float64) atWorkJSON {
	return atWorkJSON{
		Effective: number(f.Effective), Tight: number(f.Loaded.Tight), Slack: number(f.Loaded.Slack),
		TightStretch: number(f.Loaded.TightStretch), SlackStretch: number(f.Loaded.SlackStretch),
		Creep: number(1 - f.Loaded.SpeedFactor), DriverTorque: number(f.DriverTorque), DrivenTorque: number(f.DrivenTorque),
		Grip: finite(margin),
	}
}

func axleOf(r *design.AxleReport, a *parts.AxleStock) axleJSON {
	out := axleJSON{
		Stock: r.Stock, Diameter: number(r.Diameter), Material: string(a.Material), RodSize: number(a.Length), Length: number(r.Length),
		Load: number(r.Load), Friction: number(r.Friction), Turns: number(r.Turns), Assumed: list(a.Assumed),
	}
	if r.Hole > 0 {
		out.Hole = finite(float64(r.Hole))
	}
	return out
}
