package report

import (
	"fmt"
	"io"
	"strings"

	"findrive/internal/conflict"
	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/score"
	"findrive/internal/why"
)

// WhyOptions steer WhyText.
type WhyOptions struct {
	Width  int // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool
	Made   *WhyMade // the change that has been made; nil for none
}

// WhyText writes why nothing can be built, or why one drive ranks before another. The
// error is from w.
func WhyText(w io.Writer, a *why.Answer, opt WhyOptions) error {
	p := newPage(opt.Width, opt.Colour)
	switch {
	case a.Possible() && a.Case.Pins == nil:
		p.whyFirst(a)
	case a.Possible():
		p.whyWanted(a)
	default:
		p.whyNot(a)
		p.made(a, opt)
	}
	p.blank()
	p.say(0, "findrive propose and sheet show a drive in full, with the cautions. Your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func briefName(a *why.Answer) string {
	if a.Case.Brief.Name == "" {
		return "this brief"
	}
	return a.Case.Brief.Name
}

// wishes are what was wanted, in words.
func wishesOf(c leeway.Case) string {
	var out []string
	for _, l := range leeway.Levers(c) {
		if strings.HasPrefix(l.Key, "wanted ") {
			out = append(out, l.Words)
		}
	}
	return strings.Join(out, ", ")
}

// whyFirst says why the best drive is the best.
func (p *page) whyFirst(a *why.Answer) {
	c := a.Comparison
	switch {
	case a.Best == nil:
		p.heading(fmt.Sprintf("A drive for %s can be built, but the best was not found in the time.", briefName(a)))
		p.say(0, "Give more with --time-limit.")
		return
	case c == nil && a.Settled:
		p.heading(fmt.Sprintf("Proved: there are not so many drives for %s to compare.", briefName(a)))
		p.driveLines("The best", a.Best)
		return
	case c == nil:
		p.heading(fmt.Sprintf("Fewer drives for %s were found in the time than were to be compared.", briefName(a)))
		p.driveLines("The best so far", a.Best)
		return
	}
	rank := fmt.Sprintf("number %d", c.Other.Rank)
	p.heading(fmt.Sprintf("Why number 1 for %s comes before %s", briefName(a), rank))
	p.comparison(c, "Number 1", "Number "+fmt.Sprint(c.Other.Rank), a.Settled)
}

// whyWanted says how what was wanted compares with the best.
func (p *page) whyWanted(a *why.Answer) {
	p.heading(fmt.Sprintf("Yes: a drive for %s can be built with %s.", briefName(a), wishesOf(a.Case)))
	switch {
	case a.Comparison == nil:
		p.driveLines("It", a.Wanted)
		p.say(0, "The best drive was not found in the time. Give more with --time-limit.")
	case why.Same(a.Best, a.Wanted):
		p.driveLines("It", a.Wanted)
		if a.Settled {
			p.say(0, "Proved: it is the best there is.")
		} else {
			p.say(0, "It is the best found in the time.")
		}
	default:
		p.comparison(a.Comparison, "The best", "Yours", a.Settled)
	}
}

// driveLines shows a drive in short.
func (p *page) driveLines(label string, q *design.Proposal) {
	p.hang(0, 3, fmt.Sprintf("%s: %s. %s, %s points.", label, driveLine(q), ideaSpeed(q), points(q.Total)))
}

// comparison sets two drives against each other, term by term.
func (p *page) comparison(c *why.Comparison, first, other string, settled bool) {
	p.driveLines(first, c.First)
	p.driveLines(other, c.Other)
	p.blank()
	switch by := c.Other.Total - c.First.Total; {
	case by > 0:
		p.say(0, fmt.Sprintf("%s has %s penalty points fewer (fewer is better). Term by term:", first, points(by)))
	case by == 0 && c.Tie != "":
		p.say(0, fmt.Sprintf("Both have the same penalty points. Between equals the order goes by stages, cells, motor, wheel or drum, then pulleys: %s comes first because %s.", strings.ToLower(first[:1])+first[1:], c.Tie))
	case by == 0:
		p.say(0, "Both have the same penalty points; they differ only in the bands or the holes.")
	}
	var rows [][]string
	for i := range c.Terms {
		t := &c.Terms[i]
		if t.First == 0 && t.Other == 0 {
			continue
		}
		row := []string{t.Name, points(t.First), points(t.Other), better(t.By(), first, other)}
		if t.First != t.Other {
			row = append(row, fmt.Sprintf("%s: %s; %s: %s", first, t.WhyFirst, other, t.WhyOther))
		}
		rows = append(rows, row)
	}
	rows = append(rows, []string{"total", points(c.First.Total), points(c.Other.Total), better(c.Other.Total-c.First.Total, first, other)})
	p.table(0, []column{{head: "What is charged", fixed: true}, {head: first, right: true, fixed: true}, {head: other, right: true, fixed: true}, {head: "Better", fixed: true}}, rows)
	p.blank()
	p.say(0, "The weights are yours to change: [weights] in the brief, docs/score.md.")
	if !settled {
		p.say(0, "Not proved: the time ran out, and there may be better drives. Give more with --time-limit.")
	}
}

// better says which of two is ahead and by how much.
func better(by score.Points, first, other string) string {
	switch {
	case by > 0:
		return fmt.Sprintf("%s by %s", first, points(by))
	case by < 0:
		return fmt.Sprintf("%s by %s", other, points(-by))
	}
	return "equal"
}

// whyNot says what stands in the way and what would unlock it.
func (p *page) whyNot(a *why.Answer) {
	name := briefName(a)
	with := ""
	if a.Case.Pins != nil {
		with = " with " + wishesOf(a.Case)
	}
	if a.Found.Status == design.StoppedEarly {
		p.heading(fmt.Sprintf("Not settled: no drive for %s%s was found in the time. That does not prove there is none.", name, with))
	} else {
		p.heading(fmt.Sprintf("Proved: no drive for %s%s can be built from this cupboard.", name, with))
	}
	if words := a.Obstacle(); words != "" {
		p.say(0, "In short: "+words+".")
	}
	if len(a.Lacking) > 0 {
		p.needed(a)
		return
	}
	p.conflicts(a)
	p.unlock(a)
	if a.Best != nil {
		p.blank()
		p.driveLines("Without what you want besides the brief, the best found is", a.Best)
	}
	if a.Open > 0 {
		p.blank()
		p.say(0, fmt.Sprintf("%s stopped by the time limit before anything was settled: there may be other ways. Give more with --time-limit.", were(a.Open, "search")))
	}
}

func were(n int, noun string) string {
	switch {
	case n == 1:
		return "1 " + noun + " was"
	case strings.HasSuffix(noun, "ch"):
		return fmt.Sprintf("%d %ses were", n, noun)
	}
	return fmt.Sprintf("%d %ss were", n, noun)
}

// conflicts lists what cannot be kept together.
func (p *page) conflicts(a *why.Answer) {
	r := &a.Conflict
	if r.None == conflict.Impossible {
		p.blank()
		p.say(0, "Proved: none of the rules, stocks and lines of the brief that can give makes a difference, all set aside together. The model asks for more than such a drive can do: another kind of model, load or motor is needed.")
		return
	}
	for i := range r.Conflicts {
		c := &r.Conflicts[i]
		p.blank()
		switch {
		case i == 0:
			p.heading("What stands in the way")
			p.say(0, "These cannot be kept together, whatever else gives:")
		default:
			p.say(0, "Nor can these:")
		}
		for _, m := range c.Needed.Rules() {
			p.hang(2, 4, "- "+a.Levers[m].Words)
		}
		if unsure := c.Members &^ c.Needed; unsure != 0 {
			var names []string
			for _, m := range unsure.Rules() {
				names = append(names, a.Levers[m].Key)
			}
			p.hang(2, 4, fmt.Sprintf("- perhaps some of these too (not settled in the time): %s", strings.Join(names, ", ")))
		} else if i == 0 && c.Members.Len() > 1 {
			p.say(2, "Give up any one of them, and the others can be kept.")
		}
	}
	if len(r.Conflicts) > 0 && !r.Complete {
		p.say(0, "There may be other such sets.")
	} else if len(r.Conflicts) > 0 {
		p.say(0, "Proved: there is no other such set.")
	}
}

// nearestWords are of the drive at whose speed a change asks for another, where one of yet
// another speed leads then.
func nearestWords(nearest, leads *design.Proposal) string {
	has := "is " + driveLine(nearest)
	if driveLine(nearest) == driveLine(leads) {
		has = "has the same pulleys, banded or spaced otherwise"
	}
	return fmt.Sprintf("That is the best of those near enough to the speed. The nearest, %s, %s; a narrower tolerance leads to it.", ideaSpeed(nearest), has)
}

// unlock lists the changes that make it possible.
func (p *page) unlock(a *why.Answer) {
	p.blank()
	n := len(a.Changes)
	switch {
	case n == 0 && len(a.Conflict.Cures) == 0 && a.Conflict.All == conflict.Impossible && a.Conflict.None != conflict.Impossible:
		p.heading("What would unlock it")
		p.say(0, "No change of one or two things was found that does. Look at the list above, and change several.")
		return
	case n == 0 && len(a.Conflict.Cures) > 0:
		p.heading("What would unlock it")
		p.say(0, "It is possible with this set aside, but how little of it would do was not settled in the time:")
		for _, cure := range a.Conflict.Cures {
			if cure.Len() > a.Conflict.Cures[0].Len() {
				break
			}
			var words []string
			for _, m := range cure.Rules() {
				words = append(words, a.Levers[m].Words)
			}
			p.hang(2, 4, "- "+strings.Join(words, "; and "))
		}
		p.cardWouldDo(a)
		return
	case n == 0:
		return
	case len(a.Changes[0].Steps) > 1 && a.Conflict.Smallest:
		p.heading("No single change unlocks it. These do, together")
	case len(a.Changes[0].Steps) > 1:
		p.heading("These changes unlock it, together")
	case n == 1:
		p.heading("This change alone unlocks it")
	default:
		p.heading("Any one of these changes unlocks it")
	}
	p.say(0, "Each was searched with; a drive that was then found is shown.")
	for i := range a.Changes {
		c := &a.Changes[i]
		var words []string
		unsure := false
		for _, s := range c.Steps {
			words = append(words, s.Words)
			unsure = unsure || !s.Least
		}
		line := fmt.Sprintf("%d. %s", i+1, strings.Join(words, ", and "))
		if unsure {
			line += " (less may do: not settled)"
		}
		if c.Cost == leeway.Rule {
			line += ". This is a rule of good practice: put up with less only if you must"
		}
		p.hang(0, 3, line+".")
		p.hang(3, 5, "Then "+thenWords(c))
		if i == 0 {
			p.hang(3, 5, pullWords(c.Then()))
		}
		if q := a.Nearest(c); q != nil {
			p.hang(3, 5, nearestWords(q, c.Then()))
		}
	}
	if getsPulleys(a, &a.Changes[0]) {
		p.cardWouldDo(a)
	}
}
