package hoist

import (
	"math"

	"findrive/internal/parts"
	"findrive/internal/units"
)

// Allowances for what is tied (judgement).
const (
	hangLoop   units.Millimetres = 20  // hook or loop between a block and what holds it
	knot       units.Millimetres = 150 // cord used up by the knot at the tied end
	inHand     units.Millimetres = 250 // cord held in the hand at the start
	leastGap   units.Millimetres = 15  // between the blocks, or a block and a knot, at the top
	bareKnot   units.Millimetres = 20  // a knot or hook without a block
	wholeCord  units.Millimetres = 100 // cord is cut in whole decimetres
	footHeight units.Millimetres = 30  // of a lead block's sheave at the foot of the frame
)

// room is where things are at the start, as heights above where the load stands.
type room struct {
	top    units.Millimetres // middle of the fixed sheaves, or the beam if the cord is tied to it
	bottom units.Millimetres // middle of the moving sheaves, or the load's hook
	rise   units.Millimetres // until the blocks meet
	fall   units.Millimetres // height of the sheave at the beam that the fall leaves; 0 if none
}

func (r *Reeving) room(b *Brief) room {
	out := room{top: b.Beam, bottom: b.Hook}
	lowest, highest := b.Beam-bareKnot, b.Hook+bareKnot
	hang := func(block *parts.Block) units.Millimetres {
		lowest = min(lowest, b.Beam-hangLoop-drop(block, r.Cord.Diameter)-nose(block, r.Cord.Diameter))
		return b.Beam - hangLoop - drop(block, r.Cord.Diameter)
	}
	if r.Fixed != nil {
		out.top = hang(r.Fixed)
		out.fall = out.top
	}
	if r.BeamLead != nil {
		out.fall = hang(r.BeamLead)
	}
	if r.Moving != nil {
		out.bottom = b.Hook + hangLoop + drop(r.Moving, r.Cord.Diameter)
		highest = out.bottom + nose(r.Moving, r.Cord.Diameter)
	}
	out.rise = max(0, lowest-highest-leastGap)
	return out
}

// LiftAvailable is how far the load can rise before the blocks meet.
func (r *Reeving) LiftAvailable(b *Brief) units.Millimetres { return r.room(b).rise }

// CordPulled is the cord that comes in at the hand for a lift: parts x lift.
func (r *Reeving) CordPulled(lift units.Millimetres) units.Millimetres {
	return units.Millimetres(r.Parts()) * lift
}

// CordNeeded is the cord to cut, with the load down: the straight runs between the
// sheaves, the half turns round them, the fall to the puller, and what the knot
// and the hand take; in whole decimetres, rounded up. As the load rises cord
// leaves the tackle for the hand and no more is needed.
func (r *Reeving) CordNeeded(b *Brief) units.Millimetres {
	at := r.room(b)
	run := max(0, at.top-at.bottom)
	length := knot + inHand
	for i := range r.Turns {
		if i == 0 && r.Tied == Beam {
			length += b.Beam - at.bottom // the tied part starts at the beam itself
		} else {
			length += run
		}
	}
	for _, turn := range r.path() {
		length += units.Millimetres(math.Pi) * pitchRadius(turn.block, r.Cord)
	}
	if r.BeamLead != nil {
		length += at.fall - at.bottom
	}
	switch r.Way() {
	case Up:
		length += b.Beam - at.bottom // the puller's hand is at the beam
	case Down:
		length += hypot(at.fall, b.StandOff)
	case Level:
		length += at.fall - footHeight + b.StandOff
	}
	return units.Millimetres(math.Ceil(float64(length/wholeCord)-1e-9)) * wholeCord
}

func hypot(a, b units.Millimetres) units.Millimetres {
	return units.Millimetres(math.Hypot(float64(a), float64(b)))
}
