package page

import (
	"fmt"

	"findrive/internal/units"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"
)

// page is all that changes: it is morphed into the one that is there.
func (s *Session) page() g.Node {
	r := s.read()
	return h.Div(h.ID("page"), h.Data("step", s.Step),
		s.top(),
		h.Main(h.ID("main"), h.Aria("label", "findrive"),
			s.notices(),
			g.If(s.atDoors(), s.doors()),
			g.If(!s.atDoors(), h.H1(h.Class("whose"), h.ID("whose"), g.Text(s.heading()))),
			g.If(s.Step == stepHow, how()),
			s.step(1, stepCupboard, "Cupboard", s.cupboardLine(r), func() g.Node { return s.cupboardStep(r) }),
			s.step(2, stepQuestion, "Question", s.questionLine(r), func() g.Node { return s.questionStep(r) }),
			s.step(3, stepAnswer, "Answer", s.answerLine(r), func() g.Node { return s.answerStep(r) }),
			s.step(4, stepPaper, "Paper", s.paperLine(), func() g.Node { return s.paperStep(r) }),
			s.step(5, stepBuilt, "Built", s.builtLine(), func() g.Node { return s.builtStep(r) }),
			s.step(6, stepBuy, "Buy", s.buyLine(), func() g.Node { return s.buyStep(r) }),
		),
		s.foot())
}

// atDoors is whether the three ways in are shown: on the first screen.
func (s *Session) atDoors() bool { return s.Step == stepHow || s.Example && s.Step == stepAnswer }

// filling is whether a cupboard is being filled for the first time: what follows is still the
// example's, and is not shown as if it were the user's.
func (s *Session) filling() bool { return s.Example && (s.Step == stepList || s.Step == stepTubs) }

// heading is what the page is about.
func (s *Session) heading() string {
	if s.filling() {
		return "What is in your cupboard?"
	}
	return units.Capital(s.name())
}

// top is the name of the page and what can be done at any time.
func (s *Session) top() g.Node {
	undo, redo := "Undo", "Redo"
	return h.Header(h.Class("top"),
		h.P(h.Class("name"), h.A(h.Href("#main"), h.ID("skip"), h.Class("skip"), g.Text("To the steps")), h.Strong(g.Text("findrive")), h.Span(h.Class("what"), g.Text("drives for moving models, from what is in your cupboard"))),
		h.Div(h.Class("tools"), h.Role("group"), h.Aria("label", "Your files"),
			tool("undo", "undo", undo, len(s.past) == 0, lastOf(s.past)),
			tool("redo", "redo", redo, len(s.future) == 0, lastOf(s.future)),
			h.Button(h.Type("button"), h.ID("open"), h.Class("quiet"), h.Data("act", "pick"), h.Data("on", "open-files"), g.Text("Open")),
			h.Input(h.Type("file"), h.ID("open-files"), h.Class("unseen"), h.Aria("label", "Files to open"), h.TabIndex("-1"), h.Multiple(), h.Data("act", "open")),
			tool("save-cupboard", "save", "Save cupboard", false, ""),
			tool("save-brief", "save", "Save question", false, ""),
			g.If(!s.Example || !s.atDoors(), tool("again", "again", startWords(s.Example), false, "")),
		))
}

// startWords lead back to the first screen.
func startWords(example bool) string {
	if example {
		return "To the start"
	}
	return "Start again"
}

func lastOf(all []change) string {
	if len(all) == 0 {
		return ""
	}
	return all[len(all)-1].What
}

// tool is a small button of the top; what it would undo is its title.
func tool(id, act, words string, off bool, title string) g.Node {
	on := ""
	if act == "save" {
		on = id[len("save-"):]
	}
	return h.Button(h.Type("button"), h.ID(id), h.Class("quiet"), h.Data("act", act), h.Data("on", on), g.If(off, h.Aria("disabled", "true")), g.If(title != "", h.Title(words+": "+title)), g.Text(words))
}

