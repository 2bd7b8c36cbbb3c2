package assembly

import (
	"fmt"
	"slices"

	"findrive/internal/certificate"
	"findrive/internal/parts"
)

// Made is a pulley that is made of discs.
type Made struct {
	Pulley int   // part
	Discs  []int // parts, as they lie on one another: flange, core discs, flange
	// Plastic is true if craft glue does not hold the discs.
	Plastic bool
}

// mostLayers is more core discs than anybody glues on one another.
const mostLayers = 100

// makeOf adds the discs that a pulley is made of. A disc's Length is its diameter, its
// Width its thickness; Adult says whose job cutting it out is.
func (o *Build) makeOf(pulley int, m *certificate.Made) {
	made := Made{Pulley: pulley}
	for _, d := range []*certificate.Disc{&m.Core, &m.Flange} {
		made.Plastic = made.Plastic || parts.Sheet(d.Kind) == parts.FlutedPlastic
	}
	letter := o.Parts[pulley].Letter
	add := func(d *certificate.Disc, what string) {
		made.Discs = append(made.Discs, o.add(Part{Kind: Disc, Name: what, Letter: letter, Length: mm(d.Diameter), Width: mm(d.Thickness),
			Adult: parts.CuttingWay(d.Way).Adult()}))
	}
	add(&m.Flange, FlangeName)
	for range min(m.Layers, mostLayers) {
		add(&m.Core, CoreName)
	}
	add(&m.Flange, FlangeName)
	o.Made = append(o.Made, made)
}

// What the discs of a pulley are called.
const (
	FlangeName = "large disc"
	CoreName   = "small disc"
)

func (b *Build) madeOf(pulley int) (Made, bool) {
	at := slices.IndexFunc(b.Made, func(m Made) bool { return m.Pulley == pulley })
	if at < 0 {
		return Made{}, false
	}
	return b.Made[at], true
}

func (b *Build) isMade(part int) bool {
	_, made := b.madeOf(part)
	return made
}

// discs are the actions that make pulleys. Its first disc stands for a pulley among what
// is wet and dry: glue in it holds it on no shaft.
func (s *State) discs(a Action) error {
	have := func(list []int, part int) bool { return slices.Contains(list, part) }
	switch a.Verb {
	case CutOut:
		if s.build.Parts[a.Part].Kind != Disc || !s.onTable(a.Part) || have(s.cut, a.Part) {
			return fmt.Errorf("%s is not there to be cut out", s.name(a.Part))
		}
		s.cut = append(s.cut, a.Part)
		return nil
	case Bore:
		if !have(s.cut, a.Part) {
			return fmt.Errorf("%s has not been cut out", s.name(a.Part))
		}
		if have(s.bored, a.Part) {
			return fmt.Errorf("%s has its hole", s.name(a.Part))
		}
		s.bored = append(s.bored, a.Part)
		return nil
	}
	m, made := s.build.madeOf(a.Part)
	if !made {
		return fmt.Errorf("%s is not made of discs", s.name(a.Part))
	}
	if a.Verb == Stack {
		for _, d := range m.Discs {
			if !have(s.bored, d) {
				return fmt.Errorf("%s has no hole yet", s.name(d))
			}
			if !s.onTable(d) {
				return fmt.Errorf("%s is glued", s.name(d))
			}
		}
		s.fitted = append(s.fitted, m.Discs...)
		s.wet = append(s.wet, m.Discs[0])
		return nil
	}
	switch {
	case !have(s.dry, m.Discs[0]):
		return fmt.Errorf("the glue of %s is not dry", s.name(a.Part))
	case have(s.trued, a.Part):
		return fmt.Errorf("%s is true", s.name(a.Part))
	}
	s.trued = append(s.trued, a.Part)
	return nil
}

// discSteps make the pulleys that are to be made: first, since their glue wants a night.
func (b *Build) discSteps() []Step {
	if len(b.Made) == 0 {
		return nil
	}
	var out []Step
	step := func(kind StepKind, adult bool, actions []Action) {
		if len(actions) > 0 {
			out = append(out, Step{Kind: kind, Adult: adult, Stage: -1, Actions: actions})
		}
	}
	var cut [2][]Action // by pupils, by an adult
	var bore, glue, trueUp []Action
	plastic := false
	for _, m := range b.Made {
		plastic = plastic || m.Plastic
		for _, d := range m.Discs {
			who := 0
			if b.Parts[d].Adult {
				who = 1
			}
			cut[who] = append(cut[who], Action{Verb: CutOut, Part: d})
			bore = append(bore, Action{Verb: Bore, Part: d})
		}
		glue = append(glue, Action{Verb: Stack, Part: m.Pulley})
		trueUp = append(trueUp, Action{Verb: True, Part: m.Pulley})
	}
	step(CutDiscsStep, false, cut[0])
	step(CutDiscsStep, true, cut[1])
	step(BoreDiscsStep, true, bore)
	step(GlueDiscsStep, plastic, append(glue, Action{Verb: Dry}))
	step(TrueDiscsStep, false, trueUp)
	return out
}
