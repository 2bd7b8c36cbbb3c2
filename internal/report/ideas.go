package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/groups"
	"findrive/internal/ideas"
	"findrive/internal/parts"
)

// IdeasOptions steer IdeasText.
type IdeasOptions struct {
	Width  int // of a line in terminal cells: 0 means 80; from 40 to 100
	Colour bool
}

// IdeasText writes which models can be built now, best first, then what is missing
// for the others. The error is from w.
func IdeasText(w io.Writer, r *ideas.Result, opt IdeasOptions) error {
	p := newPage(opt.Width, opt.Colour)
	p.ideasHead(r)
	p.buildable(r)
	p.unbuildable(r)
	p.unsettled(r)
	p.missing(r)
	p.blank()
	p.say(0, "propose and sheet show a drive in full, with the cautions. Your school's own risk assessment, local codes and competent staff decide.")
	_, err := io.WriteString(w, p.text.String())
	return err
}

func (p *page) ideasHead(r *ideas.Result) {
	name := r.Cupboard.Name
	if name == "" {
		name = "this cupboard"
	}
	p.heading(fmt.Sprintf("%s tried with %s", count(len(r.Answers), "model"), name))
	var said []string
	for _, part := range []struct {
		kind  ideas.Kind
		words string
	}{
		{ideas.AllSets, "can be built now for all groups"}, {ideas.FewerSets, "for some of the groups"},
		{ideas.Open, "not settled in the time"}, {ideas.NoDrive, "cannot be built"},
	} {
		if n := r.Count(part.kind); n > 0 {
			said = append(said, fmt.Sprintf("%d %s", n, part.words))
		}
	}
	p.say(0, strings.Join(said, "; ")+".")
}

// buildable lists the drives, each model on a line and its drive on the next.
func (p *page) buildable(r *ideas.Result) {
	var rows [][]string
	var unproved, unprovedMost []string
	for i := range r.Answers {
		a := &r.Answers[i]
		if a.Best == nil {
			continue
		}
		sets := fmt.Sprint(a.Sets)
		if a.Kind == ideas.FewerSets {
			sets = fmt.Sprintf("%d of %d", a.Sets, a.Brief.Sets)
		}
		row := []string{fmt.Sprint(len(rows) + 1), a.Brief.Name, ideaSpeed(a.Best), sets, points(a.Best.Total), driveLine(a.Best)}
		if a.Kind == ideas.FewerSets {
			row = append(row, fmt.Sprintf("for all %d: %s", a.Brief.Sets, shortfall(shortOf(r.Cupboard, a))))
			if !a.MostProved {
				unprovedMost = append(unprovedMost, a.Brief.Name)
			}
		}
		rows = append(rows, row)
		if !a.BestProved {
			unproved = append(unproved, a.Brief.Name)
		}
	}
	if len(rows) == 0 {
		return
	}
	p.blank()
	p.table(0, []column{{head: "No.", right: true, fixed: true}, {head: "Model"}, {head: "Goes", right: true, fixed: true},
		{head: "Sets", right: true, fixed: true}, {head: "Points", right: true, fixed: true}}, rows)
	p.say(0, "Sets: how many of this drive the stock makes. Points: penalty, fewer is better.")
	if len(unproved) > 0 {
		p.say(0, "Not proved best, because the time ran out: "+strings.Join(unproved, ", ")+".")
	}
	switch fewer := r.Count(ideas.FewerSets); {
	case len(unprovedMost) > 0:
		p.say(0, "Another drive may make more sets, because the time ran out: "+strings.Join(unprovedMost, ", ")+".")
	case fewer > 0:
		p.say(0, "Where sets are short: proved that no one drive makes more.")
	}
}

func ideaSpeed(q *design.Proposal) string {
	if q.Linear != nil {
		return significant(100*float64(q.Linear.Likely), 2) + " cm/s"
	}
	return rpm(q.Speed.Likely) + " turns/min"
}

// driveLine is a drive in one line.
func driveLine(q *design.Proposal) string {
	var stages []string
	for i := range q.Stages {
		stages = append(stages, q.Stages[i].Driver+" -> "+q.Stages[i].Driven)
	}
	line := fmt.Sprintf("%s; motor %s, %s", strings.Join(stages, ", "), q.Drive.Motor.Name, count(q.Drive.Holder.Cells, "cell"))
	if q.Tackle != nil && q.Tackle.Parts > 1 {
		line += fmt.Sprintf(", tackle of %d parts", q.Tackle.Parts)
	}
	return line
}

