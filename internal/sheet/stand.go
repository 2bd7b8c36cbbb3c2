package sheet

import (
	"fmt"
	"math"

	"findrive/internal/assembly"
	"findrive/internal/units"
)

// liftedOver is the way over which a load is timed.
const liftedOver units.Millimetres = 300

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

// stand says how the frame is put up so that a ride turns free of the table; nothing if it does.
func (s *Set) stand() string {
	below := s.rideBelow()
	if below == 0 {
		return ""
	}
	front, _ := s.sides()
	return fmt.Sprintf("The ride reaches %s mm below the frame or more: first stand the frame on blocks higher than that, or let its %s side hang over the edge of the table. ", mm(below), front)
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

// youngStand is the same for children, before what is put on.
func (s *Set) youngStand(kind assembly.Kind) string {
	switch {
	case kind == assembly.Ride && s.rideBelow() > 0:
		return "First put the frame up on blocks. "
	case kind == assembly.Cord && s.guideSide() != "":
		return "Fix a rod to guide the cord. "
	case kind == assembly.Cord && s.overEdge() != "":
		return "Put the drum past the edge of the table. "
	}
	return ""
}
