package built

import (
	"slices"

	"findrive/internal/brief"
)

// The signs that are no measure of the drive's own numbers; the others are in symptom.go.
const (
	TooSlow     Symptom = "too slow"
	WrongWay    Symptom = "turns the wrong way"
	Nothing     Symptom = "nothing happens"
	NeedsPush   Symptom = "starts when pushed"
	MotorOnly   Symptom = "motor spins and the rest does not"
	Jerks       Symptom = "jerks once a turn"
	Uneven      Symptom = "quick going down and slow going up"
	Rubs        Symptom = "rubs or scrapes"
	Rattles     Symptom = "rattles"
	Wobbles     Symptom = "wobbles"
	Hot         Symptom = "gets hot or smells"
	CellsHot    Symptom = "cells or wires get hot"
	MotorRaces  Symptom = "motor sounds fast"
	Strains     Symptom = "motor sounds slow and strained"
	Climbs      Symptom = "band climbs the rim"
	Slack       Symptom = "band hangs slack"
	Overtight   Symptom = "band looks too tight"
	Snaps       Symptom = "band breaks"
	RubsItself  Symptom = "crossed band rubs itself"
	Fades       Symptom = "starts well and then slows down"
	Odd         Symptom = "slower than the others of the class"
	FloorSpin   Symptom = "wheels spin on the floor"
	Curves      Symptom = "does not run straight"
	CordSlips   Symptom = "cord slips on the drum"
	CordOff     Symptom = "cord winds off the drum"
	RunsBack    Symptom = "load runs back down"
	LoadStops   Symptom = "works without its load only"
	MotorMoves  Symptom = "motor leans or turns in its mount"
	OneWay      Symptom = "good one way and slow the other"
	CutsOut     Symptom = "stops and starts by itself"
	PulleyTurns Symptom = "pulley turns on its axle"
	Stiff       Symptom = "stiff to turn by hand"
)

// Signs lists all that people see, hear or feel, in the words in which it is offered. The
// first few have a measure in the drive's own numbers; see Symptoms.
func Signs() []Symptom {
	return append(Symptoms(), TooSlow, WrongWay, Nothing, NeedsPush, MotorOnly, Jerks, Uneven, Rubs, Rattles, Wobbles, Hot, CellsHot, MotorRaces, Strains, Climbs, Slack, Overtight, Snaps,
		RubsItself, Fades, Odd, FloorSpin, Curves, CordSlips, CordOff, RunsBack, LoadStops, MotorMoves, OneWay, CutsOut, PulleyTurns, Stiff)
}

// Measured reports whether a sign has a measure in the drive's own numbers.
func (s Symptom) Measured() bool {
	for _, m := range Symptoms() {
		if s == m {
			return true
		}
	}
	return false
}

// signOf says which models only a sign can be seen on; none: on all.
var signOf = map[Symptom][]brief.Model{
	Uneven:    {brief.LevelRide, brief.UprightRide},
	FloorSpin: {brief.Vehicle},
	Curves:    {brief.Vehicle},
	CordSlips: {brief.Lift},
	CordOff:   {brief.Lift},
	RunsBack:  {brief.Lift},
}

// SignsOn are the signs that can be seen on a model.
func SignsOn(m brief.Model) []Symptom {
	return slices.DeleteFunc(Signs(), func(s Symptom) bool { return !seenOn(s, m) })
}
