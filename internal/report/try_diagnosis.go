package report

import (
	"fmt"
	"slices"
	"strings"

	"findrive/internal/built"
	"findrive/internal/measure"
	"findrive/internal/units"
)

// mostSuspects is how many suspects are worth reading.
const mostSuspects = 4

// diagnosis says what may be wrong: how the words were understood, what was counted, what to
// look at first, what it may come from, and what cures it.
func (p *page) diagnosis(t *built.Working, d *built.Diagnosis) {
	p.told(t, d)
	if len(d.Checks) > 0 {
		p.blank()
		p.heading("First, a minute each, the likeliest first: what no number shows")
		for _, s := range d.Looks() {
			p.hang(0, 2, "- "+whole(s))
		}
	}
	led := d.Advised()
	for _, a := range led {
		p.advice(t, a)
	}
	p.blank()
	switch {
	case len(led) > 0:
		p.heading("If it is built as the file says, that is it. If not:")
	case d.Runs:
		p.heading("It turns, where by its file it should stand")
		p.say(0, runsWords(d))
	case d.Beyond:
		p.heading("What it may come from")
		p.say(0, tooFarWords)
	case !d.Fits:
		p.heading("What it may come from, likeliest first")
		p.say(0, "The count is not what this drive should do, so something in the model is not as the file says. Each was worked out with that one thing wrong.")
	default:
		p.heading("What it may come from, likeliest first")
		if len(d.Counts) > 0 {
			p.say(0, fitsWords(d))
		} else {
			p.say(0, "Built as the file says it should not do so. Something in the model may not be as the file says:")
		}
	}
	p.suspects(t.Build, d)
	if !d.Fits && !d.Beyond && len(d.Counts) > 0 && t.Target > 0 && slices.ContainsFunc(d.Advice, (*built.Advice).Shows) {
		p.blank()
		p.say(0, fmt.Sprintf("As counted it does %s times what was wanted, and by its file it is not right either: write what is found into the file, and ask again without the count for what to change.",
			significant(float64(d.Counts[0].Turns/t.Target), 2)))
	}
}

// fitsWords say what counts that fit say of the model. One may fit that lies outside the range
// that is due, which is that of most models: nobody counts exactly.
func fitsWords(d *built.Diagnosis) string {
	for i := range d.Counts {
		if n := d.Counts[i].Turns; n < d.Due.Low || n > d.Due.High {
			return "That is just outside what is due, and no further than a slip in counting or a model that differs more than most explains. Count again, for longer, before anything is changed."
		}
	}
	return "The count is within what motors, cells and bands differ by, so nothing need be wrong."
}

// tooFarWords say what to make of a count that is faster than any fault explains.
const tooFarWords = "No one thing wrong with the model makes it anywhere near so fast: something else was counted, another drive or motor is meant, or the time is wrong. Count or time it again."

// runsWords say what to make of a drive that turns where it should stand.
func runsWords(d *built.Diagnosis) string {
	words := "So it carries less, grips better or pulls harder than its file says. Weigh the load and compare the parts with the file, then ask again."
	if len(d.Suspects) > 0 {
		words += " With one of these in it, it would turn:"
	}
	return words
}

// told says what was understood, and what was counted against what is due.
func (p *page) told(t *built.Working, d *built.Diagnosis) {
	p.blank()
	p.heading("What was told")
	for i := 0; i < len(d.Heard); {
		n := i + 1 // those heard in the same words are told together
		for n < len(d.Heard) && d.Heard[n].Words == d.Heard[i].Words {
			n++
		}
		p.hang(0, 2, "- "+heardWords(d.Heard[i:n]))
		i = n
	}
	for i := range d.Counts {
		c := &d.Counts[i]
		unit, per := measure.Scale(t.Build, c.Timed)
		due := "this drive should stand still"
		if d.Due.Likely > 0 {
			due = fmt.Sprintf("%s to %s is due", significant(float64(d.Due.Low)*per, 2), significant(float64(d.Due.High)*per, 2))
		}
		turns := fmt.Sprintf("%s %s", significant(float64(c.Turns)*per, 3), unit)
		p.hang(0, 2, fmt.Sprintf("- %s: %s; %s.", clean(c.Words), turns, due))
	}
}

