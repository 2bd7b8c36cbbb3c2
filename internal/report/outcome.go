package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/score"
	"findrive/internal/units"
)

// outcome says in words how the search ended; asked is the number of drives asked
// for, 0 if not known.
func (p *page) outcome(r *design.Result, asked int) {
	n := len(r.Proposals)
	name := r.Brief.Name
	if name == "" {
		name = "this brief"
	}
	switch {
	case r.Status == design.ProvedBest && n == 1 && asked > 1:
		p.heading(fmt.Sprintf("Proved: only one drive for %s can be made from this cupboard.", name))
	case r.Status == design.ProvedBest && n < asked:
		p.heading(fmt.Sprintf("Proved: only %d drives for %s can be made from this cupboard. Here they are, the best first.", n, name))
	case r.Status == design.ProvedBest && n == 1:
		p.heading(fmt.Sprintf("Proved: this is the best drive for %s that this cupboard can make.", name))
	case r.Status == design.ProvedBest:
		p.heading(fmt.Sprintf("Proved: these are the %d best drives for %s that this cupboard can make.", n, name))
	case r.Status == design.NonePossible:
		p.heading(fmt.Sprintf("Proved: no drive for %s can be built from this cupboard.", name))
		p.say(0, "Every arrangement was tried or ruled out. Below is what stood in the way, the nearest miss first, and what to change.")
	case n == 0:
		p.heading(fmt.Sprintf("Stopped early: no drive for %s found yet. That does not prove there is none.", name))
		p.say(0, "Let it search longer, or look below at what stood in the way so far.")
	default:
		proved := provedFirst(r)
		p.heading(fmt.Sprintf("Stopped early: %s for %s, %s.", foundSoFar(n), name, howProved(proved, n)))
		p.say(0, stillOpen(r, proved))
	}
	if n > 0 {
		p.say(0, "Drives are ranked by penalty points: fewer is better.")
	}
}

func foundSoFar(n int) string {
	if n == 1 {
		return "one drive found"
	}
	return fmt.Sprintf("the best %d drives found so far", n)
}

// provedFirst is how many drives of a search that stopped early are proved to be
// the best all the same: those that cost less than anything unseen can.
func provedFirst(r *design.Result) int {
	for i := range r.Proposals {
		if r.Proposals[i].Total >= r.Open {
			return i
		}
	}
	return len(r.Proposals)
}

func howProved(proved, of int) string {
	switch {
	case proved == 0:
		return "not proved best"
	case of == 1:
		return "proved best"
	case proved == 1:
		return "the first proved best"
	case proved == of:
		return "all proved best"
	}
	return fmt.Sprintf("the first %d proved best", proved)
}

// stillOpen says how much better than the first drive not proved best an unseen
// drive could be.
func stillOpen(r *design.Result, proved int) string {
	if proved == len(r.Proposals) {
		return fmt.Sprintf("Others not yet looked at cost at least %s points.", points(r.Open))
	}
	next := r.Proposals[proved].Total
	which := "first"
	if proved > 0 {
		which = "next"
	}
	if r.Open >= next {
		return fmt.Sprintf("No drive still unseen can have fewer points than the %s's %s, but there may be others as good.", which, points(next))
	}
	return fmt.Sprintf("The %s has %s points. A drive not yet looked at could have as few as %s, which is %s fewer.",
		which, points(next), points(r.Open), points(next-r.Open))
}

// summary lists every proposal on a line.
func (p *page) summary(r *design.Result, full int) {
	p.blank()
	what := "turns/min"
	if r.Proposals[0].Linear != nil {
		what = "cm/s"
	}
	columns := []column{{head: "No.", right: true, fixed: true}, {head: what, right: true, fixed: true}, {head: "Stages", right: true, fixed: true},
		{head: "Pulleys, motor to output"}, {head: "Points", right: true, fixed: true}}
	tackles := len(r.Brief.Load.Tackles) > 1
	if tackles {
		columns = slices.Insert(columns, 3, column{head: "Rope parts", right: true, fixed: true})
	}
	var rows [][]string
	for i := range r.Proposals {
		q := &r.Proposals[i]
		var pulleys []string
		for k := range q.Stages {
			pulleys = append(pulleys, q.Stages[k].Driver+" -> "+q.Stages[k].Driven)
		}
		speed := rpm(q.Speed.Likely)
		if q.Linear != nil {
			speed = significant(100*float64(q.Linear.Likely), 2)
		}
		row := []string{fmt.Sprint(q.Rank), speed, fmt.Sprint(len(q.Stages)), strings.Join(pulleys, ",\n"), points(q.Total)}
		if tackles && q.Tackle != nil {
			row = slices.Insert(row, 3, fmt.Sprint(q.Tackle.Parts))
		}
		rows = append(rows, row)
	}
	p.table(0, columns, rows)
	if full > 0 && full < len(r.Proposals) {
		p.say(0, "In full below: "+foundFirst(full)+".")
	}
}

func foundFirst(n int) string {
	if n == 1 {
		return "the first"
	}
	return fmt.Sprintf("the first %d", n)
}

// speedWords are what a teacher reads first: how fast.
func speedWords(q *design.Proposal, b *brief.Brief) string {
	n := q.Speed
	if l := q.Linear; l != nil {
		cm := func(v units.MetresPerSecond) string { return significant(100*float64(v), 2) }
		verb := "Travels"
		if b.Model == brief.Lift {
			verb = "Lifts"
		}
		return fmt.Sprintf("%s about %s cm a second (%s to %s): 1 metre in %s s", verb, cm(l.Likely), cm(l.Low), cm(l.High), significant(1/float64(l.Likely), 2))
	}
	return fmt.Sprintf("About %s turns a minute (%s to %s): one turn in %s s", rpm(n.Likely), rpm(n.Low), rpm(n.High), significant(float64(n.Likely.SecondsPerTurn()), 2))
}

// against says how far the likely speed is from the wanted one.
func against(q *design.Proposal, b *brief.Brief) string {
	words := b.Speed.Words
	switch {
	case words != "":
	case b.Speed.Linear > 0:
		words = significant(100*float64(b.Speed.Linear), 3) + " cm/s"
	default:
		words = significant(float64(b.Speed.Turning), 3) + " rpm"
	}
	off := float64(q.Speed.Likely/q.Target) - 1
	switch {
	case math.Round(100*math.Abs(off)) == 0:
		return fmt.Sprintf("You asked for %s: this is it, to within 1 %%.", words)
	case off > 0:
		return fmt.Sprintf("You asked for %s: this is %s faster.", words, percent(off))
	}
	return fmt.Sprintf("You asked for %s: this is %s slower.", words, percent(-off))
}

// stats writes the counts of the search.
func (p *page) stats(r *design.Result) {
	s := r.Stats
	p.blank()
	p.heading("The search in numbers")
	p.say(0, fmt.Sprintf("%d part-built drives looked at; %d put aside because nothing under them could be among the best; %d because nothing under them is possible; %d drives worked out in full; the list of the best changed %d times.",
		s.Nodes, s.Bounded, s.Refused, s.Finished, s.Improved))
	if r.Status == design.StoppedEarly && r.Open < score.Points(math.MaxInt64) {
		p.say(0, fmt.Sprintf("Least penalty an unseen drive could have: %s points.", points(r.Open)))
	}
}
