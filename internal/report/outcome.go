package report

import (
	"fmt"
	"math"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/score"
	"findrive/internal/units"
)

// nameOf is what a brief is called.
func nameOf(b *brief.Brief) string {
	if b.Name == "" {
		return "this brief"
	}
	return b.Name
}

// outcome says in a sentence what the search came to: the drive that leads, or how it
// ended without one.
func (p *page) outcome(r *design.Result) {
	name := nameOf(r.Brief)
	if len(r.Proposals) == 0 {
		if r.Status == design.NonePossible {
			p.heading(fmt.Sprintf("Proved: no drive for %s can be built from this cupboard.", name))
		} else {
			p.heading(fmt.Sprintf("Stopped early: no drive for %s found so far. That does not prove there is none.", name))
		}
		return
	}
	q := lead(r)
	if mayStand(q) {
		p.heading(fmt.Sprintf("This may not start: in %d classrooms of %d it stands still.", q.Stands, rooms))
	}
	p.heading(fmt.Sprintf("%s for %s: %s, works in %s, %s on nine tables of ten).",
		standing(r, q), name, count(len(q.Stages), "stage"), worksIn(q), inRange(q, r.Brief, r.Brief.Model == brief.Lift)))
	p.say(0, against(q, r.Brief))
}

// standing is what the drive that leads is known to be.
func standing(r *design.Result, q *design.Proposal) string {
	best := "best of all"
	switch {
	case onEdge(q):
		best = "best of all, but on the edge,"
	case q.Rank > 1:
		best = "best that is not on the edge"
	}
	switch {
	case r.Status == design.ProvedBest:
		return units.Capital(best)
	case provedFirst(r) >= q.Rank:
		return "Stopped early, but this is proved the " + best
	case onEdge(q):
		return "Stopped early: best so far, but on the edge,"
	}
	return "Stopped early: best so far, not proved,"
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

// listEnd says where the list ends; asked is the number of drives asked for, 0 if not
// known.
func listEnd(r *design.Result, asked int) string {
	n := len(r.Proposals)
	switch {
	case r.Status != design.ProvedBest:
		proved := provedFirst(r)
		return fmt.Sprintf("Stopped early, %s. %s", howProved(proved, n), stillOpen(r, proved))
	case n < asked && n == 1:
		return fmt.Sprintf("Proved: any other drive would cost over %s points more, not worth building.", points(score.Worth))
	case n < asked:
		return fmt.Sprintf("Proved: any other would cost over %s points more than the first, not worth building.", points(score.Worth))
	case n == 1:
		return "Proved best. For others add -k 10."
	}
	return fmt.Sprintf("Proved: these are the best %d. For more add -k %d.", n, 2*n)
}

// speedWords are what a teacher reads first: how fast.
func speedWords(q *design.Proposal, b *brief.Brief) string {
	n := q.Speed
	if l := q.Linear; l != nil {
		verb := "Travels"
		if b.Model == brief.Lift {
			verb = "Lifts"
		}
		return fmt.Sprintf("%s about %s cm a second (%s to %s): 1 metre in %s s", verb, cm(l.Likely), cm(l.Low), cm(l.High), significant(1/float64(l.Likely), 2))
	}
	return fmt.Sprintf("About %s turns a minute (%s to %s): one turn in %s s", rpm(n.Likely), rpm(n.Low), rpm(n.High), significant(float64(n.Likely.SecondsPerTurn()), 2))
}

func cm(v units.MetresPerSecond) string { return significant(100*float64(v), 2) }

// inRange is the speed with its range, the bracket left open: "about 22 turns a minute
// (14 to 25".
func inRange(q *design.Proposal, b *brief.Brief, lifts bool) string {
	n := q.Speed
	if l := q.Linear; l != nil {
		verb := ""
		if lifts {
			verb = "lifts "
		}
		return fmt.Sprintf("%sabout %s cm a second (%s to %s", verb, cm(l.Likely), cm(l.Low), cm(l.High))
	}
	return fmt.Sprintf("about %s turns a minute (%s to %s", rpm(n.Likely), rpm(n.Low), rpm(n.High))
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
	case off >= 1:
		return fmt.Sprintf("You asked for %s: this is %s times as fast.", words, significant(1+off, 2))
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
