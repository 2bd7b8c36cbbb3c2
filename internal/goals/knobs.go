package goals

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/built"
	"findrive/internal/constraints"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Knob is one change to a built drive that alters its time or its turns, the holes
// left where they are.
type Knob struct {
	Stage int    // whose band is changed, from 1; 0: something else is
	Band  string // put on instead
	Use   drive.Use
	Cells int    // used instead
	Wheel string // put on instead
	Time  units.Seconds
	Turns float64
}

// mostKnobs is how many are offered. What halves or doubles the score is no tuning.
const mostKnobs = 4

// knobs are the changes of one band, of the cells or of the wheels, that a drive bears,
// those that come nearest to what it does now first: the finest knob is the one to have.
// Nothing that breaks a rule of the contest or of drives is offered. Only goals that are to
// be hit have any.
func knobs(cup *parts.Cupboard, c *Challenge, e *Entry) []Knob {
	if c.Kind != ExactTime && c.Kind != Turns {
		return nil
	}
	d, b := e.Proposal.Drive, e.Score.Asked
	stands := built.FromProposal(e.Proposal, cup, b)
	var out []Knob
	rules := &contest{rules: c.Rules, brief: b}
	try := func(k Knob, change func(d *drive.Drive)) {
		changed := *d
		changed.Stages = slices.Clone(d.Stages)
		change(&changed)
		if rules.affords(&changed) != nil || !stands.With(change).Sound(constraints.Speed) {
			return
		}
		switch c.Kind {
		case ExactTime:
			run := scoreRun(&changed, b, c.Distance)
			k.Time = run.Likely
			if run.Likely > 0 {
				out = append(out, k)
			}
		default:
			n := design.SpeedRangeOf(&changed, b)
			if k.Turns = float64(n.Likely) * float64(c.Time) / 60; n.Likely > 0 {
				out = append(out, k)
			}
		}
	}
	for i := range e.Proposal.Stages {
		for _, other := range e.Proposal.Stages[i].OtherBands {
			at := slices.IndexFunc(cup.Bands, func(band parts.Band) bool { return band.Name == other.Name })
			if at < 0 {
				continue
			}
			try(Knob{Stage: i + 1, Band: other.Name, Use: other.Use}, func(d *drive.Drive) {
				d.Stages[i].Band, d.Stages[i].Use = &cup.Bands[at], other.Use
			})
		}
	}
	for i := range cup.Holders {
		h := &cup.Holders[i]
		if constraints.Volts(d.Motor, h) != nil || h.Cells == d.Holder.Cells || len(b.Cells) > 0 && !contains(b.Cells, h.Cells) {
			continue
		}
		try(Knob{Cells: h.Cells}, func(d *drive.Drive) { d.Holder = h })
	}
	for i := range cup.Wheels {
		if w := &cup.Wheels[i]; d.Wheel != nil && b.Load.Wheel == "" && w.Name != d.Wheel.Name && w.Count >= d.OutputPieces() {
			try(Knob{Wheel: w.Name}, func(d *drive.Drive) { d.Wheel = w })
		}
	}
	now := e.Score.Turns
	if e.Score.Run != nil {
		now = float64(e.Score.Run.Likely)
	}
	off := func(k Knob) float64 { return math.Abs(math.Log((float64(k.Time) + k.Turns) / now)) }
	out = slices.DeleteFunc(out, func(k Knob) bool { return off(k) > math.Ln2 })
	slices.SortStableFunc(out, func(x, y Knob) int { return cmp.Compare(off(x), off(y)) })
	return out[:min(len(out), mostKnobs)]
}
