package page

import (
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	h "maragu.dev/gomponents/html"

	"findrive/internal/brief"
	"findrive/internal/built"
	"findrive/internal/measure"
	"findrive/internal/parts"
	"findrive/internal/plan"
	"findrive/internal/report"
	"findrive/internal/swap"
	"findrive/internal/units"
)

// longestSaying is as long as one saying may be.
const longestSaying = 400

// trouble is what was told of a built model, and what may be wrong.
type trouble struct {
	seen, counted string
	of            any // what it was told of, as standing has it
	told          *report.ToldTrouble
	failed        string
}

func (s *Session) builtLine() string {
	switch {
	case s.Learned != "":
		return s.learnedFrom()
	case s.Model != "" || s.chosen() != nil:
		return "Does it not turn as it should? Say what you see."
	}
	return "When there is a drive to build."
}

// standing tells one model on the table from another.
func (s *Session) standing() any {
	if s.Model != "" {
		return [2]string{s.Model, s.Learned}
	}
	return s.chosen()
}

// stands is whether there is a model to be told of.
func (s *Session) stands(r read) bool { return r.sound() && (s.Model != "" || s.chosen() != nil) }

// model is the model that was counted or, without one, the chosen drive as it stands on the
// table, and what is left of the cupboard once it is built.
func (s *Session) model(r read) (*built.Build, error) {
	if s.Model != "" {
		plain, err := parts.Read(cupboardName, []byte(s.Cupboard))
		if err != nil {
			return nil, err
		}
		b, err := built.Read(modelName, []byte(s.Model), plain)
		if err != nil || s.Learned == "" {
			return b, err
		}
		known, err := b.Cupboard.Calibrate(learnedName, []byte(s.Learned))
		if err != nil {
			return nil, err
		}
		return b.Calibrated(known), nil
	}
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
		return g.Group{s.summary(r), s.learnedPart(r)}
	case s.Model == "" && !s.fresh():
		return g.Group{s.learnedPart(r), searching(everyWay)}
	case !s.stands(r):
		return g.Group{h.P(g.Text("There is no one drive for all groups. See what stands in the way under Answer.")), s.planModels(), s.learnedPart(r)}
	}
	t := &s.trouble
	of, model, err := s.modelWords(r)
	if err != nil {
		return g.Group{of, s.learnedPart(r)}
	}
	var signs []g.Node
	for i, sign := range built.SignsOn(model) {
		if i == 12 {
			break
		}
		signs = append(signs, h.Option(h.Value(string(sign))))
	}
	return g.Group{
		of,
		h.P(h.ID("built-care"), h.Class("warn"), g.Text("Keep fingers, hair and sleeves off the bands. If it does not turn, switch it off at once: the motor gets hot.")),
		h.Form(h.ID("built"), h.Data("act", "trouble"), h.Aria("label", "What you see and counted"),
			labelled("built-seen", "What do you see, hear or smell?", typed("built-seen", "seen", h.List("built-signs"), h.Value(t.seen), h.Placeholder("for example: it hums")), h.DataList(h.ID("built-signs"), g.Group(signs))),
			labelled("built-counted", "What did you count?", typed("built-counted", "counted", h.Value(t.counted), h.Placeholder("for example: 9 turns in 30 s"))),
			g.If(t.failed != "", h.P(h.Class("wrong"), h.ID("built-wrong"), g.Text(t.failed))),
			otherReadings(model),
			h.P(h.Class("onward links"), h.Button(h.Type("submit"), h.ID("built-go"), h.Class("main"), g.Text("What may be wrong")),
				h.Button(h.Type("button"), h.ID("built-learn"), h.Data("act", "learn"), h.Data("form", ""), g.Text("Learn from this count")))),
		s.taughtPart(),
		s.troubleWords(),
		s.classCountsPart(),
		s.learnedPart(r),
	}
}

// planModels are the drives that the groups build where each has its share of the cupboard: one of
// them can be put on the table.
func (s *Session) planModels() g.Node {
	if !s.sharedOut() || s.shared.plan == nil {
		return nil
	}
	nodes := []g.Node{h.P(g.Text("The cupboard was shared out. Which of its drives is on the table?"))}
	for i := range s.shared.plan.Drives {
		nodes = append(nodes, h.P(button(fmt.Sprintf("table-%d", i), "on table", fmt.Sprint(i), "", "Drive "+s.shared.plan.Drives[i].Letter), g.Text(" "+drivesIn(s.shared.told.Drives[i])+".")))
	}
	return g.Group(nodes)
}

// actOnTable puts a drive of the plan on the table.
func (s *Session) actOnTable(d doing) {
	i, err := strconv.Atoi(d.On)
	r := s.read()
	if err != nil || !s.sharedOut() || r.cup == nil {
		return
	}
	p, all, err := plan.Read(s.shared.file)
	if err != nil || i < 0 || i >= len(p.Drives) {
		return
	}
	m, err := swap.FromCertificate(all[i], 1)
	if err != nil {
		s.said = units.Capital(plain(err.Error())) + "."
		return
	}
	text := m.Build(m.Without(r.cup)).WriteListed(1)
	s.alter("putting drive "+p.Drives[i].Letter+" on the table", func(f *files) { f.Model = string(text) })
	d.reply.Focus = "step-" + stepBuilt
}