// lack is so many more of a part.
type lack struct {
	part string // its kind and name
	more int
	sets int // that there are enough for
}

// shortfall says how much is missing of each part for all sets of a drive: the parts that run
// out first before those that run out later.
func shortfall(short []lack) string {
	short = slices.Clone(short)
	slices.SortStableFunc(short, func(a, b lack) int {
		return cmp.Or(cmp.Compare(a.sets, b.sets), cmp.Compare(b.more, a.more))
	})
	var out []string
	for i := 0; i < len(short); {
		more := short[i].more
		var names []string
		for ; i < len(short) && short[i].more == more; i++ {
			names = append(names, short[i].part)
		}
		each := ""
		if len(names) > 1 {
			each = "each "
		}
		out = append(out, fmt.Sprintf("%d more %sof %s", more, each, strings.Join(names, ", ")))
	}
	return strings.Join(out, "; ")
}

// shortOf are the parts of which there are too few for all sets of the drive of an answer. Rods
// are counted as a class counts them, as those that the missing axles are cut from.
func shortOf(cup *parts.Cupboard, a *ideas.Answer) []lack {
	short := []lack{}
	for _, u := range a.Best.Uses {
		if u.Each*a.Brief.Sets <= u.Have {
			continue
		}
		l := lack{u.Kind + " " + u.Name, u.Each*a.Brief.Sets - u.Have, u.Have / u.Each}
		if u.Kind == "axle" {
			if more, name, ok := groups.RodsFor(cup, a.Brief, a.Best, u.Name, a.Brief.Sets); ok {
				l.part, l.more = "rod "+name, more
			}
		}
		short = append(short, l)
	}
	return short
}

// unbuildable says what stood in the way and what would help.
func (p *page) unbuildable(r *ideas.Result) {
	if r.Count(ideas.NoDrive) == 0 {
		return
	}
	p.blank()
	p.heading("Cannot be built from this cupboard: proved")
	for i := range r.Answers {
		a := &r.Answers[i]
		if a.Kind != ideas.NoDrive {
			continue
		}
		p.hang(0, 2, fmt.Sprintf("- %s%s. %s", a.Brief.Name, wanted(a.Brief), inTheWay(a)))
		for _, c := range a.Changes {
			p.hang(2, 4, fmt.Sprintf("* %s: then %s, at %s", c.Words, count(c.Sets, "set"), ideaSpeed(c.Drive)))
		}
	}
}

// wanted is the speed asked for, as it was written.
func wanted(b *brief.Brief) string {
	if b.Speed.Words == "" {
		return ""
	}
	return " at " + b.Speed.Words
}

// inTheWay is what a model lacks; else what changes would help, which have been
// searched with; else the nearest miss of the rules.
func inTheWay(a *ideas.Answer) string {
	var said []string
	if len(a.Lacking) > 0 {
		said = append(said, fmt.Sprintf("The cupboard has no %s.", strings.Join(a.Lacking, ", no ")))
	}
	switch n := len(a.Changes); {
	case n == 1:
		said = append(said, "This change was searched with and makes it possible.")
	case n > 1:
		said = append(said, "Any one of these changes makes it possible; each was searched with.")
	case len(a.Lacking) > 0:
	case a.Nearest != nil:
		said = append(said, fmt.Sprintf("Nearest miss: %s (%s).", a.Nearest.Nearest, a.Nearest.Rule))
		if a.ChangesTried {
			said = append(said, "No single change that was tried makes it possible: it takes two or more.")
		} else {
			said = append(said, "The time ran out before a change was found that makes it possible.")
		}
	}
	return strings.Join(said, " ")
}

// unsettled names the models whose search was stopped with nothing found.
func (p *page) unsettled(r *ideas.Result) {
	if r.Count(ideas.Open) == 0 {
		return
	}
	p.blank()
	p.heading("Not settled")
	var names []string
	for i := range r.Answers {
		if r.Answers[i].Kind == ideas.Open {
			names = append(names, r.Answers[i].Brief.Name)
		}
	}
	p.say(0, "No drive was found in the time, which does not prove that there is none: "+strings.Join(names, ", ")+". Give more with --time-limit.")
}
