package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/assembly"
	"findrive/internal/certificate"
	"findrive/internal/units"
)

// steps are the making in order, as it was planned and carried out in the model of
// the assembly. Each has what must be so before the next one.
func (s *Set) steps() []Step {
	var out []Step
	for i := range s.plan.Steps {
		step := &s.plan.Steps[i]
		do, check := s.stepWords(step)
		out = append(out, Step{Do: do, Check: check, Adult: step.Adult})
	}
	return out
}

// stepWords say what to do, and what must be so afterwards.
func (s *Set) stepWords(step *assembly.Step) (do, check string) {
	do, check = s.workWords(step)
	return s.stand(step) + do, check
}

func (s *Set) workWords(step *assembly.Step) (do, check string) {
	b := s.plan.Build
	front, _ := s.sides()
	switch step.Kind {
	case assembly.SawStep:
		return "Saw all pieces of the kit list to length, in a bench hook or vice. Sand the ends.", "The axles roll evenly. Put bent ones aside."
	case assembly.CutDiscsStep, assembly.BoreDiscsStep, assembly.GlueDiscsStep, assembly.TrueDiscsStep:
		return s.discWords(step)
	case assembly.SidesStep:
		square := fmt.Sprintf("On both, both diagonals are %s mm.", mm(math.Hypot(float64(b.Frame.Length), float64(b.Frame.Height))))
		if b.Frame.OfStrip {
			return fmt.Sprintf(s.join()+" two sides from strip, %s × %s mm outside, on squared paper, the middles of the rails %s mm up from the lower outside edge, card triangles on both faces of each corner. Let them dry.", mm(b.Frame.Length), mm(b.Frame.Height), s.rails()), strings.Replace(square, "On both,", "Outside,", 1)
		}
		return fmt.Sprintf("Saw two sides from sheet, %s × %s mm. Mark which way is up.", mm(b.Frame.Length), mm(b.Frame.Height)), square
	case assembly.DrillStep:
		return s.drillWords(front), "A rod turns freely in both; else open its hole by 0.5 mm. Mark what is outside and up."
	case assembly.BearingStep:
		return "Fix a clip, straw or tube for each axle on both sides, at the places of the hole table.", "They are dry, and a rod through both turns freely."
	case assembly.JoinStep:
		return s.joinWords(), "It stands square. Rods, put through both sides to try, turn freely. Take them out."
	case assembly.FitStep:
		return s.fitStep(step)
	case assembly.AxleStep:
		return s.axleStep(step)
	case assembly.GlueStep:
		var names []string
		for _, a := range step.Actions {
			if a.Verb == assembly.GlueJoint {
				names = append(names, s.partName(a.Part))
			}
		}
		return "A drop of glue on the rod at " + and(distinct(names)) + ". Wait until it is dry.", "They do not slip when you hold the rod and twist. No glue is in a bearing."
	case assembly.MotorStep:
		words := "Strap or clip the motor at both ends, its shaft where the hole table says."
		for i := len(step.Actions) - 1; i >= 0; i-- {
			switch a := step.Actions[i]; a.Verb {
			case assembly.Thread:
				words = fmt.Sprintf("Push %s on the motor's shaft. ", s.pulleys[0].letter) + words
			case assembly.Hang: // round its body
				if stage, first := s.stageOf(a.Part); first {
					words = fmt.Sprintf("Pass the motor through %s. ", s.hung(stage, a)) + words + fmt.Sprintf(" Hold it from the %s side alone, clear of that band.", front)
				}
			}
		}
		return words, fmt.Sprintf("The shaft is parallel to the axles, %s in line with %s. It cannot lean: the band pulls with %s N.", s.pulleys[0].letter, s.pulleys[1].letter, about(s.drive.Motor.ShaftLoad))
	case assembly.BandStep:
		x, y := s.letters(step.Stage)
		return s.bandStep(step), s.bandCheck(step.Stage, fmt.Sprintf("Turn %s: %s turns.", x, y))
	}
	return s.lastSteps(step)
}