// notices are words about the last act, and what the user should know of the page.
func (s *Session) notices() g.Node {
	var out []g.Node
	if s.said != "" {
		out = append(out, h.P(h.ID("last"), h.Class("note"), g.Text(s.said)))
	}
	switch s.apart {
	case "tab":
		out = append(out, h.Div(h.ID("apart"), h.Class("note"), h.P(g.Text("This page is open a second time. What you do there is kept; what you do here no longer is.")),
			h.P(button("save-here", "save here", "", "", "Keep what I do here instead"))))
	case "full":
		out = append(out, h.P(h.ID("apart"), h.Class("note"), g.Text("This browser gives no room to keep your work. Save both files before you close the page.")))
	}
	return h.Div(h.ID("notices"), g.Group(out))
}

// doors are the three ways in.
func (s *Session) doors() g.Node {
	door := func(id, on, words, more string) g.Node {
		return h.Li(h.Button(h.Type("button"), h.ID(id), h.Class("door"), h.Data("act", "door"), h.Data("on", on), g.If(s.Step == on, h.Aria("current", "step")), h.Strong(g.Text(words)), h.Span(g.Text(more))))
	}
	return h.Section(h.ID("doors"), h.Class("doors"), h.Aria("labelledby", "doors-head"),
		h.H1(h.ID("doors-head"), g.Text("What can we build from our cupboard?")),
		h.P(g.Text("Below is an example, answered: which pulley drives which, with which band, and where the holes go. Nothing leaves this computer.")),
		h.Ul(h.Class("three"),
			door("door-how", stepHow, "See how it works", "the example, step by step"),
			door("door-list", stepList, "I have a list", "paste it, or open a spreadsheet"),
			door("door-tubs", stepTubs, "I have tubs of parts", "count what you see")))
}

// how is the example, told.
func how() g.Node {
	item := func(id, step, words, more string) g.Node {
		return h.Li(h.P(h.Strong(g.Text(words)), g.Text(" "+more)), h.P(button(id, "door", step, "quiet", "Look at it in the example")))
	}
	return h.Section(h.ID("how"), h.Class("how"), h.Aria("labelledby", "how-head"),
		h.H2(h.ID("how-head"), g.Text("How it works")),
		h.Ol(
			item("how-cupboard", stepCupboard, "Say what you have.", "Pulleys, rubber bands, motors, cells, dowel. A list is enough; what it does not say is guessed, and each guess is marked."),
			item("how-question", stepQuestion, "Say what it should do.", "A carousel, a big wheel, a buggy, a crane; how fast; how large the frame is; for how many groups."),
			item("how-answer", stepAnswer, "See what can be built.", "Every way to join the parts is searched and worked out under load. You get up to three drives that differ."),
			item("how-paper", stepPaper, "Print it.", "A build sheet, and a drilling template in true size. A page for the pupils, with its answers. A list of what goes in each tray.")))
}

// step is one of the steps: open, or folded to a line.
func (s *Session) step(n int, name, words, line string, open func() g.Node) g.Node {
	is := s.Step == name || name == stepCupboard && (s.Step == stepList || s.Step == stepTubs)
	id := "step-" + name
	heading := h.H2(h.ID(id), h.Span(h.Class("no"), g.Text(fmt.Sprint(n))), g.Text(words))
	if is {
		return h.Section(h.Class("step open"), h.ID("section-"+name), h.Aria("labelledby", id), h.Div(h.Class("head"), heading, s.onwardAbove(name)), open())
	}
	if s.filling() {
		return h.Section(h.Class("step"), h.ID("section-"+name), h.Aria("labelledby", id), heading, h.P(h.Class("line"), h.ID("line-"+name), g.Text("Comes once your cupboard is filled.")))
	}
	change := "Change"
	if name == stepAnswer || name == stepPaper || name == stepBuilt || name == stepBuy {
		change = "Look"
	}
	return h.Section(h.Class("step"), h.ID("section-"+name), h.Aria("labelledby", id), heading,
		h.P(h.Class("line"), h.ID("line-"+name), g.Text(line)),
		h.Button(h.Type("button"), h.ID("go-"+name), h.Class("quiet"), h.Data("act", "door"), h.Data("on", name), g.Text(change), h.Span(h.Class("unseen"), g.Text(": "+words))))
}

