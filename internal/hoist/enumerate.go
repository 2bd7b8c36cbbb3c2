package hoist

import (
	"context"

	"findrive/internal/parts"
	"findrive/internal/pause"
)

// The most kinds of block and cord: the enumeration grows with the fourth power of
// the kinds of block, and has to stay within a few seconds.
const (
	maxKinds = 12
	maxCords = 6
)

// each calls visit with every reeving of the cupboard's blocks and cords, in one
// order: every pair of blocks, each with every number of its sheaves in use, tied
// at either end, with and without the lead blocks that change its way. It stops
// at ctx. Counts of stock are left to the rules, so that a refusal can say what
// is short.
func each(ctx context.Context, cup *parts.Cupboard, visit func(Reeving)) error {
	for _, tied := range []Place{Beam, Load} {
		for turns := 1; turns <= 2*parts.MaxSheaves; turns++ {
			shape := Reeving{Tied: tied, Turns: turns}
			for _, fixed := range holding(cup, shape.FixedTurns()) {
				for _, moving := range holding(cup, shape.MovingTurns()) {
					if err := pause.Err(ctx); err != nil {
						return err
					}
					shape.Fixed, shape.Moving = fixed, moving
					eachLead(cup, shape, visit)
				}
			}
		}
	}
	return nil
}

// eachLead adds the lead blocks there may be. A lead at the beam after a turn at
// the beam would change nothing, with no fixed block it would be the fixed block
// itself, and one at the foot needs a cord coming down.
func eachLead(cup *parts.Cupboard, r Reeving, visit func(Reeving)) {
	beamLeads := []*parts.Block{nil}
	if r.EndsAt() == Load && r.Fixed != nil {
		beamLeads = append(beamLeads, holding(cup, 1)...)
	}
	for _, r.BeamLead = range beamLeads {
		footLeads := []*parts.Block{nil}
		if r.EndsAt() == Beam || r.BeamLead != nil {
			footLeads = append(footLeads, holding(cup, 1)...)
		}
		for _, r.FootLead = range footLeads {
			for i := range cup.Cords {
				r.Cord = &cup.Cords[i]
				visit(r)
			}
		}
	}
}

// holding are the blocks with at least so many sheaves; only nil for none.
func holding(cup *parts.Cupboard, turns int) []*parts.Block {
	if turns == 0 {
		return []*parts.Block{nil}
	}
	var out []*parts.Block
	for i := range cup.Blocks {
		if cup.Blocks[i].Sheaves >= turns {
			out = append(out, &cup.Blocks[i])
		}
	}
	return out
}
