// Package measure learns from what people count and measure on a drive that is
// built: the speed of its motor, the pull of its bands.
//
//	reading.go  what was counted, in the user's words
//	force.go    what a force meter showed
//	belief.go   what is known before: the stated ranges, as a normal law
//	update.go   what is known after; estimate.go how it is worked out
//	file.go     the calibration file, written and read
//	class.go    the counts of a whole class; class_read.go their file
//	count.go    a count as evidence of what is wrong with a model
//	whose.go    whether a figure in words is a count, or of before, another model or the plan
package measure

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/goals"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// Kind is what was measured.
type Kind string

// The kinds of reading.
const (
	Turns  Kind = "turns"  // of the output, in a time
	Travel Kind = "travel" // of a vehicle or a lifted load, in a time
	Hung   Kind = "hung"   // a mass on a band, and how long the loop then is
	Pulled Kind = "pulled" // the same with a force meter
	Slip   Kind = "slip"   // the pull at which a band slips
	Drag   Kind = "drag"   // the pull that keeps the output turning, its band off
)

// Reading is one thing measured.
type Reading struct {
	Kind  Kind
	Words string // as the user wrote it
	Count float64
	Way   units.Millimetres // Travel
	Rest  bool              // Travel: the time is from rest, the start and all
	Time  units.Seconds
	Band  *parts.Band   // Hung, Pulled
	Force units.Newtons // Pulled, Slip, Drag
	// Mass and Reached are as in a cupboard: the length is from the inside of the
	// loop's top to the inside of its bottom.
	Mass    units.Grams
	Reached units.Millimetres
	// Spread, if above 0, is how well it is known, as a standard deviation of the logarithm,
	// in place of how well people count; for the mean of many counts.
	Spread float64
}

// How well people measure, as standard deviations (judgement).
const (
	startAndStop units.Seconds     = 0.3  // a hand on a stop-watch
	partTurn                       = 0.25 // of a turn, at the ends of a count in parts of a turn
	wholeTurn                      = 0.55 // of a turn, in a count of whole turns; see counting
	wayShare                       = 0.01 // of a distance laid out with a tape
	massShare                      = 0.02
	startShare                     = 0.2 // of what getting away costs
	ruler        units.Millimetres = 1
	bagShare                       = 0.03 // by which bands of one bag differ in pull
)

// ReadTurns reads a count such as "34 turns in 30 s". The error is a plain sentence.
func ReadTurns(text string) (Reading, error) {
	count, time, ok := cut(text, " in ")
	n, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(count, "turns"), "turn")), 64)
	if !ok || err != nil {
		return Reading{}, units.Unclear("%s is not a count: write for example %q", text, "34 turns in 30 s")
	}
	t, err := readTime(text, time)
	switch {
	case err != nil:
		return Reading{}, err
	case n == 0:
		return Reading{}, fmt.Errorf("%s: %w", units.Quoted(text), ErrStands)
	case !(n >= leastTurns):
		return Reading{}, fmt.Errorf("%s: fewer than %d turns tell little: count for longer", units.Quoted(text), leastTurns)
	case !(n <= 100_000):
		return Reading{}, fmt.Errorf("%s: nobody counts that many", units.Quoted(text))
	}
	return Reading{Kind: Turns, Words: text, Count: n, Time: t}, nil
}

const leastTurns = 2

// ErrStands is that a model was counted standing: of its speed that says nothing, and much of what
// is wrong with it.
var ErrStands = errors.New("so it stands, which says nothing of its motor or bands: say what it does, such as \"hums and will not start\"")

// Stands is what a model that was counted standing does, in words.
const Stands = "it does not turn"

// fromRest is said behind a run that began at rest; without it the model was running when
// the watch was started.
const fromRest = " from rest"

// ReadTravel reads a run such as "3 m in 12 s", or "3 m in 12 s from rest".
func ReadTravel(text string) (Reading, error) {
	said, rest := strings.CutSuffix(strings.TrimSpace(text), fromRest)
	way, time, ok := cut(said, " in ")
	l, err := units.Lengths.Parse(way)
	if !ok || err != nil {
		return Reading{}, units.Unclear("%s is not a run: write for example %q", text, "3 m in 12 s")
	}
	t, err := readTime(text, time)
	if err != nil {
		return Reading{}, err
	}
	if l == 0 {
		return Reading{}, fmt.Errorf("%s: %w", units.Quoted(text), ErrStands)
	}
	if l < 50 {
		return Reading{}, fmt.Errorf("%s: so short a way tells little: measure a longer run", units.Quoted(text))
	}
	return Reading{Kind: Travel, Words: text, Way: l, Time: t, Rest: rest}, nil
}

func readTime(text, time string) (units.Seconds, error) {
	t, err := units.Times.Parse(time)
	switch {
	case err != nil:
		return 0, units.Unclear("the time in %s is not clear: write for example %q", text, "30 s")
	case t < 2:
		return 0, fmt.Errorf("%s: nobody can time less than 2 s by hand: measure for longer", units.Quoted(text))
	case t > 7200:
		return 0, fmt.Errorf("%s: the time is over two hours", units.Quoted(text))
	}
	return t, nil
}

