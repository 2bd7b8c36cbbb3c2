package forecast

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/brief"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Class is what a motor, its cells and the load do in each of the classrooms, whatever
// the stages between them are.
type Class struct {
	Target    units.RPM
	tolerance float64 // of the brief
	// The straight line of the motor in each room, in rpm and N·mm.
	free, slope, stall [Rooms]float64
	// What is asked of the output, as a share of what is asked on the likely day.
	steady, start, swing [Rooms]float64
	// Friction of the axles, and pull of the bands and grip in the grooves, as a share
	// of the likely.
	friction, pull, grip [Rooms]float64
	order                [Rooms]int // the rooms, those first in which things go furthest from the likely
}

// Known is what is known of a drive's bands better than usual.
type Known struct {
	Bands bool // every band's pull has been weighed
}

// NewClass puts a motor and its cells before a brief's load into the classrooms. The
// wheel or drum is nil if the model has none. The error is from mechanics.NewMotor.
func NewClass(b *brief.Brief, motor *parts.Motor, holder *parts.CellHolder, wheel *parts.Wheel, drum *parts.Drum, known Known) (*Class, error) {
	likely := drive.DemandOf(b, wheel, drum, drive.Likely)
	low, high := drive.DemandOf(b, wheel, drum, drive.Low), drive.DemandOf(b, wheel, drum, drive.High)
	c := &Class{Target: likely.Target, tolerance: b.Tolerance}
	pulls := drive.BandUncertainty
	if known.Bands {
		pulls = drive.WeighedBandUncertainty
	}
	for i, r := range rooms() {
		m, supply, err := motorIn(&r, motor, holder)
		if err != nil {
			return nil, err
		}
		c.free[i], c.stall[i] = float64(m.FreeSpeed(supply)), float64(m.StallTorque(supply))
		if c.stall[i] > 0 {
			c.slope[i] = c.free[i] / c.stall[i]
		}
		load := between(r.load, [2]float64{1 - loadSpread, 1 + loadSpread})
		at := r.bearing
		if b.Model == brief.Vehicle {
			at = r.rolling
		}
		c.steady[i] = load * share(at, low.Steady, likely.Steady, high.Steady)
		c.start[i] = load * share(at, low.Start, likely.Start, high.Start)
		c.swing[i] = load
		c.friction[i] = between(r.bearing, bearingSpread)
		c.pull[i] = between(r.pull, [2]float64{1 - pulls, 1 + pulls})
		c.grip[i] = between(r.grip, gripSpread)
	}
	c.sort()
	return c, nil
}

// sort orders the rooms by how far the motor's free speed is from the middle one's.
func (c *Class) sort() {
	for i := range c.order {
		c.order[i] = i
	}
	free := slices.Sorted(slices.Values(c.free[:]))[Rooms/2]
	slices.SortStableFunc(c.order[:], func(a, b int) int {
		return cmp.Compare(math.Abs(c.free[b]/free-1), math.Abs(c.free[a]/free-1))
	})
}

// between is the value at a share of the way through a spread.
func between(at float64, spread [2]float64) float64 { return spread[0] + at*(spread[1]-spread[0]) }

// share is what is asked at a share of the way from the low to the high end, over what
// is asked on the likely day; 1 where nothing is.
func share(at float64, low, likely, high units.NewtonMillimetres) float64 {
	if likely <= 0 {
		return 1
	}
	return between(at, [2]float64{float64(low / likely), float64(high / likely)})
}
