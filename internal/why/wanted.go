package why

import (
	"findrive/internal/built"
	"findrive/internal/design"
)

// Wanted is the parts of a drive that somebody describes, as things wanted. Where its
// axles are is left open.
func Wanted(b *built.Build) *design.Pins {
	d := b.Drive
	p := &design.Pins{Motor: d.Motor.Name, Holder: d.Holder.Name, Stages: len(d.Stages)}
	for i := range d.Stages {
		s := &d.Stages[i]
		p.Each = append(p.Each, design.StagePins{Driver: s.Driver.Name, Driven: s.Driven.Name, Band: s.Band.Name, Use: &s.Use, Crossed: &s.Crossed})
	}
	return p
}
