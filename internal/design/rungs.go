package design

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
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

// halves cuts a span in two at a place that depends on nothing else.
func (s span) halves() (lower, upper span) {
	mid := s.first + s.len()/2
	return span{s.first, mid}, span{mid, s.end}
}

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

// least is the penalty of a span's cheapest rung.
func (o *bandOption) least(of span) score.Points {
	cost := unsettled
	for _, r := range o.rungs[of.first:of.end] {
		cost = min(cost, r.cost)
	}
	return cost
}

// climb settles on a rung for each band of the choice. Several rungs of a band are
// bounded together, as one wide window at the penalty of the cheapest; what is not
// ruled out is halved, until there is one rung each and the holes can be sought.
// bands is what the choice costs with each band on its cheapest rung.
//
// Where the spans are halved depends on nothing found so far, and what is found on
// wide windows is not used again; so neither does the answer.
func (s *settling) climb(model *drive.Model, spans [drive.MaxStages]span, bands score.Points) {
	cost := bands
	for i, o := range s.choice.bands[:s.stages] {
		cost += o.least(spans[i]) - o.cost
	}
	if cost > s.limit {
		return
	}
	var w windows
	widest, several := 0, false
	for i, o := range s.choice.bands[:s.stages] {
		window, within := o.reach(spans[i], s.limit-cost+o.least(spans[i]))
		if w.centre[i] = s.forgiving(o, window); w.centre[i].Empty() {
			return
		}
		several = several || within.len() > 1
		if spans[i].len() > spans[widest].len() {
			widest = i
		}
	}
	s.widen(&w)
	before := s.choice.cost
	s.choice.cost = cost
	defer func() { s.choice.cost = before }()
	if spans[widest].len() == 1 {
		s.cell = max(2*s.brief.Limits.HoleError, leastCell)
		shortest := w.centre[0].Lo
		for i := range s.stages {
			shortest = min(shortest, w.centre[i].Lo)
		}
		s.cellAngle = units.Radians(cellTurn * s.cell / shortest)
		s.narrow(model, w, nil, true)
		return
	}
	if several && s.hopeless(model, &w) {
		return
	}
	first, second := spans, spans
	o := s.choice.bands[widest]
	first[widest], second[widest] = spans[widest].halves()
	if o.least(second[widest]) < o.least(first[widest]) {
		first, second = second, first
	}
	s.climb(model, first, bands)
	s.climb(model, second, bands)
}

// widen lets the axles lie anywhere at the centre distances of the windows.
func (s *settling) widen(w *windows) {
	for i := range s.stages - 1 {
		w.angle[i] = units.Interval[units.Radians]{Lo: 0, Hi: math.Pi}
	}
	far := w.centre[s.stages-1].Hi
	w.rise = units.Interval[units.Millimetres]{Lo: -far, Hi: far}
}

// hopeless reports that no placement within the windows can be afforded and keeps
// the rules.
func (s *settling) hopeless(model *drive.Model, w *windows) bool {
	var x drive.Extent
	bound, _, no := s.boundDrawn(model, w, &x)
	if no == nil && bound <= s.limit {
		if _, outcome := s.findPlacement(s.drive(), w); outcome == layout.Impossible {
			no = constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height)
		}
	}
	if no != nil {
		s.tally.add(no)
	}
	return no != nil || bound > s.limit
}
