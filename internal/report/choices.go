package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"findrive/internal/brief"
	"findrive/internal/design"
	"findrive/internal/drive"
	"findrive/internal/forecast"
	"findrive/internal/score"
	"findrive/internal/units"
)

// rooms is how many classrooms a drive is put into.
const rooms = forecast.Rooms

// tenths are the classrooms of ten in which a drive works, no more than are sure.
func tenths(q *design.Proposal) int { return 10 * q.Works / rooms }

func worksIn(q *design.Proposal) string {
	switch n := tenths(q); {
	case n == 0 && q.Works > 0:
		return "fewer than 1 of 10 classrooms"
	case n == 0:
		return "no classroom"
	default:
		return fmt.Sprintf("%d of 10 classrooms", n)
	}
}

// mayStand tells whether a drive is charged for standing still.
func mayStand(q *design.Proposal) bool { return 20*q.Stands > rooms }

// onEdge tells whether a drive needs holes better than a hand drills them.
func onEdge(q *design.Proposal) bool { return q.Bears < score.Edge }

// lead is the drive that is spoken of first: the first that is not on the edge, or the
// first of all if every one is.
func lead(r *design.Result) *design.Proposal {
	for i := range r.Proposals {
		if !onEdge(&r.Proposals[i]) {
			return &r.Proposals[i]
		}
	}
	return &r.Proposals[0]
}

// apart sorts drives into those that a hand can build and those on the edge, each in
// their order.
func apart(r *design.Result) (sound, edge []*design.Proposal) {
	for i := range r.Proposals {
		if q := &r.Proposals[i]; onEdge(q) {
			edge = append(edge, q)
		} else {
			sound = append(sound, q)
		}
	}
	return sound, edge
}

// choice is a drive worth choosing, and for what.
type choice struct {
	drive *design.Proposal
	is    []string
}

// choices are up to three drives that differ: the simplest, the surest of its speed and
// the one that forgives most; fewer where one is several of these. Of equals the first
// of the list is taken, so that the best is taken where it is as good.
func choices(r *design.Result) []choice {
	from, edge := apart(r)
	if len(from) == 0 {
		from = edge
	}
	if len(from) < 2 {
		return nil
	}
	pick := func(less func(a, b *design.Proposal) int) *design.Proposal { return slices.MinFunc(from, less) }
	var out []choice
	add := func(is string, q *design.Proposal) {
		for i := range out {
			if out[i].drive == q {
				out[i].is = append(out[i].is, is)
				return
			}
		}
		out = append(out, choice{q, []string{is}})
	}
	add("the simplest", pick(func(a, b *design.Proposal) int {
		return cmp.Or(cmp.Compare(len(a.Stages), len(b.Stages)), cmp.Compare(a.Drive.Holder.Cells, b.Drive.Holder.Cells), cmp.Compare(term(a, "joints"), term(b, "joints")))
	}))
	add("the surest of its speed", pick(func(a, b *design.Proposal) int { return cmp.Compare(tenths(b), tenths(a)) }))
	add("the most forgiving", pick(func(a, b *design.Proposal) int { return cmp.Compare(halves(b), halves(a)) }))
	slices.SortStableFunc(out, func(a, b choice) int { return cmp.Compare(a.drive.Rank, b.drive.Rank) })
	return out
}

// term are the points of one term of a drive's penalty.
func term(q *design.Proposal, name string) score.Points {
	for _, t := range q.Penalty {
		if t.Name == name {
			return t.Points
		}
	}
	return 0
}

// halves are how many half millimetres a hole may be out of place.
func halves(q *design.Proposal) int { return int(math.Floor(float64(q.Forgives)/ruler + 1e-6)) }

