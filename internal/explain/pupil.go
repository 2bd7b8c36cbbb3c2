package explain

import (
	"fmt"
	"slices"

	"findrive/internal/brief"
)

// pupilSections are for readers of seven or eight: every sentence under twelve words.
func pupilSections(d *Drive) []Section {
	var out []Section
	whole := d.wholes()
	firstSlowing := slices.IndexFunc(whole, func(w WholeStage) bool { return w.Driver > w.Driven })
	for i := range d.Stages {
		s := &d.Stages[i]
		a, b := s.Driver.Letter, s.Driven.Letter
		w := whole[i]
		lines := []string{}
		say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
		if i > 0 {
			before := d.Stages[i-1].Driven.Letter
			say("%s and %s share a rod. They turn as one.", before, a)
		}
		heading := fmt.Sprintf("%s turns %s", a, b)
		switch {
		case w.Driver > w.Driven:
			say("%s is small. %s is big.", a, b)
			say("The band goes round both. It moves at one speed.")
			say("%s has a long way to go round.", b)
			say("%s turns %s. %s turns %s.", a, times(w.Driver), b, times(w.Driven))
			say("So %s is slower.", b)
			if i == firstSlowing {
				say("The band pulls the edge of %s.", a)
				say("It pulls the edge of %s just as hard.", b)
				say("That edge is further from the middle.")
				say("Think of a door. Push far from the hinge!")
			}
			if i == firstSlowing {
				say("So %s is stronger!", b)
			} else {
				say("And %s is stronger too!", b)
			}
		case w.Driver < w.Driven:
			say("%s is big. %s is small.", a, b)
			say("The band goes round both. It moves at one speed.")
			say("%s has a short way to go round.", b)
			say("%s turns %s. %s turns %s.", a, times(w.Driver), b, times(w.Driven))
			say("So %s is faster. But it is weaker!", b)
		default:
			say("%s and %s are the same size.", a, b)
			say("They turn just as fast.")
		}
		if s.Crossed {
			say("The band is crossed like an 8.")
			say("So %s turns the other way.", b)
		}
		out = append(out, Section{heading, lines})
	}
	if end := pupilAll(d); len(end) > 0 {
		out = append(out, Section{"All of it", end})
	}
	return append(out, Section{"Test it", pupilTest(d)})
}

// pupilAll is what the stages make together: the numbers multiply.
func pupilAll(d *Drive) []string {
	total, sums := d.product()
	var out []string
	s, mixed := d.all()
	if len(d.Stages) > 1 {
		if mixed {
			out = append(out, "One pair slows. One pair speeds up. Do the sum!")
		} else {
			out = append(out, "Each pair does it again. So multiply!")
		}
		out = append(out, sums...)
		if d.speedsUp() {
			out = append(out, fmt.Sprintf("The motor turns 1 time. %s turns about %s.", d.output(), timesOf(total)))
		} else {
			out = append(out, fmt.Sprintf("%s turns 1 time. The motor turns about %s.", d.output(), timesOf(total)))
		}
	}
	real := d.atWork()
	said := len(d.Stages) > 1 && turns(max(real, 1/real)) == turns(float64(total.over)/float64(total.under))
	if d.loses() && !said {
		if real >= 1 {
			out = append(out, fmt.Sprintf("But bands stretch. So %s loses turns.", d.output()),
				fmt.Sprintf("%s turns 1 time. The motor really turns about %s times.", d.output(), turns(real)))
		} else {
			out = append(out, fmt.Sprintf("But bands stretch. So %s loses turns.", d.output()),
				fmt.Sprintf("The motor turns 1 time. %s really turns about %s times.", d.output(), turns(1/real)))
		}
	}
	if !d.Turns {
		// A drive that stands still is neither slow nor strong.
		return append(out, fmt.Sprintf("But your %s does not turn yet.", d.thing()), "It asks too much of the motor.")
	}
	switch gain := d.gain(); {
	case s == slowing && gain > 0 && gain < strongFrom:
		// All that is won rubs away: it is no stronger than its motor.
		out = append(out, "You lose turns. You should win strength.", "But rubbing eats it all up.")
	case s == slowing:
		out = append(out, "You lose turns. You win strength.", fmt.Sprintf("The motor is fast but weak. Your %s is slow but strong.", d.thing()))
	case s == speeding:
		out = append(out, "You win turns. You lose strength.", fmt.Sprintf("Your %s is faster than the motor. But it is weaker.", d.thing()))
	}
	return out
}

func timesOf(q share) string {
	if q.String() == "1" {
		return "1 time"
	}
	return q.String() + " times"
}

func times(n int) string {
	if n == 1 {
		return "1 time"
	}
	return fmt.Sprintf("%d times", n)
}

func pupilTest(d *Drive) []string {
	if !d.Turns {
		return []string{"It does not turn yet.", "Ask an adult to look at it."}
	}
	switch {
	case d.Travel.Likely > 0 && d.Model == brief.Vehicle:
		return []string{"Mark a start line.", fmt.Sprintf("Mark a finish line %s m away.", sizes(d.course())), "Guess the time first.", "Time it. Do it 3 times."}
	case d.Travel.Likely > 0:
		return []string{"Put a soft mat below.", "Guess the time first.", "Time it for 30 centimetres. Do it 3 times."}
	}
	seconds := Window(d.Speed.Likely)
	out := []string{fmt.Sprintf("Put a sticker on %s.", d.output()), "Guess how many turns first."}
	switch {
	case d.Speed.Likely > ByTap:
		return append(out, "It is too fast to count.", fmt.Sprintf("Film it slowly. Count for %d seconds.", seconds), "Do it 3 times.")
	case d.Speed.Likely > ByEye:
		return append(out, "Tap the table at each turn.", fmt.Sprintf("A friend counts taps for %d seconds.", seconds), "Do it 3 times.")
	}
	return append(out, fmt.Sprintf("Count its turns for %d seconds.", seconds), "Do it 3 times.")
}
