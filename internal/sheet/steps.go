package sheet

import (
	"fmt"
	"math"

	"findrive/internal/certificate"
)

// steps are the making in order, from the frame and its holes over the axles,
// the output first, to the motor and its wires. Each has what must be so before
// the next one.
func (s *Set) steps() []Step {
	var out []Step
	front, back := s.sides()
	f := &s.cert.Brief.Frame
	add := func(adult bool, do, check string) { out = append(out, Step{Do: do, Adult: adult, Check: check}) }

	add(true, "Saw the axles"+s.alsoStrips()+" to length, the work held in a bench hook or vice. Sand the ends.",
		"Each axle rolls evenly on the table. Put bent ones aside.")
	corner := math.Hypot(float64(f.Length), float64(f.Height))
	switch {
	case f.Strip > 0:
		add(false, "Glue the two sides from strip on squared paper, with card triangles on both faces of each corner. Join them with the strips from front to back when they are dry.",
			fmt.Sprintf("Inside each side both diagonals measure %s mm.", mm(corner)))
	default:
		add(true, fmt.Sprintf("Make two sides with %s × %s mm inside, and join them %s mm apart.", mm(f.Length), mm(f.Height), mm(f.Depth)),
			fmt.Sprintf("Inside each side both diagonals measure %s mm.", mm(corner)))
	}
	if s.cert.Brief.Making.DrillFrame {
		add(true, fmt.Sprintf("Check the 100 mm bar on the printed template, put it on the %s side with its corner on the datum corner, and drill both sides together with the drills of the hole table.", front),
			fmt.Sprintf("Each axle turns freely through both sides and stands square to them. If it binds, open the hole by half a millimetre. The %s side is the mirror image.", back))
	} else {
		add(false, "Fix clips, straws or tubes for the axles at the places of the hole table, on both sides.",
			"Each axle turns freely through both sides and stands square to them.")
	}
	for _, j := range s.joints() {
		if words, adult := fit(j.joint); adult {
			name := j.letter + " (" + j.name + ")"
			if j.letter == "" {
				name = j.name
			}
			add(true, upper(fmt.Sprintf("%s for the %s: %s.", name, j.on, words)), fitCheck(j.joint))
		}
	}
	for i := len(s.drive.Stages); i >= 1; i-- {
		add(false, s.axleStep(i), fmt.Sprintf("Spin it with no band on: it coasts two turns or more, and nothing rubs. %s", s.planeCheck(i)))
		if i <= s.last() { // the band to the axle put in just before
			add(false, s.bandStep(i), s.bandCheck(i, fmt.Sprintf("Turn %s by hand: %s turns too.", s.pulleys[2*i].letter, s.pulleys[2*i+1].letter)))
		}
	}
	add(true, fmt.Sprintf("Fix the motor with a strap or clip at both ends, its shaft at the place of the hole table, and push on %s.", s.pulleys[0].letter),
		fmt.Sprintf("The shaft is parallel to the axles, and %s is in line with %s. The motor cannot lean or turn: the band pulls it with %s N.", s.pulleys[0].letter, s.pulleys[1].letter, about(s.drive.Motor.ShaftLoad)))
	add(false, s.bandStep(0), s.bandCheck(0, fmt.Sprintf("Turn %s by hand: everything turns.", s.pulleys[0].letter)))
	add(false, fmt.Sprintf("Put %s in the holder and wire it to the motor through a switch, which is off.", plural(s.drive.Cells.Cells, "cell", "cells")),
		fmt.Sprintf("Switch on for two seconds. Expected: %s turning %s. If not, swap the two wires on the motor. If nothing moves, switch off at once.", s.output(), s.seen(s.drive.OutputTurns)))
	if w := s.tackle(); w != nil {
		add(false, fmt.Sprintf("Thread the tackle: %d parts of the cord carry the load. findrive hoist draws how.", w.Parts),
			"The load goes up straight when the drum is turned by hand, and no cord rubs on another.")
	}
	add(false, "Let it run and measure the speed, as above.", "The middle of three tries lies in the range. If not, see the fault card.")
	add(false, "When the lesson is over, take the bands off and the cells out.", "Everything is back by the kit list.")
	return out
}

