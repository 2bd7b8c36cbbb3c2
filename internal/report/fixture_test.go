package report

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// The results of these tests are made by hand, with invented parts: places and
// parts are chosen here, and only the figures that follow from them are worked
// out, so that no search is needed to test the reports.

func testCupboard() *parts.Cupboard {
	item := func(name string, n int) parts.Item { return parts.Item{Name: name, Count: n} }
	return &parts.Cupboard{
		Name: "Room 4",
		Pulleys: []parts.Pulley{
			{Item: item("big wheel", 6), Outside: 54, GrooveFloor: 50, GrooveWidth: 4, Width: 6, Bore: 5, Material: parts.Wood, CanDrill: true},
			{Item: parts.Item{Name: "cotton reel", Count: 12, Assumed: []string{"groove floor taken as 14 mm"}}, Outside: 18, GrooveFloor: 14, GrooveWidth: 4, GrooveAngle: units.Degrees(60), Width: 6, Bore: 4.9, Material: parts.Plastic, CanDrill: true},
			{Item: item("tiny sleeve pulley", 6), Outside: 9, GrooveFloor: 6, GrooveWidth: 3.5, Width: 6, Bore: 2, Material: parts.Plastic, CanDrill: true},
		},
		Bands: []parts.Band{
			{Item: item("long band", 9), Size: "19", FlatLength: 89, Width: 1.5, Thickness: 0.9, PullFactor: 1},
			{Item: item("sewing band", 9), FlatLength: 85, Width: 1.5, Thickness: 0.9, PullFactor: 1.1, Calibrated: true, StretchLimit: 1.9},
		},
		Motors: []parts.Motor{{Item: item("buggy motor", 10), Rated: 3, FreeSpeed: 6000, FreeCurrent: 0.15, StallTorque: 3, StallCurrent: 1,
			ShaftDiameter: 2, ShaftLength: 9, BodyLength: 25, BodyWidth: 20, BodyHeight: 15, Mass: 18}},
		Holders: []parts.CellHolder{{Item: item("one AA", 10), Cells: 1, Chemistry: "alkaline", OpenVoltage: 1.5, CellResistance: 0.3, Capacity: 1800}},
		Axles:   []parts.AxleStock{{Item: item("dowel", 5), Diameter: 5, Length: 360, Material: parts.Wood}},
		Sleeves: []parts.Sleeve{{Item: item("tube", 8), Inner: 5, Outer: 8, Length: 10}},
		Drums:   []parts.Drum{{Item: item("bobbin", 3), Diameter: 20, Width: 15, Bore: 8, Material: parts.Wood, CanDrill: true}},
		Wheels:  []parts.Wheel{{Item: item("road wheel", 8), Diameter: 130, Width: 10, Bore: 5, Material: parts.Card, CanDrill: true}},
	}
}

func testBrief(model brief.Model) *brief.Brief {
	b := &brief.Brief{
		Name: "the summer fair carousel", Model: model, Tolerance: 0.9, Sets: 2, MaxStages: 3,
		Speed:     brief.Speed{Turning: 50, Words: "50 rpm"},
		Direction: brief.Direction{Sense: brief.Either, SeenFrom: "front", MotorTurns: brief.Either},
		Load:      brief.Load{Torque: 2, TackleParts: 1, TackleEfficiency: 1},
		Frame:     brief.Frame{Length: 300, Height: 160, Depth: 60, Strip: 10, Pitch: 1, MotorZone: brief.Rect{X1: 300, Y1: 160}, OutputZone: brief.Rect{X1: 300, Y1: 160}, Overhang: 20},
		Making:    brief.Making{DrillFrame: true, DrillOut: true, Glue: true},
		Limits: brief.Limits{FittedStretchMin: 1.05, FittedStretchMax: 1.5, ComfortStretchMin: 1.1, ComfortStretchMax: 1.35, IdealStretch: 1.2,
			RunningStretchMax: 2, ArcMin: units.Degrees(120), ArcWarn: units.Degrees(140), GripMin: 1.2, GripStartMin: 1, StartMin: 1.5, RunMin: 2,
			KeptSpeedMin: 0.2, ContinuousShare: 0.25, Clearance: 2, LaneGap: 2, HoleWall: 2, RunningFit: 0.5, SectionRatio: 4, HoleError: 2},
		Weights: brief.Weights{Classroom: 2, MayStand: 10, SpeedPerPercent: 1, SpeedStep: 1, IdleStage: 6, OnEdge: 10, Stage: 4, BandFit: 1, Sleeve: 1, DrillOut: 2, Glue: 0.5, Crossed: 2,
			DoubledBand: 0.5, Assumption: 0.25, Unforgiving: 5, Cell: 0.5, MotorLoad: 1},
	}
	switch model {
	case brief.Lift:
		b.Speed = brief.Speed{Linear: 0.05}
		b.Load.Mass, b.Load.CordDiameter, b.Load.Torque = 20, 1, 0
		b.Load.Tackles = []brief.Tackle{{Parts: 1, Efficiency: 1}}
	case brief.Vehicle:
		b.Speed = brief.Speed{Linear: 0.6, Words: "0.6 m/s"}
		b.Load.Mass, b.Load.DrivenShare, b.Load.Surface, b.Load.Torque = 150, 0.6, "table", 0
		b.Frame.Ground, b.Frame.HasGround = -25, true
	case brief.LevelRide:
		b.Load.Mass, b.Load.OutOfBalance, b.Load.OutOfBalanceRadius, b.Load.Torque = 80, 5, 30, 0
	case brief.UprightRide:
		b.Load.Mass, b.Load.PivotRadius, b.Load.Torque = 200, 3, 0
	}
	return b
}

