package built

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// FromProposal is a proposed drive as it would stand on the table, in the brief's frame.
func FromProposal(p *design.Proposal, cup *parts.Cupboard, b *brief.Brief) *Build {
	if p.Tackle != nil {
		b = b.With(p.Tackle.Tackle)
	}
	out := Placed(p.Drive, b, cup)
	out.Drive.MotorTurns = p.Drive.MotorTurns
	return out
}

// Placed is a drive whose positions are measured from the corner of the brief's frame, as
// it stands there.
func Placed(from *drive.Drive, b *brief.Brief, cup *parts.Cupboard) *Build {
	d := *from
	at := d.Positions[0]
	d.Positions = shifted(d.Positions, layout.Point{X: -at.X, Y: -at.Y})
	d.Stages, d.Axles = slices.Clone(d.Stages), slices.Clone(d.Axles)
	out := &Build{Name: b.Name, Drive: &d, Brief: b, Cupboard: cup, Framed: true, MotorAt: &at}
	d.MotorTurns = out.motorTurns()
	return out
}

// Calibrated is the same build with its own motor and bands as a calibrated cupboard has
// them.
func (b *Build) Calibrated(cup *parts.Cupboard) *Build {
	out := b.copied()
	out.Cupboard = cup
	for k := range cup.Motors {
		if m := &cup.Motors[k]; m.Name == out.Drive.Motor.Name {
			own := *out.Drive.Motor
			own.FreeSpeed, own.Calibrated, own.SpeedKnown = m.FreeSpeed, m.Calibrated, m.SpeedKnown
			out.Drive.Motor = &own
		}
	}
	for i := range out.Drive.Stages {
		for k := range cup.Bands {
			if band := &cup.Bands[k]; band.Name == out.Drive.Stages[i].Band.Name {
				own := *out.Drive.Stages[i].Band
				own.PullFactor, own.Calibrated = band.PullFactor, band.Calibrated
				out.Drive.Stages[i].Band = &own
			}
		}
	}
	return out
}

// Faster is the same build with its motor's free speed so many times as high, counted.
func (b *Build) Faster(times float64) *Build {
	out := b.copied()
	m := *b.Drive.Motor
	m.FreeSpeed *= units.RPM(times)
	m.Calibrated = true
	out.Drive.Motor = &m
	return out
}

// With is the same build with something changed by do, which is given a drive of its
// own; how parts sit on their shafts is settled anew.
func (b *Build) With(do func(d *drive.Drive)) *Build {
	out := b.copied()
	do(out.Drive)
	joints(out)
	return out
}

// Sound reports whether a build turns and keeps every rule but the named ones.
func (b *Build) Sound(but ...constraints.Rule) bool {
	s, err := b.at(drive.Conditions{})
	if err != nil || s.stop != Turns {
		return false
	}
	l := ledger{quiet: true}
	b.judge(&l, s)
	return !slices.ContainsFunc(l.findings, func(f Finding) bool { return f.Broken && !slices.Contains(but, f.Rule) })
}

// SpeedUnder is the output's speed under conditions; 0 if it does not turn.
func (b *Build) SpeedUnder(c drive.Conditions) units.RPM { return b.speed(c) }
