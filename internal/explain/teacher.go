package explain

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"findrive/internal/units"
)

// teacherSections tell the story with the sum.
func teacherSections(d *Drive) []Section {
	idea, heading := ideaOf(d)
	out := []Section{{"The idea in one sentence", idea}}
	why, told := []string{}, false
	factors := []string{}
	for i := range d.Stages {
		s := &d.Stages[i]
		a, b := s.Driver, s.Driven
		more, less, times := a.Letter, b.Letter, s.Ratio
		if s.Ratio < 1 {
			more, less, times = b.Letter, a.Letter, 1/s.Ratio
		}
		why = append(why, fmt.Sprintf("%s (%s) drives %s (%s). For one turn of %s, %s mm of band goes by; one turn of %s takes %s mm. So %s turns %s times while %s turns once: %s.",
			a.Letter, a.Name, b.Letter, b.Name, a.Letter, whole(math.Pi*float64(a.Pitch)), b.Letter, whole(math.Pi*float64(b.Pitch)), more, decimals(times, 1), less, slower(s.Ratio)))
		if i > 0 {
			before := d.Stages[i-1].Driven.Letter
			why[len(why)-1] = fmt.Sprintf("%s and %s share an axle, so they turn alike. ", before, a.Letter) + why[len(why)-1]
		}
		if say := strength(s); say != "" {
			if !told && senseOf(s.Ratio) == slowing {
				say, told = say+" It is like a door that is pushed at its handle and not at its hinge.", true
			}
			why = append(why, say)
		}
		if s.Crossed {
			why = append(why, fmt.Sprintf("That band is crossed: %s turns the other way from %s.", b.Letter, a.Letter))
		}
		factors = append(factors, decimals(s.Ratio, 2))
	}
	if len(factors) > 1 {
		why = append(why, fmt.Sprintf("Together: %s = %s turns of the motor for one of %s, by the pulleys alone.", strings.Join(factors, " x "), decimals(d.Ratio, 1), d.output()))
	}
	out = append(out, Section{heading, why})
	if d.Turns {
		sum := []string{speedSum(d)}
		if say := gainWords(d); say != "" {
			sum = append(sum, say)
		}
		out = append(out, Section{"The sum with your numbers", sum})
	} else {
		out = append(out, Section{"As it is", []string{"It stands still: what it must move asks for more than motor and bands give, so that there is neither speed nor strength to show yet. findrive try says why, and what to change."}})
	}
	out = append(out, Section{"What to see and count", d.counting()})
	first := &d.Stages[0]
	wrong := []string{
		"\"A bigger pulley means faster.\" As the driven one it means slower; as the driver it means faster.",
		"\"Every band turns things the other way.\" Only a crossed one does.",
		"\"A faster motor makes a stronger model.\" The ratio makes it stronger.",
	}
	if printed, real := ratioWords(float64(first.Driven.Outside/first.Driver.Outside)), ratioWords(first.Ratio); printed != real {
		wrong = append(wrong, fmt.Sprintf("\"The printed size sets the speed.\" By the outsides %s to %s would be %s to 1; by where the band runs it is %s to 1.", first.Driver.Letter, first.Driven.Letter,
			printed, real))
	}
	out = append(out, Section{"Not so, though many think it", wrong})
	if !d.Turns {
		return out // nothing to ask about its speed yet
	}
	ask := []string{fmt.Sprintf("If %s were half as big across, how fast would %s turn? About twice as fast, and half as strongly.", first.Driven.Letter, d.output())}
	if len(d.Stages) > 1 {
		ask = append(ask, fmt.Sprintf("If only %s and %s were there, how fast would %s turn? %s times as fast as %s does now.", first.Driver.Letter, first.Driven.Letter, first.Driven.Letter, about(d.Ratio/first.Ratio), d.output()))
	}
	if d.Cells > 1 {
		ask = append(ask, "What would one cell less do? The motor itself turns slower and pulls less; guess first, then try.")
	}
	out = append(out, Section{"Questions to ask", ask})
	return out
}