func (s *Session) answerLine(r read) string {
	switch {
	case !r.sound():
		return "Waits until what is marked above is put right."
	case !s.fresh():
		return "Not searched yet."
	case s.answer.told == nil:
		return "The program will not answer."
	case s.answer.told.Lead == nil:
		return s.answer.told.Outcome
	}
	d := s.chosen()
	return fmt.Sprintf("%s, %s.", units.Capital(d.Speed), d.Works)
}

// foot is what the page is, and whose work it rests on.
func (s *Session) foot() g.Node {
	return h.Footer(h.Class("foot"),
		h.P(g.Text("Nothing you put in leaves this computer. What you do is kept in this browser until you start again; the files you save are yours.")),
		h.P(g.Text("What this page says are proposals. Your school's own risk assessment, local codes and competent staff decide.")),
		h.P(button("licences", "licences", "", "quiet", "Licences of what this page is made with")),
		g.If(s.notice, licences()))
}

// ways lead on from the steps.
var ways = map[string]struct{ id, to, words string }{
	stepCupboard: {"to-question", stepQuestion, "Go on: the question"},
	stepQuestion: {"to-answer", stepAnswer, "Go on: the answer"},
	stepAnswer:   {"to-paper", stepPaper, "Go on: what to print"},
	stepPaper:    {"to-built", stepBuilt, "Go on: when it is built"},
}

// onward is the button at the end of a step.
func (s *Session) onward(from string) g.Node {
	way := ways[from]
	return h.P(h.Class("onward"), h.Button(h.Type("button"), h.ID(way.id), h.Class("main"), h.Data("act", "onward"), h.Data("on", way.to), g.Text(way.words)))
}

// onwardAbove is the same beside the heading of a step, for who sees no need to go through it.
func (s *Session) onwardAbove(from string) g.Node {
	way, is := ways[from]
	if !is || s.Step != from || s.atDoors() || (from == stepAnswer || from == stepPaper) && s.chosen() == nil {
		return nil
	}
	return h.Button(h.Type("button"), h.ID(way.id+"-above"), h.Class("quiet"), h.Data("act", "onward"), h.Data("on", way.to), g.Text(way.words))
}

func button(id, act, on, class, words string) g.Node {
	return h.Button(h.Type("button"), h.ID(id), g.If(class != "", h.Class(class)), h.Data("act", act), g.If(on != "", h.Data("on", on)), g.Text(words))
}

func head(words string) g.Node { return h.Th(h.Scope("col"), g.Text(words)) }

// cell is a cell that says its column's heading where a row is a card.
func cell(label string, children ...g.Node) g.Node {
	return h.Td(g.If(label != "", h.Data("label", label)), g.Group(children))
}

// labelled is a field with its label over it.
func labelled(fid, words string, rest ...g.Node) g.Node {
	return underLabel("field", fid, words, rest)
}

func labelledWide(fid, words string, rest ...g.Node) g.Node {
	return underLabel("field wide", fid, words, rest)
}

func underLabel(class, fid, words string, rest g.Group) g.Node {
	return h.P(h.Class(class), h.Label(h.For(fid), g.Text(words)), rest)
}

// typed is a field of a form that something is typed into.
func typed(fid, name string, rest ...g.Node) g.Node {
	return h.Input(h.Type("text"), h.ID(fid), h.Name(name), h.AutoComplete("off"), g.Group(rest))
}

// textArea is a place for rows that are typed or pasted.
func textArea(fid, rows string, rest ...g.Node) g.Node {
	return h.Textarea(h.ID(fid), h.Name("text"), h.Rows(rows), g.Attr("spellcheck", "false"), g.Group(rest))
}

func option(v, words string, is bool) g.Node {
	return h.Option(h.Value(v), g.Text(words), g.If(is, h.Selected()))
}