// lastSteps are those about what is outside the frame, the wires and the measuring.
func (s *Set) lastSteps(step *assembly.Step) (do, check string) {
	front, back := s.sides()
	switch step.Kind {
	case assembly.WheelStep:
		return fmt.Sprintf("On both ends of %s: %s.", s.shaftName(step.Shaft), and(s.capWords(step))), "Both wheels run true and rub on nothing."
	case assembly.DrumStep:
		return fmt.Sprintf("On the %s end of %s: %s.", front, s.shaftName(step.Shaft), and(s.capWords(step))), "It turns with the axle and rubs on nothing."
	case assembly.RideStep:
		return fmt.Sprintf("On the %s end of %s: %s.", front, s.shaftName(step.Shaft), and(s.capWords(step))), s.rideCheck(step)
	case assembly.UnderStep:
		return fmt.Sprintf("Stick %s under the %s side, %s mm high or more.", plural(len(step.Actions), "foot", "feet"), back, mm(assembly.FootHigh)), "It stands firm; no axle touches the table."
	case assembly.CordStep:
		return inTurn(s.overEdge(), tieCord, s.guide(), hangLoad), "The cord winds up evenly when the drum is turned by hand."
	case assembly.TackleStep:
		return inTurn(s.overEdge(), tieCord, s.guide(), "Thread it through the blocks as drawn under “How the cord runs”, and tie its end to "+s.cordEnd()+".", hangLoad),
			"The load goes up straight when the drum is turned by hand, and no cord rubs on another."
	case assembly.WireStep:
		again := "swap the motor's wires."
		if turns := s.cert.Brief.Direction.MotorTurns; turns == "clockwise" || turns == "anticlockwise" {
			again = "check the motor's plus and minus, and which bands cross."
		}
		return fmt.Sprintf("Put %s in the holder. Wire it to the motor through a switch (off).", plural(s.drive.Cells.Cells, "cell", "cells")),
			fmt.Sprintf("On for two seconds: %s turning %s. If not, %s", s.output(), s.seen(s.drive.OutputTurns), again)
	}
	return "Measure the speed.", "Is it in range? If not, see the fault card."
}

const (
	tieCord  = "Tie the cord to the drum and tape it down."
	hangLoad = "Hang on the load, something soft below."
)

// inTurn are sentences one after the other, those that say nothing left out.
func inTurn(sentences ...string) string {
	return strings.Join(slices.DeleteFunc(sentences, func(s string) bool { return s == "" }), " ")
}

func (s *Set) drillWords(front string) string {
	return fmt.Sprintf("Clamp the sides together, the %s one on top. Measure the template's 100 mm bar. Cut the template along the two datum lines, lay them on the edges of the side and stick it on. Drill both at once.", front)
}

func (s *Set) joinWords() string {
	f := &s.plan.Build.Frame
	words := fmt.Sprintf("Join the sides by %d strips of %s mm", len(f.Joiners), mm(s.plan.Build.Depth))
	if f.OfStrip {
		return words + " in the corners, a card triangle at each end. Let them dry."
	}
	var odd []string
	for _, at := range f.Joiners {
		if !s.corner(at) {
			odd = append(odd, fmt.Sprintf("%s across and %s up", mm(at.X), mm(at.Y)))
		}
	}
	if len(odd) == 0 {
		return words + " in the corners, " + s.fixed()
	}
	which := ""
	if corners := len(f.Joiners) - len(odd); corners > 0 {
		which = fmt.Sprintf(", %d in the corners and %d", corners, len(odd))
	}
	middle := map[bool]string{true: " with its middle ", false: " with their middles "}[len(odd) == 1]
	return words + which + middle + and(odd) + ", where nothing runs, " + s.fixed()
}

// join is how the strips of a side are put together, and fixed how the sides are joined: what
// the brief says of glue is of pulleys, but a school without it may have none for the frame.
func (s *Set) join() string {
	if s.cert.Brief.Making.Glue {
		return "Glue"
	}
	return "Join (" + otherJoins + ")"
}

