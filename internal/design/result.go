package design

import (
	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/score"
	"findrive/internal/search"
	"findrive/internal/units"
)

// Status is how a search ended. There are three ways, never two.
type Status string

// The ways a search ends; the words are part of the machine output.
const (
	ProvedBest   Status = "proved best"
	NonePossible Status = "none possible"
	StoppedEarly Status = "stopped early"
)

// Result is what Find came to.
type Result struct {
	Cupboard  *parts.Cupboard
	Brief     *brief.Brief
	Status    Status
	Proposals []Proposal // best first
	Refused   []Refused  // why other arrangements were not, rule by rule
	// Open is the least penalty an unseen drive could have; only meaningful
	// when stopped early.
	Open  score.Points
	Stats search.Stats
}

// Proposal is one drive worked out in full.
type Proposal struct {
	Rank     int // from 1
	Drive    *drive.Drive
	Penalty  []score.Term
	Total    score.Points
	Target   units.RPM
	Speed    SpeedRange        // of the design: nine models of ten
	Works    int               // in how many of a hundred classrooms it turns as asked
	Stands   int               // in how many it does not turn at all
	AtHoles  units.RPM         // likely, at the very holes
	Bears    units.Millimetres // how far holes may be out of place by its design
	Linear   *LinearRange      // vehicle or lift: the speed of travel
	Tackle   *Tackle           // lift: what is between drum and load
	Stages   []StageReport
	Axles    []AxleReport // of each driven axle, motor side first
	Motor    MotorReport
	Turns    brief.Sense       // of the output, seen from the front
	Ratio    float64           // motor turns for one turn of the output, creep left out
	Forgives units.Millimetres // how far any hole may be off before a rule breaks
	Uses     []Use             // of the stock, by one set
	Assumed  []string          // facts nobody measured that this drive relies on
	Notes    []string          // warnings about this drive, in plain words

	Fewer    *FewerCells // on one cell less; nil if it has only one
	Overload *Overload   // what gives way first; nil if the brief's load is 0

	order        *order // where it stands among equals; nil if it does not come from a search
	worksAtHoles int    // in how many classrooms it turns as asked with the holes as they are drawn
}

// Tackle is what is between the drum and the load of a lift.
type Tackle struct {
	brief.Tackle
	Pull units.Newtons // on the cord at the drum
}

// SpeedRange is the output speed as a range.
type SpeedRange struct{ Low, Likely, High units.RPM }

// LinearRange is the speed of travel or lift as a range.
type LinearRange struct{ Low, Likely, High units.MetresPerSecond }

// StageReport is one stage as built and at work.
type StageReport struct {
	Driver, Driven  string
	AlsoDriver      []string // other names for the same pulley
	AlsoDriven      []string
	Fitted          mechanics.Fitted
	Running         drive.StageFlow
	Starting        drive.StageFlow
	GreatestPull    units.Newtons // at the point of slip
	GripRunning     float64       // margin
	GripStarting    float64
	Creep           float64 // share of speed lost to the band's stretch
	CentreAllowed   units.Interval[units.Millimetres]
	OtherBands      []OtherBand // that also fit at this centre distance
	NextBands       []NextBand  // the next shorter and longer, whether they do or not
	DriverJoint     drive.Joint
	DrivenJoint     drive.Joint
	LanePosition    units.Millimetres // of the groove planes, from the front inside face
	Band            *parts.Band
	Use             drive.Use
	Crossed         bool
	DriverTurns     brief.Sense // seen from the front
	DrivenTurns     brief.Sense
	TightRunStretch float64
}

// OtherBand is another band for a stage, at the same holes.
type OtherBand struct {
	Name    string
	Use     drive.Use
	Stretch float64
	Speed   units.RPM // of the output with this band instead
}

// AxleReport is one driven axle.
type AxleReport struct {
	Stock    string
	Diameter units.Millimetres
	Length   units.Millimetres // to cut
	Hole     units.Millimetres // diameter to drill, 0 if the frame is not drilled
	Load     units.Newtons     // running, from its bands and weight
	Friction units.NewtonMillimetres
	Turns    units.RPM
}

// MotorReport is the motor at work.
type MotorReport struct {
	Speed         units.RPM
	Torque        units.NewtonMillimetres
	StartTorque   units.NewtonMillimetres
	Stall         units.NewtonMillimetres
	Current       units.Amps
	Share         float64 // of stall torque, running
	ShaftLoad     units.Newtons
	Minutes       float64 // of running on fresh cells; 0 if the capacity is not known
	Contradiction string  // where the motor's sheet contradicts itself, else empty
	Turns         brief.Sense
}

// Use is what one set takes of one part.
type Use struct {
	Kind   string
	Name   string
	Also   []string
	Each   int // by one set; axles: pieces
	Sets   int
	Have   int     // axles: each times the most sets (up to brief.MostSets) the rods can be cut for
	Places []Place // where they are kept; axles: rods
}

// Place is where parts of one name are kept.
type Place struct {
	Name     string
	Location string            // may be empty
	Length   units.Millimetres // of a rod; 0 of other parts
	Count    int
}
