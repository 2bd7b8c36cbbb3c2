package design

import (
	"cmp"
	"slices"

	"findrive/internal/mechanics"
	"findrive/internal/score"
	"findrive/internal/units"
)

// RulerStep is the step of the ruler on which spacings are chosen: two holes drilled by
// hand, each a millimetre or two out of place, stand no nearer to what was meant (common
// practice). It is the same for every brief, so that nothing a brief changes moves the
// marks.
const RulerStep units.Millimetres = 4

// state is a stage's pulleys with a band put on in one way and a mark of the ruler for
// its spacing. The mark stands for all spacings nearer to it than to any other, as far as
// the band allows them.
type state struct {
	*bandOption
	mechanics.Fitted                                   // at the mark, or as near to it as the band allows
	cell             units.Interval[units.Millimetres] // what the mark stands for
	cost             score.Points                      // of the band: its use, its stretch, what is assumed of it
	greatest         units.Newtons                     // effective pull at which it slips
	exponent         float64                           // m theta: at slip the tight run pulls e to this times the slack one
	thickness        units.Millimetres                 // of the band at rest
	growth           float64                           // share of its pull for each mm that the spacing is longer
	curves
}

// bearable lists how far holes may be out of place, the most first: as far as the brief
// has them, as far as a careful hand, not at all.
func bearable(holeError units.Millimetres) []units.Millimetres {
	out := []units.Millimetres{holeError}
	if holeError > score.Edge {
		out = append(out, score.Edge)
	}
	if holeError > 0 {
		out = append(out, 0)
	}
	return out
}

// marks lists the marks for a way to band a stage if holes may be so far out of place, as far as
// they cost more than above and no more than limit, the nearest to the ideal stretch first.
func (t *task) marks(o *bandOption, bears units.Millimetres, above, limit score.Points) []*state {
	// Two holes out of place move the spacing by twice the error.
	window := o.whole.Grow(-2 * bears)
	if window.Empty() {
		return nil
	}
	var out []*state
	step := rulerStep(o.stage.Band.Rest)
	last := nearestMark(window.Hi, step)
	for k := nearestMark(window.Lo, step); k <= last; k++ {
		at, cell := cellAt(k, step, window)
		f, err := o.stage.Fit(window.Clamp(at))
		if err != nil {
			continue // rounding leaves it loose
		}
		if cost := o.base + score.BandFit(t.brief.Limits, t.brief.Weights, f.Stretch); cost > above && cost <= limit {
			out = append(out, t.stateAt(o, f, cell, cost))
		}
	}
	slices.SortStableFunc(out, func(a, b *state) int { return cmp.Compare(o.off(a.Centre), o.off(b.Centre)) })
	return out
}

// off is how far a spacing is from the one of ideal stretch.
func (o *bandOption) off(centre units.Millimetres) units.Millimetres {
	return max(centre-o.ideal, o.ideal-centre)
}

// stateAt works out a band as it is fitted at a mark.
func (t *task) stateAt(o *bandOption, f mechanics.Fitted, cell units.Interval[units.Millimetres], cost score.Points) *state {
	s := &state{bandOption: o, Fitted: f, cell: cell, cost: cost, thickness: t.bands[o.band].Part.Thickness}
	s.greatest, _ = o.stage.Grip(f)
	driver, driven := o.stage.FrictionExponents(f)
	s.exponent, s.growth = min(driver, driven), o.stage.PullGrowth(f)
	s.curves = curvesOf(o, &f, s.greatest)
	return s
}

// RulerShare is the share of a band's rest length to which the marks are the coarser.
const RulerShare = 0.05
