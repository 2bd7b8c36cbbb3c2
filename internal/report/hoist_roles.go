package report

import (
	"findrive/internal/hoist"
	"findrive/internal/parts"
)

// hoistRole is a block and what it does.
type hoistRole struct {
	name  string
	block *parts.Block // nil if there is none
	used  int          // sheaves in use
}

// hoistRoles are the four roles a block can have, whether filled or not.
func hoistRoles(h *hoist.Hoist) []hoistRole {
	return []hoistRole{
		{"fixed", h.Fixed, h.FixedTurns()},
		{"moving", h.Moving, h.MovingTurns()},
		{"lead at the beam", h.BeamLead, 1},
		{"lead at the foot", h.FootLead, 1},
	}
}
