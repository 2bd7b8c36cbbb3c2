package sheet

import (
	"fmt"
	"math"

	"findrive/internal/assembly"
	"findrive/internal/units"
)

// liftedOver is the way over which a load is timed.
const liftedOver = assembly.Lifted

// axleHeight is how high a shaft stands over the frame's lower outside edge.
func (s *Set) axleHeight(shaft int) units.Millimetres {
	b := s.plan.Build
	return b.Shafts[shaft].At.Y + b.Frame.Below
}

// rideBelow is how far a ride that turns upright reaches below the frame, in whole mm
// rounded up; 0 if it does not. The ride is at least as large as the brief says its load is.
func (s *Set) rideBelow() units.Millimetres {
	if s.model() != levelRide {
		return 0
	}
	l := &s.cert.Brief.Load
	reach := units.Millimetres(max(l.LoadRadius, l.OutOfBalanceRadius)) - s.axleHeight(s.plan.Build.Stages)
	return max(0, units.Millimetres(math.Ceil(float64(reach)-1e-6)))
}

// below is how far a part reaches below the frame, in whole mm rounded up, and which it is; 0 if
// none does. inner leaves out what is outside the sides, which may hang over a table's edge.
func (s *Set) below(inner bool) (reach units.Millimetres, what string) {
	b := s.plan.Build
	if b.Upright {
		return 0, ""
	}
	look := func(r units.Millimetres, words string) {
		if r = units.Millimetres(math.Ceil(float64(r) - 1e-6)); r > reach {
			reach, what = r, words
		}
	}
	for i := range b.Shafts {
		for _, k := range b.Shafts[i].Along {
			if p := &b.Parts[k]; p.Kind == assembly.Pulley {
				look(p.Radius-s.axleHeight(i), "pulley "+p.Letter)
			}
		}
	}
	if inner {
		return reach, what
	}
	if s.overEdge() == "" {
		for _, k := range b.Shafts[b.Stages].Front {
			if p := &b.Parts[k]; p.Kind == assembly.Drum {
				look(p.Radius-s.axleHeight(b.Stages), "the drum")
			}
		}
	}
	look(s.rideBelow(), "the ride")
	return reach, what
}

// standsFrom is the step before which the frame is put up so that all turns free of the table: the
// first that puts in a pulley that reaches below it, or else that of its ride or drum. Nil if none
// has to be.
func (s *Set) standsFrom() *assembly.Step {
	b := s.plan.Build
	if reach, _ := s.below(false); reach == 0 {
		return nil
	}
	inner, _ := s.below(true)
	for i := range s.plan.Steps {
		step := &s.plan.Steps[i]
		if inner == 0 {
			if step.Kind == assembly.RideStep || step.Kind == assembly.DrumStep {
				return step
			}
			continue
		}
		for _, a := range step.Actions {
			p := &b.Parts[a.Part]
			if step.Hands() && a.Verb == assembly.Thread && p.Kind == assembly.Pulley && p.Radius > s.axleHeight(step.Shaft)+1e-6 {
				return step
			}
		}
	}
	return nil
}

// stand says how the frame is put up for a step so that all turns free of the table; nothing where
// it is up, or need not be.
func (s *Set) stand(step *assembly.Step) string {
	if step != s.standsFrom() {
		return ""
	}
	reach, what := s.below(false)
	more, how := "", ""
	if inner, _ := s.below(true); inner == 0 {
		front, _ := s.sides()
		how = fmt.Sprintf(", or let its %s side hang over the edge of the table", front)
	}
	if what == "the ride" {
		more = " or more"
	}
	if s.model() == vehicle {
		how = ", until its wheels are on"
	}
	return fmt.Sprintf("%s reaches %s mm below the frame%s: first stand the frame on blocks higher than that%s. ", units.Capital(what), mm(reach), more, how)
}

// overEdge says where a frame stands from whose drum a load hangs lower than the table; nothing
// if the drum is high enough, or the load hangs from a guide.
func (s *Set) overEdge() string {
	if s.model() != lift || s.guideSide() != "" || s.axleHeight(s.plan.Build.Stages) > liftedOver {
		return ""
	}
	return "Hang the drum's side of the frame over the edge of a table, or stand it high, so that it cannot tip."
}

// guideSide is where a cord goes over a guide that does not leave its drum downwards: "above",
// "to the left of" or "to the right of" the drum; nothing for a cord that hangs down.
func (s *Set) guideSide() string {
	if s.model() != lift {
		return ""
	}
	return map[string]string{"up": "above", "left": "to the left of", "right": "to the right of"}[s.cert.Brief.Load.CordLeaves]
}

// guide says what a cord goes over that does not leave its drum downwards; nothing for others.
func (s *Set) guide() string {
	side := s.guideSide()
	if side == "" {
		return ""
	}
	front, _ := s.sides()
	way := "straight up"
	if s.cert.Brief.Load.CordLeaves != "up" {
		way = "level to the " + s.cert.Brief.Load.CordLeaves
	}
	return fmt.Sprintf("The cord leaves the drum %s, seen from the %s: lead it over a guide that your group makes and fixes %s the drum, a smooth rod or a loose pulley, and then down. Put the guide so high that the load can rise %s mm below it.", way, front, side, mm(liftedOver))
}

// youngStand is the same for children.
func (s *Set) youngStand(step *assembly.Step) string {
	if s.stand(step) == "" {
		return ""
	}
	return "First put the frame up on blocks. "
}

// youngCord says for children where the cord of a lift runs.
func (s *Set) youngCord() string {
	switch {
	case s.guideSide() != "":
		return "Fix a rod to guide the cord. "
	case s.overEdge() != "":
		return "Put the drum past the edge of the table. "
	}
	return ""
}
