package design

import (
	"slices"

	"findrive/internal/constraints"
	"findrive/internal/drive"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// roomKey is all that the room for an arrangement depends on besides its pulleys, but for
// the thickness of its bands, its spacings and lies.
type roomKey struct {
	axles   [drive.MaxStages]units.Millimetres // diameters
	crossed [drive.MaxStages]bool
	bears   units.Millimetres
}

// memory is what is known of the room for an arrangement: for which spacings and lies
// there is none, and places that have been found. Both spare looking again. Arrangements
// do not share it: of several designs together it may depend on what was asked before
// whether their room is told, and what is looked at must not depend on threads.
type memory struct {
	crossed [drive.MaxStages]bool
	none    []windows
	found   []places
}

// places are where the shafts may stand, with bands of some thickness.
type places struct {
	at        []layout.Point
	thickness [drive.MaxStages]units.Millimetres
}

// windows is what is asked of the axles' places.
type windows struct {
	centre [drive.MaxStages]units.Interval[units.Millimetres] // of each stage
	prefer [drive.MaxStages]units.Millimetres                 // tried first
	// The lies are asked as if each spacing were so long: the far end of its cell, and of
	// several cells the least of these.
	far       [drive.MaxStages]units.Millimetres
	thickness [drive.MaxStages]units.Millimetres // of the bands, and of several the thinnest; or noBand
	// All shapes from the best to the worst will do.
	best, worst shape
	// opened, unless 0, is how much further from one another than the least angles of the
	// worst shape the pulls may be, at the near ends of the spacings.
	opened units.Radians
}

// within tells whether what lies in some windows lies in others too.
func (w *windows) within(o *windows, m *memory, stages int) bool {
	if w.worst.inner > o.worst.inner || w.worst.output > o.worst.output || w.best.inner < o.best.inner || w.best.output < o.best.output {
		return false
	}
	for i := range stages {
		if w.centre[i].Lo < o.centre[i].Lo || w.centre[i].Hi > o.centre[i].Hi || w.far[i] < o.far[i] {
			return false
		}
	}
	return m.roomier(&o.thickness, &w.thickness, stages)
}

// roomier tells whether bands of some thickness leave at least the room that others do.
func (m *memory) roomier(thin, thick *[drive.MaxStages]units.Millimetres, stages int) bool {
	for i := range stages {
		if thin[i] > thick[i] || m.crossed[i] && thin[i] != thick[i] {
			return false
		}
	}
	return true
}

// roomFor tells whether the frame may have room for any design of a box.
func (r *refining) roomFor(b *box) bool { return r.roomOf(b) != layout.Impossible }

// roomOf looks for room for the designs of a box. Of bands of several thicknesses the thinnest
// is taken, if that is the one that takes up least room; else the band is left out.
func (r *refining) roomOf(b *box) layout.Outcome {
	var states [drive.MaxStages]*state
	for i, c := range b.states[:r.stages] {
		if states[i] = c.thinnest; c.thinnest == nil {
			states[i] = c.states[0]
		}
	}
	w := r.windowsOf(b)
	m := r.memoryOf(&states, w)
	for i := range m.none {
		if w.within(&m.none[i], m, r.stages) {
			m.none[0], m.none[i] = m.none[i], m.none[0] // the next will lie there too
			r.tally.add(constraints.RoomInFrame(r.brief.Frame.Length, r.brief.Frame.Height))
			return layout.Impossible
		}
	}
	r.gaps, r.rises = r.ask(w, r.gaps[:0], r.rises[:0])
	for i := range m.found {
		if p := &m.found[i]; m.roomier(&w.thickness, &p.thickness, r.stages) && holds(r.gaps, r.rises, p.at) {
			m.found[0], m.found[i] = m.found[i], m.found[0]
			return layout.Placed
		}
	}
	r.choice.states = states
	budget := glimpseBudget
	if b.single(r.stages) {
		budget = placeBudget
	}
	found, outcome := r.findPlacement(r.assemble(), w, budget)
	switch outcome {
	case layout.Placed:
		m.found = append(m.found, places{found.Positions, w.thickness})
	case layout.Impossible:
		m.none = append(slices.DeleteFunc(m.none, func(o windows) bool { return o.within(w, m, r.stages) }), *w)
		r.tally.add(constraints.RoomInFrame(r.brief.Frame.Length, r.brief.Frame.Height))
		return layout.Impossible
	}
	return outcome
}

// memoryOf is what is known of the room for the arrangement with some bands.
func (r *refining) memoryOf(states *[drive.MaxStages]*state, w *windows) *memory {
	key := roomKey{bears: r.choice.bears}
	for i := range r.stages {
		key.axles[i] = r.task.axles[r.choice.axles[i].stock].Part.Diameter
		key.crossed[i] = states[i].crossed && w.thickness[i] != noBand
	}
	m := r.memories[key]
	if m == nil {
		m = &memory{crossed: key.crossed}
		r.memories[key] = m
	}
	return m
}

// holds tells whether places are as far apart and above one another as is asked, all else
// being as it should.
func holds(gaps []layout.Gap, rises []layout.Rise, at []layout.Point) bool {
	const noise = 1e-9
	for _, g := range gaps {
		if d := drive.Distance(at[g.A], at[g.B]); d < g.Min-noise || d > g.Max+noise {
			return false
		}
	}
	for _, rise := range rises {
		if y := at[rise.To].Y - at[rise.From].Y; y < rise.Min-noise || y > rise.Max+noise {
			return false
		}
	}
	return true
}

// glimpseBudget is the work of a search for the room of several designs together: where
// that does not tell, smaller boxes will.
const glimpseBudget = 100

// noBand stands for the thickness of a band that is left out of what takes up room. It is the
// least, so that what has no room without the band has none with it.
const noBand units.Millimetres = -1
