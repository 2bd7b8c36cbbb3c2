package brief

import (
	"math"

	"findrive/internal/tomlfile"
	"findrive/internal/units"
)

// readLimits reads [limits] over the defaults.
func readLimits(t *tomlfile.Table, l *Limits) {
	for _, n := range limitNumbers(l) {
		*n.to = t.Number(n.key, *n.to, n.least, n.most)
	}
	l.KeptSpeedMin = tomlfile.Quantity(t, "kept_speed_min", &units.Shares, l.KeptSpeedMin, tomlfile.Range[float64]{Least: 0, Most: 1})
	l.ContinuousShare = tomlfile.Quantity(t, "continuous_share", &units.Shares, l.ContinuousShare, tomlfile.Range[float64]{Least: 0.01, Most: 1})
	arcs := tomlfile.Range[units.Radians]{Least: units.Degrees(30), Most: math.Pi}
	l.ArcMin = tomlfile.Quantity(t, "arc_min", &units.Angles, l.ArcMin, arcs)
	l.ArcWarn = tomlfile.Quantity(t, "arc_warn", &units.Angles, max(l.ArcMin, l.ArcWarn), arcs)
	for _, n := range limitLengths(l) {
		*n.to = tomlfile.Quantity(t, n.key, &units.Lengths, *n.to, tomlfile.Range[units.Millimetres]{Least: 0, Most: 20})
	}
	rising(t, []rung{
		{"fitted_stretch_min", l.FittedStretchMin}, {"comfort_stretch_min", l.ComfortStretchMin}, {"ideal_stretch", l.IdealStretch},
		{"comfort_stretch_max", l.ComfortStretchMax}, {"fitted_stretch_max", l.FittedStretchMax}, {"running_stretch_max", l.RunningStretchMax},
	})
	rising(t, []rung{{"arc_min", l.ArcMin.Degrees()}, {"arc_warn", l.ArcWarn.Degrees()}})
	t.Close()
}

// figure is a key with a plain number for its value.
type figure struct {
	key         string
	to          *float64
	least, most float64
}

// limitNumbers are the keys of [limits] that are plain numbers.
func limitNumbers(l *Limits) []figure {
	return []figure{
		{"fitted_stretch_min", &l.FittedStretchMin, 1.01, 2},
		{"fitted_stretch_max", &l.FittedStretchMax, 1.02, 2},
		{"comfort_stretch_min", &l.ComfortStretchMin, 1.01, 2},
		{"comfort_stretch_max", &l.ComfortStretchMax, 1.02, 2},
		{"ideal_stretch", &l.IdealStretch, 1.01, 2},
		{"running_stretch_max", &l.RunningStretchMax, 1.05, 2},
		{"grip_min", &l.GripMin, 1, 10},
		{"grip_start_min", &l.GripStartMin, 1, 10},
		{"start_min", &l.StartMin, 1, 10},
		{"run_min", &l.RunMin, 1, 10},
		{"section_ratio", &l.SectionRatio, 1, 20},
	}
}

// length is a key with a length for its value.
type length struct {
	key string
	to  *units.Millimetres
}

// limitLengths are the keys of [limits] that are lengths.
func limitLengths(l *Limits) []length {
	return []length{
		{"clearance", &l.Clearance},
		{"lane_gap", &l.LaneGap},
		{"hole_wall", &l.HoleWall},
		{"running_fit", &l.RunningFit},
		{"hole_error", &l.HoleError},
	}
}

// weightNumbers are the keys of [weights] in points.
func weightNumbers(w *Weights) []figure {
	const most = 1000
	return []figure{
		{"classroom", &w.Classroom, 0, most},
		{"may_stand", &w.MayStand, 0, most},
		{"speed_per_percent", &w.SpeedPerPercent, 0, most},
		{"stage", &w.Stage, 0, most},
		{"band_fit", &w.BandFit, 0, most},
		{"sleeve", &w.Sleeve, 0, most},
		{"drill_out", &w.DrillOut, 0, most},
		{"glue", &w.Glue, 0, most},
		{"crossed", &w.Crossed, 0, most},
		{"doubled_band", &w.DoubledBand, 0, most},
		{"assumption", &w.Assumption, 0, most},
		{"idle_stage", &w.IdleStage, 0, most},
		{"unforgiving", &w.Unforgiving, 0, most},
		{"on_edge", &w.OnEdge, 0, most},
		{"cell", &w.Cell, 0, most},
		{"motor_load", &w.MotorLoad, 0, most},
		{"another_drive", &w.AnotherDrive, 0, most},
		{"made_pulley", &w.MadePulley, 0, most},
	}
}

// rung is a limit that must not be above the next one.
type rung struct {
	key   string
	value float64
}

// rising notes the limits that fall where they must rise, at the one that the
// file gives.
func rising(t *tomlfile.Table, rungs []rung) {
	for i := range rungs[1:] {
		low, high := rungs[i], rungs[i+1]
		if low.value <= high.value || !t.Good(low.key, high.key) {
			continue
		}
		if t.Has(high.key) {
			t.Fail(high.key, "%.4g is below %s, %.4g", high.value, low.key, low.value)
		} else {
			t.Fail(low.key, "%.4g is above %s, %.4g", low.value, high.key, high.value)
		}
	}
}

// readWeights reads [weights] over the defaults.
func readWeights(t *tomlfile.Table, w *Weights) {
	for _, n := range weightNumbers(w) {
		*n.to = t.Number(n.key, *n.to, n.least, n.most)
	}
	w.SpeedStep = t.Number("speed_step", w.SpeedStep, 0.1, 50)
	t.Close()
}
