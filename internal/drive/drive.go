// Package drive has the nouns of a design (stage, joint, drive) and works out
// what a whole drive does under load: from the output's torque back to the
// motor, then from the motor's speed forward to the output.
package drive

import (
	"findrive/internal/brief"
	"findrive/internal/layout"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// MaxStages is the most stages a drive may have. Four is already rare in a
// school: each adds friction and an axle to line up (common practice).
const MaxStages = 4

// VehicleWheels is how many wheels a vehicle takes, all of one kind: two on the driven axle
// and two on the free one, which sit alike.
const VehicleWheels = 4

// Use is how a band is put on.
type Use int

// The ways to use a band.
const (
	Single      Use = iota
	LoopedTwice     // one band wound twice round: half the loop, twice the section
	Paired          // two equal bands side by side in one groove
)

func (u Use) String() string {
	return [...]string{"single", "looped twice", "two side by side"}[u]
}

// BandsTaken is how many bands of the kind one stage takes.
func (u Use) BandsTaken() int {
	if u == Paired {
		return 2
	}
	return 1
}

// JointKind is how a pulley, wheel or drum is held on its shaft.
type JointKind int

// The kinds of joint, easiest first.
const (
	PushFit    JointKind = iota
	Glued                // a drop of glue: the bore is a little large
	Sleeved              // packed out with a piece of tube
	DrilledOut           // the bore is opened, an adult's job
)

func (k JointKind) String() string {
	return [...]string{"push fit", "drop of glue", "sleeve", "drill out"}[k]
}

// Joint is one part on one shaft.
type Joint struct {
	Kind   JointKind
	Sleeve *parts.Sleeve // for Sleeved
	Bore   units.Millimetres
	Shaft  units.Millimetres
}

// Stage is one driver and one driven pulley with the band between them.
type Stage struct {
	Driver, Driven           *parts.Pulley
	DriverJoint, DrivenJoint Joint
	Band                     *parts.Band
	Use                      Use
	Crossed                  bool
}

// Loop is the band as it is used in the stage.
func (s *Stage) Loop() mechanics.Loop { return LoopOf(s.Band, s.Use) }

// LoopOf is a band as mechanics sees it.
func LoopOf(b *parts.Band, use Use) mechanics.Loop {
	l := mechanics.Loop{
		Rest: 2 * b.FlatLength, Width: b.Width, Thickness: b.Thickness,
		Strands: 1, PullFactor: b.PullFactor, Rubber: mechanics.DefaultRubber(),
	}
	switch use {
	case LoopedTwice:
		return l.LoopedTwice()
	case Paired:
		return l.Paired()
	}
	return l
}

// Mechanics is the stage as mechanics sees it, with the given grip.
func (s *Stage) Mechanics(friction float64) mechanics.Stage {
	return mechanics.Stage{
		DriverFloor: s.Driver.GrooveFloor, DrivenFloor: s.Driven.GrooveFloor,
		DriverGroove: s.Driver.GrooveAngle, DrivenGroove: s.Driven.GrooveAngle,
		Friction: friction, Band: s.Loop(), Crossed: s.Crossed,
	}
}

// Drive is a complete design: what is used and where it goes.
type Drive struct {
	Motor  *parts.Motor
	Holder *parts.CellHolder
	Stages []Stage            // motor first
	Axles  []*parts.AxleStock // Axles[i] carries Stages[i].Driven and the next driver
	Wheel  *parts.Wheel       // vehicle
	Drum   *parts.Drum        // lift
	// OutputJoint holds the drum on the last axle, or each wheel of a vehicle on its axle.
	OutputJoint Joint

	// What the design says of its places: the centre distance of each stage, on the
	// ruler of docs/model.md, and the lie of the pulls on each axle. Empty for a drive
	// that nobody has designed but stands on the table.
	Spacings []units.Millimetres
	Lies     []Lie

	Positions  []layout.Point // motor shaft first, then the axles
	FreeAxle   *layout.Point  // where a vehicle's axle is that is not driven; nil where that is not settled
	Lanes      layout.LanePlan
	MotorTurns int // seen from the front: +1 anticlockwise, -1 clockwise
}

// OutputPieces is how many parts sit as OutputJoint does: the wheels of both axles of a
// vehicle, a lift's drum, or none.
func (d *Drive) OutputPieces() int { return OutputPieces(d.Wheel, d.Drum) }

// OutputPieces is Drive.OutputPieces for a wheel or drum, nil where there is none.
func OutputPieces(wheel *parts.Wheel, drum *parts.Drum) int {
	switch {
	case wheel != nil:
		return VehicleWheels
	case drum != nil:
		return 1
	}
	return 0
}

// Reversals is how often the drive turns the direction round: once for each
// crossed band.
func (d *Drive) Reversals() int {
	n := 0
	for i := range d.Stages {
		if d.Stages[i].Crossed {
			n++
		}
	}
	return n
}

// OutputTurns is the output's way of turning seen from the front: an open band
// keeps the motor's, each crossed one reverses it.
func (d *Drive) OutputTurns() int {
	if d.Reversals()%2 == 1 {
		return -d.MotorTurns
	}
	return d.MotorTurns
}

// Centre is the centre distance of stage i.
func (d *Drive) Centre(i int) units.Millimetres { return Distance(d.Positions[i], d.Positions[i+1]) }

// OutputAxle is the stock of the last axle; nil for a drive without one.
func (d *Drive) OutputAxle() *parts.AxleStock {
	if len(d.Axles) == 0 {
		return nil
	}
	return d.Axles[len(d.Axles)-1]
}

// DemandAt is what the brief asks of the drive's output axle at the given friction of
// the load.
func (d *Drive) DemandAt(b *brief.Brief, at Level) Demand {
	return DemandOf(b, d.Wheel, d.Drum, d.OutputAxle(), at)
}