// twoStages is a drive of the cupboard at places chosen by hand.
func twoStages(cup *parts.Cupboard, b *brief.Brief, crossed bool) *drive.Drive {
	fit := func(k drive.JointKind, bore, shaft units.Millimetres) drive.Joint {
		return drive.Joint{Kind: k, Bore: bore, Shaft: shaft}
	}
	big, reel, tiny := &cup.Pulleys[0], &cup.Pulleys[1], &cup.Pulleys[2]
	d := &drive.Drive{
		Motor: &cup.Motors[0], Holder: &cup.Holders[0], MotorTurns: -1,
		Stages: []drive.Stage{
			{Driver: tiny, Driven: big, DriverJoint: fit(drive.PushFit, 2, 2), DrivenJoint: fit(drive.PushFit, 5, 5), Band: &cup.Bands[1], Use: drive.Single},
			{Driver: reel, Driven: big, DriverJoint: fit(drive.PushFit, 4.9, 5), DrivenJoint: fit(drive.PushFit, 5, 5), Band: &cup.Bands[0], Use: drive.Single, Crossed: crossed},
		},
		Axles:     []*parts.AxleStock{&cup.Axles[0], &cup.Axles[0]},
		Positions: []layout.Point{{X: 30, Y: 80}, {X: 86, Y: 68}, {X: 152, Y: 80}},
		Lanes:     layout.LanePlan{Lane: []int{1, 0}, Centre: []units.Millimetres{31, 23}, BodyLanes: []int{0}, BodyFront: 0, Depth: 34},
	}
	if crossed {
		d.Positions[2] = layout.Point{X: 154, Y: 82}
	}
	switch b.Model {
	case brief.Lift:
		d.Drum = &cup.Drums[0]
		d.OutputJoint = drive.Joint{Kind: drive.Sleeved, Sleeve: &cup.Sleeves[0], Bore: 8, Shaft: 5}
	case brief.Vehicle:
		d.Wheel = &cup.Wheels[0]
		for i := range d.Positions {
			d.Positions[i].Y -= 40
		}
		d.Positions[2].Y = 40 // as high as the wheels stand
		d.FreeAxle = &layout.Point{X: 295, Y: d.Positions[2].Y}
		d.OutputJoint = fit(drive.PushFit, 5, 5)
	}
	return d
}