// speedSum is the sum from the motor to the output. Its figures are those of the holes as they
// are drawn, and come of each other as they are shown, so that who does the sum again comes to
// the same, but for a last figure.
func speedSum(d *Drive) string {
	shown := func(words string) float64 {
		v, err := strconv.ParseFloat(words, 64)
		if err != nil {
			return 0
		}
		return v
	}
	motor, ratio, out := units.Significant(float64(d.Motor.Speed), 3), ratioWords(d.Ratio), units.Significant(d.AtHoles, 3)
	undivided := units.Significant(shown(motor)/shown(ratio), 3)
	loss := "hardly any"
	if lost := percent(1 - shown(out)/shown(undivided)); shown(strings.TrimSuffix(lost, " %")) >= 1 {
		loss = lost
	}
	say := fmt.Sprintf("The motor at work: about %s turns a minute. Divided by %s that is %s; the bands stretch a little as they pull and lose %s of it: about %s turns a minute", motor, ratio, undivided, loss, out)
	between := fmt.Sprintf("%s to %s", turns(d.Speed.Low), turns(d.Speed.High))
	if likely := turns(d.Speed.Likely); likely != turns(d.AtHoles) {
		return fmt.Sprintf("%s with the holes just where they are drawn. As classes build it: about %s (%s).", say, likely, between)
	}
	return fmt.Sprintf("%s (%s).", say, between)
}

// gainWords say with how much of the motor's turning force the output turns, and what of it
// is lost; empty if it is not known.
func gainWords(d *Drive) string {
	gain := d.gain()
	word := "Weaker"
	switch {
	case gain == 0:
		return ""
	case gain >= strongFrom:
		word = "Stronger"
	case gain >= 1/strongFrom:
		word = "No stronger, and no weaker"
	}
	ideal := fmt.Sprintf("Without friction it would be %s times, as many as the turns that are given up; ", about(d.Ratio))
	switch senseOf(d.Ratio) {
	case same:
		ideal = "Without friction it would be as strong as the motor; "
	case speeding:
		ideal = fmt.Sprintf("Without friction it would be %s times, for that is the price of the turns that are won; ", about(d.Ratio))
	}
	return fmt.Sprintf("%s: the output turns with %s times the motor's turning force. %srubbing in bearings and bands takes the rest.", word, about(gain), ideal)
}

// ideaOf is the idea in a sentence, and the heading of its reasons.
func ideaOf(d *Drive) (idea []string, heading string) {
	all, mixed := d.all()
	multiply := ""
	if len(d.Stages) > 1 {
		multiply = "; each stage does it again, and the stages multiply"
	}
	switch {
	case mixed && len(d.Stages) > 1:
		return []string{"A stage from a small pulley to a big one gives up speed for turning force, and one from big to small does the opposite; what the stages do multiplies."}, "What each stage does"
	case all == slowing:
		return []string{"A small pulley that drives a big one gives up speed for turning force: what is lost in turns is won in pull" + multiply + "."}, "Why small-to-big is slower, and stronger"
	case all == speeding:
		return []string{"A big pulley that drives a small one gives up turning force for speed: what is won in turns is lost in pull" + multiply + "."}, "Why big-to-small is faster, and weaker"
	}
	return []string{"Two pulleys of one size pass turns and turning force on as they are."}, "Why nothing is won or lost"
}

// strength says why a stage changes the turning force: the same pull, nearer to the middle
// or further from it.
func strength(s *Stage) string {
	a, b := s.Driver, s.Driven
	from, to := sizes(a.Pitch/2), sizes(b.Pitch/2)
	switch senseOf(s.Ratio) {
	case slowing:
		return fmt.Sprintf("Why stronger: the band pulls as hard on %s as on %s, but on %s it pulls %s mm from the middle and on %s %s mm. The same pull, %s times as far out, turns %s times as hard.",
			b.Letter, a.Letter, b.Letter, to, a.Letter, from, decimals(s.Ratio, 1), decimals(s.Ratio, 1))
	case speeding:
		return fmt.Sprintf("Why weaker: the band pulls as hard on %s as on %s, but on %s it pulls only %s mm from the middle and on %s %s mm: it turns with %s of the force.",
			b.Letter, a.Letter, b.Letter, to, a.Letter, from, percent(s.Ratio))
	}
	return ""
}

func slower(ratio float64) string {
	switch {
	case ratio > 1.02:
		return fmt.Sprintf("%s times slower, and stronger", decimals(ratio, 1))
	case ratio < 0.98:
		return fmt.Sprintf("%s times faster, and weaker", decimals(1/ratio, 1))
	}
	return "just as fast"
}

// ratioWords are a ratio to a tenth, and a small one to two figures.
func ratioWords(ratio float64) string {
	if ratio < 1 {
		return about(ratio)
	}
	return decimals(ratio, 1)
}
