package goals

import (
	"cmp"
	"math"
	"slices"

	"findrive/internal/built"
	"findrive/internal/constraints"
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
		model := stands.With(change)
		if rules.affords(&changed) != nil || !model.Sound(constraints.Speed) {
			return
		}
		if k.Time, k.Turns = c.onTheDay(model); k.Time > 0 || k.Turns > 0 {
			out = append(out, k)
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
	time, turns := c.onTheDay(stands)
	now := float64(time) + turns
	if now <= 0 {
		return nil
	}
	off := func(k Knob) float64 { return math.Abs(math.Log((float64(k.Time) + k.Turns) / now)) }
	out = slices.DeleteFunc(out, func(k Knob) bool { return off(k) > math.Ln2 })
	slices.SortStableFunc(out, func(x, y Knob) int { return cmp.Compare(off(x), off(y)) })
	return out[:min(len(out), mostKnobs)]
}

// onTheDay is what a model does on the likely day with its holes just as they are: its time over
// the distance, or its turns in the time. It is what a model on the table is told too, so that one
// change comes to the same wherever it is asked about.
func (c *Challenge) onTheDay(model *built.Build) (units.Seconds, float64) {
	if c.Kind == ExactTime {
		return atHoles(model.Drive, model.Brief, c.Distance), 0
	}
	return 0, float64(model.SpeedUnder(drive.Conditions{})) * float64(c.Time) / 60
}