// worked fills in a proposal's figures for a drive.
func worked(t testing.TB, d *drive.Drive, b *brief.Brief) design.Proposal {
	t.Helper()
	m, err := drive.Prepare(d, b, drive.Conditions{})
	require.NoError(t, err)
	g, err := drive.GeometryOf(d, &m, 0)
	require.NoError(t, err)
	run, start := m.Carry(&g, m.Demand.Steady), m.Carry(&g, m.Demand.Start)
	require.Equal(t, -1, run.Slips, "the fixture's bands must hold")
	require.Equal(t, -1, start.Slips)
	likely := m.OutputSpeed(&g, &run)
	designed := asDesigned(t, d, &m)
	p := design.Proposal{Rank: 1, Drive: d, Target: m.Demand.Target, Turns: turned(d.OutputTurns()), Ratio: 1, Forgives: 0.4,
		AtHoles: likely, Assumed: []string{"cotton reel: groove floor taken as 14 mm"}, Notes: []string{"holes must be within 0.4 mm"}}
	n := m.Motor.SpeedAt(m.Supply, run.MotorTorque)
	stall := m.Motor.StallTorque(m.Supply)
	current := m.Motor.CurrentAt(m.Supply, run.MotorTorque)
	atWork := m.Carry(&designed, m.Demand.Steady)
	p.Speed, p.Works, p.Stands = inClassrooms(t, d, b, &m, &designed)
	p.Motor = design.MotorReport{Speed: n, Torque: run.MotorTorque, StartTorque: start.MotorTorque, Stall: stall, Current: current,
		Share: float64(run.MotorTorque / stall), ShaftLoad: run.ShaftLoad, Turns: turned(d.MotorTurns),
		Minutes: float64(mechanics.RunningTime(d.Holder.Capacity, current)) / 60}
	turns := d.MotorTurns
	use := func(kind, name string, have int) {
		for i := range p.Uses {
			if p.Uses[i].Kind == kind && p.Uses[i].Name == name {
				p.Uses[i].Each++
				return
			}
		}
		p.Uses = append(p.Uses, design.Use{Kind: kind, Name: name, Each: 1, Sets: b.Sets, Have: have})
		if kind == "axle" {
			p.Uses[len(p.Uses)-1].Places = []design.Place{{Name: name, Location: "rack", Length: d.Axles[0].Length, Count: d.Axles[0].Count}}
		} else {
			p.Uses[len(p.Uses)-1].Places = []design.Place{{Name: name, Count: have}}
		}
	}
	use("motor", d.Motor.Name, d.Motor.Count)
	use("cells", d.Holder.Name, d.Holder.Count)
	var fit, bands, joints, facts = score.Points(0), score.Points(0), score.Joint(b.Weights, d.OutputJoint.Kind), 0
	for i := range d.Stages {
		s, f := &d.Stages[i], g.Fits[i]
		greatest, _ := m.Stages[i].Grip(f)
		r := design.StageReport{Driver: s.Driver.Name, Driven: s.Driven.Name, Fitted: f, Running: run.Stages[i], Starting: start.Stages[i],
			GreatestPull: greatest, GripRunning: constraints.GripMargin(greatest, run.Stages[i].Effective), GripStarting: constraints.GripMargin(greatest, start.Stages[i].Effective),
			Creep: 1 - run.Stages[i].Loaded.SpeedFactor, DriverJoint: s.DriverJoint, DrivenJoint: s.DrivenJoint, LanePosition: d.Lanes.Centre[i],
			Band: s.Band, Use: s.Use, Crossed: s.Crossed, DriverTurns: turned(turns), TightRunStretch: run.Stages[i].Loaded.TightStretch,
			OtherBands: []design.OtherBand{{Name: "spare band", Use: drive.Paired, Stretch: 1.2, Speed: likely}}}
		r.CentreAllowed.Lo, _ = m.Stages[i].CentreAtStretch(1.05)
		r.CentreAllowed.Lo = max(r.CentreAllowed.Lo, (s.Driver.Outside+s.Driven.Outside)/2+b.Limits.Clearance)
		for !bandRulesHold(&m.Stages[i], r.CentreAllowed.Lo, b.Limits) {
			r.CentreAllowed.Lo += 1.0 / 256 // near enough
		}
		r.CentreAllowed.Hi, _ = m.Stages[i].CentreAtStretch(1.5)
		if s.Crossed {
			turns = -turns
		}
		r.DrivenTurns = turned(turns)
		p.Stages = append(p.Stages, r)
		p.Ratio *= f.Ratio
		n *= units.RPM(run.Stages[i].Loaded.SpeedFactor / f.Ratio)
		p.Axles = append(p.Axles, design.AxleReport{Stock: d.Axles[i].Name, Diameter: d.Axles[i].Diameter, Length: drive.AxleLength(b), Hole: d.Axles[i].Diameter + b.Limits.RunningFit,
			Load: run.AxleLoad[i], Friction: run.AxleFriction[i], Turns: n})
		use("pulley", s.Driver.Name, s.Driver.Count)
		use("pulley", s.Driven.Name, s.Driven.Count)
		use("band", s.Band.Name, s.Band.Count)
		use("axle", d.Axles[i].Name, 15)
		if i == len(d.Stages)-1 {
			p.Axles[i].Length = drive.OutputAxleLength(b, d.Wheel, d.Drum)
		}
		fit += score.BandFit(b.Limits, b.Weights, designed.Fits[i].Stretch)
		bands += score.BandUse(b.Weights, s.Use, s.Crossed)
		joints += score.Joint(b.Weights, s.DriverJoint.Kind) + score.Joint(b.Weights, s.DrivenJoint.Kind)
		facts += len(s.Driver.Assumed) + len(s.Driven.Assumed)
	}
	rim := func(r units.Millimetres) *design.LinearRange {
		return &design.LinearRange{Low: p.Speed.Low.RimSpeed(r), Likely: p.Speed.Likely.RimSpeed(r), High: p.Speed.High.RimSpeed(r)}
	}
	p.Overload = overload(d, b, m, &g)
	if d.Drum != nil {
		pull := mechanics.LiftPull(b.Load.Mass, b.Load.TackleParts, b.Load.TackleEfficiency)
		p.Tackle = &design.Tackle{Tackle: brief.Tackle{Parts: 1, Efficiency: 1}, Pull: pull}
		use("sleeve", d.OutputJoint.Sleeve.Name, d.OutputJoint.Sleeve.Count)
		use("drum", d.Drum.Name, d.Drum.Count)
		p.Linear = rim((d.Drum.Diameter + b.Load.CordDiameter) / 2)
	}
	if d.Wheel != nil {
		use("axle", d.Axles[len(d.Axles)-1].Name, 15) // the free axle
		for range d.OutputPieces() {
			use("wheel", d.Wheel.Name, d.Wheel.Count)
		}
		p.Linear = rim(d.Wheel.Diameter / 2)
	}
	for i := range p.Uses {
		if u := &p.Uses[i]; u.Kind == "axle" {
			u.Have = 15 / u.Each * u.Each // three from each rod
		}
	}
	p.Penalty = []score.Term{
		{Name: "classrooms", Points: score.Classrooms(b.Weights, p.Works, forecast.Rooms), Why: "classrooms in which it does not turn as asked"},
		{Name: "may stand", Points: score.MayStand(b.Weights, p.Stands, forecast.Rooms), Why: "classrooms in which it stands"},
		{Name: "speed", Points: score.Speed(b.Weights, p.Speed.Low, p.Speed.High, p.Target), Why: "the range leaves out the wanted speed"},
		{Name: "stages", Points: score.Stages(b.Weights, len(d.Stages)), Why: "2 stages"},
		{Name: "cells", Points: score.Cells(b.Weights, d.Holder.Cells), Why: "1 cell"},
		{Name: "band fit", Points: fit, Why: "stretch outside the comfortable window"},
		{Name: "joints", Points: joints, Why: "gluing, sleeving or drilling out"},
		{Name: "bands", Points: bands, Why: "crossed or doubled bands"},
		{Name: "assumptions", Points: score.Assumptions(b.Weights, facts), Why: "1 fact nobody measured"},
		{Name: "motor load", Points: score.MotorLoad(b.Limits, b.Weights, float64(atWork.MotorTorque/stall)), Why: "the motor's share of stall"},
		{Name: "forgiveness", Points: score.Forgiveness(b.Weights, p.Bears, b.Limits.HoleError), Why: "whether holes may be 2 mm off"},
	}
	for _, term := range p.Penalty {
		p.Total += term.Points
	}
	return p
}

