package goals

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/units"
)

// fastest is the least time over a distance from rest, in steps of a tenth of a
// second: what two people with stopwatches agree on (common practice).
//
// Bound. A vehicle is never faster than it runs in the end, so a run within a time
// needs at least that average for its steady speed: that is the brief. Of a partly
// chosen drive the run is bounded by pushPartly, of chosen parts by pushLossless, and of a
// design by pushQuick before it is worked out.
//
// Nested: what is done within a time is done within any longer one.
type fastest struct{ *Challenge }

const (
	stopwatch units.Seconds = 0.1
	longest   units.Seconds = 600 // a run that takes ten minutes is no race
	// runPad covers that pushOf goes straight from one torque to the next.
	runPad = 0.005
)

func (f fastest) last() int { return int(longest/stopwatch) - 1 }

func (f fastest) asks(step int) asked {
	most := units.Seconds(step+1) * stopwatch
	slowest := units.MetresPerSecond(float64(f.Distance) / 1000 / float64(most))
	b := travelling(f.Challenge, units.Interval[units.MetresPerSecond]{Lo: slowest, Hi: fastestThought})
	return asked{brief: b, rule: runRule{brief: b, distance: f.Distance, times: units.Interval[units.Seconds]{Lo: 0, Hi: most}}}
}

func (f fastest) measure(p *design.Proposal, step int) (Score, int) {
	b := f.asks(step).brief
	run := scoreRun(p.Drive, b, f.Distance)
	return Score{Run: &run, Asked: b}, min(step, stepOf(run.Likely, stopwatch))
}

// stepOf is the step of a value that is best at 0.
func stepOf(v, step units.Seconds) int { return int(math.Floor(float64(v/step) + 1e-9)) }

// runRule is that a run takes a time within limits, and loses no more than startMost
// of it at the start, if that is above 0.
type runRule struct {
	brief     *brief.Brief
	distance  units.Millimetres
	times     units.Interval[units.Seconds]
	startMost units.Seconds
}

func vehicleOf(b *brief.Brief, d *drive.Drive, m *drive.Model) *vehicle {
	r := d.Wheel.Diameter / 2
	return &vehicle{mass: b.Load.Mass, radius: r, holds: drive.TractionOf(b, d.Wheel, m.Demand).Holds}
}

// ratioStep is the width of the windows of ln velocity ratio that a partly chosen
// drive is bounded in one by one, as the ratio that is best to get away is not the
// one that is best at the end; of mostWindows at most.
const (
	ratioStep   = 0.02
	mostWindows = 200
)

func (r runRule) reaches(p *design.Partly) bool {
	v := &vehicle{mass: r.brief.Load.Mass, radius: p.Wheel.Diameter / 2, holds: drive.TractionOf(r.brief, p.Wheel, p.Demand).Holds}
	resistance := units.Newtons(p.Demand.Steady) / units.Newtons(v.radius)
	windows := min(mostWindows, math.Ceil(math.Log(p.Ratio.Hi/p.Ratio.Lo)/ratioStep))
	by := math.Pow(p.Ratio.Hi/p.Ratio.Lo, 1/max(1, windows))
	for lo, left := p.Ratio.Lo, max(1, windows); left > 0; lo, left = lo*by, left-1 {
		push := pushPartly(v, p, lo, lo*by)
		if quick, moves := mechanics.FromRest(push, resistance, r.distance); moves && quick.Time*(1-runPad) <= r.times.Hi {
			return true
		}
	}
	return false
}

func (r runRule) parts(d *drive.Drive) *constraints.Refusal {
	demand := d.DemandAt(r.brief, drive.Likely)
	v := &vehicle{mass: r.brief.Load.Mass, radius: d.Wheel.Diameter / 2, holds: drive.TractionOf(r.brief, d.Wheel, demand).Holds}
	resistance := units.Newtons(demand.Steady) / units.Newtons(v.radius)
	quick, moves := mechanics.FromRest(pushLossless(v, d, r.brief), resistance, r.distance)
	if !moves || quick.Time <= r.times.Hi {
		return nil
	}
	return r.refuse(quick.Time, r.times.Hi, "at least")
}

func (r runRule) refuse(is, limit units.Seconds, how string) *constraints.Refusal {
	return refused(math.Abs(float64(is/limit)-1), func() string {
		return fmt.Sprintf("a run would take %s %.1f s, and %.1f s are asked", how, float64(is), float64(limit))
	})
}

