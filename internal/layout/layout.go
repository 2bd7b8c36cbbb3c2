// Package layout says where the shafts of a drive sit in the frame: whether
// there is a place for all of them on the hole grid that keeps every pulley,
// band, axle and the motor's body apart.
//
//	layout.go  what a problem is
//	check.go   the plain re-check of finished places
//	place.go   the search for places
//	lanes.go   where along the axles each stage lies
//
// Positions are in the plane of the pulleys, x to the right and y up, from the
// frame's lower left inside corner.
package layout

import "findrive/internal/units"

type mm = units.Millimetres

// Point is the centre of a shaft.
type Point struct{ X, Y units.Millimetres }

// Rect is a rectangle with its sides along the axes.
type Rect struct{ X0, Y0, X1, Y1 units.Millimetres }

// Grid is where holes may be: x a multiple of Pitch; y one of Heights, or a
// multiple of Pitch if there are none.
type Grid struct {
	Pitch   units.Millimetres
	Heights []units.Millimetres
}

// Disc is a pulley on a shaft in a lane.
type Disc struct {
	Radius units.Millimetres
	Lane   int
}

// Shaft is an axle or the motor's shaft.
type Shaft struct {
	Radius units.Millimetres
	Zone   Rect // where its centre may be, already shrunk for hole walls
	Discs  []Disc
	Lanes  []int // lanes the shaft itself passes through
}

// Run is a band between two shafts, in a lane.
type Run struct {
	From, To           int
	FromPitch, ToPitch units.Millimetres // pitch radii
	Crossed            bool
	Lane               int
	HalfBand           units.Millimetres
}

// Box is the motor's body about its shaft, in the lanes it stands in.
type Box struct {
	Shaft                 int
	HalfWidth, HalfHeight units.Millimetres
	Lanes                 []int
}

// Gap is a window on the distance between two shafts.
type Gap struct {
	A, B     int
	Min, Max units.Millimetres
	Prefer   units.Millimetres // tried first; 0 for none
}

// Rise is a window on how far one shaft stands above another.
type Rise struct {
	From, To int
	Min, Max units.Millimetres
}

// Problem is everything a placement must obey.
type Problem struct {
	Outline   Rect // inside of the frame
	Overhang  units.Millimetres
	Ground    *units.Millimetres // discs stay Clearance above it; nil for none
	Grid      Grid
	Shafts    []Shaft
	Runs      []Run
	Bodies    []Box
	Gaps      []Gap
	Rises     []Rise
	Clearance units.Millimetres
	// Slack asks every rule except Rises to hold with every hole off by so much
	// in the worst direction: what depends on two holes keeps twice that.
	Slack units.Millimetres
}

// Outcome is how a search for places ended.
type Outcome int

// The outcomes.
const (
	Placed     Outcome = iota
	Impossible         // no point of the grid will do: every one was ruled out
	GaveUp             // the work allowed ran out first
)
