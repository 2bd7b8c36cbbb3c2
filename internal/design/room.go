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
			r.tally.add(constraints.RoomInFrame(r.brief))
			return layout.Impossible
		}
	}
	r.asked.of(r.settling, w, true)
	for i := range m.found {
		if p := &m.found[i]; m.roomier(&w.thickness, &p.thickness, r.stages) && r.asked.hold(p.at) {
			m.found[0], m.found[i] = m.found[i], m.found[0]
			return layout.Placed
		}
	}
	budget := glimpseBudget
	if b.single(r.stages) {
		budget = placeBudget
	}
	found, _, outcome := r.seek(r.laidOut(m, &states, w), w, budget, true)
	switch outcome {
	case layout.Placed:
		m.found = append(m.found, places{found, w.thickness})
	case layout.Impossible:
		m.none = append(slices.DeleteFunc(m.none, func(o windows) bool { return o.within(w, m, r.stages) }), *w)
		r.tally.add(constraints.RoomInFrame(r.brief))
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
		if r.memories == nil {
			r.memories = map[roomKey]*memory{}
		}
		r.memories[key] = m
	}
	return m
}

// laidOut is the arrangement with some bands laid out for each plan of lanes.
func (r *refining) laidOut(m *memory, states *[drive.MaxStages]*state, w *windows) []layout.Problem {
	for i := range r.layouts {
		if l := &r.layouts[i]; l.crossed == m.crossed && l.thickness == w.thickness {
			r.layouts[0], r.layouts[i] = r.layouts[i], r.layouts[0]
			return r.layouts[0].plans
		}
	}
	r.choice.states = *states
	plans := r.layOut(r.assemble())
	for i := range plans {
		plans[i].Runs = slices.DeleteFunc(plans[i].Runs, func(run layout.Run) bool { return w.thickness[run.From] == noBand })
	}
	r.layouts = append(r.layouts, layouts{m.crossed, w.thickness, plans})
	return plans
}

// layouts are placement problems of an arrangement whose bands are used in one way.
type layouts struct {
	crossed   [drive.MaxStages]bool
	thickness [drive.MaxStages]units.Millimetres
	plans     []layout.Problem
}

// glimpseBudget is the work of a search for the room of several designs together: where
// that does not tell, smaller boxes will. It is tried out (scripts/performance ordinary).
const glimpseBudget = 18

// noBand stands for the thickness of a band that is left out of what takes up room. It is the
// least, so that what has no room without the band has none with it.
const noBand units.Millimetres = -1
