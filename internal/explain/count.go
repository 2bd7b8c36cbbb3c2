package explain

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/dotplot"
)

// How fast a class can count, in turns a minute (common practice): by eye, and with a
// sticker and taps on the table; up to VerySlow a whole minute is counted.
const (
	VerySlow = 10 // too few turns in half a minute to say much
	ByEye    = 60
	ByTap    = 120
)

// Window is for how many seconds turns are counted at a speed in turns a minute.
func Window(perMinute float64) int {
	switch {
	case perMinute <= VerySlow:
		return 60
	case perMinute <= ByEye:
		return 30
	case perMinute <= ByTap:
		return 15
	}
	return 5
}

// Course is how many metres a run is timed over, at a speed in metres a second: short for
// what is slow.
func Course(model brief.Model, speed float64) float64 {
	if model == brief.Lift {
		return 0.3
	}
	if speed < 0.2 {
		return 1
	}
	return 3
}

func (d *Drive) course() float64 { return Course(d.Model, d.Travel.Likely) }

// ClassAxis is the axis on which a class puts a dot for each group's count, of a model that
// turns so fast, a minute, and travels so fast, in metres a second, if it does: in what is
// counted, with room for what was not foretold, and without saying what was.
func ClassAxis(model brief.Model, speed, travel Range) dotplot.Axis {
	const below, above = 0.5, 1.5
	if travel.Likely <= 0 {
		seconds := Window(speed.Likely)
		share := float64(seconds) / 60
		return dotplot.Over(below*share*speed.Low, above*share*speed.High, fmt.Sprintf("turns in %d seconds", seconds))
	}
	metres := Course(model, travel.Likely)
	slowest := math.Max(travel.Low, travel.Likely/2)
	unit := fmt.Sprintf("seconds for %s metres", decimals(metres, 0))
	switch {
	case metres < 1:
		unit = fmt.Sprintf("seconds for %s centimetres", decimals(100*metres, 0))
	case metres == 1:
		unit = "seconds for 1 metre"
	}
	return dotplot.Over(below*metres/travel.High, above*metres/slowest, unit)
}

// counting says what can be seen and counted, for an adult.
func (d *Drive) counting() []string {
	if !d.Turns {
		return []string{"As it is the output does not turn, so there is nothing to count: findrive try says why."}
	}
	out := []string{}
	if d.Travel.Likely > 0 {
		m := d.course()
		most := " s or more"
		if d.Travel.Low > 0 {
			most = " to " + about(m/d.Travel.Low) + " s"
		}
		what := fmt.Sprintf("Mark %s m on the floor, let it run in, and time it", sizes(m))
		if d.Model == brief.Lift {
			what = "Time the load over 300 mm, something soft under it,"
		}
		return append(out, fmt.Sprintf("%s three times: about %s s (%s%s). Take the middle one.", what, about(m/d.Travel.Likely), about(m/d.Travel.High), most))
	}
	n := d.Speed
	seconds := float64(Window(n.Likely))
	expect := fmt.Sprintf("about %s turns (%s to %s)", whole(n.Likely*seconds/60), whole(n.Low*seconds/60), whole(n.High*seconds/60))
	sticker := fmt.Sprintf("Put a sticker on the rim of %s", d.output())
	switch {
	case n.Likely <= ByEye:
		out = append(out, fmt.Sprintf("Countable by eye. %s and count turns for %.0f s, three times: %s. Take the middle one.", sticker, seconds, expect))
	case n.Likely <= ByTap:
		out = append(out, fmt.Sprintf("Countable with taps. %s, tap the table at each turn for %.0f s while a friend counts, three times: %s. Take the middle one.", sticker, seconds, expect))
	default:
		out = append(out, fmt.Sprintf("Too fast to count. %s, film it in slow motion and count turns in %.0f s of real time, three times: %s. Take the middle one.", sticker, seconds, expect))
	}
	missed := 1 / max(1, n.Likely*seconds/60)
	out = append(out, fmt.Sprintf("One turn missed changes the answer by %s.", percent(missed)))
	if missed > 0.05 {
		out[len(out)-1] += " Counting for twice as long halves that."
	}
	if fast := float64(d.Motor.Speed); fast > ByTap {
		out = append(out, fmt.Sprintf("The motor, at about %s turns a minute, is a blur: its speed is the count of %s times %s.", turns(fast), d.output(), d.turnsWords()))
	}
	return out
}

// turnsWords are how often the motor turns for one turn of the output.
func (d *Drive) turnsWords() string {
	real, pulleys := turns(d.atWork()), ratioWords(d.Ratio)
	if !d.loses() || real == pulleys {
		return pulleys
	}
	return fmt.Sprintf("%s (%s by the pulleys, the bands lose the rest)", real, pulleys)
}

func whole(v float64) string { return decimals(v, 0) }