func (s *Set) alsoStrips() string {
	if s.cert.Brief.Frame.Strip > 0 {
		return " and the strips"
	}
	return ""
}

func fitCheck(j *certificate.Joint) string {
	switch j.Kind {
	case "drop of glue":
		return "It is dry, runs true and does not slip on the axle. No glue has crept into a bearing."
	case "sleeve":
		return "It does not slip when you hold the axle and twist."
	}
	return "It goes on with a firm push, runs true and does not slip."
}

// axleStep puts in axle i with its pulleys.
func (s *Set) axleStep(i int) string {
	var names []string
	for _, p := range s.onShaft(i) {
		names = append(names, p.letter)
	}
	name := s.shaftName(i)
	if i == len(s.drive.Stages) {
		name += ", the output axle,"
	}
	words := fmt.Sprintf("Put in %s with %s on it, and the spacers of the table above.", name, and(names))
	if i == len(s.drive.Stages) {
		switch {
		case s.drive.Wheel != nil:
			words += fmt.Sprintf(" Fit a wheel (%s) outside each side, with a washer or bead between.", s.drive.Wheel.Name)
		case s.drive.Drum != nil:
			words += fmt.Sprintf(" Fit the drum (%s) outside the frame on the longer end and tie the cord to it.", s.drive.Drum.Name)
		case s.model() == uprightRide || s.model() == levelRide:
			words += " The longer end is for the ride; leave the ride itself off for now."
		}
	}
	return words
}

// planeCheck is what to look at along the band to the next axle.
func (s *Set) planeCheck(i int) string {
	if i > s.last() {
		return ""
	}
	a, b := s.letters(i)
	return fmt.Sprintf("Look along from %s to %s: the grooves lie in one plane.", a, b)
}

func (s *Set) bandStep(i int) string {
	st := &s.drive.Stages[i]
	a, b := s.letters(i)
	words := fmt.Sprintf("Put the band on from %s to %s: %s.", a, b, bandWords(st))
	if st.Crossed {
		words += " Cross it once, like a figure 8, and let both halves pass without a twist."
	}
	return words
}

func (s *Set) bandCheck(i int, also string) string {
	return also + fmt.Sprintf(" The band runs straight and the axles still coast. It is stretched by %s of its length.", percent(s.drive.Stages[i].Stretch-1))
}

// cautions are usual ones, and no risk assessment.
func (s *Set) cautions() []Step {
	out := []Step{{Do: "Sawing, drilling and opening bores are an adult's job, or closely supervised: the work clamped, never held in fingers.", Adult: true}}
	if s.glued() {
		out = append(out, Step{Do: "Glue: craft glue, or a low-temperature gun with an adult.", Adult: true})
	}
	say := func(words string) { out = append(out, Step{Do: words}) }
	say("A motor that hums and does not turn gets hot in seconds. Switch off first, then free it.")
	say("Never join the ends of a battery by a wire alone: it gets hot enough to burn. No rechargeable, lithium or button cells.")
	say("Stretched bands snap: faces away, eye protection when testing, perished ones in the bin. Never flick one. Rubber can be latex: ask about allergies.")
	say("Hair, sleeves, cords and fingers stay out of moving bands. Switch off before touching.")
	say("Bands, beads and small pulleys can choke: keep them from small children, also on the way home.")
	switch s.model() {
	case lift:
		say("Lifted loads fall: hands and feet out from under, something soft below, and hold the load with a peg when the motor is off.")
	case vehicle:
		say("Vehicles: a barrier at the end of the run, and no faces at floor level.")
	}
	return out
}