// choices writes what there is to choose from, and of the drive that leads what it
// takes if it is none of these.
func (p *page) choices(r *design.Result) {
	first := lead(r)
	all := choices(r)
	if !slices.ContainsFunc(all, func(c choice) bool { return c.drive == first }) {
		p.say(0, fmt.Sprintf("%s. %s.", simpleWords(first), groupsWords(first)))
		p.lookOut(first.Notes, 0)
	}
	switch {
	case len(all) == 0:
		return
	case len(all) == 1 && all[0].drive == first:
		p.say(0, fmt.Sprintf("%s. %s.", simpleWords(first), groupsWords(first)))
		p.lookOut(first.Notes, 0)
		p.say(0, fmt.Sprintf("Of those listed it is also %s.", joined(all[0].is)))
		return
	}
	p.blank()
	for _, c := range all {
		q := c.drive
		is := joined(c.is)
		p.emphasised(0, 3, fmt.Sprintf("%d. %s: %s), works in %s.", q.Rank, units.Capital(is), inRange(q, r.Brief, false), worksIn(q)), bold)
		if mayStand(q) {
			p.hang(3, 3, fmt.Sprintf("It may not start: in %d classrooms of %d it stands still.", q.Stands, rooms))
		}
		if q == first {
			p.hang(3, 3, fmt.Sprintf("%s. %s.", simpleWords(q), groupsWords(q)))
		} else {
			p.hang(3, 3, fmt.Sprintf("Unlike %d: %s. %s.", first.Rank, unlike(q, first), groupsWords(q)))
		}
		if q == first || !slices.Equal(q.Notes, first.Notes) {
			p.lookOut(q.Notes, 3)
		} else if len(q.Notes) > 0 {
			p.hang(3, 3, fmt.Sprintf("Look out as for %d.", first.Rank))
		}
	}
}

// joined are words as a list: "a, b and c".
func joined(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
}

// lookOut writes the warnings about one drive.
func (p *page) lookOut(notes []string, indent int) {
	for _, note := range notes {
		p.emphasised(indent, indent+2, "Look out: "+note+".", bold)
	}
}

// simpleWords say how much work a drive is.
func simpleWords(q *design.Proposal) string {
	return fmt.Sprintf("%s, %s, %s; %s", count(len(q.Stages), "stage"), count(q.Drive.Holder.Cells, "cell"), makingWords(q), holesWords(q))
}

func makingWords(q *design.Proposal) string {
	work := effort(q.Drive)
	if n := toMakeEach(q.Drive); n > 0 {
		work = append([]string{count(n, "pulley") + " to make of discs"}, work...)
	}
	if len(work) > 0 {
		return strings.Join(work, ", ")
	}
	return "push fits only"
}

func holesWords(q *design.Proposal) string {
	if halves(q) == 0 {
		return "holes must be exact"
	}
	return fmt.Sprintf("holes may be %s mm off", mmDown(q.Forgives))
}

// unlike says in what a drive differs from the first.
func unlike(q, first *design.Proposal) string {
	var out []string
	add := func(same bool, words string) {
		if !same {
			out = append(out, words)
		}
	}
	add(q.Drive.Motor.Name == first.Drive.Motor.Name, "motor "+q.Drive.Motor.Name)
	add(len(q.Stages) == len(first.Stages), count(len(q.Stages), "stage"))
	add(q.Drive.Holder.Cells == first.Drive.Holder.Cells, count(q.Drive.Holder.Cells, "cell"))
	if q.Tackle != nil && first.Tackle != nil {
		add(q.Tackle.Parts == first.Tackle.Parts, count(q.Tackle.Parts, "rope part"))
	}
	add(makingWords(q) == makingWords(first), makingWords(q))
	add(halves(q) == halves(first), holesWords(q))
	switch more := q.Total - first.Total; {
	case more > 0:
		out = append(out, pointsOf(more)+" more")
	case more < 0:
		out = append(out, pointsOf(-more)+" fewer")
	case len(out) == 0:
		out = append(out, "other pulleys")
	}
	return strings.Join(out, ", ")
}

func pointsOf(p score.Points) string {
	if p == 1000 {
		return "1 point"
	}
	return points(p) + " points"
}

// groupsWords say for how many groups the stock does, and what ends first.
func groupsWords(q *design.Proposal) string {
	groups, last := math.MaxInt, []string{}
	for i := range q.Uses {
		u := &q.Uses[i]
		if u.Each < 1 {
			continue
		}
		switch n := u.Have / u.Each; {
		case n < groups:
			groups, last = n, []string{outName(q, u)}
		case n == groups:
			if name := outName(q, u); !slices.Contains(last, name) {
				last = append(last, name)
			}
		}
	}
	if len(last) == 0 {
		return "The stock does for any number of groups"
	}
	runs := "runs"
	if len(last) > 1 {
		runs = "run"
	}
	if len(last) > 2 {
		last = append(last[:2], "others")
	}
	return fmt.Sprintf("Enough for %s, then %s %s out", count(groups, "group"), joined(last), runs)
}

