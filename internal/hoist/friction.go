package hoist

import (
	"math"

	"findrive/internal/drive"
	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// The range of a small plastic sheave of which nothing is known: 0.85 to 0.95 is
// common practice, and 0.80 is allowed for a pupil's first (judgement).
const (
	poorSheave = 0.80
	goodSheave = 0.95
)

// KnownFriction reports whether a block's sheaves were measured.
func KnownFriction(b *parts.Block) bool { return b.Bore > 0 && b.Axle > 0 }

// sheaveGain is the tension after a sheave for a tension of 1 before it, when the
// cord is hauled: low for the least friction. sheaves is the number in the whole
// reeving, for sheaves of which nothing is known.
//
// The cord runs on and off in parallel, so the axle carries the sum of both
// tensions, and its friction holds the sheave back: T2 R = T1 R + mu (T1 + T2) r,
// with R to the middle of the cord and r of the surface that rubs. The same load
// is taken at a lead block that turns the cord by less, which is a little too
// much. The stiffness of thin cord is within the range of the friction.
func sheaveGain(b *parts.Block, cord *parts.Cord, sheaves int) mechanics.Range {
	if !KnownFriction(b) {
		e := mechanics.ObservedSheave(sheaves) // as observed on full-size tackles
		return mechanics.Range{Low: 1 / max(goodSheave, e), Likely: 1 / e, High: 1 / min(poorSheave, e)}
	}
	mu := drive.BearingFriction(b.AxleMaterial)
	k := func(mu float64) float64 {
		lag := float64(mechanics.BearingTorque(mu, 1, rubbing(b)) / units.NewtonMillimetres(pitchRadius(b, cord)))
		return (1 + lag) / (1 - lag)
	}
	return mechanics.Range{Low: k(mu.Low), Likely: k(mu.Likely), High: k(mu.High)}
}

// TurnsOnAxle reports whether the sheaves run loose on an axle held in the cheeks;
// otherwise they sit tight on an axle that turns in the cheeks.
func TurnsOnAxle(b *parts.Block) bool { return b.Bore > b.Axle+looseLeast }

// looseLeast is the least room in which a sheave turns on its axle; dowel is no
// rounder than that (common practice).
const looseLeast units.Millimetres = 0.3

// rubbing is the radius of the surface that rubs: the sheave's bore on a still
// axle, or a turning axle in the cheeks.
func rubbing(b *parts.Block) units.Millimetres {
	if TurnsOnAxle(b) {
		return b.Bore / 2
	}
	return b.Axle / 2
}

// pitchRadius is from the axle to the middle of the cord.
func pitchRadius(b *parts.Block, cord *parts.Cord) units.Millimetres {
	return (b.GrooveFloor + cord.Diameter) / 2
}

// RuleOfTenth is the old rule for the pull on the fall of a tackle: a tenth of the
// load is added for each sheave, and the whole shared among the parts (Nicholls's
// Seamanship and Nautical Knowledge). It is a check on the program's own figure.
func RuleOfTenth(load units.Newtons, parts, sheaves int) units.Newtons {
	return load * units.Newtons((1+float64(sheaves)/10)/float64(parts))
}

// Tensions are those of the cord when a hand pulls with a force at the likely
// friction, piece by piece from the tied end to the hand: one more than there are
// sheaves.
func (r *Reeving) Tensions(pull units.Newtons) []units.Newtons {
	path := r.path()
	out := make([]units.Newtons, len(path)+1)
	out[len(path)] = pull
	for i := len(path) - 1; i >= 0; i-- {
		out[i] = out[i+1] / units.Newtons(sheaveGain(path[i].block, r.Cord, r.Sheaves()).Likely)
	}
	return out
}

// tensions are those of a reeving whose fall is pulled with a force of 1.
type tensions struct {
	lifted float64 // sum of the parts at the load
	tied   float64 // at the tied end
}

// hauled works out the tensions when every sheave multiplies the tension by its
// gain towards the hand; gains below 1 are for lowering.
func (r *Reeving) hauled(gain func(*parts.Block) float64) tensions {
	path := r.path()
	after := make([]float64, len(path)+1) // tension before each turn, and at the hand
	after[len(path)] = 1
	for i := len(path) - 1; i >= 0; i-- {
		after[i] = after[i+1] / gain(path[i].block)
	}
	t := tensions{tied: after[0]}
	for i, turn := range path {
		if turn.at == Load {
			t.lifted += after[i] + after[i+1]
		}
	}
	if r.Tied == Load {
		t.lifted += after[0]
	}
	return t
}

// Efficiency is the share of the hand's work that reaches the moving block: Low,
// Likely and High efficiency, each above 0 up to 1.
func (r *Reeving) Efficiency() mechanics.Range {
	at := func(level func(mechanics.Range) float64) float64 {
		t := r.hauled(func(b *parts.Block) float64 { return level(sheaveGain(b, r.Cord, r.Sheaves())) })
		return math.Min(1, t.lifted/float64(r.Parts()))
	}
	return mechanics.Range{Low: at(highOf), Likely: at(likelyOf), High: at(lowOf)}
}

// lowering is the load that a force of 1 on the fall holds while it sinks,
// friction helping the hand.
func (r *Reeving) lowering(level func(mechanics.Range) float64) float64 {
	return r.hauled(func(b *parts.Block) float64 { return 1 / level(sheaveGain(b, r.Cord, r.Sheaves())) }).lifted
}

func lowOf(r mechanics.Range) float64    { return r.Low }
func likelyOf(r mechanics.Range) float64 { return r.Likely }
func highOf(r mechanics.Range) float64   { return r.High }