func (s *Set) fixed() string {
	if s.cert.Brief.Making.Glue {
		return "glued. Let them dry."
	}
	return "by " + otherJoins + ". Let glue dry."
}

const otherJoins = "screws, nails or glue, as your school does"

// corner reports whether a strip between the sides is in one of their corners.
func (s *Set) corner(at assembly.Point) bool {
	f := &s.plan.Build.Frame
	near := func(v, size, off units.Millimetres) bool {
		v += off
		return min(v, size-v) < f.Strip
	}
	return near(at.X, f.Length, f.Left) && near(at.Y, f.Height, f.Below)
}

// partName is a part as sentences name it.
func (s *Set) partName(k int) string {
	p := &s.plan.Build.Parts[k]
	switch p.Kind {
	case assembly.Pulley:
		return p.Letter
	case assembly.Wheel:
		return "the wheels"
	case assembly.Drum:
		return "the drum"
	}
	return p.Name
}

// fitStep makes parts ready for their shafts, those with the same work together.
func (s *Set) fitStep(step *assembly.Step) (do, check string) {
	j := s.jointOf(step.Actions[0].Part)
	if j.Kind == "drop of glue" {
		return fmt.Sprintf("%s: push it on the motor's shaft with a drop of glue. Let it dry.", s.partName(step.Actions[0].Part)), fitCheck(j)
	}
	var works []string
	names := map[string][]string{}
	for _, a := range step.Actions {
		words, _ := s.fit(s.jointOf(a.Part), float64(s.plan.Build.Parts[a.Part].Length))
		if names[words] == nil {
			works = append(works, words)
		}
		names[words] = distinct(append(names[words], s.partName(a.Part)))
	}
	for i, w := range works {
		works[i] = and(names[w]) + ": " + w
	}
	return units.Capital(strings.Join(works, "; ")) + ".", fitCheck(j)
}

// jointOf is how a part of the kit is held.
func (s *Set) jointOf(k int) *certificate.Joint {
	p := &s.plan.Build.Parts[k]
	for i := range s.pulleys {
		if p.Kind == assembly.Pulley && s.pulleys[i].letter == p.Letter {
			return &s.pulleys[i].Joint
		}
	}
	if s.drive.OutputJoint != nil {
		return s.drive.OutputJoint
	}
	return &certificate.Joint{}
}

func fitCheck(j *certificate.Joint) string {
	switch j.Kind {
	case "drop of glue":
		return "It is dry, runs true and does not slip. No glue is in a bearing."
	case "sleeve":
		return "It goes on the rod with a firm push and does not slip."
	}
	return "It goes on with a firm push, runs true and does not slip."
}

// axleStep puts in an axle with what is on it, in the order in which it goes over
// the axle's free end.
func (s *Set) axleStep(step *assembly.Step) (do, check string) {
	front, back := s.sides()
	b := s.plan.Build
	name := s.shaftName(step.Shaft)
	if b.Shafts[step.Shaft].Free {
		caps := s.capWords(step)
		return fmt.Sprintf("Push the %s through both sides, %s across and %s up. On both ends: %s.", name, mm(b.Shafts[step.Shaft].At.X), mm(b.Shafts[step.Shaft].At.Y), and(caps)), "It coasts two turns."
	}
	if step.Shaft == b.Stages {
		name += " (output)"
	}
	words := fmt.Sprintf("Push %s in through the %s side. Over its free end, in order: %s. Push it into the %s side.", name, front, strings.Join(s.overEnd(step), ", "), back)
	return words, "It coasts two turns" + s.planeCheck(step.Shaft) + "."
}

