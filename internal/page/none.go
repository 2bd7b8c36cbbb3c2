package page

import (
	"fmt"
	"strconv"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/design"
	"findrive/internal/leeway"
	"findrive/internal/pattern"
	"findrive/internal/report"
	"findrive/internal/units"
)

// none is the answer where there is no drive: what stands in the way, and changes that
// are buttons.
func (s *Session) none() g.Node {
	a := s.answer
	nodes := []g.Node{h.ID("answer-none"), h.P(h.Class("outcome"), h.ID("outcome"), g.Text(a.told.Outcome))}
	if a.instead != nil {
		if obstacle := a.instead.Obstacle(); obstacle != "" {
			nodes = append(nodes, h.P(h.ID("obstacle"), g.Text("What stands in the way: "+obstacle+".")))
		}
	}
	if a.result.Status == design.StoppedEarly {
		nodes = append(nodes, h.P(button("search-on", "search on", "", "", "Search again, to the end")))
	}
	if a.result.Brief.Sets > 1 && (a.instead == nil || len(a.instead.Lacking) == 0) {
		nodes = append(nodes, h.P(g.Text("That is one drive for all groups. If they may build different drives, more of them may be served. "), button("none-class", "door", stepPaper, "quiet", "Share the cupboard out, under Paper")))
	}
	if a.instead != nil && len(a.instead.Lacking) > 0 {
		return h.Div(append(nodes, h.P(g.Text("Put some into the cupboard, then there may be a drive.")), h.P(h.Class("links"), s.mendRows("none-rows"), button("lacks-tubs", "door", stepTubs, "main", "Count them by drawings")))...)
	}
	if rows := s.mendRows("none-rows"); rows != nil {
		nodes = append(nodes, h.P(h.ID("none-waits"), g.Text("What is missing may stand in a row of your list that is not used yet.")), h.P(rows))
	}
	var card g.Node
	if a.instead != nil && report.CardWouldDo(a.instead) {
		card = h.P(h.ID("none-discs"), g.Text("Large pulleys can be made of discs of card or plywood, which may do. Add the sheets that you have, and what cuts rounds, to the cupboard: then it is searched with."))
	}
	if len(a.changes) == 0 {
		nodes = append(nodes, h.P(g.Text("No small change was found that makes it possible. Change several things: the speed, the size of the frame, or what is in the cupboard.")), card)
		return h.Div(nodes...)
	}
	nodes = append(nodes, h.H3(h.ID("changes-head"), g.Text("What would make it possible")), h.Ol(h.Class("changes"), g.Group(s.changes())),
		h.P(h.Class("small"), g.Text("Each is enough by itself, and was searched with. Undo takes it back.")), card,
		h.P(g.Text("Would you buy what is missing? Then see what is the least to buy, by the prices you were quoted.")),
		h.P(button("none-buy", "door", stepBuy, "", "What is the least to buy?")))
	return h.Div(nodes...)
}

func (s *Session) changes() []g.Node {
	var out []g.Node
	for i, c := range s.answer.changes {
		n := fmt.Sprint(i)
		least := ""
		if i == 0 && !c.Proved {
			least = " So far: a smaller change may do."
		}
		out = append(out, h.Li(h.ID("change-"+n), h.P(g.Text(units.Capital(asButton(c.Words))+".")),
			g.If(c.Then != "", h.P(h.Class("small"), g.Text("Then: "+drivesIn(c.Then)+"."+least))),
			h.P(button("make-"+n, "make change", n, "", "Make this change"))))
	}
	return out
}

// inFile are words about where in a file something stands.
var inFile = pattern.Must(` \((?:take )?[a-z_ ]+ (?:in|out of) \[[a-z]+\]\)|: [a-z_]+ = [a-z]+ in \[[a-z]+\]|, or let the speed be [^,;]* off`)

// asButton is what a change says without what a button does not do, or does by itself.
func asButton(words string) string { return inFile.ReplaceAllString(words, "") }

// actMakeChange makes one of the changes in the files.
func (s *Session) actMakeChange(d doing) {
	i, err := strconv.Atoi(d.On)
	if err != nil || !s.fresh() || i < 0 || i >= len(s.answer.changes) {
		return
	}
	c := s.answer.changes[i]
	cupboard, brief := leeway.Edits(s.answer.of, c.Change.Case, c.Change.Drive)
	words := asButton(c.Words)
	s.alter(words, func(f *files) {
		f.Cupboard, f.Brief = edited(f.Cupboard, cupboard...), edited(f.Brief, brief...)
	})
	s.said = "Done: " + words + ". Undo takes it back."
	d.reply.Focus = "step-" + stepAnswer
}
