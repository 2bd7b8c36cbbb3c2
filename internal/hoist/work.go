package hoist

import (
	"math"
	"slices"

	"findrive/internal/mechanics"
	"findrive/internal/parts"
	"findrive/internal/units"
)

// Pull is a force known as a range.
type Pull struct{ Low, Likely, High units.Newtons }

// Hoist is a reeving worked out for a brief.
type Hoist struct {
	Reeving
	Mass units.Grams // lifted; of a brief without one, what can be lifted for sure
	Hung units.Grams // the moving block, lifted as well
	// Efficiency is the share of the hand's work that arrives at the moving block;
	// Advantage the real mechanical advantage, weight at the moving block / pull.
	Efficiency, Advantage mechanics.Range
	Raising               Pull // what a force meter shows while the load rises steadily; High also to start
	Sinking               Pull // and while it sinks
	// OldRule is the pull by the rule of a tenth for each sheave.
	OldRule units.Newtons
	// Meter is the full scale of the force meter to take; 0 if none is large enough.
	Meter units.Newtons
	// BeamCarries is the greatest force on the beam: load, blocks and pull.
	BeamCarries units.Newtons
	// Heaviest is the load that the comfortable pull lifts even with the most
	// friction, and HeaviestLikely with the likely one, both capped; Capped says
	// that the cap decides and not the pull.
	Heaviest, HeaviestLikely units.Grams
	Capped                   bool
	LiftAvailable            units.Millimetres
	CordNeeded, CordPulled   units.Millimetres
	Work                     Work
	SetsFromStock            int      // hoists like this one that the stock gives
	Alike                    int      // other choices of blocks and cord that thread the same way and pass
	Assumed                  []string // facts the cupboard did not give
}

// Joules is energy; a newton metre.
type Joules float64

// Work is the account of one lift by the wanted height, by likely friction:
// In = Load + Block + Friction.
type Work struct{ In, Load, Block, Friction Joules }

// meters are the full scales of usual school force meters (common practice).
var meters = []units.Newtons{1, 2.5, 5, 10, 20, 30, 50}

// meterShare is how far up its scale a meter is still read in comfort (judgement).
const meterShare = 0.95

// meterFor is the smallest meter for a pull; 0 if there is none.
func meterFor(pull units.Newtons) units.Newtons {
	for _, m := range meters {
		if pull <= meterShare*m {
			return m
		}
	}
	return 0
}

// workOut works a reeving out. Stock, which needs the cupboard's counts, is left to
// sets.
func workOut(r Reeving, b *Brief) Hoist {
	h := figures(r, b)
	h.Assumed = assumed(&r)
	return h
}

// figures are all of a hoist that the rules look at.
func figures(r Reeving, b *Brief) Hoist {
	h := Hoist{Reeving: r, Efficiency: r.Efficiency()}
	if r.Moving != nil {
		h.Hung = r.Moving.Mass
	}
	n := float64(h.Parts())
	h.Advantage = mechanics.Range{Low: n * h.Efficiency.Low, Likely: n * h.Efficiency.Likely, High: n * h.Efficiency.High}
	h.Heaviest = heaviest(b, h.Hung, h.Advantage.Low)
	h.HeaviestLikely = heaviest(b, h.Hung, h.Advantage.Likely)
	h.Capped = h.Heaviest == HeaviestLoad
	h.Mass = b.Mass
	if b.Mass == 0 {
		h.Mass = h.Heaviest
	}
	weight := (h.Mass + h.Hung).Weight()
	at := func(advantage float64) units.Newtons { return weight / units.Newtons(advantage) }
	h.Raising = Pull{Low: at(h.Advantage.High), Likely: at(h.Advantage.Likely), High: at(h.Advantage.Low)}
	h.Sinking = Pull{Low: at(r.lowering(highOf)), Likely: at(r.lowering(likelyOf)), High: at(r.lowering(lowOf))}
	h.OldRule = RuleOfTenth(weight, h.Parts(), h.Sheaves())
	h.Meter = meterFor(h.Raising.High)
	h.BeamCarries = beamCarries(&h, weight)
	h.LiftAvailable = r.LiftAvailable(b)
	h.CordNeeded = r.CordNeeded(b)
	h.CordPulled = r.CordPulled(b.Lift)
	h.Work = work(&h, b.Lift)
	return h
}

// assumed are the facts the cupboard did not give about the blocks of a reeving.
func assumed(r *Reeving) []string {
	var out []string
	for i, b := range r.Blocks() {
		if slices.Index(r.Blocks(), b) < i {
			continue // a second block of the kind
		}
		for _, fact := range b.Assumed {
			out = append(out, b.Name+": "+fact)
		}
		if !KnownFriction(b) {
			out = append(out, b.Name+": friction as observed on other tackles")
		}
	}
	return out
}

// heaviest is the load, in whole grams, that the comfortable pull lifts besides
// the block that hangs with it, at most the cap.
func heaviest(b *Brief, hung units.Grams, advantage float64) units.Grams {
	lifted := float64(b.Pull) * advantage / units.StandardGravity * 1000
	return min(HeaviestLoad, max(0, units.Grams(math.Floor(lifted-float64(hung)+1e-9))))
}

// beamCarries is the greatest force down on the beam. It holds every part that
// goes up to it: the load and the moving block, and the fall that is pulled down,
// hardest while the load rises, or less the fall that is pulled up, least while it
// sinks; and the blocks that hang from it.
func beamCarries(h *Hoist, weight units.Newtons) units.Newtons {
	f := weight
	if h.Way() == Up {
		f -= h.Sinking.Low
	} else {
		f += h.Raising.High
	}
	for _, hung := range []*parts.Block{h.Fixed, h.BeamLead} {
		if hung != nil {
			f += hung.Mass.Weight()
		}
	}
	return f
}

func work(h *Hoist, lift units.Millimetres) Work {
	joules := func(f units.Newtons, way units.Millimetres) Joules { return Joules(float64(f) * float64(way) / 1000) }
	w := Work{In: joules(h.Raising.Likely, h.CordPulled), Load: joules(h.Mass.Weight(), lift), Block: joules(h.Hung.Weight(), lift)}
	w.Friction = w.In - w.Load - w.Block
	return w
}
