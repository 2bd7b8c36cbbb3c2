package hoist

import "findrive/internal/parts"

// Place is an end of the tackle.
type Place int

// The two ends: what hangs still, and what rises.
const (
	Beam Place = iota
	Load
)

func (p Place) String() string {
	if p == Load {
		return "load"
	}
	return "beam"
}

// other is the opposite end.
func (p Place) other() Place { return Load - p }

// Way is which way the puller pulls.
type Way string

// The ways of pulling. AnyWay is for wishes only: every reeving has one of the
// others.
const (
	AnyWay Way = "any"
	Down   Way = "down"  // from the floor, standing clear of the load
	Up     Way = "up"    // from above the load
	Level  Way = "level" // along the table or floor, from a lead block at its foot
)

// Reeving is one way of threading one cord. The cord runs from its tied end to
// and fro between beam and load, once round a sheave at each turn, never twice
// round one sheave.
type Reeving struct {
	Tied  Place // where the standing end is tied
	Turns int   // sheaves of the two blocks the cord goes round, at least 1
	// Fixed hangs from the beam, Moving carries the load. Either is nil when the
	// cord does not turn there; without a moving block the load hangs on the tied
	// end itself.
	Fixed, Moving *parts.Block
	// BeamLead turns an upward pull down; FootLead turns a downward pull level.
	// One sheave of each is used. They add friction and no gain.
	BeamLead, FootLead *parts.Block
	Cord               *parts.Cord
}

// turnsAt is how many of the cord's turns are at a place: they alternate, and the
// first is opposite the tied end.
func (r *Reeving) turnsAt(p Place) int {
	if r.Tied == p {
		return r.Turns / 2
	}
	return (r.Turns + 1) / 2
}

// FixedTurns and MovingTurns are the sheaves in use of the two blocks.
func (r *Reeving) FixedTurns() int { return r.turnsAt(Beam) }

// MovingTurns are the sheaves in use of the moving block.
func (r *Reeving) MovingTurns() int { return r.turnsAt(Load) }

// Parts is the number of rope parts that hold up the load, which is the ideal
// mechanical advantage: two for each moving sheave, and one more when the end is
// tied to the load.
func (r *Reeving) Parts() int {
	n := 2 * r.MovingTurns()
	if r.Tied == Load {
		n++
	}
	return n
}

// EndsAt is where the last turn is, lead blocks left out.
func (r *Reeving) EndsAt() Place {
	if r.Turns%2 == 1 {
		return r.Tied.other()
	}
	return r.Tied
}

// Way is which way the fall is pulled.
func (r *Reeving) Way() Way {
	switch {
	case r.FootLead != nil:
		return Level
	case r.EndsAt() == Beam || r.BeamLead != nil:
		return Down
	}
	return Up
}

// Sheaves is how many sheaves the cord goes round, lead blocks included.
func (r *Reeving) Sheaves() int {
	n := r.Turns
	for _, lead := range []*parts.Block{r.BeamLead, r.FootLead} {
		if lead != nil {
			n++
		}
	}
	return n
}

// Idle is how many sheaves of the blocks stay empty.
func (r *Reeving) Idle() int {
	n := -r.Sheaves()
	for _, b := range r.Blocks() {
		n += b.Sheaves
	}
	return n
}

// Blocks are the blocks in use: fixed, moving, lead at the beam, lead at the foot,
// as far as there are any.
func (r *Reeving) Blocks() []*parts.Block {
	var out []*parts.Block
	for _, b := range []*parts.Block{r.Fixed, r.Moving, r.BeamLead, r.FootLead} {
		if b != nil {
			out = append(out, b)
		}
	}
	return out
}

// Uses is how many blocks of a name the reeving takes.
func (r *Reeving) Uses(name string) int {
	n := 0
	for _, b := range r.Blocks() {
		if b.Name == name {
			n++
		}
	}
	return n
}

// arrangement is a reeving whatever its blocks: two reevings of one arrangement
// look the same and gain the same.
type arrangement struct {
	tied               Place
	turns              int
	beamLead, footLead bool
}

func (r *Reeving) arrangement() arrangement {
	return arrangement{r.Tied, r.Turns, r.BeamLead != nil, r.FootLead != nil}
}

// round is one turn of the cord, on its way from the tied end to the hand.
type round struct {
	at    Place // Beam for the leads too
	block *parts.Block
}

func (r *Reeving) path() []round {
	var out []round
	at := r.Tied
	for range r.Turns {
		at = at.other()
		b := r.Fixed
		if at == Load {
			b = r.Moving
		}
		out = append(out, round{at, b})
	}
	for _, lead := range []*parts.Block{r.BeamLead, r.FootLead} {
		if lead != nil {
			out = append(out, round{Beam, lead})
		}
	}
	return out
}
