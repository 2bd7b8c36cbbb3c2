package report

import (
	"fmt"
	"math"
	"strings"

	"findrive/internal/design"
	"findrive/internal/goals"
	"findrive/internal/units"
)

// scoreHead and scoreCells are the columns of the table that belong to a kind.
func scoreHead(k goals.Kind) []column {
	right := func(heads ...string) (out []column) {
		for _, h := range heads {
			out = append(out, column{head: h, right: true, fixed: true})
		}
		return out
	}
	switch k {
	case goals.Fastest:
		return right("Seconds", "Range", "Works", "Expect")
	case goals.ExactTime:
		return right("Seconds", "Off", "Range", "Expect")
	case goals.Slowest:
		return right("Seconds", "Range", "Works", "Expect")
	case goals.Steepest:
		return right("Degrees", "Works", "Expect", "Seconds")
	case goals.Heaviest:
		return right("Grams", "Works", "Expect", "Seconds")
	case goals.Turns:
		return right("Turns", "Off", "Range", "Expect")
	}
	return right("Holes mm", "Turns/min")
}

func scoreCells(c *goals.Challenge, e *goals.Entry) []string {
	s, q := &e.Score, e.Proposal
	sec := func(v units.Seconds) string { return trimmed(float64(v), 1) }
	switch c.Kind {
	case goals.Fastest:
		return []string{sec(s.Run.Likely), runRange(s.Run), worksCell(e), expectCell(c, e)}
	case goals.ExactTime:
		return []string{sec(s.Run.Likely), offWords(c, float64(s.Run.Likely)), runRange(s.Run), expectCell(c, e)}
	case goals.Slowest:
		return []string{sec(s.Takes), takesRange(c, q), worksCell(e), expectCell(c, e)}
	case goals.Steepest:
		return []string{trimmed(s.Climbs.Degrees(), 0), worksCell(e), expectCell(c, e), sec(s.Takes)}
	case goals.Heaviest:
		return []string{trimmed(float64(s.Lifts), 0), worksCell(e), expectCell(c, e), sec(s.Takes)}
	case goals.Turns:
		minutes := float64(c.Time) / 60
		n := e.Speeds()
		return []string{turnsShown(s.Turns), offWords(c, s.Turns),
			trimmed(float64(n.Low)*minutes, 0) + "-" + trimmed(float64(n.High)*minutes, 0), expectCell(c, e)}
	}
	speed := rpm(q.Speed.Likely)
	if q.Linear != nil {
		speed = significant(100*float64(q.Linear.Likely), 2) + " cm/s"
	}
	return []string{size(s.Holes), speed}
}

// takesRange is how long a way takes at a steady speed, on nine tables of ten.
func takesRange(c *goals.Challenge, q *design.Proposal) string {
	early := trimmed(float64(c.Distance)/1000/float64(q.Linear.High), 1)
	if q.Linear.Low <= 0 {
		return early + " or more"
	}
	return early + "-" + trimmed(float64(c.Distance)/1000/float64(q.Linear.Low), 1)
}

func signed(v float64, decimals int) string {
	s := trimmed(v, decimals)
	if v > 0 && s != "0" {
		return "+" + s
	}
	return s
}

func runRange(r *goals.RunScore) string {
	early := trimmed(float64(r.Early), 1)
	if r.Late == 0 {
		return early + " or more"
	}
	return early + "-" + trimmed(float64(r.Late), 1)
}

