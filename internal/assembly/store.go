package assembly

import "slices"

// store undoes what can be undone, last things first, from a finished model on. What
// glue holds stays as it is, and so does what it is in the way of; but every band
// comes off its pulleys in any case, so that none is stored stretched. The frame
// stays whole, with its feet.
func store(built []Step, s *State) (steps []Step, stays []int) {
	for i := len(built) - 1; i >= 0; i-- {
		step := built[i]
		if step.Kind <= FitStep || step.Kind == UnderStep {
			continue
		}
		step.Actions = nil
		for k := len(built[i].Actions) - 1; k >= 0; k-- {
			a := built[i].Actions[k]
			a.Verb = a.Verb.inverse()
			if a.Verb == "" {
				continue
			}
			if s.Do(a) == nil {
				step.Actions = append(step.Actions, a)
			}
		}
		if len(step.Actions) > 0 {
			steps = append(steps, step)
		}
	}
	for k := range s.build.Parts {
		switch s.build.Parts[k].Kind {
		case Piece, Bearing, Foot, Sleeve, Disc: // of the frame, in a bore, or of a pulley
			continue
		}
		if !s.onTable(k) {
			stays = append(stays, k)
		}
	}
	slices.Sort(stays)
	return steps, stays
}
