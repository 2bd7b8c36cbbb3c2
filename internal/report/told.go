package report

import (
	"fmt"
	"strings"

	"findrive/internal/design"
	"findrive/internal/why"
)

// Told is a result in the words of Text, piece by piece, for a page that lays them out
// otherwise.
type Told struct {
	Outcome string // what the search came to, in a sentence
	Against string // how far the drive that leads is from what was asked; empty without one
	Lead    *ToldDrive
	// Choices are up to three drives that differ, the one that leads among them.
	Choices []*ToldDrive
	Drives  []*ToldDrive // all of the list
	Counted []string     // which of them were built and counted, and what those models do
	End     string       // where the list ends, and whether that is proved
	// Assumed are facts nobody measured that the choices rest on.
	Assumed  []string
	Cautions []string // before anyone builds; the last defers to the school
}

// ToldDrive is a drive in the same words.
type ToldDrive struct {
	Drive   *design.Proposal
	Is      string   // what it is of those that differ: "the simplest and the surest of its speed"; may be empty
	Speed   string   // "about 22 turns a minute (16 to 25)"
	Range   string   // "16-25"
	Unit    string   // of Range: "turns/min" or "cm/s"
	Tenths  int      // classrooms of ten in which it works
	Works   string   // "works in 9 of 10 classrooms"
	May     string   // that it may not start; empty if it does
	Simple  string   // how much work it is
	Unlike  string   // in what it differs from the one that leads; empty for that
	Groups  string   // for how many groups the stock does, and what runs out
	LookOut []string // warnings, in plain words
	Pulleys string   // "motor-6 drives disc-80; axle-10 drives disc-80"
	Apart   string   // what it has otherwise than drives with the same pulleys: "2 cells"; mostly empty
	Points  string
	OnEdge  bool // a hole 1 mm out of place could stop it
}

// Tell puts a result into words; asked is how many drives were asked for.
func Tell(r *design.Result, asked int) *Told {
	t := &Told{Outcome: outcomeWords(r), Cautions: append(cautionsFor(r), "These are reminders only: your school's own risk assessment, local codes and competent staff decide.")}
	if len(r.Proposals) == 0 {
		return t
	}
	first := lead(r)
	tell := func(q *design.Proposal) *ToldDrive {
		d := &ToldDrive{
			Drive: q, Speed: inRange(q, r.Brief, false) + ")", Range: rpm(q.Speed.Low) + " to " + rpm(q.Speed.High), Unit: "turns a minute",
			Tenths: tenths(q), Works: "works in " + worksIn(q), Simple: simpleWords(q), Groups: groupsWords(q), LookOut: q.Notes, Points: points(q.Total), OnEdge: onEdge(q),
		}
		if l := q.Linear; l != nil {
			d.Range, d.Unit = cm(l.Low)+" to "+cm(l.High), "cm a second"
		}
		if mayStand(q) {
			d.May = fmt.Sprintf("It may not start: in %d classrooms of %d it stands still.", q.Stands, rooms)
		}
		if q != first {
			d.Unlike = unlike(q, first)
		}
		var pulleys []string
		for k := range q.Stages {
			pulleys = append(pulleys, q.Stages[k].Driver+" drives "+q.Stages[k].Driven)
		}
		d.Pulleys = strings.Join(pulleys, "; ")
		return d
	}
	var all []*design.Proposal
	for i := range r.Proposals {
		all = append(all, &r.Proposals[i])
		t.Drives = append(t.Drives, tell(all[i]))
	}
	for i, words := range otherwise(all) {
		t.Drives[i].Apart = words
	}
	t.Lead = t.Drives[first.Rank-1]
	for _, c := range choices(r) {
		d := t.Drives[c.drive.Rank-1]
		d.Is = joined(c.is)
		t.Choices = append(t.Choices, d)
	}
	if t.Lead.Is == "" { // it leads and is none of these by itself
		t.Choices = append([]*ToldDrive{t.Lead}, t.Choices...)
	}
	t.Counted = countedWords(r)
	t.Against = against(first, r.Brief)
	t.End, _, _ = strings.Cut(listEnd(r, asked), " For ") // what follows is a flag of the command line
	seen := map[string]bool{}
	for _, c := range t.Choices {
		for _, f := range c.Drive.Assumed {
			if !seen[f] {
				seen[f] = true
				t.Assumed = append(t.Assumed, f)
			}
		}
	}
	t.Assumed = byPart(t.Assumed)
	return t
}

// outcomeWords is the sentence of the outcome.
func outcomeWords(r *design.Result) string {
	switch {
	case len(r.Proposals) > 0:
		q := lead(r)
		return fmt.Sprintf("%s for %s: %s.", standing(r, q), nameOf(r.Brief), count(len(q.Stages), "stage"))
	case r.Status == design.NonePossible:
		return fmt.Sprintf("Proved: no drive for %s can be built from this cupboard.", nameOf(r.Brief))
	}
	return fmt.Sprintf("Stopped early: no drive for %s found so far. That does not prove there is none.", nameOf(r.Brief))
}

// ToldChange is a change that makes a drive possible, in words.
type ToldChange struct {
	Change *why.Change
	Words  string // "make the frame 260 mm long, 40 mm more"
	Then   string // what can then be built
	Proved bool   // that less does not do
}

// TellChanges puts the changes that package why found into words, the one that asks
// least first; r is what the search without them came to.
func TellChanges(r *design.Result, a *why.Answer) []ToldChange {
	var out []ToldChange
	for i := range a.Changes {
		c := &a.Changes[i]
		t := ToldChange{Change: c, Words: changeWords(c), Proved: smallestProved(r, a, c)}
		if c.Drive != nil {
			t.Then = strings.ReplaceAll(thenWords(c), " -> ", " > ")
		}
		out = append(out, t)
	}
	return out
}
