// Package leeway lists what can give when nothing can be built: every line of a brief,
// every stock of a cupboard and every rule that may be set aside, how far it gives at
// most, and by what steps it gives least.
//
//	brief.go   what is asked: speed, sets, stages, cells, directions, making, load
//	frame.go   the frame
//	ground.go  what a vehicle stands on
//	discs.go   pulleys to be made of discs
//	parts.go   the cupboard
//	several.go pulleys of several kinds that are of use together only
//	rules.go   the limits of the rules
//	wishes.go  what somebody wants the drive to have
//	edits.go   what to change in the two files
package leeway

import (
	"slices"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/parts"
)

// Case is what a search is made with.
type Case struct {
	Cupboard *parts.Cupboard
	Brief    *brief.Brief
	Pins     *design.Pins // nil for none
}

// Copy is a case of its own, which may be changed.
func (c Case) Copy() Case {
	cup, b := *c.Cupboard, *c.Brief
	cup.Pulleys, cup.Bands, cup.Motors = slices.Clone(cup.Pulleys), slices.Clone(cup.Bands), slices.Clone(cup.Motors)
	cup.Holders, cup.Axles, cup.Sleeves = slices.Clone(cup.Holders), slices.Clone(cup.Axles), slices.Clone(cup.Sleeves)
	cup.Wheels, cup.Drums = slices.Clone(cup.Wheels), slices.Clone(cup.Drums)
	cup.Sheets, cup.Cutters = slices.Clone(cup.Sheets), slices.Clone(cup.Cutters)
	out := Case{Cupboard: &cup, Brief: &b}
	if c.Pins != nil {
		pins := *c.Pins
		pins.Each = slices.Clone(pins.Each)
		out.Pins = &pins
	}
	return out
}

// Lever is one thing that can give.
type Lever struct {
	Key   string // what it is called in machine output
	Words string // what is kept: "the speed, 1 turn in 3 s to within 25 %"
	Aside string // it as far aside as it goes: "any speed"
	// Relax lets it give as far as it goes, and takes away what grows with it (Way.Loose):
	// what is possible by any amount of it is possible then, but not the other way round.
	Relax func(c Case)
	// Both is set where what is possible with the lever kept need not be possible with
	// it set aside: then either may be searched, and one that succeeds is enough.
	Both bool
	// Ways are the changes of this lever alone that may be enough, cheapest first.
	Ways []Way
	Cost Cost
}

// Cost is what a change costs, in kinds.
type Cost int

// The costs, least first.
const (
	Words Cost = iota // a line of the brief
	Speed             // another speed
	Sets              // fewer groups at once
	Make              // something to make of what there is
	Part              // something to get
	Frame             // another frame
	Load              // a lighter model
	Rule              // a rule of good practice
)

// Way is a change by more or less of it. No step changes nothing; more steps never make
// less possible, but for ways with Loose.
type Way struct {
	Most int
	// Last is set if the way is for where none of the others of its lever is enough.
	Last  bool
	Apply func(c Case, steps int)
	// Do carries the change out as Words say it, with as many of a part to get as the
	// drive takes and what else the drive settles. Nil if that is what Apply does.
	Do func(c Case, steps int, q *design.Proposal)
	// Words say what to do, of a case that has been changed and a drive found in it.
	Words func(c Case, q *design.Proposal) string
	// Enough is how few steps a drive found with more shows to be enough; nil if that
	// cannot be told from the drive.
	Enough func(q *design.Proposal) int
	// Loose is Apply without all or some of what grows with the steps and makes less possible:
	// that only grows as with so few. Then more steps never make less possible. Needs is how
	// few steps it takes for a drive that was found in such a case to be possible in it. Nil
	// for ways by which nothing grows.
	Loose func(c Case, steps, grown int)
	Needs func(c Case, q *design.Proposal) int
}

// once is a change without degrees.
func once(words string, apply func(c Case)) Way {
	return Way{Most: 1, Apply: func(c Case, steps int) {
		if steps > 0 {
			apply(c)
		}
	}, Words: func(Case, *design.Proposal) string { return words }}
}

// Make carries a change out, as its words say it for a drive found with it.
func (w *Way) Make(c Case, steps int, q *design.Proposal) {
	if w.Do != nil && steps > 0 {
		w.Do(c, steps, q)
		return
	}
	w.Apply(c, steps)
}

// plenty is more of a part than any class uses.
const plenty = 100 * brief.MostSets

// Levers lists what can give in a case, those of least cost first, but for wishes,
// which come first of all. What has given as far as it goes already is not listed.
func Levers(c Case) []Lever {
	return slices.Concat(wishes(c), words(c), speed(c), sets(c), discs(c), stock(c), frame(c), load(c), ground(c), rules(c))
}
