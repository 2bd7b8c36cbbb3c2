package measure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/built"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// Value is something known to within a range.
type Value struct {
	Likely float64
	// Share is half the range, as a share: two standard deviations.
	Share float64
}

// Low and High are the ends of the range.
func (v Value) Low() float64 { return v.Likely * math.Exp(-v.Share) }

// High is the upper end of the range.
func (v Value) High() float64 { return v.Likely * math.Exp(v.Share) }

// Learned is a value before and after the readings.
type Learned struct {
	Name          string
	Before, After Value
}

// Judged is a reading and what was made of it.
type Judged struct {
	Reading
	Read     float64 // turns a minute of the output, a pull factor, or newtons
	Foretold Value   // of the same, before any reading
	// Question is what is odd about it, in plain words; a reading that is
	// questioned is not learned from.
	Question string
}

// Result is what the readings teach.
type Result struct {
	Build    *built.Build
	Readings []Judged
	Motor    Learned   // free speed at the rated voltage, rpm
	Counted  bool      // whether any reading used says something about the motor
	Longer   bool      // whether counting four times as long would make the motor's range that of a good count
	ofClass  bool      // the readings are of a class, not of one model
	Bands    []Learned // pull factors of the bands that were hung or pulled
	// Rubbing is what a force meter on the drive says of grip, axle friction and the
	// load's friction: coefficients, or a factor for the load. It is for this drive
	// only: no calibration file has it.
	Rubbing []Learned
	Output  Learned   // turns a minute of the output; zero if the drive does not turn
	InDrive units.RPM // of the motor in this drive, likely, after; 0 if it does not turn
}

// Questioned is how many readings were not learned from.
func (r *Result) Questioned() int {
	n := 0
	for i := range r.Readings {
		if r.Readings[i].Question != "" {
			n++
		}
	}
	return n
}

// odd is how many standard deviations off a reading is questioned. One in about 400
// honest ones is.
const odd = 3

// Learn updates what is known of motor and bands by the readings: Bayes' rule with
// normal laws in the logarithms, the drive's speed taken as a straight line about the
// likeliest point and that point looked for again until it stays (the iterated
// extended Kalman filter's update, or Gauss and Newton's method with the prior as
// further observations; Bell and Cathey, IEEE Trans. Automatic Control 38, 1993).
// The error is ErrNoTravel, with the reading's words before it.
func Learn(b *built.Build, readings []Reading) (*Result, error) {
	res := &Result{Build: b}
	e, err := newEstimate(b, readings)
	if err != nil {
		return nil, err
	}
	e.settle() // on what is remembered of this very drive, if it was counted before
	prior := e.output()
	motorBefore := Value{float64(b.Drive.Motor.FreeSpeed) * math.Exp(e.x[0]), perRange * math.Sqrt(e.p[0][0])}
	_, turns := speed(b, e.all, e.x)
	for i := range readings {
		o := &e.seen[i]
		at, slope, ok := e.foretell(o)
		j := Judged{Reading: readings[i], Read: math.Exp(o.value)}
		if !ok {
			j.Question = "worked out, this drive does not turn at all: look it over with findrive try, and describe it as it is"
		} else {
			spread := math.Sqrt(e.variance(slope))
			j.Foretold = Value{math.Exp(at), perRange * spread}
			if off := o.value - at; math.Abs(off) > odd*math.Hypot(spread, o.sigma) {
				j.Question = doubt(b, &j)
			}
		}
		o.used = j.Question == ""
		res.Readings = append(res.Readings, j)
	}
	e.settle()
	e.disagree(res)
	motor := b.Drive.Motor
	res.Motor = Learned{"motor " + motor.Name, motorBefore, Value{float64(motor.FreeSpeed) * math.Exp(e.x[0]), perRange * math.Sqrt(e.p[0][0])}}
	for i := range e.seen {
		o := &e.seen[i]
		if !o.used {
			continue
		}
		switch {
		case o.of == ofSpeed:
			res.Counted = true
			continue
		case o.of < 0:
			res.Rubbing = e.rubbing()
			continue
		}
		name := readings[i].Band.Name
		if slices.ContainsFunc(res.Bands, func(l Learned) bool { return l.Name == name }) {
			continue
		}
		res.Bands = append(res.Bands, Learned{name, Value{readings[i].Band.PullFactor, perRange * e.all[o.of].sigma},
			Value{readings[i].Band.PullFactor * math.Exp(e.x[o.of]), perRange * math.Sqrt(e.p[o.of][o.of])}})
	}
	if turns {
		res.Output = Learned{"output", prior, e.output()}
		res.InDrive = e.motorInDrive()
	}
	res.Longer = res.Counted && !res.Narrow() && e.ifLonger() <= drive.CountedUncertainty+rounding
	return res, nil
}

// disagree questions readings that the others speak against: what is left over is
// more than measuring explains.
func (e *estimate) disagree(res *Result) {
	for i := range e.seen {
		o := &e.seen[i]
		at, _, ok := e.foretell(o)
		if o.used && ok && math.Abs(o.value-at) > odd*o.sigma {
			res.Readings[i].Question = "the readings do not agree with each other by more than measuring explains: measure this one again"
			o.used = false
		}
	}
	if res.Questioned() > 0 {
		e.x = make([]float64, len(e.all))
		e.settle()
	}
}

// doubt says what is odd about a reading, and what may have happened.
func doubt(b *built.Build, j *Judged) string {
	times := j.Read / j.Foretold.Likely
	words := fmt.Sprintf("that is %s times what this drive should do, and more than all that is uncertain explains", units.Significant(times, 2))
	switch j.Kind {
	case Slip, Drag:
		return forceDoubt(j)
	case Hung, Pulled:
		return fmt.Sprintf("a band that pulls %s times as hard as was thought: measure the mass, the length and the band's own sizes again", units.Significant(times, 2))
	}
	var maybe []string
	if w, err := built.Work(b); err == nil && w.Stops == built.Turns && j.Kind == Turns {
		n := float64(w.Motor.Speed)
		if near(j.Read, n) {
			maybe = append(maybe, "it is about what the motor's shaft turns at: was that counted?")
		}
		for i := range len(w.Stages) - 1 {
			n *= (1 - w.Stages[i].Creep) / w.Stages[i].Fitted.Ratio
			if near(j.Read, n) {
				maybe = append(maybe, fmt.Sprintf("it is about what the axle of stage %d turns at: was that one counted?", i+1))
			}
		}
	}
	for _, k := range []struct {
		of    Kind // empty of both
		times float64
		says  string
	}{{Turns, 2, "was every half turn counted?"}, {Turns, 0.5, "was every other turn missed?"}, {Travel, 100, "is the way in centimetres?"}, {"", 60, "is the time in minutes?"}, {"", 1.0 / 60, "is the time in seconds?"}} {
		if (k.of == "" || k.of == j.Kind) && near(times, k.times) {
			maybe = append(maybe, k.says)
		}
	}
	switch {
	case len(maybe) > 0:
	case times > farTooFast:
		maybe = []string{"was something else counted, or is another drive or another motor meant?"}
	case j.Kind == Travel:
		maybe = []string{"measure the way and time it again, and check the wheels or the drum, the cells, the pulleys and the load in the file"}
	default:
		maybe = []string{"count again, and check the cells, the pulleys and the load in the file"}
	}
	return words + "; " + strings.Join(maybe, " ")
}

// farTooFast is how many times as fast as due a model must be counted for the parts in its file not
// to be what is wrong (judgement).
const farTooFast = 10

// near is to within a fifth.
func near(a, b float64) bool { return math.Abs(math.Log(a/b)) < 0.2 }