// overEnd is what goes over an axle's free end, in order.
func (s *Set) overEnd(step *assembly.Step) []string {
	var list []string
	b := s.plan.Build
	washers := 0
	flush := func() {
		if washers > 0 {
			list = append(list, plural(washers, "washer", "washers"))
		}
		washers = 0
	}
	for _, a := range step.Actions {
		p := &b.Parts[a.Part]
		switch {
		case a.Verb == assembly.Thread && p.Kind == assembly.Washer:
			washers++
			continue
		case a.Verb == assembly.Thread && p.Kind == assembly.Tube:
			flush()
			list = append(list, "tube "+mm(p.Length)+" mm")
		case a.Verb == assembly.Thread:
			flush()
			list = append(list, p.Letter)
		case a.Verb == assembly.Hang:
			flush()
			if stage, first := s.stageOf(a.Part); first {
				list = append(list, s.hung(stage, a))
			}
		}
	}
	flush()
	return list
}

// stageOf is the stage that a band is of, and whether it is the first of its bands.
func (s *Set) stageOf(loop int) (stage int, first bool) {
	for i := range s.plan.Build.Bands {
		for k, l := range s.plan.Build.Bands[i].Loops {
			if l == loop {
				return i, k == 0
			}
		}
	}
	return 0, false
}

// band names the band of a stage, or both where there are two.
func (s *Set) band(stage int) string {
	if bandsTaken(&s.drive.Stages[stage]) > 1 {
		return "both bands " + s.between(stage)
	}
	return "band " + s.between(stage)
}

// hung names the band of a stage as it goes over a free end: the first time with its
// name, and crossed where it crosses.
func (s *Set) hung(stage int, a assembly.Action) string {
	words := s.band(stage)
	if a.First {
		words += " (" + s.drive.Stages[stage].Band.Name + ")"
	}
	if a.Turns > 1 {
		words += " wound twice"
	}
	if a.Crossed {
		words += " crossed once like an 8"
	}
	return words
}

// capWords are what goes on the ends of an axle outside the frame.
func (s *Set) capWords(step *assembly.Step) []string {
	b := s.plan.Build
	var list []string
	washers := 0
	for _, a := range step.Actions {
		if a.Verb != assembly.Cap || a.Back {
			continue
		}
		p := &b.Parts[a.Part]
		switch p.Kind {
		case assembly.Washer:
			washers++
			continue
		case assembly.Tube:
			list = append(list, "tube "+mm(p.Length)+" mm")
		case assembly.Wheel:
			list = append(list, "a wheel ("+p.Name+")")
		case assembly.Drum:
			list = append(list, "the drum ("+p.Name+")")
		case assembly.Ride:
			list = append(list, "the ride")
		}
	}
	if washers > 0 {
		list = append([]string{plural(washers, "washer", "washers")}, list...)
	}
	return list
}

// rails says how high the middles of the rails are above the outside of a frame of strip.
func (s *Set) rails() string {
	var up []string
	for _, rail := range s.cert.Brief.Frame.Rails {
		up = append(up, mm(units.Millimetres(rail)+s.plan.Build.Frame.Below))
	}
	return and(up)
}

// rideCheck is what to look at when the ride is on. One on an upright axle comes to stand on what
// keeps it off the frame: that is the ring that rubs (brief.Load, PivotRadius).
func (s *Set) rideCheck(step *assembly.Step) string {
	if !s.upright() {
		return "It is firm, level and rubs on nothing."
	}
	under := "washers"
	if b := s.plan.Build; b.Parts[b.Shafts[step.Shaft].Front[0]].Kind == assembly.Tube {
		under = "tube"
	}
	return "It is firm and level. It stands on its " + under + " and rubs on nothing else."
}

// planeCheck is what to look at along the band to the next axle.
func (s *Set) planeCheck(i int) string {
	if i > s.last() {
		return ""
	}
	a, b := s.letters(i)
	return fmt.Sprintf("; %s and %s line up", a, b)
}

