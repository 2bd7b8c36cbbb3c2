package measure

import (
	"errors"
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// What a school force meter shows (judgement: one of 5 N with marks every 0.1 N, read to
// half a mark, its spring good to 3 %), and how steady a pull by hand is just when a band
// slips or an axle turns.
const (
	halfMark   units.Newtons = 0.05
	meterShare               = 0.03
	handShare                = 0.10
	mostForce  units.Newtons = 20
)

// readForce reads "0.6 N", or grams on a meter that shows those.
func readForce(text, words string) (units.Newtons, error) {
	f, err := units.Forces.Parse(words)
	if err != nil {
		g, other := units.Masses.Parse(words)
		if other != nil {
			return 0, fmt.Errorf(`%s is not a pull: write for example "0.6 N" or "60 g"`, units.Quoted(text))
		}
		f = g.Weight()
	}
	switch {
	case !(f >= halfMark):
		return 0, fmt.Errorf("%s: a school force meter cannot show so little", units.Quoted(text))
	case f > mostForce:
		return 0, fmt.Errorf("%s: no band or model of this kind bears such a pull: are these grams?", units.Quoted(text))
	}
	return f, nil
}

// ReadPulled reads a band's test with a force meter, such as "no-16: 1 N to 107 mm":
// the pull on the loop, and the loop's length inside then.
func ReadPulled(text string, bands []parts.Band) (Reading, error) {
	const example = `write for example "no-16: 1 N to 107 mm", the band, the pull and the length of the loop then`
	name, rest, ok := cut(text, ":")
	pull, reached, also := cut(rest, " to ")
	if !ok || !also {
		return Reading{}, fmt.Errorf(`%s is not a band's test: %s`, units.Quoted(text), example)
	}
	r := Reading{Kind: Pulled, Words: text}
	var err error
	if r.Band, err = namedBand(name, bands); err != nil {
		return Reading{}, err
	}
	if r.Force, err = readForce(text, pull); err != nil {
		return Reading{}, err
	}
	r.Mass = units.Grams(1000 * float64(r.Force) / units.StandardGravity)
	if r.Reached, err = units.Lengths.Parse(reached); err != nil {
		return Reading{}, err
	}
	if r.Reached < r.Band.FlatLength {
		return Reading{}, shorterThanFlat(&r)
	}
	if _, err := r.pull(); err != nil {
		return Reading{}, fmt.Errorf("%s: %w", units.Quoted(text), err)
	}
	return r, nil
}

// ReadSlip reads the pull at which a band slips while the motor's pulley is held: on a
// cord round the rim of the output's pulley, on the rim of a wheel, or on the cord of a
// drum.
func ReadSlip(text string) (Reading, error) {
	f, err := readForce(text, text)
	return Reading{Kind: Slip, Words: text, Force: f}, err
}

// ReadDrag reads the pull that keeps the output turning slowly with its band off, at the
// same place; on a vehicle itself, its wheels on the floor.
func ReadDrag(text string) (Reading, error) {
	f, err := readForce(text, text)
	return Reading{Kind: Drag, Words: text, Force: f}, err
}

// ErrNoDrag is that a lift's output has no drag of its own to measure.
var ErrNoDrag = errors.New("a lift is held back by its load, which the file names: weigh that, and measure where the band slips")

// lever is the radius at which the force meter pulls.
func lever(b *built.Build) units.Millimetres {
	switch b.Brief.Model {
	case brief.Vehicle:
		return b.Drive.Wheel.Diameter / 2
	case brief.Lift:
		return (b.Drive.Drum.Diameter + b.Brief.Load.CordDiameter) / 2
	}
	return b.Drive.Stages[len(b.Drive.Stages)-1].Driven.Outside / 2
}

// slipping is the logarithm of the pull at which the first band slips, the motor's pulley
// held and the output turned backwards by hand: the band that gives way first sets it.
// Friction of axles helps to hold. False where a band does not go round.
func slipping(b *built.Build, all []unknown, x []float64) (float64, bool) {
	m, g, _, ok := atWork(b, all, x)
	if !ok {
		return 0, false
	}
	torque := units.NewtonMillimetres(math.Inf(1))
	for k := range m.Count {
		greatest, _ := m.Stages[k].Grip(g.Fits[k])
		t := float64(greatest)*float64(g.Fits[k].DrivenPitch/2) + float64(restFriction(&m, &g, k, b))
		for i := k + 1; i < m.Count; i++ {
			t = t/float64(g.Fits[i].DriverPitch/2)*float64(g.Fits[i].DrivenPitch/2) + float64(restFriction(&m, &g, i, b))
		}
		torque = min(torque, units.NewtonMillimetres(t))
	}
	if b.Brief.Model == brief.UprightRide {
		torque += m.Demand.Steady // its pivot rubs too
	}
	return math.Log(float64(torque) / float64(lever(b))), true
}

// restFriction is the friction of stage i's driven axle under its bands at rest, and under
// the weight on an output that is not lifted off.
func restFriction(m *drive.Model, g *drive.Geometry, i int, b *built.Build) units.NewtonMillimetres {
	pull := func(k int, way float64) (x, y float64) {
		both := way * 2 * float64(g.Fits[k].Pull)
		return both * math.Cos(float64(g.Along[k])), both * math.Sin(float64(g.Along[k]))
	}
	x, y := pull(i, -1)
	if i+1 < m.Count {
		nx, ny := pull(i+1, 1)
		x, y = x+nx, y+ny
	} else if b.Brief.Model == brief.LevelRide || b.Brief.Model == brief.PlainShaft {
		x, y = x+float64(m.Demand.Weight.X), y+float64(m.Demand.Weight.Y)
	}
	y -= float64(m.AxleWeight[i])
	return mechanics.BearingTorque(m.AxleMu[i], units.Newtons(math.Hypot(x, y)), m.AxleRadius[i])
}

// dragging is the logarithm of the pull that keeps the output turning with its band off.
func dragging(b *built.Build, all []unknown, x []float64) (float64, bool) {
	m, _, _, ok := atWork(b, all, x)
	if !ok {
		return 0, false
	}
	last := m.Count - 1
	pressing := m.Demand.Weight.Plus(mechanics.Force{Y: -m.AxleWeight[last]})
	torque := m.Demand.Steady + mechanics.BearingTorque(m.AxleMu[last], pressing.Size(), m.AxleRadius[last])
	if !(torque > 0) {
		return 0, false
	}
	return math.Log(float64(torque) / float64(lever(b))), true
}

// forceDoubt says what may have happened with a pull that cannot be.
func forceDoubt(j *Judged) string {
	times := j.Read / j.Foretold.Likely
	words := fmt.Sprintf("that is %s times what this drive should do, and more than all that is uncertain explains", units.Significant(times, 2))
	maybe := "is the meter at nought when nothing pulls, and was the pull along the rim?"
	switch {
	case near(times, 1000/units.StandardGravity), near(times, 100):
		maybe = "are these grams?"
	case j.Kind == Slip && times > 1:
		maybe = "was the cord on a smaller pulley than the output's, or does the axle jam?"
	case j.Kind == Slip:
		maybe = "did the motor's pulley turn with it, or a pulley turn on its axle before the band slipped?"
	case times > 1:
		maybe = "does something rub, or was a band still on?"
	}
	return words + "; " + maybe
}