// ReadHung reads a band's test such as "no-16: 100 g to 107 mm". The band is one of
// the cupboard's.
func ReadHung(text string, bands []parts.Band) (Reading, error) {
	name, rest, ok := cut(text, ":")
	mass, reached, also := cut(rest, " to ")
	if !ok || !also {
		return Reading{}, fmt.Errorf(`%s is not a band's test: write for example "no-16: 100 g to 107 mm", the band, the mass and the length of the loop then`, units.Quoted(text))
	}
	r := Reading{Kind: Hung, Words: text}
	var err error
	if r.Band, err = namedBand(name, bands); err != nil {
		return Reading{}, err
	}
	if r.Mass, err = units.Masses.Parse(mass); err != nil {
		return Reading{}, err
	}
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

// shorterThanFlat is that a band under load was shorter than it is without, which no mass
// mends.
func shorterThanFlat(r *Reading) error {
	return fmt.Errorf("%s: the band lies flat at %s and cannot hang shorter: measure again, from the inside of the loop's top to the inside of its bottom", units.Quoted(r.Words), units.Lengths.Format(r.Band.FlatLength))
}

func namedBand(name string, bands []parts.Band) (*parts.Band, error) {
	name = strings.TrimSpace(name)
	i := slices.IndexFunc(bands, func(b parts.Band) bool { return b.Name == name })
	if i >= 0 {
		return &bands[i], nil
	}
	var names []string
	for k := range bands {
		names = append(names, bands[k].Name)
	}
	hint := ""
	if near := tomlfile.Nearest(name, names); near != "" {
		hint = fmt.Sprintf(", did you mean %q?", near)
	}
	return nil, fmt.Errorf("there is no band %s in the cupboard%s", units.Quoted(name), hint)
}

// pull is the pull factor that a hung mass means.
func (r *Reading) pull() (float64, error) {
	l := mechanics.Loop{Rest: 2 * r.Band.FlatLength, Width: r.Band.Width, Thickness: r.Band.Thickness, Strands: 1, PullFactor: 1, Rubber: mechanics.DefaultRubber()}
	return mechanics.PullFactorFromHungMass(l, r.Mass, r.Reached)
}

// value is the natural logarithm of what was read: turns a minute of the output, a pull
// factor, or a pull in newtons; and its standard deviation.
func (r *Reading) value(b *built.Build) (value, sigma float64, err error) {
	switch r.Kind {
	case Turns:
		if r.Spread > 0 {
			return math.Log(60 * r.Count / float64(r.Time)), r.Spread, nil
		}
		return math.Log(60 * r.Count / float64(r.Time)), math.Hypot(counting(r.Count)/r.Count, float64(startAndStop/r.Time)), nil
	case Travel:
		radius, err := rolling(b)
		if err != nil {
			return 0, 0, err
		}
		time, unsure := r.Time, startAndStop
		if r.Rest {
			if b.Brief.Model != brief.Vehicle {
				return 0, 0, ErrNoStart
			}
			start := goals.StartCosts(b.Drive, b.Brief, r.Way)
			if !(start < time) {
				return 0, 0, ErrAllStart
			}
			time, unsure = time-start, units.Seconds(math.Hypot(float64(startAndStop), startShare*float64(start)))
		}
		n := units.RPMForRim(units.MetresPerSecond(float64(r.Way)/1000/float64(time)), radius)
		return math.Log(float64(n)), math.Hypot(wayShare, float64(unsure/time)), nil
	}
	meter := math.Hypot(float64(halfMark/r.Force), meterShare)
	if r.Kind == Slip || r.Kind == Drag {
		if r.Kind == Drag && b.Brief.Model == brief.Lift {
			return 0, 0, ErrNoDrag
		}
		return math.Log(float64(r.Force)), math.Hypot(meter, handShare), nil
	}
	weighing := massShare
	if r.Kind == Pulled {
		weighing = meter
	}
	f, err := r.pull()
	if err != nil {
		return 0, 0, err
	}
	further := *r
	further.Reached += ruler
	g, err := further.pull()
	if err != nil {
		g = f
	}
	return math.Log(f), math.Sqrt(weighing*weighing + bagShare*bagShare + math.Pow(math.Log(g/f), 2)), nil
}

// counting is how well turns are counted, in turns. Whoever writes whole turns is off by
// up to half of one, evenly, a standard deviation of 1/sqrt(12); and children are a whole turn
// out in a tenth to a fifth of their counts, which adds at most sqrt(0.2): together a little
// over a half (judgement; held by TestWorkshops).
func counting(turns float64) float64 {
	if turns == math.Trunc(turns) {
		return wholeTurn
	}
	return partTurn
}

// ErrNoStart is that only a vehicle's start is worked out, and ErrAllStart that the whole
// time would go with the start.
var (
	ErrNoStart  = errors.New("only a vehicle's start is worked out: time it once it runs, and leave out \"from rest\"")
	ErrAllStart = errors.New("worked out, getting away alone takes longer: time it once it runs, and leave out \"from rest\"")
)

// ErrNoTravel is that a model does not travel.
var ErrNoTravel = errors.New("only a vehicle or a lift travels: count turns instead")

// rolling is the radius at which one turn of the output becomes travel.
func rolling(b *built.Build) (units.Millimetres, error) {
	switch b.Brief.Model {
	case brief.Vehicle:
		return b.Drive.Wheel.Diameter / 2, nil
	case brief.Lift:
		return (b.Drive.Drum.Diameter + b.Brief.Load.CordDiameter) / 2 / units.Millimetres(b.Brief.Load.TackleParts), nil
	}
	return 0, ErrNoTravel
}

// Scale is in what a speed of the output is told: in turns a minute, or, as travel, in
// metres a second for a vehicle and millimetres a second for a lift; and how many of those
// one turn a minute is.
func Scale(b *built.Build, travel bool) (unit string, perRPM float64) {
	radius, err := rolling(b)
	if !travel || err != nil {
		return turnsAMinute, 1
	}
	mm := 2 * math.Pi * float64(radius) / 60
	if b.Brief.Model == brief.Lift {
		return "mm a second", mm
	}
	return "m a second", mm / 1000
}

const turnsAMinute = "turns a minute"

func cut(text, sep string) (before, after string, ok bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return "", "", false
	}
	return text[:i], text[i+len(sep):], true
}
