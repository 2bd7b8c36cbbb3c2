// Package brief says what the teacher wants: the model, its speed and load,
// the frame, and what may be done to the parts; and reads brief.toml.
package brief

import "findrive/internal/units"

// Model is the kind of thing that is to move.
type Model string

// The kinds of model.
const (
	UprightRide Model = "ride on an upright axle" // a carousel: weight on a pivot
	LevelRide   Model = "ride on a level axle"    // a big wheel
	Vehicle     Model = "vehicle"
	Lift        Model = "lift" // a winch drum
	PlainShaft  Model = "plain shaft"
)

// Way is a way in the drawing, seen from the front.
type Way string

// The ways a cord may leave its drum. A crane's goes up to its jib.
const (
	Down  Way = "down"
	Up    Way = "up"
	Left  Way = "left"
	Right Way = "right"
)

// Sense is a way of turning, seen from the brief's named side.
type Sense string

// The ways of turning.
const (
	Either        Sense = "either"
	Clockwise     Sense = "clockwise"
	Anticlockwise Sense = "anticlockwise"
)

// Brief is everything asked for. Every optional field has been filled with its
// default by the time a Brief exists.
type Brief struct {
	Name      string
	Model     Model
	Speed     Speed
	Tolerance float64 // largest |relative error| of the likely speed, for example 0.25
	Direction Direction
	Load      Load
	Frame     Frame
	Making    Making
	Sets      int   // sets built at once, sharing the stock
	MaxStages int   // 1 to 4
	Cells     []int // numbers of cells that may be used, ascending; empty: any holder
	Limits    Limits
	Weights   Weights
}

// Speed is the wanted speed as said. Exactly one of the two is above 0.
type Speed struct {
	Turning units.RPM             // "20 rpm", "1 turn in 3 s"
	Linear  units.MetresPerSecond // "0.3 m/s", "10 m in 25 s"
	Words   string                // as the user wrote it
}

// Direction is the wanted way of turning of the output.
type Direction struct {
	Sense Sense
	// SeenFrom names the side the sense is judged from, "front" unless given.
	// The front is the side the drawing shows.
	SeenFrom string
	// MotorTurns fixes the motor's own way of turning seen from the front;
	// Either when its wires may be swapped.
	MotorTurns Sense
}

// Load is what the output carries. Fields that do not belong to the model are 0.
type Load struct {
	Mass               units.Grams       // ride, vehicle or lifted load
	PivotRadius        units.Millimetres // upright ride: mean radius of the ring it stands on
	LoadRadius         units.Millimetres // ride: mean radius at which the mass sits (inertia, comfort)
	OutOfBalance       units.Grams       // level ride
	OutOfBalanceRadius units.Millimetres
	Wheel              string                  // vehicle: name of a wheel, empty for any
	Drum               string                  // lift: name of a drum, empty for any
	Surface            string                  // vehicle: "table" or "carpet"
	Slope              units.Radians           // vehicle
	DrivenShare        float64                 // vehicle: share of the weight on the driven axle
	CordDiameter       units.Millimetres       // lift
	CordLeaves         Way                     // lift: which way the cord leaves its drum
	Torque             units.NewtonMillimetres // plain shaft
	// Tackles are those that may be between drum and load of a lift, fewest rope
	// parts first; more than one leaves the choice to the search, and there are
	// none for other models. TackleParts and
	// TackleEfficiency are the one reckoned with, the first until With chooses
	// another; 1 and 1 without one.
	Tackles          []Tackle
	TackleParts      int
	TackleEfficiency float64
}

// Tackle is a tackle between the drum and the load.
type Tackle struct {
	Parts      int     // rope parts that hold the load; 1: the cord goes straight to it
	Efficiency float64 // above 0 up to 1
}

// With is the same brief reckoned with one of its tackles and no other.
func (b *Brief) With(t Tackle) *Brief {
	out := *b
	out.Load.Tackles = []Tackle{t}
	out.Load.TackleParts, out.Load.TackleEfficiency = t.Parts, t.Efficiency
	return &out
}

// Rect is a rectangle in the plane of the drawing, measured from the frame's
// lower left inside corner (the datum), x to the right, y up.
type Rect struct{ X0, Y0, X1, Y1 units.Millimetres }

