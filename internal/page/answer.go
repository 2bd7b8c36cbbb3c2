package page

import (
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/design"
	"findrive/internal/report"
	"findrive/internal/units"
)

// answerStep is the third step, open.
func (s *Session) answerStep(r read) g.Node {
	if !r.sound() {
		return h.Div(h.ID("answer-wait"), s.summary(r), s.old())
	}
	if !s.fresh() {
		if s.early != nil {
			return s.first(s.early)
		}
		return g.Group{searching(everyWay), s.old()}
	}
	a := s.answer
	switch {
	case a.failed != "":
		return h.Div(h.ID("answer-failed"), h.P(h.Class("warn"), g.Text("The program contradicts itself and will not answer: "+a.failed)),
			h.P(g.Text("Save both files and report it with them, please.")))
	case len(a.result.Proposals) == 0:
		return s.none()
	}
	return g.Group{s.found(a), s.onward(stepAnswer)}
}

const everyWay = "Searching every way to join the parts. "

// searching is shown while there is no answer yet, or not all of it.
func searching(words string) g.Node {
	return h.Div(h.ID("searching"), h.Class("searching"),
		h.P(g.Text(words), h.Span(h.ID("so-far"))),
		h.P(button("stop", "stop", "", "", "Stop and show the best so far")))
}

// old is the last answer, grey, until the next is there.
func (s *Session) old() g.Node {
	if s.before == nil || s.before.told == nil || len(s.before.result.Proposals) == 0 {
		return nil
	}
	return h.Div(h.ID("old"), h.Class("old"), g.Attr("inert"), h.P(h.Class("small"), g.Text("The answer before:")), h.P(g.Text(s.before.told.Outcome)))
}

// first is the first drive of a list while the others are still looked for. It stands as it will in
// the whole answer, where there will be something to choose.
func (s *Session) first(a *answer) g.Node {
	return g.Group{searching("This is the best of all. The next best are still looked for. "),
		h.Div(h.ID("answer-found"), outcome(a.told, ""), h.Ul(h.Class("cards"), card(a, a.told.Lead, true, nil)))}
}

// outcome is the answer in a line.
func outcome(t *report.Told, more string) g.Node {
	return h.P(h.Class("outcome"), h.ID("outcome"), g.Text(strings.TrimSpace(t.Outcome+" "+units.Capital(t.Lead.Works)+", "+t.Lead.Speed+". "+more)))
}

// found are the drives of an answer.
func (s *Session) found(a *answer) g.Node {
	t := a.told
	chosen := s.chosen()
	var cards []g.Node
	there := false
	for _, d := range t.Choices {
		is := d == chosen
		there = there || is
		cards = append(cards, card(a, d, is, taking(d, is)))
	}
	if !there {
		cards = append(cards, card(a, chosen, true, taking(chosen, true)))
	}
	return h.Div(h.ID("answer-found"),
		outcome(t, t.Against),
		g.If(a.result.Status == design.StoppedEarly, s.stoppedEarly(a)),
		g.If(s.Learned != "", h.P(h.ID("answer-learned"), h.Class("small"), g.Text(strings.Join(append([]string{s.learnedFrom() + " All figures here reckon with it."}, t.Counted...), " ")))),
		h.Ul(h.Class("cards"), g.Group(cards)),
		h.P(h.Class("turn-note"), stillButton(), h.Span(h.Class("small"), g.Text("Pulleys and bands are in proportion"), h.Span(h.Class("moving"), g.Text(" and turn at their true speed")), g.Text(". The box of dashes and dots is the motor. What is too fast to see is drawn as a blur."))),
		s.firstWhy(t),
		s.allDrives(t, chosen),
		restsOn(t),
		cautions(t))
}

func stillButton() g.Node {
	return h.Button(h.Type("button"), h.ID("still"), h.Class("quiet"), h.Data("act", "still"), h.Aria("pressed", "false"), g.Text("Hold still"))
}

// stoppedEarly says what an answer is worth that was not proved.
func (s *Session) stoppedEarly(a *answer) g.Node {
	return h.Div(h.ID("early"), h.Class("note"),
		h.P(g.Text(a.told.End+" The drives below can be built; a better one may not have been met yet.")),
		h.P(button("search-on", "search on", "", "", "Search again, to the end")))
}

// firstWhy is why the first ranks before the next.
func (s *Session) firstWhy(t *report.Told) g.Node {
	if len(t.Drives) < 2 {
		if s.answer.result.Status == design.StoppedEarly { // which is said above
			return nil
		}
		return h.P(h.ID("why-first"), g.Text(t.End))
	}
	return h.P(h.ID("why-first"), g.Text(fmt.Sprintf("Why in this order: fewer points are better. Points are given for classrooms in which it does not work, and for a speed that is off. Work such as drilling or a further stage costs points too. The first has %s. %s", t.Drives[0].Points, t.End)))
}

// allDrives are all drives of the list behind one button.
func (s *Session) allDrives(t *report.Told, chosen *report.ToldDrive) g.Node {
	if len(t.Drives) < 2 {
		return nil
	}
	var rows []g.Node
	for _, d := range t.Drives {
		n := fmt.Sprint(d.Drive.Rank)
		edge := ""
		if d.OnEdge {
			edge = " On the edge: a hole 1 mm out of place could stop it."
		}
		pulleys := d.Pulleys
		if d.Apart != "" {
			pulleys += "; " + d.Apart
		}
		rows = append(rows, h.Tr(h.ID("drive-"+n),
			cell("No", h.Scope("row"), g.Text(n)), cell(units.Capital(d.Unit), g.Text(d.Range)), cell("Works", g.Text(fmt.Sprintf("%d of 10", d.Tenths))),
			cell("Pulleys, motor to output", h.Class("long"), g.Text(pulleys+"."+edge)), cell("Points", g.Text(d.Points)),
			cell("", g.If(d != chosen, button("take-"+n, "choose", n, "quiet", "Take number "+n)), g.If(d == chosen, g.Text("taken")))))
	}
	return h.Details(h.ID("all-drives"), h.Summary(h.ID("all-drives-head"), g.Text(fmt.Sprintf("All %d drives of the list", len(t.Drives)))),
		h.Table(h.Class("cards-when-narrow"), h.THead(h.Tr(head("No"), head(units.Capital(t.Drives[0].Unit)), head("Works"), head("Pulleys, motor to output"), head("Points"), head("Take"))), h.TBody(rows...)))
}

func restsOn(t *report.Told) g.Node {
	var facts []g.Node
	for _, f := range t.Assumed {
		facts = append(facts, h.Li(g.Text(f)))
	}
	return h.Details(h.ID("rests-on"), h.Summary(h.ID("rests-on-head"), g.Text("What the figures rest on")),
		h.P(g.Text("Works: it turns as asked, in so many of ten classrooms, whose cells, motors, bands, holes and friction differ. The range is that of nine tables of ten.")),
		g.If(len(facts) > 0, g.Group{h.P(g.Text("Nobody measured:")), h.Ul(facts...)}))
}

func cautions(t *report.Told) g.Node {
	var all []g.Node
	for _, c := range t.Cautions {
		all = append(all, h.Li(g.Text(c)))
	}
	return h.Section(h.ID("cautions"), h.Class("cautions"), h.Aria("labelledby", "cautions-head"), h.H3(h.ID("cautions-head"), g.Text("Before anyone builds")), h.Ul(all...))
}
