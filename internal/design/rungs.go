package design

import (
	"findrive/internal/score"
	"findrive/internal/units"
)

// rung is a window of centre distances over which a band's penalty is the same.
type rung struct {
	window units.Interval[units.Millimetres]
	cost   score.Points
}

// span is some rungs of a band in a row: from first up to, not including, end.
type span struct{ first, end int }

func (s span) len() int { return s.end - s.first }

// reach is the centre distances of the rungs of a span that cost no more than the
// budget, and which these are. The penalty falls towards the comfortable rung and
// rises after it, so they are next to one another.
func (o *bandOption) reach(of span, budget score.Points) (units.Interval[units.Millimetres], span) {
	for of.len() > 0 && o.rungs[of.first].cost > budget {
		of.first++
	}
	for of.len() > 0 && o.rungs[of.end-1].cost > budget {
		of.end--
	}
	if of.len() == 0 {
		return units.Interval[units.Millimetres]{Lo: 1, Hi: 0}, of
	}
	return units.Interval[units.Millimetres]{Lo: o.rungs[of.first].window.Lo, Hi: o.rungs[of.end-1].window.Hi}, of
}