// overload finds by halving at how many times its load a drive gives way.
func overload(d *drive.Drive, b *brief.Brief, m drive.Model, g *drive.Geometry) *design.Overload {
	o := &design.Overload{Of: "mass_g", Brief: float64(b.Load.Mass), Slips: math.Inf(1), Stalls: math.Inf(1)}
	switch b.Model {
	case brief.LevelRide:
		o.Of, o.Brief = "out_of_balance_g", float64(b.Load.OutOfBalance)
	case brief.PlainShaft:
		o.Of, o.Brief = "torque_mNm", float64(b.Load.Torque)
	}
	at := func(times float64) drive.Flow {
		more := *b
		switch b.Model {
		case brief.LevelRide:
			more.Load.OutOfBalance *= units.Grams(times)
		case brief.PlainShaft:
			more.Load.Torque *= units.NewtonMillimetres(times)
		default:
			more.Load.Mass *= units.Grams(times)
		}
		m.Demand = d.DemandAt(&more, drive.Likely)
		return m.Carry(g, m.Demand.Start)
	}
	last := func(below float64, does func(times float64) bool) float64 {
		lo, hi := 1.0, below
		for range 60 {
			if mid := (lo + hi) / 2; does(mid) {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	}
	const most = 100
	grips := last(most, func(times float64) bool { return at(times).Slips < 0 })
	if grips < most*(1-1e-9) {
		o.Slips, o.SlipsStage = o.Brief*grips, at(grips*(1+1e-9)).Slips+1
	}
	stall := m.Motor.StallTorque(m.Supply)
	turns := last(grips, func(times float64) bool { return stall > at(times).MotorTorque })
	if turns < grips*(1-1e-9) {
		o.Stalls = o.Brief * turns
	}
	return o
}

func bandRulesHold(s *mechanics.Stage, c units.Millimetres, l brief.Limits) bool {
	f, err := s.Fit(c)
	return err == nil && constraints.ArcOfContact(l, &f) == nil &&
		(!s.Crossed || constraints.CrossedBandSpacing(f.DriverPitch, f.DrivenPitch, c) == nil)
}

// asDesigned puts a drive on the marks that its holes are nearest to, its stages as
// they lie and the load anyhow, and gives its geometry there.
func asDesigned(t testing.TB, d *drive.Drive, m *drive.Model) drive.Geometry {
	const step = 8 // a twentieth of these bands' rest length, in whole times 4 mm
	d.Lies = []drive.Lie{drive.Aslant, drive.Folded}
	if m.Demand.Weight.Y > 0 { // the floor pushes up, and the last axle is the higher
		d.Lies[1] = drive.Across
	}
	for i := range d.Stages {
		d.Spacings = append(d.Spacings, step*units.Millimetres(math.Round(float64(d.Centre(i)/step))))
	}
	g, err := drive.Designed(d, m)
	require.NoError(t, err)
	return g
}

// inClassrooms is what a drive does in the classrooms.
func inClassrooms(t testing.TB, d *drive.Drive, b *brief.Brief, m *drive.Model, g *drive.Geometry) (design.SpeedRange, int, int) {
	class, err := forecast.NewClass(b, d.Motor, d.Holder, d.Wheel, d.Drum, forecast.Known{})
	require.NoError(t, err)
	run, start := m.Carry(g, m.Demand.Steady), m.Carry(g, m.Demand.Start)
	w := class.WorkOf(m, g, &run, &start)
	f := class.Of(&w)
	return design.SpeedRange{Low: f.Low, Likely: m.OutputSpeed(g, &run), High: f.High}, f.Works, f.Stands
}

func turned(sense int) brief.Sense {
	if sense > 0 {
		return brief.Anticlockwise
	}
	return brief.Clockwise
}

// testResult is a found result with an open and a crossed drive, best first.
func testResult(t testing.TB, model brief.Model) *design.Result {
	cup, b := testCupboard(), testBrief(model)
	open, crossed := worked(t, twoStages(cup, b, false), b), worked(t, twoStages(cup, b, true), b)
	if crossed.Total < open.Total {
		open, crossed = crossed, open
	}
	crossed.Rank = 2
	return &design.Result{Cupboard: cup, Brief: b, Status: design.ProvedBest, Proposals: []design.Proposal{open, crossed},
		Refused: []design.Refused{{Rule: constraints.Fit, Count: 3, Nearest: "big wheel has a 5 mm bore, too loose on a 2 mm shaft, and no sleeve packs it out", Miss: 1.5}},
		Stats:   search.Stats{Nodes: 1234, Bounded: 900, Refused: 55, Finished: 12, Improved: 3}}
}

// noneResult is a result without a drive.
func noneResult() *design.Result {
	return &design.Result{Cupboard: testCupboard(), Brief: testBrief(brief.PlainShaft), Status: design.NonePossible, Proposals: []design.Proposal{},
		Refused: []design.Refused{
			{Rule: constraints.Fit, Count: 3, Nearest: "big wheel has a 5 mm bore, too loose on a 2 mm shaft, and no sleeve packs it out", Miss: 1.5},
			{Rule: constraints.Room, Count: 2, Nearest: constraints.RoomInFrame(&brief.Brief{Frame: brief.Frame{Length: 300, Height: 160}}).Say(), Miss: 1},
			{Rule: constraints.Speed, Count: 41, Nearest: constraints.SpeedWithin(70, 50, 0.25).Say(), Miss: 0.15},
		}, Stats: search.Stats{Nodes: 46, Refused: 46}}
}
