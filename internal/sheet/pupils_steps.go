package sheet

import (
	"fmt"

	"findrive/internal/assembly"
)

// youngSteps say who does what; what the children put together is on the page with the
// pictures.
func (s *Set) youngSteps() []Step {
	out := list("Ask an adult to cut, drill and join.")
	if len(s.plan.Build.Made) > 0 {
		out = append(out, list("Cut out the discs. Glue them. Wait a day.")...)
	}
	for i := range s.plan.Steps {
		if k := s.plan.Steps[i].Kind; k == assembly.FitStep {
			out = append(out, list("Ask an adult to fix tight parts.")...)
			break
		}
	}
	return append(out, list(
		"Lay each rod on its strip.",
		"Build it. Follow the picture page.",
		"Show an adult. Then switch on.",
		"Tidy up: take all bands off first.")...)
}

// youngWords say in a few words what a picture shows, and what to try afterwards.
func (s *Set) youngWords(step *assembly.Step) (do, check string) {
	do, check = s.youngWork(step)
	return s.youngStand(step) + do, check
}

func (s *Set) youngWork(step *assembly.Step) (do, check string) {
	b := s.plan.Build
	switch step.Kind {
	case assembly.AxleStep:
		if b.Shafts[step.Shaft].Free {
			return "Put the free rod in. Add its wheels.", "Does it spin?"
		}
		words := fmt.Sprintf("Put rod %d in. Thread on all.", step.Shaft)
		var twice, crossed []int
		for _, a := range step.Actions {
			stage, first := s.stageOf(a.Part)
			if a.Verb != assembly.Hang || !first {
				continue
			}
			if a.Turns > 1 {
				twice = append(twice, stage)
			}
			if a.Crossed {
				crossed = append(crossed, stage)
			}
		}
		if len(twice) > 0 {
			words += " Wind " + bandNumbers(twice) + " twice."
		}
		if len(crossed) > 0 {
			words += " Cross " + bandNumbers(crossed) + " like an 8."
		}
		return words, "Does it spin?"
	case assembly.MotorStep:
		words := ""
		for _, a := range step.Actions {
			switch stage, first := s.stageOf(a.Part); {
			case a.Verb == assembly.Thread:
				words += fmt.Sprintf("Push %s on the motor. ", s.pulleys[0].letter)
			case a.Verb == assembly.Hang && first:
				words += fmt.Sprintf("Put the motor through band %d. ", stage+1)
			}
		}
		return words + "Fix the motor.", ""
	case assembly.BandStep:
		return s.youngBand(step.Stage), ""
	case assembly.WheelStep:
		return fmt.Sprintf("Push a wheel on each end of rod %d.", step.Shaft), ""
	case assembly.DrumStep:
		return fmt.Sprintf("Push the drum on rod %d.", step.Shaft), ""
	case assembly.RideStep:
		return fmt.Sprintf("Push your ride on rod %d.", step.Shaft), ""
	case assembly.UnderStep:
		return "Stick on the feet.", ""
	case assembly.CordStep:
		return s.youngCord() + "Tie the cord to the drum.", ""
	case assembly.TackleStep:
		return fmt.Sprintf("%sTie the cord to the drum. Thread it: %d parts.", s.youngCord(), b.Rope), ""
	}
	return "Join the cells, the switch and the motor.", ""
}

func (s *Set) youngBand(i int) string {
	x, y := s.letters(i)
	name := fmt.Sprintf("band %d", i+1)
	if bandsTaken(&s.drive.Stages[i]) > 1 {
		name = fmt.Sprintf("both bands %d", i+1)
	}
	words := fmt.Sprintf("Lift %s onto %s and %s.", name, x, y)
	if i == 0 {
		words = fmt.Sprintf("Hang %s over %s. Lift it on.", name, x)
	}
	if s.drive.Stages[i].Use == "looped twice" {
		words += " It goes round twice."
	}
	if s.drive.Stages[i].Crossed {
		words += " It crosses like an 8."
	}
	return words
}
