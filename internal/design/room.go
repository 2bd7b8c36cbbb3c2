package design

import (
	"math"

	"findrive/internal/constraints"
	"findrive/internal/layout"
	"findrive/internal/units"
)

// roomy reports whether the frame may have room for an arrangement. It looks for
// holes once, for the thinnest axles and bands and with every centre distance free
// that any band allows: where there are none for these there are none for any
// choice of bands, and all of them are spared.
func (s *settling) roomy(forgive bool) bool {
	s.choice = choice{forgive: forgive}
	w := windows{}
	s.chooseThinnestAxles()
	for i := range s.stages {
		all := units.Interval[units.Millimetres]{Lo: units.Millimetres(math.Inf(1)), Hi: units.Millimetres(math.Inf(-1))}
		for _, o := range s.options[i] {
			if o.crossed {
				return true // its runs lie elsewhere
			}
			window := s.forgiving(o, o.whole)
			if window.Empty() {
				continue
			}
			all.Lo, all.Hi = min(all.Lo, window.Lo), max(all.Hi, window.Hi)
			if thinnest := s.choice.bands[i]; thinnest == nil || s.bands[o.band].Part.Thickness < s.bands[thinnest.band].Part.Thickness {
				s.choice.bands[i] = o
			}
		}
		if s.choice.bands[i] == nil {
			return false
		}
		w.centre[i] = all
	}
	s.widen(&w)
	_, outcome := s.findPlacement(s.assemble(0), &w)
	if outcome == layout.Impossible {
		s.tally.add(constraints.RoomInFrame(s.brief.Frame.Length, s.brief.Frame.Height))
	}
	return outcome != layout.Impossible
}

// chooseThinnestAxles chooses the thinnest stock for every axle: what has no room with
// these has none with any.
func (s *settling) chooseThinnestAxles() {
	for i := range s.stages {
		s.choice.axles[i] = &s.axles[i][0]
		for k := range s.axles[i] {
			if o := &s.axles[i][k]; s.task.axles[o.stock].Part.Diameter < s.task.axles[s.choice.axles[i].stock].Part.Diameter {
				s.choice.axles[i] = o
			}
		}
	}
}

// reachesInFrame are the reaches from shaft to shaft in the frame, whatever the bands
// and axles; nil if a shaft has no place in it.
func (s *settling) reachesInFrame() [][]layout.Reach {
	s.chooseThinnestAxles()
	for i := range s.stages {
		s.choice.bands[i] = s.options[i][0]
	}
	p := LayoutProblem(s.assemble(0), s.brief, s.plans[0], 0)
	s.pinHoles(&p)
	return layout.Reaches(p)
}

// reachPad covers rounding in the law of cosines.
const reachPad = 1e-9

// leastCos bounds from below the cosine of the angle at the axle between stages i and
// i+1: the more nearly the two lines of centres are in line, the further apart are
// their ends, and the frame is only so long. By the law of cosines; while neither
// distance is longer than the ends can be apart, the cosine grows with both.
func (s *settling) leastCos(i int, near, next units.Interval[units.Millimetres]) float64 {
	far := s.reaches[i][i+2].Far
	if max(near.Hi, next.Hi) > far {
		return -1
	}
	a, b := near.Lo, next.Lo
	return max(-1, float64((a*a+b*b-far*far)/(2*a*b))-reachPad)
}
