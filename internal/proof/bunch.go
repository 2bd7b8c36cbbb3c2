package proof

import (
	"cmp"
	"slices"

	"findrive/internal/drive"
)

// bunch is one or several states of a pair of pulleys, with bounds on what they do. It
// is cut in two until states are left: where the cost changes, then by how hard they
// pull.
type bunch struct {
	states         []*state
	lower, upper   *bunch // nil for a single state
	cost           points // of the cheapest
	ratio          span
	driver, driven span // mm; pitch radii
	hub, creep     span
	greatest       span
	growth         span // of the pull at rest for each mm that the spacing is longer, as a share
	exponent       span
	cell           gap
	far            mm     // the least far end of a cell
	thin           *state // the one with the thinnest band
	mixed          bool   // some are crossed and some are open
}

// pairAt is a pair of pulleys and how far holes may be out of place.
type pairAt struct {
	pair
	level mm
}

// bunchAt is all states of a pair at a level that are not too dear to look at; nil if there are none.
// dearer tells whether there may be others, with which a drive costs more than any that is listed.
type bunchAt struct {
	all    *bunch
	dearer bool
}

func (s *space) bunchOf(p pair, level mm) bunchAt {
	key := pairAt{p, level}
	if at, known := s.bunches[key]; known {
		return at
	}
	var states []*state
	ways := s.waysOf(p)
	s.dropped = ways.dearer
	for _, w := range ways.all {
		states = append(states, s.marks(w, level)...)
	}
	at := bunchAt{dearer: s.dropped}
	if len(states) > 0 {
		slices.SortStableFunc(states, func(a, b *state) int {
			return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(a.hub.Lo, b.hub.Lo))
		})
		at.all = s.bunched(states)
	}
	s.bunches[key] = at
	return at
}

func (s *space) bunched(states []*state) *bunch {
	if len(states) == 1 {
		one := states[0]
		at := func(v float64) span { return span{Lo: v, Hi: v} }
		return &bunch{states: states, cost: one.cost, ratio: at(one.fit.Ratio), driver: at(float64(one.fit.DriverPitch) / 2),
			driven: at(float64(one.fit.DrivenPitch) / 2), hub: one.hub, creep: one.creep, greatest: at(one.greatest),
			growth: at(one.growth), exponent: at(one.exponent), cell: one.cell, far: one.cell.Hi, thin: one}
	}
	at := slices.IndexFunc(states, func(o *state) bool { return o.cost != states[0].cost })
	if at < 0 {
		at = len(states) / 2
	}
	a, b := s.bunched(states[:at]), s.bunched(states[at:])
	out := &bunch{states: states, lower: a, upper: b, cost: a.cost, ratio: a.ratio.Join(b.ratio), driver: a.driver.Join(b.driver),
		driven: a.driven.Join(b.driven), hub: a.hub.Join(b.hub), creep: a.creep.Join(b.creep), greatest: a.greatest.Join(b.greatest),
		growth: a.growth.Join(b.growth), exponent: a.exponent.Join(b.exponent), cell: a.cell.Join(b.cell), far: min(a.far, b.far), thin: a.thin,
		mixed: a.mixed || b.mixed || a.thin.crossed != b.thin.crossed}
	if s.thickness(b.thin) < s.thickness(a.thin) {
		out.thin = b.thin
	}
	return out
}

func (s *space) thickness(st *state) mm { return s.bands[st.band].Part.Thickness }

// lies are the ways in which the pulls may lie on the axles of a drive that are still
// open: on those between stages alike, and on the output axle.
type lies struct{ innerBest, innerWorst, outputBest, outputWorst drive.Lie }

// liesFor are all lies of a drive of a head: none to choose where there is no axle
// between stages, where nothing else pulls on the output, or where a cord pulls sideways.
func (h *head) liesFor() lies {
	l := lies{innerWorst: drive.Folded, outputWorst: drive.Folded}
	if h.stages == 1 {
		l.innerWorst = drive.InLine
	}
	if w := h.demand.Weight; w.Size() == 0 {
		l.outputWorst = drive.InLine
	} else if w.X != 0 {
		l.outputBest = drive.Folded
	}
	return l
}

// of are the best and the worst lie on the axle of stage i's driven pulley.
func (l *lies) of(i, stages int) (best, worst drive.Lie) {
	if i == stages-1 {
		return l.outputBest, l.outputWorst
	}
	return l.innerBest, l.innerWorst
}

// all are the lies of every axle, the best of those that are open.
func (l *lies) all(stages int) [drive.MaxStages]drive.Lie {
	var out [drive.MaxStages]drive.Lie
	for i := range stages {
		out[i], _ = l.of(i, stages)
	}
	return out
}
