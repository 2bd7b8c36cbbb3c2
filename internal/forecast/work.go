package forecast

import (
	"math"
	"slices"

	"findrive/internal/drive"
	"findrive/internal/units"
)

// Work is what a drive does on the likely day, as far as the classrooms care.
type Work struct {
	Ratio    float64                 // turns of the motor for one of the output, creep left out; above 0
	Demand   units.NewtonMillimetres // steady, at the output
	Swing    units.NewtonMillimetres // by which the torque of the output swings in a turn
	Friction units.NewtonMillimetres // of all axles, as the motor feels it
	Creep    float64                 // ln of the share of speed that the bands leave, 0 or less
	Heavy    float64                 // the same at the heaviest moment of a turn
	Cut      float64                 // by what share Ratio may be out, as discs are cut by hand: 0 without them
	Count    int                     // stages
	Grips    [drive.MaxStages]Grip   // of each
}

// Grip is how well a band holds.
type Grip struct {
	Margin   float64 // the greatest pull that it carries over what starting asks
	Growth   float64 // share of the band's pull for each mm that the spacing is longer
	Exponent float64 // m theta: at slip the tight run pulls e to this times as much as the slack one
}

// WorkOf sums up a drive worked out on the likely day, running and starting. What a
// vehicle's free axle asks is friction.
func (c *Class) WorkOf(m *drive.Model, g *drive.Geometry, running, starting *drive.Flow) Work {
	w := Work{Ratio: 1, Demand: c.demand, Swing: m.Demand.Swing, Cut: m.RatioUncertainty, Count: m.Count}
	for i := range m.Count {
		w.Ratio *= g.Fits[i].Ratio
		w.Creep += math.Log(running.Stages[i].Loaded.SpeedFactor)
		w.Heavy += math.Log(starting.Stages[i].Loaded.SpeedFactor)
		greatest, _ := m.Stages[i].Grip(g.Fits[i])
		driver, driven := m.Stages[i].FrictionExponents(g.Fits[i])
		w.Grips[i] = Grip{Margin: float64(greatest / starting.Stages[i].Effective), Growth: m.Stages[i].PullGrowth(g.Fits[i]), Exponent: min(driver, driven)}
	}
	w.Friction = max(0, running.MotorTorque-w.Demand/units.NewtonMillimetres(w.Ratio))
	return w
}

// Forecast is a drive in the classrooms.
type Forecast struct {
	Low, High units.RPM // nine rooms of ten are between them; 0 where the drive stands
	Works     int       // in how many of the rooms it turns as asked
	Stands    int       // in how many it does not turn at all, or its band slips
}

// beyond is how many rooms lie beyond either end of the stated range.
const beyond = Rooms / 20

// Of puts a drive into the classrooms. What it does in a room follows from the likely
// day to first order: friction goes with the coefficient of friction and the pull of the
// bands, creep with the torque over the pull.
func (c *Class) Of(w *Work) Forecast {
	var speeds [Rooms]float64
	f := Forecast{}
	for i := range speeds {
		speeds[i] = c.rooms[i].speed(w)
		switch {
		case speeds[i] <= 0:
			f.Stands++
		case c.asWanted(speeds[i]):
			f.Works++
		}
	}
	slices.Sort(speeds[:])
	f.Low, f.High = units.RPM(speeds[beyond]), units.RPM(speeds[Rooms-1-beyond])
	return f
}

// Speeds are those of a drive in each of the classrooms, 0 where it stands, in the order of
// Each.
func (c *Class) Speeds(w *Work) [Rooms]units.RPM {
	var out [Rooms]units.RPM
	for i := range out {
		out[i] = units.RPM(max(0, c.rooms[i].speed(w)))
	}
	return out
}

// asWanted tells whether a speed is within the brief's tolerance.
func (c *Class) asWanted(rpm float64) bool {
	return math.Abs(rpm/float64(c.Target)-1) <= c.tolerance+toleranceNoise
}

// toleranceNoise keeps a speed that is just on the edge, to the last bit, within it.
const toleranceNoise = 1e-9

// speed is the output speed in a room; 0 if the motor stalls, does not start, or a band
// slips.
func (o *member) speed(w *Work) float64 {
	load, swing := float64(w.Demand)/w.Ratio, float64(w.Swing)/w.Ratio
	likely := load + float64(w.Friction)
	out := 1 + w.Cut*o.cut // times the ratio
	torque := load*o.steady/out + float64(w.Friction)*o.rub
	start := torque + swing*o.swing/out
	if start >= o.stall || o.slips(w, start/(likely+swing)) {
		return 0
	}
	mean := (o.free - o.slope*torque) * math.Exp(w.Creep*torque/(likely*o.pull)) / (w.Ratio * out)
	if w.Swing > 0 {
		return overTurn(mean, (o.free-o.slope*start)*math.Exp(w.Heavy*start/((likely+swing)*o.pull))/(w.Ratio*out))
	}
	return mean
}

// overTurn is the mean speed over a turn in which the torque swings like a sine, and so
// nearly does the speed, from the speed at the mean torque down to that at the heaviest
// moment and up as far: a turn takes as long as at the geometric mean of the fastest and
// the slowest.
func overTurn(mean, heavy float64) float64 { return math.Sqrt(overTurnSquared(mean, heavy)) }

// overTurnSquared is its square, with which it is as well compared.
func overTurnSquared(mean, heavy float64) float64 {
	heavy = smaller(heavy, mean)
	return larger(0, heavy*(2*mean-heavy))
}

// slips tells whether a band slips in a room where starting asks so many times as much
// of it as on the likely day. The greatest pull that a band carries goes with its own
// pull and with tanh(m theta/2), to first order in the change of its runs.
func (o *member) slips(w *Work, asked float64) bool {
	for k := range w.Count {
		g := &w.Grips[k]
		if held := g.Margin * o.pull * o.slack(k, g.Growth); held < sureToGrip*asked && held*math.Tanh(g.Exponent*o.grip/2) < asked*math.Tanh(g.Exponent/2) {
			return true
		}
	}
	return false
}

// slack is what share of its pull a stage's band has with the holes of a room, if that
// grows by so much for each mm: none where they are so near that it hangs loose.
func (o *member) slack(stage int, growth float64) float64 { return larger(0, 1+growth*o.off[stage]) }

// sureToGrip is the margin from which a band holds in every room: the least
// coefficient of friction is 0.6 of the likely, and tanh falls by less than its
// argument.
const sureToGrip = 1.7