// toMakeEach is how many pulleys of one set are to be made of discs.
func toMakeEach(d *drive.Drive) int {
	n := 0
	for _, p := range d.Pulleys() {
		if p.Made != nil {
			n++
		}
	}
	return n
}

// outName is what runs out where a part does: of pulleys to be made, the sheet.
func outName(q *design.Proposal, u *design.Use) string {
	if toMake(q, u) {
		return "the sheet for discs"
	}
	return useName(u)
}

// useName is a part with its kind, unless its name tells that.
func useName(u *design.Use) string {
	if strings.Contains(strings.ToLower(u.Name), u.Kind) {
		return u.Name
	}
	return u.Kind + " " + u.Name
}

// drives lists every drive on a line, those on the edge under a heading of their own.
func (p *page) drives(r *design.Result, asked int) {
	sound, edge := apart(r)
	if len(r.Proposals) > 1 {
		if len(sound) > 0 {
			p.blank()
			p.list(sound, r.Brief)
		}
		if len(edge) > 0 {
			p.blank()
			p.heading("On the edge: a hole 1 mm out of place could stop these")
			p.list(edge, r.Brief)
		}
	}
	end := listEnd(r, asked)
	if len(r.Proposals) > 1 {
		end = "Fewer points are better. " + end
	}
	p.say(0, end)
}

// list is a table of drives.
func (p *page) list(all []*design.Proposal, b *brief.Brief) {
	what := "turns/min"
	if all[0].Linear != nil {
		what = "cm/s"
	}
	columns := []column{{head: "No", right: true, fixed: true}, {head: what, right: true, fixed: true}, {head: "Works", right: true, fixed: true},
		{head: "Pulleys, motor to output"}, {head: "Points", right: true, fixed: true}}
	tackles := len(b.Load.Tackles) > 1
	if tackles {
		columns = slices.Insert(columns, 3, column{head: "Rope\nparts", right: true, fixed: true})
	}
	var rows [][]string
	apart := otherwise(all)
	for i, q := range all {
		var pulleys []string
		for k := range q.Stages {
			pulleys = append(pulleys, q.Stages[k].Driver+">"+q.Stages[k].Driven)
		}
		if apart[i] != "" {
			pulleys = append(pulleys, apart[i])
		}
		speed := rpm(q.Speed.Low) + "-" + rpm(q.Speed.High)
		if l := q.Linear; l != nil {
			speed = cm(l.Low) + "-" + cm(l.High)
		}
		row := []string{fmt.Sprint(q.Rank), speed, fmt.Sprintf("%d/10", tenths(q)), strings.Join(pulleys, ",\n"), points(q.Total)}
		if tackles && q.Tackle != nil {
			row = slices.Insert(row, 3, fmt.Sprint(q.Tackle.Parts))
		}
		rows = append(rows, row)
	}
	p.table(0, columns, rows)
}

// mostAssumed is how many assumed facts are named on a short page.
const mostAssumed = 3

// assumptions says what the figures rest on, once for the page.
func (p *page) assumptions(r *design.Result) {
	p.blank()
	p.say(0, "Works: turns as asked, in so many of ten classrooms, whose cells, motors, bands, holes and friction differ; the range: nine tables of ten (docs/model.md).")
	var facts []string
	for _, q := range slices.Concat([]*design.Proposal{lead(r)}, drivesOf(choices(r))) {
		for _, f := range q.Assumed {
			if !slices.Contains(facts, f) {
				facts = append(facts, f)
			}
		}
	}
	if len(facts) == 0 {
		return
	}
	more := ""
	if n := len(facts) - mostAssumed; n > 0 {
		facts, more = facts[:mostAssumed], fmt.Sprintf("; and %d more (--full)", n)
	}
	p.say(0, "Nobody measured: "+strings.Join(byPart(facts), "; ")+more+".")
}

func drivesOf(all []choice) []*design.Proposal {
	var out []*design.Proposal
	for _, c := range all {
		out = append(out, c.drive)
	}
	return out
}
