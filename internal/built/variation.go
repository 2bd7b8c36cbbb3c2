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
	d := *p.Drive
	at := d.Positions[0]
	d.Positions = slices.Clone(d.Positions)
	for i := range d.Positions {
		d.Positions[i] = layout.Point{X: d.Positions[i].X - at.X, Y: d.Positions[i].Y - at.Y}
	}
	if p.Tackle != nil {
		b = b.With(p.Tackle.Tackle)
	}
	return &Build{Name: b.Name, Drive: &d, Brief: b, Cupboard: cup, Framed: true, MotorAt: &at}
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
