package built

import (
	"fmt"
	"math"
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/units"
)

// step is one change.
type step struct {
	kind   kind
	stage  int
	effort float64
	says   string
	do     func(b *Build)
}

type kind int

// The kinds of change.
const (
	moveAxle kind = iota
	otherBand
	otherCells
	otherDriver
	otherDriven
	otherMotor
)

// effort is what a change costs in the currency of trouble, so that of two that do
// as well the easier is taken (judgement).
var effort = map[kind]float64{otherBand: 0.01, otherCells: 0.01, moveAxle: 0.02, otherDriver: 0.03, otherDriven: 0.03, otherMotor: 0.05}

// tier is how much a kind of change asks of people, least first: what is in the
// cupboard and only exchanged, then what is taken apart, then what is drilled anew, then
// what costs most.
func (s step) tier() int {
	switch s.kind {
	case otherCells:
		return 0
	case otherBand:
		return 1
	case otherDriver, otherDriven:
		return 2
	case moveAxle:
		return 3
	}
	return 4
}

// steps lists every single change that the cupboard allows: another band or another
// way of putting it on, another pulley, more or fewer cells, another motor, the axles
// nearer or further apart.
func (b *Build) steps() []step {
	var out []step
	for i := range b.Drive.Stages {
		out = append(out, b.bandSteps(i)...)
		out = append(out, b.axleSteps(i)...)
		out = append(out, b.pulleySteps(i)...)
	}
	d := b.Drive
	for k := range b.Cupboard.Holders {
		h := &b.Cupboard.Holders[k]
		if h.Name != d.Holder.Name {
			out = append(out, step{kind: otherCells, says: fmt.Sprintf("use holder %s (%s) in place of %s (%s)", h.Name, cells(h.Cells), d.Holder.Name, cells(d.Holder.Cells)),
				do: func(b *Build) { b.Drive.Holder = h }})
		}
	}
	for k := range b.Cupboard.Motors {
		m := &b.Cupboard.Motors[k]
		if m.Name == d.Motor.Name {
			continue
		}
		if _, no := b.joint(constraints.PulleyHub(d.Stages[0].Driver), m.ShaftDiameter); no == nil && constraints.ShaftReaches(m, d.Stages[0].Driver) == nil {
			out = append(out, step{kind: otherMotor, says: fmt.Sprintf("use motor %s in place of %s", m.Name, d.Motor.Name),
				do: func(b *Build) { b.Drive.Motor = m; joints(b) }})
		}
	}
	for i := range out {
		out[i].effort = effort[out[i].kind]
	}
	return out
}

func cells(n int) string {
	if n == 1 {
		return "1 cell"
	}
	return fmt.Sprintf("%d cells", n)
}

func (b *Build) bandSteps(i int) []step {
	var out []step
	own := &b.Drive.Stages[i]
	for k := range b.Cupboard.Bands {
		band := &b.Cupboard.Bands[k]
		for _, use := range []drive.Use{drive.Single, drive.LoopedTwice, drive.Paired} {
			if band.Name == own.Band.Name && use == own.Use || use.BandsTaken() > band.Count {
				continue
			}
			says := fmt.Sprintf("stage %d: put on band %s, %s, in place of %s", i+1, band.Name, use, own.Band.Name)
			if band.Name == own.Band.Name {
				says = fmt.Sprintf("stage %d: put band %s on %s", i+1, band.Name, use)
			}
			out = append(out, step{kind: otherBand, stage: i, says: says,
				do: func(b *Build) { b.Drive.Stages[i].Band, b.Drive.Stages[i].Use = band, use }})
		}
	}
	return out
}

// axleSteps move the driven axle, and all that follows it, to whole millimetres.
func (b *Build) axleSteps(i int) []step {
	st, now := &b.Drive.Stages[i], b.Drive.Centre(i)
	var at []units.Millimetres
	m := st.Mechanics(likelyGrip)
	for _, stretch := range []float64{1.1, 1.15, 1.2, 1.25, 1.3, 1.35} {
		if c, ok := m.CentreAtStretch(stretch); ok {
			at = append(at, units.Millimetres(math.Round(float64(c))))
		}
	}
	slices.Sort(at)
	var out []step
	for _, c := range slices.Compact(at) {
		if off := math.Abs(float64(c - now)); off < 1 || c < 2 {
			continue
		}
		out = append(out, step{kind: moveAxle, stage: i, effort: effort[moveAxle], says: fmt.Sprintf("stage %d: set the axles %s apart in place of %s", i+1, millimetres(c), millimetres(now)),
			do: func(b *Build) {
				to := centres(b.Drive)
				to[i] = c
				place(b.Drive, to)
			}})
	}
	return out
}

func (b *Build) pulleySteps(i int) []step {
	var out []step
	own := &b.Drive.Stages[i]
	for k := range b.Cupboard.Pulleys {
		p := &b.Cupboard.Pulleys[k]
		hub := constraints.PulleyHub(p)
		if _, no := b.joint(hub, b.shaft(i)); no == nil && p.Name != own.Driver.Name {
			out = append(out, step{kind: otherDriver, stage: i, says: fmt.Sprintf("stage %d: drive with pulley %s in place of %s", i+1, p.Name, own.Driver.Name),
				do: func(b *Build) { b.Drive.Stages[i].Driver = p; joints(b) }})
		}
		if _, no := b.joint(hub, b.Drive.Axles[i].Diameter); no == nil && p.Name != own.Driven.Name {
			out = append(out, step{kind: otherDriven, stage: i, says: fmt.Sprintf("stage %d: drive pulley %s in place of %s", i+1, p.Name, own.Driven.Name),
				do: func(b *Build) { b.Drive.Stages[i].Driven = p; joints(b) }})
		}
	}
	return out
}

func (b *Build) after(s step) *Build {
	out := b.copied()
	s.do(out)
	return out
}