func (r runRule) works(d *drive.Drive, m *drive.Model, g *drive.Geometry) *constraints.Refusal {
	v := vehicleOf(r.brief, d, m)
	// Most are refused, and for most of those a look at the steady run is enough.
	if quick, moves := mechanics.FromRest(pushQuick(v, m, g), v.resistance(m), r.distance); moves && quick.Time*(1-runPad) > r.times.Hi {
		return r.refuse(quick.Time, r.times.Hi, "at least")
	}
	run, moves := mechanics.FromRest(pushOf(v, m, g), v.resistance(m), r.distance)
	switch {
	case !moves:
		return refused(1, func() string { return "it would not get away" })
	case run.Time >= r.times.Hi:
		return r.refuse(run.Time, r.times.Hi, "just")
	case run.Time <= r.times.Lo:
		return r.refuse(run.Time, r.times.Lo, "just")
	case r.startMost > 0 && startOf(run, v, m, g, r.distance) > r.startMost:
		return refused(float64(startOf(run, v, m, g, r.distance)/r.startMost)-1, func() string {
			return fmt.Sprintf("a vehicle would lose %.1f s in getting away, which makes the time a guess; %.1f s are allowed", float64(startOf(run, v, m, g, r.distance)), float64(r.startMost))
		})
	}
	return nil
}

// startOf is what a run loses against one that is at its steady speed from the
// start.
func startOf(run mechanics.Run, v *vehicle, m *drive.Model, g *drive.Geometry, distance units.Millimetres) units.Seconds {
	flow := m.Carry(g, m.Demand.Steady)
	steady := m.OutputSpeed(g, &flow).RimSpeed(v.radius)
	return run.Time - units.Seconds(float64(distance)/1000/float64(steady))
}

// scoreRun works a run out on the likely day, and on the best and the worst.
func scoreRun(d *drive.Drive, b *brief.Brief, distance units.Millimetres) RunScore {
	likely, m, g, ok := runUnder(d, b, distance, drive.Conditions{})
	if !ok {
		return RunScore{}
	}
	out := RunScore{Likely: likely.Time, Early: likely.Time, Late: likely.Time, Slipping: likely.Slipping, End: likely.End}
	out.Start = startOf(likely, vehicleOf(b, d, &m), &m, &g, distance)
	// As for a speed: each uncertain thing is moved to either end on its own, and
	// the changes of ln(time) are added by squares.
	var early, late float64
	for _, set := range drive.Uncertain() {
		for _, level := range []drive.Level{drive.Low, drive.High} {
			var c drive.Conditions
			set(&c, level)
			run, _, _, ok := runUnder(d, b, distance, c)
			if !ok {
				out.Late, late = 0, math.Inf(1)
				continue
			}
			if by := math.Log(float64(run.Time / likely.Time)); by < 0 {
				early += by * by
			} else {
				late += by * by
			}
		}
	}
	out.Early *= units.Seconds(math.Exp(-math.Sqrt(early)))
	if !math.IsInf(late, 1) {
		out.Late *= units.Seconds(math.Exp(math.Sqrt(late)))
	}
	return out
}

func runUnder(d *drive.Drive, b *brief.Brief, distance units.Millimetres, c drive.Conditions) (mechanics.Run, drive.Model, drive.Geometry, bool) {
	m, err := drive.Prepare(d, b, c)
	if err != nil {
		return mechanics.Run{}, m, drive.Geometry{}, false
	}
	g, err := drive.Designed(d, &m)
	if err != nil {
		return mechanics.Run{}, m, g, false
	}
	run, ok := runWith(d, b, distance, &m, &g)
	return run, m, g, ok
}

// StartCosts is what a run from rest over a distance loses in getting away against one that
// is at its steady speed from the start, for a vehicle with its holes as they are; 0 if it
// does not get away.
func StartCosts(d *drive.Drive, b *brief.Brief, distance units.Millimetres) units.Seconds {
	m, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil || d.Wheel == nil {
		return 0
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return 0
	}
	run, ok := runWith(d, b, distance, &m, &g)
	if !ok {
		return 0
	}
	return startOf(run, vehicleOf(b, d, &m), &m, &g, distance)
}

// atHoles is the likely time of a run with the holes as they are, and not only within the
// cells for which the drive is designed; 0 if it does not get away.
func atHoles(d *drive.Drive, b *brief.Brief, distance units.Millimetres) units.Seconds {
	m, err := drive.Prepare(d, b, drive.Conditions{})
	if err != nil {
		return 0
	}
	g, err := drive.GeometryOf(d, &m, 0)
	if err != nil {
		return 0
	}
	run, ok := runWith(d, b, distance, &m, &g)
	if !ok {
		return 0
	}
	return run.Time
}

func runWith(d *drive.Drive, b *brief.Brief, distance units.Millimetres, m *drive.Model, g *drive.Geometry) (mechanics.Run, bool) {
	v := vehicleOf(b, d, m)
	return mechanics.FromRest(pushOf(v, m, g), v.resistance(m), distance)
}

func (f fastest) best(step int) Score {
	return Score{Run: &RunScore{Likely: units.Seconds(step) * stopwatch}}
}
