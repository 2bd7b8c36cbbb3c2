// Package classroom builds a drive many times over, by many hands from parts that are
// not quite alike, and says how fast each of the models turns. It is what a forecast is
// held to, and so it shares nothing with the packages that make one but what a part and
// a brief are: the mechanics is written here once more, in another way. Tests use it,
// and no command does.
//
//	classroom.go  a drive, and what differs from model to model
//	model.go      forces and speeds of one model
//	band.go       a band on its two pulleys
package classroom

import (
	"math"
	"math/rand/v2"

	"findrive/internal/brief"
	"findrive/internal/parts"
)

// Drive is a drive as it is to be built, its holes known.
type Drive struct {
	Brief  *brief.Brief
	Motor  *parts.Motor
	Holder *parts.CellHolder
	Stages []Stage            // motor first
	Axles  []*parts.AxleStock // Axles[i] carries Stages[i].Driven and the next driver
	Wheel  *parts.Wheel       // of a vehicle
	Drum   *parts.Drum        // of a lift
	Places []Place            // of the motor's shaft, then of the axles
	// Turns is the way the motor turns, seen from the front: +1 anticlockwise, -1 clockwise.
	Turns int
	// Binds is a torque in mN·m that an axle takes besides its friction, as of Axles: it is
	// bent or tight in its holes. None if it is empty.
	Binds []float64
}

// Stage is two pulleys and a band.
type Stage struct {
	Driver, Driven *parts.Pulley
	Band           *parts.Band
	Use            string // "single", "looped twice" or "two side by side"
	Crossed        bool
}

// Place is the centre of a hole, in mm to the right and up.
type Place struct{ X, Y float64 }

// Speeds builds the drive n times and gives the speed of the output of each in turns a
// minute, over a turn where it changes within one: 0 if the model does not start, stalls,
// or a band slips or hangs loose. The same seed gives the same models.
func Speeds(d Drive, n int, seed uint64) []float64 {
	r := rand.New(rand.NewPCG(seed, 0x636c617373))
	out := make([]float64, n)
	for i := range out {
		m := build(&d, draw(r, &d))
		out[i] = m.speed()
	}
	return out
}

// Share is the share of models that turn within a tolerance of a wanted speed.
func Share(speeds []float64, wanted, tolerance float64) float64 {
	works := 0
	for _, n := range speeds {
		if math.Abs(n/wanted-1) <= tolerance {
			works++
		}
	}
	return float64(works) / float64(len(speeds))
}

// chance is what differs from model to model. All but volts, coefficients and places are
// factors.
type chance struct {
	volts, ohms              float64 // of a cell: volts without load
	free, stall, idle        float64 // of the motor: speed, torque and current
	pull                     map[*parts.Band]float64
	groove                   float64 // coefficients of friction
	wood, metal, motor, roll float64
	load                     float64
	places                   []Place
	// Discs are cut a little too large or too small: by how much, in mm, of the driver and
	// the driven pulley of each stage.
	cut [][2]float64
}

// exactly is the drive as planned, everything likely.
func exactly(d *Drive) chance {
	c := chance{volts: middle(cell(d.Holder)), ohms: 1, free: 1, stall: 1, idle: 1, pull: map[*parts.Band]float64{},
		groove: 0.5, wood: 0.35, metal: 0.25, motor: 0.15, roll: 0.02, load: 1, places: d.Places}
	if d.Brief.Load.Surface == "carpet" {
		c.roll = 0.05
	}
	for i := range d.Stages {
		c.pull[d.Stages[i].Band] = 1
	}
	c.cut = make([][2]float64, len(d.Stages))
	return c
}

// between is a span, evenly likely throughout unless a likely value is asked for.
type between struct{ low, likely, high float64 }

func middle(b between) float64 { return b.likely }

func even(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// peaked is most often near the likely value: a triangle.
func (b between) peaked(r *rand.Rand) float64 {
	u, k := r.Float64(), (b.likely-b.low)/(b.high-b.low)
	if u < k {
		return b.low + math.Sqrt(u*(b.high-b.low)*(b.likely-b.low))
	}
	return b.high - math.Sqrt((1-u)*(b.high-b.low)*(b.high-b.likely))
}

// cell is the open voltage of a cell: in a tin 1.3 to 1.6 V, most often 1.45 V; fresh ones
// and used ones are known better, and measured ones best.
func cell(h *parts.CellHolder) between {
	switch stated := float64(h.OpenVoltage); {
	case h.Measured:
		return between{stated * 0.98, stated, stated * 1.02}
	case h.Condition == parts.Fresh:
		return between{1.5, 1.55, 1.6}
	case h.Condition == parts.Used:
		return between{1.2, 1.35, 1.45}
	}
	return between{1.3, 1.45, 1.6}
}

// missed is how far a hole may be from where it should be, in mm.
const missed = 2

// magnet is the rank correlation of a motor's free speed and its stall torque.
const magnet = -0.5

// draw draws one model.
func draw(r *rand.Rand, d *Drive) chance {
	c := chance{pull: map[*parts.Band]float64{}}
	c.volts = cell(d.Holder).peaked(r)
	c.ohms = even(r, 0.5, 1.5)
	// Two normal values of correlation 2 sin(pi/6 x rank correlation) (Pearson 1907), as
	// shares of those below them.
	rho := 2 * math.Sin(math.Pi/6*magnet)
	a, b := r.NormFloat64(), r.NormFloat64()
	below := func(z float64) float64 { return (1 + math.Erf(z/math.Sqrt2)) / 2 }
	fast := 0.2
	switch {
	case d.Motor.Calibrated:
		fast = 0.05
	case d.Motor.SpeedKnown > 0:
		fast = d.Motor.SpeedKnown
	}
	c.free = 1 + fast*(2*below(a)-1)
	c.stall = 1 + 0.2*(2*below(rho*a+math.Sqrt(1-rho*rho)*b)-1)
	c.idle = even(r, 0.75, 1.25)
	c.groove = even(r, 0.3, 0.8)
	c.wood, c.metal, c.motor = even(r, 0.25, 0.5), even(r, 0.15, 0.35), even(r, 0.10, 0.25)
	c.roll = even(r, 0.01, 0.03)
	if d.Brief.Load.Surface == "carpet" {
		c.roll = even(r, 0.03, 0.10)
	}
	c.load = even(r, 0.9, 1.1)
	// Bands of one kind come from one bag, and are alike.
	for i := range d.Stages {
		band := d.Stages[i].Band
		if _, drawn := c.pull[band]; drawn {
			continue
		}
		spread := 0.3
		if band.Calibrated {
			spread = 0.1
		}
		c.pull[band] = even(r, 1-spread, 1+spread)
	}
	for _, p := range d.Places {
		away, way := missed*math.Sqrt(r.Float64()), even(r, 0, 2*math.Pi)
		sin, cos := math.Sincos(way)
		c.places = append(c.places, Place{p.X + away*cos, p.Y + away*sin})
	}
	for i := range d.Stages {
		var out [2]float64
		for k, p := range []*parts.Pulley{d.Stages[i].Driver, d.Stages[i].Driven} {
			if p.Made != nil {
				out[k] = even(r, -1, 1) * float64(p.Made.Error)
			}
		}
		c.cut = append(c.cut, out)
	}
	return c
}

// Likely is the speed of the drive as it is planned, everything at its likely value and
// every hole where it should be.
func Likely(d Drive) float64 {
	m := build(&d, exactly(&d))
	return m.speed()
}
