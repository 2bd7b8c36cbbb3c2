package measure

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/remembered"
	"findrive/internal/units"
)

// ifLonger is the share to which the motor would be known, had everything been counted four
// times as long. The estimate is of no more use afterwards.
func (e *estimate) ifLonger() float64 {
	const times = 4
	for i := range e.seen {
		if e.seen[i].of == ofSpeed {
			e.seen[i].sigma /= times
		}
	}
	e.settle()
	return perRange * math.Sqrt(e.p[0][0])
}

// What an observation can be of, besides an unknown itself, which has its number.
const (
	ofSpeed = -1
	ofSlip  = -2
	ofDrag  = -3
)

// seen is one reading as an observation: of the output's speed, of a pull, or, with of 0
// or above, of that unknown itself.
type seen struct {
	value, sigma float64
	of           int
	offset       float64 // of what the cupboard says of it, in the logarithm
	used         bool
}

// estimate is what is known: the likeliest point and the covariance about it.
type estimate struct {
	b    *built.Build
	all  []unknown
	seen []seen
	// before is what is remembered of this very drive; nil if it was not counted before.
	before *seen
	x      []float64
	p      [][]float64
}

func newEstimate(b *built.Build, readings []Reading) (*estimate, error) {
	var bands []string
	add := func(name string) {
		if !slices.Contains(bands, name) {
			bands = append(bands, name)
		}
	}
	for i := range b.Drive.Stages {
		add(b.Drive.Stages[i].Band.Name)
	}
	for i := range readings {
		if readings[i].Band != nil {
			add(readings[i].Band.Name)
		}
	}
	e := &estimate{b: b, all: unknowns(b, bands)}
	e.forget()
	if c := remembered.Find(b.Cupboard, b.Drive, b.Brief); c != nil && c.Slowest < c.Fastest {
		e.before = &seen{value: math.Log(float64(c.Likely)), sigma: math.Hypot(math.Log(float64(c.Fastest/c.Slowest))/2/perRange, otherDay), of: ofSpeed, used: true}
	}
	for i := range readings {
		value, sigma, err := readings[i].value(b)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", units.Quoted(readings[i].Words), err)
		}
		o := seen{value: value, sigma: sigma, of: map[Kind]int{Turns: ofSpeed, Travel: ofSpeed, Slip: ofSlip, Drag: ofDrag}[readings[i].Kind]}
		if band := readings[i].Band; band != nil {
			o.of = slices.IndexFunc(e.all, func(u unknown) bool { return u.name == "band "+band.Name })
			o.offset = math.Log(band.PullFactor)
		}
		e.seen = append(e.seen, o)
	}
	return e, nil
}

// otherDay is by how much a model that was counted differs on another day, as a standard
// deviation of the logarithm: its cells have been used, its bands have set (judgement).
const otherDay = 0.02

// forget goes back to what was known before any reading.
func (e *estimate) forget() {
	e.x = make([]float64, len(e.all))
	e.p = make([][]float64, len(e.all))
	for i := range e.p {
		e.p[i] = make([]float64, len(e.all))
		e.p[i][i] = e.all[i].sigma * e.all[i].sigma
	}
}

// foretell is what an observation should be at the likeliest point, and how it
// changes with each unknown there.
func (e *estimate) foretell(o *seen) (at float64, slope []float64, ok bool) {
	slope = make([]float64, len(e.all))
	if o.of >= 0 {
		slope[o.of] = 1
		return o.offset + e.x[o.of], slope, true
	}
	quantity := map[int]func(*built.Build, []unknown, []float64) (float64, bool){ofSpeed: speed, ofSlip: slipping, ofDrag: dragging}[o.of]
	at, ok = quantity(e.b, e.all, e.x)
	if !ok {
		return 0, nil, false
	}
	const step = 1e-3
	for i := range slope {
		x := slices.Clone(e.x)
		x[i] += step
		up, okUp := quantity(e.b, e.all, x)
		x[i] -= 2 * step
		down, okDown := quantity(e.b, e.all, x)
		switch {
		case okUp && okDown:
			slope[i] = (up - down) / (2 * step)
		case okUp: // at the edge of slip or stall: one side will do
			slope[i] = (up - at) / step
		case okDown:
			slope[i] = (at - down) / step
		}
	}
	return at, slope, true
}

// variance is that of something with the given slopes.
func (e *estimate) variance(slope []float64) float64 {
	v := 0.0
	for i := range slope {
		for j := range slope {
			v += slope[i] * e.p[i][j] * slope[j]
		}
	}
	return max(0, v)
}

// rounds are enough: each takes off a large factor of what is left.
const rounds = 8

// rubbing is what is known now of what a force meter on the drive bears on.
func (e *estimate) rubbing() []Learned {
	last := e.b.Drive.Axles[len(e.b.Drive.Axles)-1]
	likely := map[string]float64{"grip": mechanics.BandGrip().Likely, "bearings": drive.BearingFriction(last.Material).Likely, "load friction": 1}
	var out []Learned
	for i, u := range e.all {
		if v, ok := likely[u.name]; ok {
			out = append(out, Learned{u.name, Value{v, perRange * u.sigma}, Value{v * math.Exp(e.x[i]), perRange * math.Sqrt(e.p[i][i])}})
		}
	}
	return out
}

// settle finds the likeliest point and the covariance by the readings that are used.
func (e *estimate) settle() {
	for range rounds {
		point := slices.Clone(e.x)
		type line struct {
			at    float64
			slope []float64
			o     *seen
		}
		var lines []line
		all := make([]*seen, 0, len(e.seen)+1)
		if e.before != nil {
			all = append(all, e.before)
		}
		for i := range e.seen {
			all = append(all, &e.seen[i])
		}
		for _, o := range all {
			if o.used {
				if at, slope, ok := e.foretell(o); ok {
					lines = append(lines, line{at, slope, o})
				}
			}
		}
		e.forget()
		for _, l := range lines {
			// What the straight line through the point foretells where we are now.
			at := l.at
			for i := range point {
				at += l.slope[i] * (e.x[i] - point[i])
			}
			e.see(l.slope, l.o.value-at, l.o.sigma)
		}
		moved := 0.0
		for i := range point {
			moved = max(moved, math.Abs(e.x[i]-point[i]))
		}
		if moved < 1e-9 {
			return
		}
	}
}

// see takes in one observation that is off by so much: Kalman's update for a single
// figure.
func (e *estimate) see(slope []float64, off, sigma float64) {
	n := len(e.x)
	ph := make([]float64, n)
	for i := range n {
		for j := range n {
			ph[i] += e.p[i][j] * slope[j]
		}
	}
	total := e.variance(slope) + sigma*sigma
	for i := range n {
		e.x[i] += ph[i] * off / total
		for j := range n {
			e.p[i][j] -= ph[i] * ph[j] / total
		}
	}
}

// output is the output's speed as it is known now.
func (e *estimate) output() Value {
	at, slope, ok := e.foretell(&seen{of: ofSpeed})
	if !ok {
		return Value{}
	}
	return Value{math.Exp(at), perRange * math.Sqrt(e.variance(slope))}
}

// motorInDrive is the speed of the motor itself in this drive.
func (e *estimate) motorInDrive() units.RPM {
	m, _, flow, ok := atWork(e.b, e.all, e.x)
	if !ok || flow.Slips >= 0 {
		return 0
	}
	return max(0, m.Motor.SpeedAt(m.Supply, flow.MotorTorque))
}