func (s *Set) bandStep(step *assembly.Step) string {
	a, b := s.letters(step.Stage)
	if hang := step.Actions[0]; hang.Verb == assembly.Hang {
		return fmt.Sprintf("Take %s over the end of the motor's shaft, and lift it onto %s and %s.", s.hung(step.Stage, hang), a, b)
	}
	return fmt.Sprintf("Lift %s onto %s and %s.", s.band(step.Stage), a, b)
}

func (s *Set) bandCheck(i int, also string) string {
	words := also + fmt.Sprintf(" The band runs straight, stretched %s.", percent(s.drive.Stages[i].Stretch-1))
	if s.drive.Stages[i].Crossed {
		words += " It crosses once, without a twist."
	}
	for _, in := range s.plan.Build.Bands[i].Inside {
		words += " It goes round " + s.insideName(in.Shaft) + " too."
	}
	return words
}

// insideName names what a band goes round besides its own two shafts.
func (s *Set) insideName(shaft int) string {
	if shaft == 0 {
		return "the motor"
	}
	return s.shaftName(shaft)
}

// storeWords say how it is taken apart again, last things first.
func (s *Set) storeWords() string {
	front, _ := s.sides()
	var list, axles []string
	bands := 0
	for i := range s.plan.Store {
		step := &s.plan.Store[i]
		switch step.Kind {
		case assembly.WireStep:
			list = append(list, "cells out, wires off")
		case assembly.TackleStep:
			list = append(list, "cord and tackle off")
		case assembly.CordStep:
			list = append(list, "cord off")
		case assembly.RideStep:
			list = append(list, "ride off")
		case assembly.WheelStep:
			list = append(list, "wheels off "+s.shaftName(step.Shaft))
		case assembly.DrumStep:
			list = append(list, "drum off")
		case assembly.UnderStep: // these stay on the frame
		case assembly.BandStep:
			if bands++; bands == 1 {
				list = append(list, "bands off their pulleys, the first over the end of the motor's shaft")
			}
		case assembly.MotorStep:
			list = append(list, "motor out")
		case assembly.AxleStep:
			switch {
			case comesOut(step) && s.plan.Build.Shafts[step.Shaft].Free:
				list = append(list, "wheels off the free axle, and pull it out")
			case comesOut(step):
				axles = append(axles, s.shaftName(step.Shaft))
			}
		}
	}
	if len(axles) > 0 {
		list = append(list, fmt.Sprintf("pull %s out of the %s side, taking off what comes to the free end", strings.Join(axles, ", then "), front))
	}
	words := "To store it: " + strings.Join(list, "; ") + "."
	if len(s.plan.Stays) > 0 {
		words += " What is glued to an axle stays on it, and the bands hang there, slack."
	}
	return words
}

func comesOut(step *assembly.Step) bool {
	for _, a := range step.Actions {
		if a.Verb == assembly.Withdraw {
			return true
		}
	}
	return false
}

// distinct is a list without what it has said before.
func distinct(list []string) []string {
	var out []string
	for _, w := range list {
		if len(out) == 0 || out[len(out)-1] != w {
			out = append(out, w)
		}
	}
	return out
}

// cautions are usual ones, and no risk assessment.
func (s *Set) cautions() []Step {
	out := []Step{{Do: "Sawing, drilling, opening bores: adults, or closely supervised. Clamp the work, never in fingers; eye protection on.", Adult: true}}
	if len(s.plan.Build.Made) > 0 {
		out = append(out, Step{Do: "Discs: knives, hole saws and drills are an adult's, on a cutting mat or scrap wood. Compass points are sharp.", Adult: true})
	}
	out = append(out, Step{Do: "Glue: craft glue, or a low-temperature gun with an adult.", Adult: true})
	say := func(words string) { out = append(out, Step{Do: words}) }
	say("A motor that hums but does not turn gets hot in seconds. Switch off, let it cool, then free it.")
	say("Never join a cell's two ends by a wire alone: it gets hot enough to burn. No rechargeable, lithium or button cells.")
	say("Bands snap: faces away, eye protection on, perished ones out. Never flick one. Fit them on the day. Ask about latex allergies.")
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
