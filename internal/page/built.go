package page

import (
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/built"
	"findrive/internal/measure"
	"findrive/internal/report"
	"findrive/internal/swap"
)

// longestSaying is as long as one saying may be.
const longestSaying = 400

// trouble is what was told of a built model, and what may be wrong.
type trouble struct {
	seen, counted string
	of            *report.ToldDrive // the drive that it was told of
	told          *report.ToldTrouble
	failed        string
}

func (s *Session) builtLine() string {
	if s.chosen() != nil {
		return "Does it not turn as it should? Say what you see."
	}
	return "When there is a drive to build."
}

// model is the chosen drive as it stands on the table, and what is left of the cupboard
// once it is built.
func (s *Session) model(r read) (*built.Build, error) {
	c, _, err := s.answer.certificate()
	if err != nil {
		return nil, err
	}
	m, err := swap.FromCertificate(c, s.chosen().Drive.Rank)
	if err != nil {
		return nil, err
	}
	return m.Build(m.Without(r.cup)), nil
}

// builtStep is the fifth step, open.
func (s *Session) builtStep(r read) g.Node {
	switch {
	case !r.sound():
		return s.summary(r)
	case !s.fresh():
		return searching()
	case s.chosen() == nil:
		return h.P(g.Text("There is no drive to build. See what stands in the way under Answer."))
	}
	t := &s.trouble
	var signs []g.Node
	for i, sign := range built.SignsOn(r.brief.Model) {
		if i == 12 {
			break
		}
		signs = append(signs, h.Option(h.Value(string(sign))))
	}
	return g.Group{
		h.P(g.Text("For drive number " + short(float64(s.chosen().Drive.Rank)) + ", " + s.chosen().Pulleys + ", built as the paper has it. It should do " + s.chosen().Range + " " + s.chosen().Unit + ".")),
		h.Form(h.ID("built"), h.Data("act", "trouble"), h.Aria("label", "What you see and counted"),
			h.P(h.Class("field"), h.Label(h.For("built-seen"), g.Text("What do you see, hear or smell?")), h.Input(h.Type("text"), h.ID("built-seen"), h.Name("seen"), h.List("built-signs"), h.AutoComplete("off"), h.Value(t.seen), h.Placeholder("for example: hums and will not start")), h.DataList(h.ID("built-signs"), g.Group(signs))),
			h.P(h.Class("field"), h.Label(h.For("built-counted"), g.Text("What did you count?")), h.Input(h.Type("text"), h.ID("built-counted"), h.Name("counted"), h.AutoComplete("off"), h.Value(t.counted), h.Placeholder("for example: 9 turns in 30 s"))),
			g.If(t.failed != "", h.P(h.Class("wrong"), h.ID("built-wrong"), g.Text(t.failed))),
			h.P(h.Class("onward"), h.Button(h.Type("submit"), h.ID("built-go"), h.Class("main"), g.Text("What may be wrong")))),
		s.troubleWords(),
	}
}

func (s *Session) troubleWords() g.Node {
	t := s.trouble.told
	if t == nil || s.trouble.of != s.chosen() {
		return nil
	}
	nodes := []g.Node{h.ID("trouble"), h.H3(h.ID("trouble-head"), g.Text("What was told")), list(t.Told), g.If(t.Fits != "", h.P(g.Text(t.Fits)))}
	nodes = append(nodes, h.P(h.Class("warn"), g.Text("Switch it off first, free what is stuck, and let the motor cool.")))
	if len(t.Look) > 0 {
		nodes = append(nodes, h.H3(g.Text("First, a minute each, the likeliest first")), list(t.Look))
	}
	for _, a := range t.Advice {
		nodes = append(nodes, h.H3(g.Text("If it is built as drawn: "+a.Sign)), list(a.Causes))
		switch {
		case a.Change == "":
		case a.Cures:
			nodes = append(nodes, h.P(h.Strong(g.Text("This cures it: ")), g.Text(a.Change+" "+a.Then)))
		default:
			nodes = append(nodes, h.P(h.Strong(g.Text("This helps most, and is not enough: ")), g.Text(a.Change+" "+a.Then)))
		}
	}
	if len(t.Suspects) > 0 {
		var items []g.Node
		for _, c := range t.Suspects {
			cure := "Cure: "
			if c.Costs {
				cure = "Cure, with a new part: "
			}
			items = append(items, h.Li(h.Strong(g.Text(c.Words)), g.If(c.Look != "", g.Text(" To see it: "+c.Look)), g.Text(" "+cure+c.Mend)))
		}
		nodes = append(nodes, h.H3(g.Text("What it may come from, likeliest first")), h.Ol(items...))
	}
	return h.Section(append(nodes, h.Aria("labelledby", "trouble-head"), h.Class("trouble"))...)
}

func list(all []string) g.Node {
	var items []g.Node
	for _, w := range all {
		items = append(items, h.Li(g.Text(w)))
	}
	return h.Ul(items...)
}

// actTrouble finds what may be wrong, by what was said and counted.
func (s *Session) actTrouble(d doing) {
	r := s.read()
	if s.chosen() == nil || !r.sound() {
		return
	}
	s.trouble = trouble{seen: strings.TrimSpace(d.Form["seen"]), counted: strings.TrimSpace(d.Form["counted"]), of: s.chosen()}
	t := &s.trouble
	fail := func(field, words string) {
		t.failed = upper(strings.TrimSuffix(words, ".")) + "."
		d.reply.Focus = field
	}
	b, err := s.model(r)
	switch {
	case err != nil:
		fail("built-seen", err.Error())
		return
	case t.seen == "" && t.counted == "":
		fail("built-seen", "say what you see, or what you counted")
		return
	case len([]rune(t.seen)) > longestSaying:
		fail("built-seen", "that is too long to be understood: say it shorter")
		return
	}
	readings, rest := measure.FromWords(t.seen)
	heard := built.Hear(rest, b.Brief.Model)
	for i := range heard {
		heard[i].Words = t.seen
	}
	if t.seen != "" && len(heard)+len(readings) == 0 {
		fail("built-seen", "this was not understood: say it in other words, such as those that are offered")
		return
	}
	if t.counted != "" {
		reading, err := measure.ReadTurns(t.counted)
		if err != nil {
			if travelled, other := measure.ReadTravel(t.counted); other == nil {
				reading, err = travelled, nil
			}
		}
		if err != nil {
			fail("built-counted", plain(err.Error()))
			return
		}
		readings = append(readings, reading)
	}
	var counts []built.Count
	for _, reading := range readings {
		c, err := measure.CountOf(reading, b)
		if err != nil {
			fail("built-counted", plain(err.Error()))
			return
		}
		counts = append(counts, c)
	}
	w, err := built.Work(b)
	if err != nil {
		fail("built-seen", err.Error())
		return
	}
	ctx, end := bounded(d.ctx, s.limits.Alone)
	defer end()
	found, err := built.Diagnose(ctx, b, heard, counts)
	if err != nil {
		fail("built-seen", err.Error())
		return
	}
	t.told = report.TellTrouble(w, found)
	d.reply.Focus = "trouble-head"
}
