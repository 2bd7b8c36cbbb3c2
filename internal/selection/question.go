// Package selection solves exactly what is left of the design of a drive when loads,
// placing and the thickness of bands are left out: which pulleys, bands and centre
// distances, for a velocity ratio. It is small enough to be stated to a general
// solver, and so it is where our ways of searching are compared with others'.
//
//	question.go  what is asked, and what a drive costs
//	ready.go     clones put together; everything in whole numbers
//	scan.go      the pairs of pulleys round which some band runs nearly as it should
//	rising.go    one limit of cost after another, until ten drives are under it
//	level.go     so many stages: which classes of pairs come near the ratio
//	settle.go    the pulleys, bands and centre distances of such classes
//	stock.go     what the stock leaves to reach
//	banded.go    sizes round which some band goes
//	table.go     a question worked up for a general solver; models.go as its data
//	answer.go    drives in the user's names
package selection

import (
	"errors"
	"fmt"
	"math"

	"findrive/internal/units"
)

// Question is what is asked for. A stage is a driver, a driven pulley, an open band
// round them and a centre distance. The driver of the first stage sits on the motor
// and all other pulleys on axles. A drive is its first stage and the set of the
// others: their order changes nothing that counts here.
type Question struct {
	Pulleys    []Pulley
	Bands      []Band
	Ratio      float64 // turns of the motor for one turn of the output, above 0
	MostStages int     // 1 to 6
	Sets       int     // how many of the drive are built from the stock, at least 1
	Keep       int     // how many drives to find; 0 means 10
	Limits     Limits
	// PerPoint is how many units of cost make a point; 0 means 1e9. Logarithms and
	// stretches are rounded to whole units before anything is added or compared, and
	// from there on everything is exact.
	PerPoint int64
}

// Limits say which stages can be built.
type Limits struct {
	LeastStretch, IdealStretch, MostStretch float64           // fitted length over rest length
	LeastArc                                units.Radians     // of contact, on the smaller pulley; to 180 degrees
	Clearance                               units.Millimetres // between the rims
	Grid                                    units.Millimetres // centre distances are whole multiples of it
}

// UsualLimits are those of the measurements in docs/performance.md.
func UsualLimits() Limits {
	return Limits{LeastStretch: 1.05, IdealStretch: 1.25, MostStretch: 1.6, LeastArc: units.Degrees(120), Clearance: 3, Grid: 5}
}

// Pulley is a kind of pulley. Its diameter is taken as its pitch diameter and as
// that of its rim. Pulleys of the same diameter and place are clones: drives that
// differ in them alone are the same drive.
type Pulley struct {
	Name     string
	Diameter units.Millimetres
	OnMotor  bool // it fits the motor's shaft; otherwise it fits axles
	Count    int
}

// Band is a kind of band. Bands of the same length at rest are clones.
type Band struct {
	Name  string
	Rest  units.Millimetres // length of the loop
	Count int
}

// What a drive of k stages costs, in points:
//
//	100 |ln(n/wanted)| + 4 (k-1) + 10 mean(|stretch - ideal|) / 0.35
const (
	pointsPerLog     = 100
	pointsPerStage   = 4
	pointsPerStretch = 10 / 0.35
)

// check says what is wrong with a question.
func (q *Question) check() error {
	l := q.Limits
	for _, v := range []float64{q.Ratio, l.LeastStretch, float64(l.LeastArc), float64(l.Grid)} {
		if !(v > 0) || math.IsInf(v, 0) {
			return errors.New("ratio, stretch, arc and grid must be above 0")
		}
	}
	if !(l.LeastStretch <= l.MostStretch) || !(l.MostStretch < 10) || !(l.IdealStretch > 0 && l.IdealStretch < 10) || !(l.LeastArc <= math.Pi) || !(l.Clearance >= 0 && l.Clearance < 1e6) {
		return errors.New("the limits contradict each other")
	}
	if q.MostStages < 1 || q.MostStages > mostStages || q.Sets < 1 || q.Keep < 0 || q.PerPoint < 0 || q.PerPoint > 1e9 {
		return fmt.Errorf("stages must be 1 to %d, sets at least 1", mostStages)
	}
	if len(q.Pulleys) > mostKinds || len(q.Bands) > mostKinds {
		return fmt.Errorf("there may be %d kinds of pulley and of band", mostKinds)
	}
	for _, p := range q.Pulleys {
		if !(p.Diameter > 0.01 && p.Diameter < 1e5) {
			return fmt.Errorf("pulley %q has no usual diameter", p.Name)
		}
	}
	for _, b := range q.Bands {
		if !(b.Rest > 0.01 && b.Rest < 1e5*l.Grid) {
			return fmt.Errorf("band %q has no usual length", b.Name)
		}
	}
	return nil
}

// mostStages is the most that a question may ask for. A unit of cost is cut in
// shares that divide by every number of stages, so that a mean is exact too.
const (
	mostStages = 6
	shares     = 60
	mostKinds  = 10_000
)