// heardWords are how somebody's words were taken.
func heardWords(heard []built.Hearing) string {
	var signs []string
	for _, h := range heard {
		signs = append(signs, fmt.Sprintf("%q", string(h.Sign)))
	}
	h := heard[0]
	words := strings.Join(signs, " and ")
	switch {
	case h.Guess:
		words = fmt.Sprintf("%s: taken for %s, the nearest that is known. If that is not meant, say it in other words.", units.Quoted(clean(h.Words)), words)
	case !h.Exact:
		words = fmt.Sprintf("%s: taken as %s.", units.Quoted(clean(h.Words)), words)
	default:
		words += "."
	}
	if len(heard) == 1 && len(h.Maybe) > 0 && h.Maybe[0].Share > 0.2 {
		words += fmt.Sprintf(" It may also mean %q.", string(h.Maybe[0].Sign))
	}
	if len(h.Names) > 0 {
		words += " Named in it: " + faultWords(h.Names) + "."
	}
	if len(h.RulesOut) > 0 {
		words += " Seen to already, by these words: " + faultWords(h.RulesOut) + "."
	}
	if len(h.Read) > 0 {
		words += " (Read " + strings.Join(h.Read, ", ") + ".)"
	}
	return words
}

// faultWords are faults in words, one after the other.
func faultWords(faults []built.Fault) string {
	var out []string
	for _, f := range faults {
		out = append(out, f.Says())
	}
	return strings.Join(out, "; ")
}

// suspects lists the likeliest, and in what order to try their cures.
func (p *page) suspects(b *built.Build, d *built.Diagnosis) {
	var free, costs []string
	most := mostSuspects
	if len(d.Advised()) > 0 {
		most = 2 // its own numbers come first
	}
	for i, s := range tellSuspects(b, d, d.Leading(most)) {
		words := s.Words
		if s.Would != "" {
			words += " " + s.Would
		}
		cure, number := " Cure: ", fmt.Sprint(i+1)
		if s.Costs {
			cure, costs = " Cure, with a new part: ", append(costs, number)
		} else {
			free = append(free, number)
		}
		p.hang(0, 3, fmt.Sprintf("%d. %s%s%s", i+1, words, cure, s.Mend))
	}
	if len(free) > 0 && len(costs) > 0 && costs[0] < free[len(free)-1] {
		p.say(0, fmt.Sprintf("Try what costs nothing first: %s, then %s.", strings.Join(free, ", "), strings.Join(costs, ", ")))
	}
	for i := range d.Apart {
		p.blank()
		p.heading(apartHead(d.Apart[i].Sign))
		for _, s := range tellSuspects(b, d, d.Apart[i].Suspects) {
			cure := " Cure: "
			if s.Costs {
				cure = " Cure, with a new part: "
			}
			p.hang(0, 2, "- "+s.Words+cure+s.Mend)
		}
	}
}

type diagnosisJSON struct {
	Heard    []heardJSON   `json:"heard"`
	Counts   []countJSON   `json:"counts"`
	Fits     bool          `json:"count_within_forecast"`
	Look     []string      `json:"look_first"`
	Checks   []checkJSON   `json:"checks"`
	Suspects []suspectJSON `json:"suspects"`
}

type checkJSON struct {
	Do    string   `json:"do"`
	Tells []string `json:"tells"` // faults
	Share number   `json:"share"`
}

type heardJSON struct {
	Words string   `json:"words"`
	Sign  string   `json:"sign"`
	Exact bool     `json:"exact"`
	Guess bool     `json:"guess"`
	Read  []string `json:"read_as"`
}

type countJSON struct {
	Words string `json:"words"`
	Turns number `json:"turns_per_minute"`
	Timed bool   `json:"timed_way"`
}

type suspectJSON struct {
	Fault string  `json:"fault"`
	Stage int     `json:"stage"`
	Says  string  `json:"says"`
	Way   string  `json:"way"`
	Look  string  `json:"look"`
	Cure  string  `json:"cure"`
	Costs bool    `json:"new_part"`
	Share number  `json:"share"`
	Would *number `json:"would_turn_rpm"`
}

func diagnosisOf(d *built.Diagnosis) *diagnosisJSON {
	out := &diagnosisJSON{Heard: []heardJSON{}, Counts: []countJSON{}, Fits: d.Fits, Look: list(d.Looks()), Checks: []checkJSON{}, Suspects: []suspectJSON{}}
	for _, h := range d.Heard {
		out.Heard = append(out.Heard, heardJSON{clean(h.Words), string(h.Sign), h.Exact, h.Guess, list(h.Read)})
	}
	for _, c := range d.Counts {
		out.Counts = append(out.Counts, countJSON{clean(c.Words), number(c.Turns), c.Timed})
	}
	for i := range d.Checks {
		c := checkJSON{Do: d.Checks[i].Do, Tells: []string{}, Share: number(d.Checks[i].Share)}
		for _, t := range d.Checks[i].Tells {
			c.Tells = append(c.Tells, string(t.Fault))
		}
		out.Checks = append(out.Checks, c)
	}
	for _, s := range d.Suspects {
		out.Suspects = append(out.Suspects, suspectJSON{string(s.Fault), s.Stage, s.Says, s.Way, s.Look, s.Mend, s.Costs, number(s.Share), positive(s.Would)})
	}
	return out
}
