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
	for i := range s.stages {
		s.choice.axles[i] = &s.axles[i][0]
		for k := range s.axles[i] {
			if o := &s.axles[i][k]; s.task.axles[o.stock].Part.Diameter < s.task.axles[s.choice.axles[i].stock].Part.Diameter {
				s.choice.axles[i] = o
			}
		}
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
