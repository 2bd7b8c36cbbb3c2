// Package goals finds the best drives for a challenge: the fastest over a distance,
// the steepest climb, the heaviest lift and so on, under the rules of a contest.
//
//	challenge.go   what is asked
//	read.go        the [challenge] table of a brief
//	goal.go        what every goal says of itself
//	fastest.go, exact.go, slowest.go, steepest.go, heaviest.go, turns.go, forgiving.go
//	               one goal each: its score and its bound
//	push.go        the push of a drive at every speed
//	contest.go     the rules of the contest
//	find.go        the search, which proves the best few
//	expect.go      what a drive should do, where it was counted before
//	list.go        one drive as a list of its own
//	beyond.go      what keeps a drive from the next step of its goal
//	knobs.go       what to turn to come nearer
//	tune.go        one change of a model that is built; tune_load.go what it carries
//	tradeoff.go    speed against climb
package goals

import (
	"findrive/internal/brief"
	"findrive/internal/units"
)

// Kind is what the contest is about.
type Kind string

// The kinds of challenge; the words are those of the brief.
const (
	ExactTime Kind = "exact time"
	Fastest   Kind = "fastest"
	Slowest   Kind = "slowest"
	Steepest  Kind = "steepest"
	Heaviest  Kind = "heaviest"
	Turns     Kind = "turns"
	Forgiving Kind = "forgiving"
)

// Challenge is everything a contest asks, its defaults filled in.
type Challenge struct {
	Kind     Kind
	Brief    *brief.Brief
	Distance units.Millimetres // exact time, fastest, slowest, steepest
	Time     units.Seconds     // exact time: the time to hit; turns: how long is counted
	Height   units.Millimetres // heaviest
	Within   units.Seconds     // slowest, steepest, heaviest: the longest that counts
	Turns    float64           // turns, in Time
	Rules    Rules
}

// Rules are the rules of a contest; 0 or empty where there is none.
type Rules struct {
	Cells     int // the most
	Parts     int // the most
	Budget    int // the most, in whole pounds of pretend money
	Footprint Footprint
	// Holes is by how much every hole must be free to be off, so that a club can drill it;
	// drives that ask for better ones are told apart. 0: no matter.
	Holes  units.Millimetres
	Prices Prices
}

// Footprint is the sheet that the model has to stand on, either way round.
type Footprint struct{ Length, Width units.Millimetres }

// Prices are in whole pounds of pretend money, for one of each kind of part.
type Prices struct{ Motor, Cell, Pulley, Band, Axle, Wheel, Drum, Sleeve int }

// usualPrices are offered to contests that set a budget and no prices (invented).
func usualPrices() Prices {
	return Prices{Motor: 5, Cell: 2, Pulley: 2, Band: 1, Axle: 1, Wheel: 1, Drum: 1, Sleeve: 1}
}
