package forecast

import (
	"cmp"
	"math"
	"slices"
	"sync/atomic"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Class is what a motor, its cells and the load do in each of the classrooms, whatever
// the stages between them are.
type Class struct {
	Target    units.RPM
	tolerance float64                 // of the brief
	demand    units.NewtonMillimetres // steady, on the likely day, a free axle's friction left out
	swing     units.NewtonMillimetres // by which it swings in a turn
	rooms     [Rooms]member           // those first in which things go furthest from the likely
	// Over all rooms: the most that is asked and rubs, as a share of the likely, the least
	// that bands pull, and the most that a spacing is off.
	asksMost, rubsMost, pullsLeast, offMost float64
	charts                                  [len(scales)]atomic.Pointer[chart] // made when they are first looked at
}

// member is one classroom.
type member struct {
	free, slope, stall float64 // the straight line of the motor, in rpm and N·mm
	// What is asked of the output, steadily and by the swing of a turn, and the friction
	// of the axles, but for the pull on them, as a share of the likely.
	steady, swing, friction float64
	pull, grip              float64                  // of the bands, and in the grooves, likewise
	off                     [drive.MaxStages]float64 // mm by which each stage's spacing is too long
	cut                     float64                  // from -1 to 1: how far the velocity ratio is out, of how far it may be
	rub                     float64                  // friction times pull: that of axles on which bands pull
	perPull                 float64                  // 1/pull
}

// Known is what is known of a drive's bands better than usual.
type Known struct {
	Bands bool // every band's pull has been weighed
}

// NewClass puts a motor and its cells before a brief's load into the classrooms. The
// wheel or drum is nil if the model has none. The error is from mechanics.NewMotor.
func NewClass(b *brief.Brief, motor *parts.Motor, holder *parts.CellHolder, wheel *parts.Wheel, drum *parts.Drum, known Known) (*Class, error) {
	demand := func(at drive.Level) drive.Demand { return drive.DemandOf(b, wheel, drum, nil, at) }
	likely, low, high := demand(drive.Likely), demand(drive.Low), demand(drive.High)
	c := &Class{Target: likely.Target, tolerance: b.Tolerance, demand: likely.Steady, swing: likely.Swing}
	pulls := drive.BandPullSpread(&parts.Band{Calibrated: known.Bands})
	for i, r := range rooms() {
		m, supply, err := motorIn(&r, motor, holder)
		if err != nil {
			return nil, err
		}
		o := &c.rooms[i]
		o.free, o.stall = float64(m.FreeSpeed(supply)), float64(m.StallTorque(supply))
		if o.stall > 0 {
			o.slope = o.free / o.stall
		}
		load := between(r.load, drive.LoadSpread())
		at := r.bearing
		if b.Model == brief.Vehicle {
			at = r.rolling
		}
		o.steady, o.swing = load*share(at, low.Steady, likely.Steady, high.Steady), load
		o.friction = between(r.bearing, factors(mechanics.DowelInWood()))
		o.pull, o.grip = between(r.pull, pulls), between(r.grip, factors(mechanics.BandGrip()))
		o.rub, o.perPull = o.friction*o.pull, 1/o.pull
		o.cut = peaked(r.cut, mechanics.Range{Low: -1, High: 1})
		for k, at := range r.spacing {
			o.off[k] = peaked(at, drive.SpacingSpread(b.Limits.HoleError))
		}
	}
	c.sort()
	c.extremes()
	return c, nil
}

// extremes finds what goes furthest over all rooms.
func (c *Class) extremes() {
	c.pullsLeast = c.rooms[0].pull
	for i := range c.rooms {
		o := &c.rooms[i]
		c.asksMost, c.rubsMost = max(c.asksMost, o.steady, o.swing), max(c.rubsMost, o.rub)
		c.pullsLeast = min(c.pullsLeast, o.pull)
		for _, off := range o.off {
			c.offMost = max(c.offMost, math.Abs(off))
		}
	}
}

// sort orders the rooms by how far the motor's free speed is from the middle one's.
func (c *Class) sort() {
	byFree := func(a, b member) int { return cmp.Compare(a.free, b.free) }
	slices.SortStableFunc(c.rooms[:], byFree)
	middle := c.rooms[Rooms/2].free
	slices.SortStableFunc(c.rooms[:], func(a, b member) int {
		return cmp.Compare(math.Abs(b.free/middle-1), math.Abs(a.free/middle-1))
	})
}

// between is the value at a share of the way through a range.
func between(at float64, r mechanics.Range) float64 { return r.Low + at*(r.High-r.Low) }

// peaked is the same for what is most often near its likely value, and the less often the
// further from it: a triangle.
func peaked(at float64, r mechanics.Range) float64 {
	below, above := r.Likely-r.Low, r.High-r.Likely
	whole := below + above
	if at*whole < below {
		return r.Low + math.Sqrt(at*whole*below)
	}
	return r.High - math.Sqrt((1-at)*whole*above)
}

// factors are a range as shares of its likely value.
func factors(r mechanics.Range) mechanics.Range {
	return mechanics.Range{Low: r.Low / r.Likely, Likely: 1, High: r.High / r.Likely}
}

// share is what is asked at a share of the way from the low to the high end, over what
// is asked on the likely day; 1 where nothing is.
func share(at float64, low, likely, high units.NewtonMillimetres) float64 {
	if likely <= 0 {
		return 1
	}
	return between(at, mechanics.Range{Low: float64(low / likely), High: float64(high / likely)})
}