func (p *page) entries(r *goals.Result) {
	c := r.Challenge
	columns := append([]column{{head: "No.", right: true, fixed: true}}, scoreHead(c.Kind)...)
	ratio := c.Kind == goals.Forgiving // the others have columns enough; it stands with each drive
	if ratio {
		columns = append(columns, column{head: "Ratio", right: true, fixed: true})
	}
	columns = append(columns, column{head: "Cells", right: true, fixed: true})
	if c.Rules.Parts > 0 {
		columns = append(columns, column{head: "Parts", right: true, fixed: true})
	}
	if c.Rules.Budget > 0 {
		columns = append(columns, column{head: "Cost", right: true, fixed: true})
	}
	columns = append(columns, column{head: "Points", right: true, fixed: true}, column{head: "Pulleys, motor to output"})
	var rows [][]string
	for i := range r.Entries {
		e := &r.Entries[i]
		row := append([]string{fmt.Sprint(e.Rank)}, scoreCells(c, e)...)
		if ratio {
			row = append(row, significant(e.Proposal.Ratio, 3))
		}
		row = append(row, fmt.Sprint(e.Bill.Cells))
		if c.Rules.Parts > 0 {
			row = append(row, fmt.Sprint(e.Bill.Parts))
		}
		if c.Rules.Budget > 0 {
			row = append(row, fmt.Sprint(e.Bill.Price))
		}
		rows = append(rows, append(row, points(e.Proposal.Total), pulleyPairs(e.Proposal)))
	}
	p.blank()
	p.table(0, columns, rows)
	if ratio {
		p.say(0, "Ratio: turns of the motor for one turn of the output. "+tieWords(c.Kind))
		return
	}
	p.say(0, betWords(c.Kind))
	p.byScore(r)
}

// betWords say what Works and Expect mean, by which the drives are ranked.
func betWords(k goals.Kind) string {
	const rooms = "a hundred classrooms whose cells, motors, bands, holes and friction differ"
	switch k {
	case goals.ExactTime, goals.Turns:
		return "Ranked by Expect, what a club will see: how far off it is on average, its holes as drawn, in " + rooms + "; where it stands it is off by all of it."
	case goals.Fastest:
		return "Ranked by Expect, what a club will see: the seconds, divided by the share of " + rooms + " in which it runs (Works)."
	case goals.Slowest:
		return "Ranked by Expect, what a club will see: the seconds, times the share of " + rooms + " in which it runs (Works)."
	}
	what := map[goals.Kind]string{goals.Steepest: "the degrees", goals.Heaviest: "the grams"}[k]
	return "Ranked by Expect, what a club will see: " + what + ", times the share of " + rooms + " in which it does that (Works). Seconds: to the top."
}

// byScore says which drive has the best score on the likely day, where that is not the first,
// and which was counted.
func (p *page) byScore(r *goals.Result) {
	words := ""
	for i := range r.Entries {
		if e := &r.Entries[i]; e.ByScore == 1 && e.Rank > 1 {
			words = fmt.Sprintf("On the likely day alone drive %d would be first. ", e.Rank)
		}
	}
	words += tieWords(r.Challenge.Kind)
	for i := range r.Entries {
		if e := &r.Entries[i]; e.Counted != nil {
			words += fmt.Sprintf(" Drive %d is the one that you counted, and its range is that of the very model.", e.Rank)
		}
	}
	p.say(0, words)
}

// worksCell is in how many of ten classrooms a drive does what its score says, rounded down.
func worksCell(e *goals.Entry) string { return fmt.Sprintf("%d/10", e.GetsThere()/10) }

func expectCell(c *goals.Challenge, e *goals.Entry) string {
	if math.IsInf(e.Expect, 0) {
		return "?"
	}
	if c.Kind == goals.Heaviest {
		return trimmed(e.Expect, 0)
	}
	return trimmed(e.Expect, 1)
}

func pulleyPairs(q *design.Proposal) string {
	var pairs []string
	for i := range q.Stages {
		pairs = append(pairs, q.Stages[i].Driver+">"+q.Stages[i].Driven)
	}
	return strings.Join(pairs, ", ")
}

func tieWords(k goals.Kind) string {
	step := map[goals.Kind]string{
		goals.Fastest: "within a tenth of a second", goals.ExactTime: "within a fiftieth of the time, or a tenth of a second,", goals.Slowest: "within a twentieth of the speed",
		goals.Steepest: "of the same whole degree", goals.Heaviest: "of the same ten grams", goals.Turns: "within a turn, or a fiftieth of the turns",
		goals.Forgiving: "of the same tenth of a millimetre",
	}[k]
	return "Drives " + step + " tie; of those the one with fewer penalty points, the easier to build well, comes first."
}