// otherReadings are what else can be measured and learned from, and how it is written.
func otherReadings(model brief.Model) g.Node {
	row := func(write, how string) g.Node { return h.Li(h.Strong(g.Text(write)), g.Text(": "+how)) }
	return h.Details(h.ID("readings"), h.Summary(h.ID("readings-head"), g.Text("What else can be measured")),
		h.Ul(
			g.If(model == brief.Vehicle || model == brief.Lift, row("3 m in 12 s", "a run that was timed.")),
			row("no-16: 100 g to 107 mm", "hang 100 g from band no-16. How long is the loop then, inside?"),
			row("no-16: 1 N to 107 mm", "the same with a force meter."),
			row("slip 0.4 N", "hold the motor's pulley. Pull on a cord round the last pulley, until a band slips."),
			g.If(model != brief.Lift, row("drag 0.2 N", "take the last band off. Pull there so that it just keeps turning."))),
		h.P(g.Text("Several have a semicolon between them. Wear eye protection when a band is stretched.")))
}

// modelWords say which model is told of, what it should do, and what kind of model it is.
// The error is that its file cannot be read, which the words say too.
func (s *Session) modelWords(r read) (g.Node, brief.Model, error) {
	b, err := s.model(r)
	var w *built.Working
	if err == nil {
		w, err = built.Work(b)
	}
	does := ""
	if err == nil {
		does = "As it is described it stands still."
		if speed := report.TellSpeed(w); speed != "" {
			does = "What it should do at its very holes: " + strings.ToLower(speed[:1]) + speed[1:] + "."
		}
	}
	if s.Model == "" {
		d := s.chosen()
		if does == "" { // what is due cannot be told then
			does = "It should do " + d.Range + " " + d.Unit + "."
		}
		return h.P(h.ID("built-of"), g.Text("For drive number "+short(float64(d.Drive.Rank))+", built as the paper has it: "+d.Pulleys+". "+does)), r.brief.Model, nil
	}
	away := h.P(h.Class("links"), button("put-away", "put away", "", "quiet", "Put this model away"), button("save-model", "save", "model", "quiet", "Save this model"))
	if err != nil {
		return g.Group{h.P(h.ID("built-of"), h.Class("warn"), g.Text("The model on the table cannot be told of: "+plain(err.Error()))), away}, "", err
	}
	pulleys := ""
	for i := range b.Drive.Stages {
		if i > 0 {
			pulleys += "; "
		}
		pulleys += b.Drive.Stages[i].Driver.Name + " drives " + b.Drive.Stages[i].Driven.Name
	}
	return g.Group{h.P(h.ID("built-of"), g.Text("For the model on the table: "+pulleys+". "+does)), away}, b.Brief.Model, nil
}

func (s *Session) troubleWords() g.Node {
	t := s.trouble.told
	if t == nil || s.trouble.of != s.standing() {
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
		nodes = append(nodes, h.H3(g.Text("What it may come from, likeliest first")), suspects(t.Suspects))
	}
	for _, a := range t.Apart {
		nodes = append(nodes, h.H3(g.Text(a.Head)), suspects(a.Suspects))
	}
	return h.Section(append(nodes, h.Aria("labelledby", "trouble-head"), h.Class("trouble"))...)
}

// suspects are what a model's fault may come from.
func suspects(all []report.ToldSuspect) g.Node {
	var items []g.Node
	for _, c := range all {
		cure := "Cure: "
		if c.Costs {
			cure = "Cure, with a new part: "
		}
		items = append(items, h.Li(h.Strong(g.Text(c.Words)), g.If(c.Would != "", g.Text(" "+c.Would)), g.If(c.Look != "", g.Text(" To see it: "+c.Look)), g.Text(" "+cure+c.Mend)))
	}
	return h.Ol(items...)
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
	if !s.stands(r) {
		return
	}
	s.taught = taught{}
	s.trouble = trouble{seen: strings.TrimSpace(d.Form["seen"]), counted: strings.TrimSpace(d.Form["counted"]), of: s.standing()}
	t := &s.trouble
	fail := func(field, words string) {
		t.failed = units.Capital(strings.TrimSuffix(words, ".")) + "."
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
		more, err := measure.FromField(t.counted, b.Cupboard.Bands)
		if err != nil {
			fail("built-counted", plain(err.Error()))
			return
		}
		readings = append(readings, more...)
	}
	var counts []built.Count
	for _, reading := range readings {
		if reading.Kind != measure.Turns && reading.Kind != measure.Travel {
			fail("built-counted", "that is something to learn from: press Learn from this count")
			return
		}
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
