package built

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// enough is what would cure a symptom that no change from the cupboard cures: less to
// move, a better balance, a gentler ramp, another stage. Each is worked out and cures; of
// the speed, which changes with the load, only that it is not 0 is asked.
func (b *Build) enough(sym Symptom) []string {
	var out []string
	if sym == TooFast {
		if s := b.anotherStage(TooFast); s != "" {
			out = append(out, s)
		}
		return out
	}
	if sym != NoGo && sym != Slips && sym != Slower {
		return nil
	}
	l := b.Brief.Load
	with := func(set func(*brief.Load)) *Build {
		o := b.copied()
		r := *b.Brief
		set(&r.Load)
		o.Brief = &r
		return o
	}
	if b.Brief.Model == brief.LevelRide && l.OutOfBalance > 0 {
		if most, ok := mostThatCures(float64(l.OutOfBalance), func(v float64) bool {
			return with(func(l *brief.Load) { l.OutOfBalance = units.Grams(v) }).cures(sym, constraints.Speed)
		}); ok {
			out = append(out, fmt.Sprintf("balance it to within %s g at %s from the middle", figure(most), millimetres(l.OutOfBalanceRadius)))
		}
	}
	if l.Slope > 0 {
		if most, ok := mostThatCures(l.Slope.Degrees(), func(v float64) bool {
			return with(func(l *brief.Load) { l.Slope = units.Degrees(v) }).cures(sym, constraints.Speed)
		}); ok {
			out = append(out, fmt.Sprintf("a ramp of at most %s degrees", figure(most)))
		}
	}
	amount, unit, verb := float64(l.Mass), "g", "carry at most"
	set := func(l *brief.Load, v float64) {
		l.OutOfBalance *= units.Grams(v / float64(max(l.Mass, 1e-9)))
		l.Mass = units.Grams(v)
	}
	switch b.Brief.Model {
	case brief.PlainShaft:
		amount, unit, verb, set = float64(l.Torque), "mN·m", "turn at most", func(l *brief.Load, v float64) { l.Torque = units.NewtonMillimetres(v) }
	case brief.Vehicle:
		verb = "let it weigh at most"
	case brief.Lift:
		verb = "lift at most"
	}
	if most, ok := mostThatCures(amount, func(v float64) bool { return with(func(l *brief.Load) { set(l, v) }).cures(sym, constraints.Speed) }); ok && len(out) == 0 {
		out = append(out, fmt.Sprintf("%s %s %s", verb, figure(most), unit))
	}
	if sym != Slower {
		if s := b.anotherStage(sym, constraints.Speed); s != "" {
			out = append(out, s)
		}
	}
	return out
}

// mostThatCures is the most of something, rounded down to two figures, that cures; not
// where a fiftieth of it does not, or all of it does.
func mostThatCures(all float64, cures func(float64) bool) (float64, bool) {
	lo, hi := all/50, all
	if !(all > 0) || cures(hi) || !cures(lo) {
		return 0, false
	}
	for range 20 {
		if mid := (lo + hi) / 2; cures(mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	step := math.Pow(10, math.Floor(math.Log10(lo))-1)
	if round := step * math.Floor(lo/step*(1+1e-12)); round > 0 && cures(round) {
		return round, true
	}
	return lo, true
}

// anotherStage is a stage after the last that cures, of two pulleys and a band of the
// cupboard, the one with which the speed is nearest to what was wanted, or else, where none
// was, the fastest; empty if none does. but are rules that need not be kept.
func (b *Build) anotherStage(sym Symptom, but ...constraints.Rule) string {
	d := b.Drive
	if len(d.Stages) >= drive.MaxStages {
		return ""
	}
	last := d.Axles[len(d.Axles)-1]
	fits := func(p *parts.Pulley) bool {
		_, no := b.joint(constraints.PulleyHub(p), last.Diameter)
		return no == nil
	}
	best, says := math.Inf(1), ""
	for i := range b.Cupboard.Pulleys {
		for j := range b.Cupboard.Pulleys {
			driver, driven := &b.Cupboard.Pulleys[i], &b.Cupboard.Pulleys[j]
			if driver.GrooveFloor >= driven.GrooveFloor || !fits(driver) || !fits(driven) {
				continue
			}
			for k := range b.Cupboard.Bands {
				o, centre := b.withStage(drive.Stage{Driver: driver, Driven: driven, Band: &b.Cupboard.Bands[k]}, last)
				if o == nil {
					continue
				}
				off := o.offSpeed(drive.Conditions{})
				if s := b.Brief.Speed; !(s.Turning > 0 || s.Linear > 0) {
					off = -float64(o.speed(drive.Conditions{}))
				}
				if off >= best || !o.cures(sym, but...) {
					continue
				}
				best = off
				says = fmt.Sprintf("another stage after the last, from %s to %s with band %s and its axles %s apart: then about %s turns a minute", driver.Name, driven.Name, b.Cupboard.Bands[k].Name, millimetres(centre), figure(float64(o.speed(drive.Conditions{}))))
			}
		}
	}
	return says
}

// withStage is the build with a stage after the last, its axles as far apart as is ideal
// for its band; nil if they cannot be. Where it would lie is not asked: the frame is left
// out.
func (b *Build) withStage(s drive.Stage, axle *parts.AxleStock) (*Build, units.Millimetres) {
	c, ok := s.Mechanics(likelyGrip).CentreAtStretch(b.Brief.Limits.IdealStretch)
	c = units.Millimetres(math.Round(float64(c)))
	if !ok || c < (s.Driver.Outside+s.Driven.Outside)/2+b.Brief.Limits.Clearance {
		return nil, 0
	}
	o := b.copied()
	o.Framed, o.MotorAt = false, nil
	o.Drive.Stages, o.Drive.Axles = append(o.Drive.Stages, s), append(o.Drive.Axles, axle)
	at := o.Drive.Positions[len(o.Drive.Positions)-1]
	at.X += c
	o.Drive.Positions = append(o.Drive.Positions, at)
	o.Drive.MotorTurns = o.motorTurns()
	joints(o)
	return o, c
}