// Frame is the space to build in, seen from the front: length across the
// drawing, height up it, depth along the axles.
type Frame struct {
	Length, Height, Depth units.Millimetres // inside
	Strip                 units.Millimetres // section of the strip the holes go through; 0 for sheet sides
	Sheet                 units.Millimetres // thickness of a side
	// Rails are the heights of the level strips that carry axles. Empty: the
	// sides are sheet and a hole may be anywhere on the grid.
	Rails      []units.Millimetres
	Pitch      units.Millimetres // hole grid; 1 mm when drilled freely
	MotorZone  Rect              // where the motor shaft may be
	OutputZone Rect              // where the output axle may be
	Overhang   units.Millimetres // how far a disc may reach outside the outline
	// Ground is the height of the floor above the datum, usually negative for
	// a vehicle; HasGround says whether the brief gives it. Without it a vehicle
	// stands on its wheels, wherever their axle is.
	Ground    units.Millimetres
	HasGround bool
	// AxlesLess is how much narrower over its sides the frame is taken to be for its axles.
	// No file says it: it is for asking what would be possible if axles did not grow with
	// the frame (package leeway).
	AxlesLess units.Millimetres `json:"-"`
}

// OverSides is how wide the frame is over its sides, which its axles must span.
func (f *Frame) OverSides() units.Millimetres {
	return f.Depth + 2*max(f.Strip, f.Sheet) - f.AxlesLess
}

// Making says what may be done to the parts.
type Making struct {
	DrillFrame bool // false: axles are carried in clips, straws or tubes
	DrillOut   bool // bores may be opened
	Glue       bool
	// Discs allows pulleys that are made of discs cut from the cupboard's sheets.
	Discs bool `json:",omitempty"`
}

// Limits are the thresholds of the rules; mechanics.md-style defaults are in
// DefaultLimits, each with its source.
type Limits struct {
	FittedStretchMin  float64 // refuse below
	FittedStretchMax  float64 // refuse above
	ComfortStretchMin float64 // no penalty between
	ComfortStretchMax float64
	IdealStretch      float64
	RunningStretchMax float64
	ArcMin            units.Radians
	ArcWarn           units.Radians
	GripMin           float64           // greatest pull / pull needed, running
	GripStartMin      float64           // the same at starting torque
	StartMin          float64           // stall torque / starting torque at the motor
	RunMin            float64           // stall torque / running torque at the motor
	KeptSpeedMin      float64           // share of the speed without load that must be left, running
	ContinuousShare   float64           // warn when running torque / stall torque is above
	Clearance         units.Millimetres // between moving things
	LaneGap           units.Millimetres // between lanes along the axle
	HoleWall          units.Millimetres // material left round a hole
	RunningFit        units.Millimetres // hole diameter over axle diameter
	SectionRatio      float64           // smallest groove floor / band section thickness
	HoleError         units.Millimetres // drilling error a good drive forgives
}

// Weights price what makes one drive better than another, in points.
type Weights struct {
	Classroom       float64 // each tenth of the classrooms in which it does not turn as asked
	MayStand        float64 // a drive that may not turn at all
	SpeedPerPercent float64 // each whole percent by which its range leaves out the speed asked
	SpeedStep       float64 // percent counted as equal
	Stage           float64 // each stage after the first
	BandFit         float64 // each 0.05 of stretch outside the comfortable window
	Sleeve          float64 // each
	DrillOut        float64 // each
	Glue            float64 // each
	Crossed         float64 // each crossed band
	DoubledBand     float64 // each band looped twice or used in pairs
	Assumption      float64 // each assumed fact relied on
	IdleStage       float64 // each stage that changes no speed
	Unforgiving     float64 // a drive that does not forgive HoleError
	OnEdge          float64 // and more, for one that does not forgive 1 mm
	Cell            float64 // each cell after the first
	MotorLoad       float64 // each 5 % of stall begun above Limits.ContinuousShare
	AnotherDrive    float64 // each different drive of a class after the first
	// MadePulley is charged for each different pulley to be made of discs. It is left out
	// of fingerprints of briefs that allow none, which see to it themselves.
	MadePulley float64 `json:"-"`
}
