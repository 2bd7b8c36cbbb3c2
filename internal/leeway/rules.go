package leeway

import (
	"fmt"
	"strconv"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/units"
)

// rules are the limits of good practice, as far as a brief may set them.
func rules(c Case) []Lever {
	const steps = 20
	var out []Lever
	// A lever goes from the brief's limits to those that are least strict.
	add := func(key, kept, aside string, loose func(l *brief.Limits), words func(l brief.Limits) string) {
		strict, lax := c.Brief.Limits, c.Brief.Limits
		if loose(&lax); lax == strict {
			return
		}
		set := func(c Case, n int) { between(&c.Brief.Limits, strict, lax, float64(n)/steps) }
		out = append(out, Lever{Key: key, Words: kept, Aside: aside, Cost: Rule, Relax: func(c Case) { set(c, steps) },
			Ways: []Way{{Most: steps, Apply: set, Words: func(c Case, _ *design.Proposal) string { return words(c.Brief.Limits) }}}})
	}
	l := c.Brief.Limits
	hundred := func(stretch float64) string { return units.Decimals(100*(stretch-1), 0) }
	add("stretch", fmt.Sprintf("bands stretched %s to %s %%", hundred(l.FittedStretchMin), hundred(l.FittedStretchMax)), "bands stretched 3 to 75 %",
		func(l *brief.Limits) {
			l.FittedStretchMin, l.FittedStretchMax = min(1.03, l.FittedStretchMin), max(1.75, l.FittedStretchMax)
			l.RunningStretchMax = max(2, l.RunningStretchMax)
		},
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with bands stretched %s to %s %% (fitted_stretch_min and _max in [limits])", hundred(l.FittedStretchMin), hundred(l.FittedStretchMax))
		})
	add("arc of contact", fmt.Sprintf("bands wrapping %.0f degrees of the smaller pulley", l.ArcMin.Degrees()), "bands wrapping 90 degrees",
		func(l *brief.Limits) { l.ArcMin = min(units.Degrees(90), l.ArcMin) },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with %.0f degrees of contact (arc_min in [limits]): watch for slip", l.ArcMin.Degrees())
		})
	add("grip", fmt.Sprintf("bands that grip %s times what is needed", units.Decimals(l.GripMin, 1)), "bands that only just grip",
		func(l *brief.Limits) { l.GripMin, l.GripStartMin = min(1, l.GripMin), min(1, l.GripStartMin) },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with bands that grip only %s times what is needed (grip_min in [limits])", units.Decimals(l.GripMin, 2))
		})
	add("motor in hand", fmt.Sprintf("a motor %s times as strong as starting needs", units.Decimals(l.StartMin, 1)), "a motor that only just turns it",
		func(l *brief.Limits) { l.StartMin, l.RunMin = min(1, l.StartMin), min(1.05, l.RunMin) },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with a motor only %s times as strong as starting needs (start_min and run_min in [limits]): it gets hot", units.Decimals(l.StartMin, 2))
		})
	add("clearances", fmt.Sprintf("%s mm between moving things", units.Decimals(float64(l.Clearance), 1)), "1 mm between them",
		func(l *brief.Limits) { l.Clearance, l.LaneGap = min(1, l.Clearance), min(1, l.LaneGap) },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with %s mm between moving things (clearance and lane_gap in [limits])", units.Decimals(float64(l.Clearance), 2))
		})
	add("wall round holes", fmt.Sprintf("%s mm of material round holes", units.Decimals(float64(l.HoleWall), 1)), "holes at the very edge",
		func(l *brief.Limits) { l.HoleWall = 0 },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with %s mm of material round holes (hole_wall in [limits]): it may split", units.Decimals(float64(l.HoleWall), 2))
		})
	add("groove for the band", fmt.Sprintf("pulleys at least %s bands thick", units.Decimals(l.SectionRatio, 1)), "pulleys of any size",
		func(l *brief.Limits) { l.SectionRatio = min(1, l.SectionRatio) },
		func(l brief.Limits) string {
			return fmt.Sprintf("put up with pulleys only %s bands thick (section_ratio in [limits]): bands wear", units.Decimals(l.SectionRatio, 1))
		})
	return out
}

// figures is a number as a brief can say it, in six figures.
func figures(x float64) float64 {
	if r, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64); err == nil {
		return r
	}
	return x
}

// between sets those limits in which strict and lax differ a share of the way from one
// to the other.
func between(l *brief.Limits, strict, lax brief.Limits, share float64) {
	if strict.ArcMin != lax.ArcMin && share > 0 { // in degrees, as a brief says it
		l.ArcMin = units.Angles.Rounded(strict.ArcMin + (lax.ArcMin-strict.ArcMin)*units.Radians(share))
	}
	for _, f := range []func(l *brief.Limits) *float64{
		func(l *brief.Limits) *float64 { return &l.FittedStretchMin },
		func(l *brief.Limits) *float64 { return &l.FittedStretchMax },
		func(l *brief.Limits) *float64 { return &l.RunningStretchMax },
		func(l *brief.Limits) *float64 { return &l.GripMin },
		func(l *brief.Limits) *float64 { return &l.GripStartMin },
		func(l *brief.Limits) *float64 { return &l.StartMin },
		func(l *brief.Limits) *float64 { return &l.RunMin },
		func(l *brief.Limits) *float64 { return (*float64)(&l.Clearance) },
		func(l *brief.Limits) *float64 { return (*float64)(&l.LaneGap) },
		func(l *brief.Limits) *float64 { return (*float64)(&l.HoleWall) },
		func(l *brief.Limits) *float64 { return &l.SectionRatio },
	} {
		switch from, to := *f(&strict), *f(&lax); {
		case from == to:
		case share == 0:
			*f(l) = from
		case share == 1:
			*f(l) = to
		default:
			*f(l) = figures(from + (to-from)*share)
		}
	}
}
