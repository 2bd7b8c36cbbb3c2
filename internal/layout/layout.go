// Package layout says where the shafts of a drive sit in the frame: whether
// there is a place for all of them on the hole grid that keeps every pulley,
// band, axle and the motor's body apart.
//
//	layout.go   what a problem is
//	check.go    the plain re-check of finished places
//	band.go     the shape of a band and how near things come to it
//	rules.go    a problem made ready for the search
//	place.go    the search: tidy shapes first
//	boxes.go    the search: every point of the grid
//	narrow.go   what of a box cannot be, by how far apart shafts stand
//	strands.go  large boxes in which a thing stands in a band's way
//	turns.go    how far the way from shaft to shaft may bend
//	mate.go     a second axle as high as the last
//	lanes.go    where along the axles each stage lies
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

// Grid is where holes may be: x a multiple of Pitch; y one of Heights, in any
// order, or a multiple of Pitch if there are none. Pitch must be above 0: no
// hole is on the grid otherwise.
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
	// Zone is where its hole may be marked, already shrunk for hole walls. It is
	// the one rule, besides the grid and Rises, about the hole as drawn: Slack
	// does not shrink it, or a shaft whose height is given could never forgive.
	Zone  Rect
	Discs []Disc
	Lanes []int // lanes the shaft itself passes through
}

// Run is a band between two different shafts, in a lane. It takes up two
// straight strands, the common tangents of its pitch circles, and the two pitch
// circles themselves, all thickened by HalfBand to either side.
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

// Gap is a window on the distance between two different shafts.
type Gap struct {
	A, B     int
	Min, Max units.Millimetres
	Prefer   units.Millimetres // tried first; 0 for none
}

// Rise is a window on how far one shaft stands above another as drawn.
type Rise struct {
	From, To int
	Min, Max units.Millimetres
}

// MaxShafts is the most shafts Place can search for.
const MaxShafts = 8

// Problem is everything a placement must obey. Numbers of shafts must be those
// of Shafts.
type Problem struct {
	Outline   Rect               // inside of the frame
	Overhang  units.Millimetres  // how far discs may reach beyond it
	Ground    *units.Millimetres // discs stay Clearance above it; nil for none
	Grid      Grid
	Shafts    []Shaft
	Runs      []Run
	Bodies    []Box
	Gaps      []Gap
	Rises     []Rise
	Clearance units.Millimetres // between things that must not touch, 0 or more
	// Slack asks the rules to hold with every hole off by up to so much, each in
	// its own worst direction. What depends on two holes then keeps twice that
	// in hand, and so does a band: as its two pulleys move by Slack no part of it
	// moves sideways by more (see band.go), and what it must clear moves too.
	Slack  units.Millimetres
	Turns  []Turn  // as drawn, like Rises
	Steeps []Steep // likewise
	Mate   *Mate   // nil for none
	// Any asks for any places, which are sooner found than the tidiest.
	Any bool
}

// Outcome is how a search for places ended.
type Outcome int

// The outcomes.
const (
	Placed     Outcome = iota
	Impossible         // no point of the grid will do: every one was ruled out
	GaveUp             // the work allowed ran out first: nothing is known
)
