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
	front, _ := s.sides()
	f := &s.cert.Brief.Frame
	add := func(adult bool, do, check string) { out = append(out, Step{Do: do, Adult: adult, Check: check}) }

	add(true, "Saw the axles"+s.alsoStrips()+" to length, the work in a bench hook or vice. Sand the ends.",
		"They roll evenly. Put bent ones aside.")
	square := fmt.Sprintf("Inside, both diagonals are %s mm.", mm(math.Hypot(float64(f.Length), float64(f.Height))))
	switch {
	case f.Strip > 0:
		add(false, "Glue two sides from strip on squared paper, card triangles on both faces of each corner. When they are dry, join them with the strips from front to back.", square)
	default:
		add(true, fmt.Sprintf("Make two sides, %s × %s mm inside. Join them %s mm apart.", mm(f.Length), mm(f.Height), mm(f.Depth)), square)
	}
	const turns = "Each axle turns freely and square to both sides."
	if s.cert.Brief.Making.DrillFrame {
		add(true, fmt.Sprintf("Measure the template's 100 mm bar. Lay its corner on the datum corner of the %s side. Drill both sides together.", front),
			turns+" If one binds, open its hole by 0.5 mm.")
	} else {
		add(false, "Fix clips, straws or tubes for the axles on both sides, at the places of the hole table.", turns)
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
		add(false, s.axleStep(i), "It coasts two turns"+s.planeCheck(i)+".")
		if i <= s.last() { // the band to the axle put in just before
			add(false, s.bandStep(i), s.bandCheck(i, fmt.Sprintf("Turn %s: %s turns.", s.pulleys[2*i].letter, s.pulleys[2*i+1].letter)))
		}
	}
	add(true, fmt.Sprintf("Strap or clip the motor at both ends, its shaft where the hole table says. Push on %s.", s.pulleys[0].letter),
		fmt.Sprintf("The shaft is parallel to the axles, %s in line with %s. It cannot lean: the band pulls with %s N.", s.pulleys[0].letter, s.pulleys[1].letter, about(s.drive.Motor.ShaftLoad)))
	add(false, s.bandStep(0), s.bandCheck(0, fmt.Sprintf("Turn %s: everything turns.", s.pulleys[0].letter)))
	add(false, fmt.Sprintf("Put %s in the holder. Wire it to the motor through a switch (off).", plural(s.drive.Cells.Cells, "cell", "cells")),
		fmt.Sprintf("On for two seconds: %s turning %s. If not, swap the motor's wires.", s.output(), s.seen(s.drive.OutputTurns)))
	if w := s.tackle(); w != nil {
		add(false, fmt.Sprintf("Thread the tackle: %d parts of the cord carry the load. findrive hoist draws how.", w.Parts),
			"The load goes up straight when the drum is turned by hand, and no cord rubs on another.")
	}
	add(false, "Measure the speed. Afterwards: bands off, cells out.", "Is it in range? If not, see the fault card.")
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
		return "It is dry, runs true and does not slip. No glue is in a bearing."
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
		name += " (output)"
	}
	words := fmt.Sprintf("Put in %s with %s on it.", name, and(append(names, "its spacers")))
	if i == len(s.drive.Stages) {
		switch {
		case s.drive.Wheel != nil:
			words += fmt.Sprintf(" Fit a wheel (%s) outside each side, a washer or bead between.", s.drive.Wheel.Name)
		case s.drive.Drum != nil:
			words += fmt.Sprintf(" Fit the drum (%s) on the longer end, outside. Tie on the cord.", s.drive.Drum.Name)
		case s.model() == uprightRide || s.model() == levelRide:
			words += " The longer end is for the ride: leave that off for now."
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
	return fmt.Sprintf("; %s and %s line up", a, b)
}

func (s *Set) bandStep(i int) string {
	st := &s.drive.Stages[i]
	a, b := s.letters(i)
	words := fmt.Sprintf("Put on band %s to %s: %s.", a, b, bandWords(st))
	if st.Crossed {
		words += " Cross it once, like a figure 8, without a twist."
	}
	return words
}

func (s *Set) bandCheck(i int, also string) string {
	return also + fmt.Sprintf(" The band runs straight, stretched %s. The axles still coast.", percent(s.drive.Stages[i].Stretch-1))
}

// cautions are usual ones, and no risk assessment.
func (s *Set) cautions() []Step {
	out := []Step{{Do: "Sawing, drilling, opening bores: adults, or closely supervised. Clamp the work, never in fingers; eye protection on.", Adult: true}}
	if s.glued() || s.cert.Brief.Frame.Strip > 0 {
		out = append(out, Step{Do: "Glue: craft glue, or a low-temperature gun with an adult.", Adult: true})
	}
	say := func(words string) { out = append(out, Step{Do: words}) }
	say("A motor that hums but does not turn gets hot in seconds. Switch off, let it cool, then free it.")
	say("Never join a cell's two ends by a wire alone: it gets hot enough to burn. No rechargeable, lithium or button cells.")
	say("Bands snap: faces away, eye protection on, perished ones out. Never flick one. Ask about latex allergies.")
	say("Hair, sleeves, cords and fingers stay out of moving bands. Switch off before touching.")
	say("Small parts can choke: keep them from small children, also on the way home.")
	switch s.model() {
	case lift:
		say("Lifted loads fall: keep them light, hands and feet clear, something soft below, the drum pegged when the motor is off.")
	case vehicle:
		say("Vehicles: a barrier at the end of the run, no faces at floor level.")
	}
	return out
}
