package explain

import (
	"cmp"
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/certificate"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// Drive is what is told about.
type Drive struct {
	Name   string
	Model  brief.Model
	Stages []Stage
	Ratio  float64 // motor turns for one of the output
	Speed  Range   // of the output, turns a minute, as classes build it
	// AtHoles is its likely speed with the holes just where they are drawn, as Ratio and the
	// motor's speed are.
	AtHoles float64
	// Travel is that of a vehicle or lifted load in metres a second; Likely is 0 for
	// other models.
	Travel Range
	Motor  Motor
	Cells  int
	// MotorTorque and OutputTorque are what the motor gives and the load takes.
	MotorTorque, OutputTorque units.NewtonMillimetres
	// Turns is whether the output turns at all.
	Turns                   bool
	FrameDrilled            bool
	Glued, Sleeved, Drilled bool // some joint is
}

// Range is a figure with its least and its most.
type Range struct{ Low, Likely, High float64 }

// Motor is the motor at work.
type Motor struct {
	Name    string
	Speed   units.RPM // where the load swings in a turn, the mean of it, as the output's is
	Share   float64   // of its stall torque
	Current units.Amps
	Minutes float64 // on fresh cells; 0 if not known
}

// Stage is two pulleys and a band.
type Stage struct {
	Driver, Driven Pulley
	Band, Use      string
	Crossed        bool
	Centre         units.Millimetres
	Length         units.Millimetres // of the band's path
	Stretch        float64           // 1 is none
	Thickness      units.Millimetres // of the band as it is sold
	Ratio          float64
	Pull           units.Newtons // of one run at rest
	Grip           float64       // over what it must; infinite if it carries nothing
	Creep          float64       // share of speed lost
}

// Pulley is one of a stage.
type Pulley struct {
	Letter                string
	Name                  string
	Outside, Floor, Pitch units.Millimetres
	Arc                   units.Radians
}

// letter names the pulleys in driving order: A drives B, C drives D.
func letter(i int) string { return string(rune('A' + i)) }

// FromCertificate takes the drive of a rank, from 1.
func FromCertificate(c *certificate.Certificate, rank int) (*Drive, error) {
	if rank < 1 || rank > len(c.Proposals) {
		return nil, fmt.Errorf("there is no drive %d: the list has %d", rank, len(c.Proposals))
	}
	p := &c.Proposals[rank-1]
	d := &Drive{Name: c.Brief.Name, Model: brief.Model(c.Brief.Model), Ratio: float64(p.Ratio), Speed: Range{float64(p.Speed.Low), float64(p.Speed.Likely), float64(p.Speed.High)}, AtHoles: float64(p.AtHoles),
		Motor:       Motor{Name: p.Motor.Name, Speed: units.RPM(p.Motor.Speed), Share: float64(p.Motor.Share), Current: units.Amps(p.Motor.Current)},
		MotorTorque: units.NewtonMillimetres(p.Motor.Torque), OutputTorque: units.NewtonMillimetres(p.Demand.Steady),
		Cells: p.Cells.Cells, Turns: true, FrameDrilled: c.Brief.Making.DrillFrame}
	if p.Motor.Minutes != nil {
		d.Motor.Minutes = float64(*p.Motor.Minutes)
	}
	if p.Travel != nil {
		d.Travel = Range{float64(p.Travel.Low), float64(p.Travel.Likely), float64(p.Travel.High)}
	}
	for i := range p.Stages {
		s := &p.Stages[i]
		pulley := func(k int, q *certificate.Pulley) Pulley {
			d.joint(q.Joint.Kind)
			return Pulley{letter(2*i + k), q.Name, units.Millimetres(q.Outside), units.Millimetres(q.GrooveFloor), units.Millimetres(q.Pitch), units.Degrees(float64(q.Arc))}
		}
		grip := math.Inf(1)
		for _, at := range []*certificate.Number{s.Running.Grip, s.Starting.Grip} {
			if at != nil {
				grip = min(grip, float64(*at))
			}
		}
		d.Stages = append(d.Stages, Stage{Driver: pulley(0, &s.Driver), Driven: pulley(1, &s.Driven), Band: s.Band.Name, Use: s.Use, Crossed: s.Crossed,
			Centre: units.Millimetres(s.Centre), Length: units.Millimetres(s.Length), Stretch: float64(s.Stretch), Thickness: units.Millimetres(s.Band.Thickness), Ratio: float64(s.Ratio),
			Pull: units.Newtons(s.IdlePull), Grip: grip, Creep: float64(s.Running.Creep)})
	}
	if p.OutputJoint != nil {
		d.joint(p.OutputJoint.Kind)
	}
	if d.AtHoles > 0 {
		d.Motor.Speed = units.RPM(d.AtHoles * d.atWork())
	}
	return d, nil
}

func (d *Drive) joint(kind string) {
	d.Glued = d.Glued || kind == drive.Glued.String()
	d.Sleeved = d.Sleeved || kind == drive.Sleeved.String()
	d.Drilled = d.Drilled || kind == drive.DrilledOut.String()
}

// FromBuilt takes a drive that was described and worked out. The error is that a band
// does not go round, so that there is nothing to explain yet.
func FromBuilt(w *built.Working) (*Drive, error) {
	b := w.Build
	if w.Stops == built.OffBand {
		return nil, fmt.Errorf("%s: a band does not go round as it should, so there is nothing to explain yet: findrive try says what is wrong", b.Name)
	}
	demand := b.Drive.DemandAt(b.Brief, drive.Likely)
	d := &Drive{Name: b.Name, Model: b.Brief.Model, Ratio: w.Ratio, Speed: Range{float64(w.Speed.Low), float64(w.Speed.Likely), float64(w.Speed.High)}, AtHoles: float64(w.Speed.Likely),
		Motor:       Motor{Name: b.Drive.Motor.Name, Speed: cmp.Or(w.MotorSpeed(), w.Motor.Speed), Share: w.Motor.Share, Current: w.Motor.Current, Minutes: w.Motor.Minutes},
		MotorTorque: w.Motor.Torque, OutputTorque: demand.Steady, Cells: b.Drive.Holder.Cells, Turns: w.Stops == built.Turns, FrameDrilled: b.Brief.Making.DrillFrame}
	if l := w.Linear; l != nil {
		d.Travel = Range{float64(l.Low), float64(l.Likely), float64(l.High)}
	}
	for i := range w.Stages {
		s, t := &b.Drive.Stages[i], &w.Stages[i]
		f := t.Fitted
		d.joint(s.DriverJoint.Kind.String())
		d.joint(s.DrivenJoint.Kind.String())
		d.Stages = append(d.Stages, Stage{
			Driver: Pulley{letter(2 * i), s.Driver.Name, s.Driver.Outside, s.Driver.GrooveFloor, f.DriverPitch, f.DriverArc},
			Driven: Pulley{letter(2*i + 1), s.Driven.Name, s.Driven.Outside, s.Driven.GrooveFloor, f.DrivenPitch, f.DrivenArc},
			Band:   s.Band.Name, Use: s.Use.String(), Crossed: s.Crossed, Centre: f.Centre, Length: f.Length, Stretch: f.Stretch, Thickness: s.Band.Thickness,
			Ratio: f.Ratio, Pull: f.Pull, Grip: t.Grip(), Creep: t.Creep})
	}
	if b.Drive.Wheel != nil || b.Drive.Drum != nil {
		d.joint(b.Drive.OutputJoint.Kind.String())
	}
	return d, nil
}

// atWork is how often the motor turns for one turn of the output, with what the bands lose.
func (d *Drive) atWork() float64 {
	creeps := make([]float64, len(d.Stages))
	for i := range d.Stages {
		creeps[i] = d.Stages[i].Creep
	}
	return mechanics.TurnsAtWork(d.Ratio, creeps)
}

// Loses reports whether what the bands lose is worth telling of in how often the motor turns
// for one turn of the output (judgement: less is lost in the rounding).
func Loses(pulleys, atWork float64) bool { return atWork > 1.03*pulleys }

func (d *Drive) loses() bool { return d.Turns && Loses(d.Ratio, d.atWork()) }

// gain is how many times the motor's turning force the output gives; 0 if it is not known.
func (d *Drive) gain() float64 {
	if d.MotorTorque <= 0 || d.OutputTorque <= 0 {
		return 0
	}
	return float64(d.OutputTorque / d.MotorTorque)
}

// strongFrom is from what gain on an output is called stronger than its motor (judgement:
// what can be felt).
const strongFrom = 1.1

// output is the letter of the pulley on the output axle.
func (d *Drive) output() string { return d.Stages[len(d.Stages)-1].Driven.Letter }

// thing is the model in a child's word.
func (d *Drive) thing() string {
	switch d.Model {
	case brief.UprightRide:
		return "roundabout"
	case brief.LevelRide:
		return "big wheel"
	case brief.Vehicle:
		return "buggy"
	case brief.Lift:
		return "crane"
	}
	return "machine"
}

func about(v float64) string { return units.Significant(v, 2) }

// turns is a number of turns as the sheets say it.
func turns(v float64) string { return units.Turns(v) }

func decimals(v float64, n int) string { return units.Decimals(v, n) }

func percent(share float64) string { return units.Decimals(100*share, 0) + " %" }

func sizes[T ~float64](v T) string { return units.Decimals(float64(v), 1) }
